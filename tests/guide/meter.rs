//! From sound to screen.

use std::thread;
use std::time::{Duration, Instant};

use super::shop::Shop;
use super::whole_test::keep;

/// What is promised, from sound to screen.
const PROMISED: Duration = Duration::from_millis(100);
const ROUNDS: usize = 12;

/// A number of the line of levels: the one before "dB FS", or the one after a word.
fn level(text: &str, after: Option<&str>) -> Option<f64> {
    let line = text.lines().find(|line| line.contains("dB FS"))?;
    let part = match after {
        Some(word) => line.split(word).nth(1)?,
        None => line,
    };
    part.split_whitespace().next()?.replace('\u{2212}', "-").parse().ok()
}

#[test]
fn a_hiss_is_on_the_screen_within_a_tenth_of_a_second() {
    let shop = Shop::at_speed(1.0);
    let mut terminal = shop.terminal(&["hunt", "--at", "rig"]);
    terminal.wait("SPACE set quiet", 10.0);
    thread::sleep(Duration::from_secs(3));
    terminal.press(" ");
    let mut took = Vec::new();
    for _ in 0..ROUNDS {
        thread::sleep(Duration::from_millis(700));
        let before = level(&terminal.text(), None).expect("a level");
        shop.loudness(0.03);
        // 20 dB more. A rise of 6 dB counts: no noise makes that.
        let begin = Instant::now();
        let seen = loop {
            let (text, at) = terminal.text_and_time();
            if level(&text, None).is_some_and(|now| now > before + 6.0) {
                break at;
            }
            assert!(begin.elapsed() < Duration::from_secs(2), "nothing changed:\n{text}");
            thread::sleep(Duration::from_millis(1));
        };
        took.push(seen.saturating_duration_since(shop.changed().expect("sent")));
        thread::sleep(Duration::from_millis(300));
        shop.loudness(0.003);
    }
    took.sort_unstable();
    let (median, worst) = (took[ROUNDS / 2], took[ROUNDS - 1]);
    keep("latency", &format!("from sound to screen: median {median:?}, worst of {ROUNDS} {worst:?}\n"));
    // On a machine that does other things at the same time a single one may be late; the typical one may not.
    assert!(median < PROMISED, "{took:?}");
    terminal.press("q");
    assert!(terminal.ended());
}

#[test]
fn the_meter_shows_hiss_over_quiet_its_trail_and_its_peak() {
    let shop = Shop::at_speed(1.0);
    let mut terminal = shop.terminal(&["hunt", "--at", "rig"]);
    terminal.wait("SPACE set quiet", 10.0);
    thread::sleep(Duration::from_secs(3));
    shop.loudness(0.03);
    thread::sleep(Duration::from_secs(2));
    let text = terminal.text();
    // Ten times the amplitude is 20 dB.
    let rise = level(&text, Some("peak")).expect("a peak") - level(&text, Some("quiet")).expect("a floor");
    assert!((19.0..=22.0).contains(&rise), "{rise} dB:\n{text}");
    let blocks = text.lines().skip(13).take(9).flat_map(str::chars).filter(|c| *c == '█').count();
    assert!(blocks > 80, "a trail of {blocks}:\n{text}");
    keep("hunt", &text);
    terminal.press("q");
    assert!(terminal.ended());
}
