//! Whole processes: what they take by the clock, of the processors, of memory.

use std::process::{Command, Stdio};
use std::time::Instant;

use wait4::Wait4;

use super::Failure;
use super::stopwatch::Spread;

/// The program under test.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_hissward");

/// One run.
#[derive(Debug, Clone, Copy)]
pub struct Ran {
    pub wall_s: f64,
    /// User and system time, all threads.
    pub cpu_s: f64,
    pub peak_mib: f64,
}

/// The program with arguments, in English and with nobody's settings.
pub fn program<S: AsRef<std::ffi::OsStr>>(arguments: impl IntoIterator<Item = S>) -> Command {
    let mut command = Command::new(PROGRAM);
    command.args(arguments).env("LC_ALL", "C.UTF-8").env("HOME", "/nowhere").env_remove("XDG_CONFIG_HOME");
    command
}

/// The word that makes this bench a launcher: see [`run`].
pub const LAUNCH: &str = "--launch";

/// Runs to the end, what it prints thrown away.
///
/// A process's peak memory counts from that of the process it was forked off, and this one holds clips: so a small launcher
/// (this program again) starts it and says what it took. An exit code of 1 (undecided) is an answer, too.
pub fn run(command: &mut Command) -> Result<Ran, Failure> {
    let mut launcher = Command::new(std::env::current_exe()?);
    launcher.arg(LAUNCH).arg(command.get_program()).args(command.get_args());
    for (name, value) in command.get_envs() {
        match value {
            Some(value) => launcher.env(name, value),
            None => launcher.env_remove(name),
        };
    }
    let output = launcher.stdin(Stdio::null()).stderr(Stdio::inherit()).output()?;
    let told = String::from_utf8(output.stdout)?;
    let numbers: Vec<f64> = told.split_whitespace().map(str::parse).collect::<Result<_, _>>()?;
    match numbers[..] {
        [wall_s, cpu_s, peak_mib] if output.status.success() => Ok(Ran { wall_s, cpu_s, peak_mib }),
        _ => Err(format!("{command:?} failed").into()),
    }
}

/// What the launcher does: seconds, processor seconds and MiB of a command, as a line of text.
pub fn launch(mut words: impl Iterator<Item = String>) -> Result<String, Failure> {
    let mut command = Command::new(words.next().ok_or("a command is missing")?);
    command.args(words).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    let begin = Instant::now();
    let ended = command.spawn()?.wait4()?;
    let wall_s = begin.elapsed().as_secs_f64();
    if ended.status.code().is_none_or(|code| code > 1) {
        return Err(format!("{command:?}: {}", ended.status).into());
    }
    let used = ended.rusage;
    let cpu_s = (used.utime + used.stime).as_secs_f64();
    Ok(format!("{wall_s} {cpu_s} {}", used.maxrss as f64 / f64::from(1 << 20)))
}

/// Several runs of one command, after one that is not counted.
#[derive(Debug, Clone, Copy)]
pub struct Runs {
    pub wall_s: Spread,
    pub cpu_s: Spread,
    pub peak_mib: f64,
}

impl Runs {
    /// What all of them took.
    pub fn of(runs: &[Ran]) -> Self {
        let each = |of: fn(&Ran) -> f64| Spread::of(runs.iter().map(of).collect());
        Self { wall_s: each(|ran| ran.wall_s), cpu_s: each(|ran| ran.cpu_s), peak_mib: each(|ran| ran.peak_mib).most }
    }
}

/// Runs a command so many times.
pub fn repeated(rounds: usize, mut command: impl FnMut() -> Command) -> Result<Runs, Failure> {
    run(&mut command())?;
    let runs = (0..rounds).map(|_| run(&mut command())).collect::<Result<Vec<_>, _>>()?;
    Ok(Runs::of(&runs))
}
