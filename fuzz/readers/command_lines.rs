//! Command lines over a generated job, the whole way: the program itself is run.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use hissward::job::{FileState, Job};

/// Words that a line begins with. Those that need a microphone, a person or a browser are elsewhere.
const COMMANDS: [&str; 20] = [
    "new",
    "rig",
    "gauge",
    "add",
    "status",
    "amend",
    "check",
    "rank",
    "plot",
    "compare",
    "history",
    "found",
    "report",
    "pack",
    "verify",
    "unpack",
    "settings",
    "completions",
    "man",
    "simulate",
];

/// What may follow: options, files, values that are right, and values that are not.
const WORDS: [&str; 64] = [
    "job",
    "job",
    "job",
    "other",
    "a.wav",
    "made.zip",
    "--out",
    "--json",
    "--cylinder",
    "--at",
    "--air",
    "--supply",
    "--held",
    "--loss",
    "--path",
    "--note",
    "--found",
    "--engine",
    "--cylinders",
    "--seconds",
    "--leak",
    "--key",
    "--against",
    "--unsigned",
    "--swap",
    "--leave-out",
    "--take-in",
    "--off",
    "--on",
    "--pulsed",
    "--csv",
    "-q",
    "1",
    "2",
    "0",
    "-1",
    "99999999999",
    "1e999",
    "NaN",
    "80psi",
    "62psi",
    "5bar",
    "-3kPa",
    "psi",
    "on",
    "off",
    "pulsed",
    "exhaust",
    "intake",
    "plug-hole-2",
    "plug-hole-99999999999",
    "exhaust-valve",
    "1:exhaust:6",
    "out.svg",
    "out.csv",
    "out.parquet",
    "fleet",
    "job/job.toml",
    "../x",
    "=cmd|' /C calc'!A0",
    "\u{1b}]0;x\u{7}",
    "",
    "--help",
    "é\u{202e}",
];

/// Lines of one input; each runs the program.
const MOST_LINES: usize = 4;
/// Words of one line.
const MOST_WORDS: usize = 9;
/// The longest that a line may take.
const LONGEST: Duration = Duration::from_secs(15);

/// The program: that of the tests, or for the fuzzer the one that `HISSWARD` names, else the checkout's.
fn program() -> PathBuf {
    let built = option_env!("CARGO_BIN_EXE_hissward").map(PathBuf::from);
    let named = || std::env::var_os("HISSWARD").map(PathBuf::from);
    let here = || Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/debug/hissward");
    built.or_else(named).unwrap_or_else(here)
}

/// The program in a folder, its settings there, with nothing to read.
pub fn in_folder(folder: &Path) -> Command {
    let mut command = Command::new(program());
    command.current_dir(folder).env("XDG_CONFIG_HOME", folder.join("config")).env("HOME", folder);
    command.env("NO_COLOR", "1").stdin(Stdio::null());
    command
}

/// The bytes are lines: a command, how many words, the words.
pub fn command_lines(bytes: &[u8], scratch: &Path) {
    let folder = scratch.join("command-lines");
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("it goes");
    }
    fs::create_dir_all(&folder).expect("a folder");
    copy(&generated(scratch), &folder.join("job"));
    let clip = fs::read_dir(folder.join("job/clips")).expect("clips").next().expect("a clip").expect("a clip").path();
    fs::copy(clip, folder.join("a.wav")).expect("a recording");
    let mut left = bytes;
    for _ in 0..MOST_LINES {
        let [command, count, rest @ ..] = left else { break };
        let (chosen, rest) = rest.split_at(rest.len().min(usize::from(*count) % (MOST_WORDS + 1)));
        left = rest;
        let words = chosen.iter().map(|byte| WORDS[usize::from(*byte) % WORDS.len()]);
        let line: Vec<&str> = std::iter::once(COMMANDS[usize::from(*command) % COMMANDS.len()]).chain(words).collect();
        run(&folder, &line);
        whole(&folder.join("job"), &line);
    }
}

/// The job that every input begins with, made once.
fn generated(scratch: &Path) -> PathBuf {
    let made = scratch.join("command-lines-seed");
    if !made.exists() {
        let simulate = [
            "simulate",
            "--out",
            "command-lines-seed",
            "--cylinders",
            "2",
            "--seconds",
            "0.5",
            "--leak",
            "1:exhaust:9",
        ];
        let done = in_folder(scratch).args(simulate).output().expect("it runs");
        assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    }
    made
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("it is there") {
        let entry = entry.expect("an entry");
        let place = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &place)
        } else {
            fs::copy(entry.path(), place).map(drop).expect("copied")
        }
    }
}

/// Runs a line to its end; what must hold of any line.
fn run(folder: &Path, line: &[&str]) {
    let mut command = in_folder(folder);
    let mut child = command.args(line).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it starts");
    let streams: [Box<dyn Read + Send>; 2] =
        [Box::new(child.stdout.take().expect("stdout")), Box::new(child.stderr.take().expect("stderr"))];
    // Read aside: a full pipe would hold it up.
    let texts = streams.map(|mut stream| {
        std::thread::spawn(move || {
            let mut text = Vec::new();
            stream.read_to_end(&mut text).expect("read");
            text
        })
    });
    let code = ended(&mut child, line);
    assert!(matches!(code, Some(0..=2)), "{line:?} ended with {code:?}");
    for text in texts.map(|text| text.join().expect("read")) {
        let text = String::from_utf8(text).unwrap_or_else(|_| panic!("{line:?} says what is no UTF-8"));
        assert!(!text.contains("panicked at"), "{line:?}: {text}");
        // clap repeats what was typed, which is the user's own; what comes from files is written out.
        let typed = line.iter().any(|word| word.contains(|c: char| c.is_control()));
        assert!(typed || !text.contains(|c: char| c.is_control() && c != '\n' && c != '\t'), "{line:?}: {text:?}");
    }
}

fn ended(child: &mut Child, line: &[&str]) -> Option<i32> {
    let begun = Instant::now();
    loop {
        if let Some(status) = child.try_wait().expect("it is ours") {
            return status.code();
        }
        if begun.elapsed() > LONGEST {
            child.kill().expect("it is ours");
            panic!("{line:?} takes longer than {LONGEST:?}");
        }
        std::thread::sleep(Duration::from_millis(3));
    }
}

/// Whatever was typed: the job opens, and its clips are as they were.
fn whole(folder: &Path, line: &[&str]) {
    let job = Job::open(folder).unwrap_or_else(|error| panic!("{line:?}: {error}"));
    for clip in job.verify_clips() {
        assert!(matches!(clip.verdict, FileState::Intact), "{line:?}: {}", clip.file);
    }
}
