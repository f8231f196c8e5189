//! The live path: what `hunt` and `guide` take of a core, and how late the meter is, with a virtual microphone at real pace.

#[expect(dead_code, reason = "the shop of the guide's tests, of which this needs a part")]
#[path = "../../tests/guide/shop.rs"]
mod shop;

use std::fs;
use std::thread;
use std::time::{Duration, Instant};

use super::Failure;
use super::stopwatch::Spread;
use super::table::{Figure, Limit, section};
use shop::{Shop, Terminal};

/// How long a share is measured over, and how often.
const STRETCH: Duration = Duration::from_secs(5);
const STRETCHES: usize = 3;
const ROUNDS: usize = 12;

/// Processor seconds of a process so far, all threads: fields 14 and 15 of its `stat`, in hundredths (proc_pid_stat(5)).
fn processor_seconds(id: u32) -> Result<f64, Failure> {
    let stat = fs::read_to_string(format!("/proc/{id}/stat"))?;
    let fields: Vec<&str> = stat.rsplit(')').next().unwrap_or("").split_whitespace().collect();
    let ticks = |at: usize| -> Result<f64, Failure> { Ok(fields.get(at).ok_or("a stat that is cut off")?.parse()?) };
    Ok((ticks(11)? + ticks(12)?) / 100.0)
}

/// Peak memory of a process so far, MiB.
fn peak_mib(id: u32) -> Result<f64, Failure> {
    let status = fs::read_to_string(format!("/proc/{id}/status"))?;
    let kib = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).ok_or("no peak memory")?;
    Ok(kib.trim().trim_end_matches(" kB").parse::<f64>()? / 1024.0)
}

/// Percent of one core over a few stretches.
fn share(id: u32) -> Result<Spread, Failure> {
    let mut shares = Vec::new();
    for _ in 0..STRETCHES {
        let (before, begin) = (processor_seconds(id)?, Instant::now());
        thread::sleep(STRETCH);
        shares.push(100.0 * (processor_seconds(id)? - before) / begin.elapsed().as_secs_f64());
    }
    Ok(Spread::of(shares))
}

/// The level that the meter shows, dB FS.
fn level(text: &str) -> Option<f64> {
    let line = text.lines().find(|line| line.contains("dB FS"))?;
    line.split_whitespace().next()?.replace('\u{2212}', "-").parse().ok()
}

/// Milliseconds from a sound that grows by 20 dB to a screen that shows 6 dB of it.
fn lateness(shop: &Shop, terminal: &Terminal) -> Result<f64, Failure> {
    let before = level(&terminal.text()).ok_or("no level on the screen")?;
    shop.loudness(0.03);
    let begin = Instant::now();
    let seen = loop {
        let (text, at) = terminal.text_and_time();
        if level(&text).is_some_and(|now| now > before + 6.0) {
            break at;
        }
        if begin.elapsed() > Duration::from_secs(2) {
            return Err(format!("nothing changed on the screen:\n{text}").into());
        }
        thread::sleep(Duration::from_millis(1));
    };
    let took = seen.saturating_duration_since(shop.changed().ok_or("no sound was sent")?);
    thread::sleep(Duration::from_millis(300));
    shop.loudness(0.003);
    thread::sleep(Duration::from_millis(700));
    Ok(took.as_secs_f64() * 1e3)
}

fn hunt(figures: &mut Vec<Figure>) -> Result<(), Failure> {
    let shop = Shop::at_speed(1.0);
    let terminal = shop.terminal(&["hunt", "--at", "rig"]);
    terminal.wait("SPACE quiet anew", 10.0);
    thread::sleep(Duration::from_secs(3));
    let share = share(terminal.child.id())?;
    let late = (0..ROUNDS).map(|_| lateness(&shop, &terminal)).collect::<Result<Vec<_>, _>>()?;
    let peak = peak_mib(terminal.child.id())?;
    figures.push(Figure::new("`hunt`: share of one core", share, "%", Limit::AtMost(5.0)).peak(peak));
    figures.push(Figure::new("… from sound to screen", Spread::of(late), "ms", Limit::AtMost(100.0)));
    Ok(())
}

/// Through the guide to its first recordings, and along with them.
fn guide(figures: &mut Vec<Figure>) -> Result<(), Failure> {
    let shop = Shop::at_speed(1.0);
    let terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    for (shown, keys) in [
        ("SPACE I have read this", " "),
        ("at its working temperature", "h"),
        ("Blank off hose", "80 78 psi\r"),
        ("SPACE the crank is locked", " "),
        ("Put the air on the cylinder slowly", "80 76 psi\r"),
        ("the rest goes by itself", " "),
    ] {
        terminal.wait(shown, 10.0);
        terminal.press(keys);
    }
    terminal.wait("Recording", 30.0);
    let share = share(terminal.child.id())?;
    figures.push(
        Figure::new("`guide`, recording: share of one core", share, "%", Limit::AtMost(5.0))
            .peak(peak_mib(terminal.child.id())?),
    );
    let record = shop.job_file();
    let lost: u32 = record.lines().filter_map(|line| line.strip_prefix("overruns = ")?.parse::<u32>().ok()).sum();
    let clips = record.matches("[[clip]]").count();
    figures.push(Figure::new(
        format!("… times sound was lost in its {clips} clips"),
        Spread::of(vec![f64::from(lost)]),
        "",
        Limit::AtMost(0.0),
    ));
    Ok(())
}

/// The section.
pub fn measure() -> Result<String, Failure> {
    let mut figures = Vec::new();
    hunt(&mut figures)?;
    guide(&mut figures)?;
    Ok(section("live", "48 kHz through ALSA, a terminal of 80 × 24.", &figures))
}
