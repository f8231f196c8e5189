//! A whole three-cylinder test without touching a file.

use std::fs;
use std::path::Path;

use super::shop::{Shop, Terminal};

/// Floor of the shop and of a leak heard in it, full scale 1.
const QUIET: f32 = 0.003;
const LEAK: f32 = 0.012;
/// How the big word OPEN begins on its topmost row.
const OPEN_TOP: &str = " ███  ████";

/// Keeps what a screen looked like, for people to look at.
pub fn keep(name: &str, text: &str) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("guide-screens");
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join(format!("{name}.txt")), text).expect("writes");
}

/// Follows the guide through a cylinder's clips: the leak hisses where it is, while the air is on.
fn clips(shop: &Shop, terminal: &Terminal, cylinder: u32, leak: Option<&str>) {
    let step = |text: &str| -> Option<(bool, bool)> {
        let at_leak = leak.is_some_and(|place| text.contains(&format!("Microphone to the {place}")));
        text.contains("Recording in").then(|| (at_leak, text.contains("Open the air")))
    };
    terminal.press(" ");
    let mut kept = 0;
    loop {
        let text = terminal.wait_for("count-down, recording or result", 60.0, |text| {
            let goes_on = ["Recording in", "SPACE next", "Recording: ", PULSED];
            goes_on.iter().any(|name| text.contains(name))
        });
        if text.contains("SPACE next") {
            break;
        }
        // The ranking wants a pulsed clip: another way of working, which the person begins.
        if text.contains(PULSED) {
            keep(&format!("8-pulsed-wanted-{cylinder}"), &text);
            terminal.press(" ");
            let leaks = leak.is_some_and(|place| text.contains(place));
            pulsed(shop, terminal, leaks);
            continue;
        }
        if let Some((at_leak, is_open)) = step(&text) {
            shop.loudness(if at_leak && is_open { LEAK } else { QUIET });
            if kept < 3 && cylinder == 1 {
                keep(&format!("5-count-{kept}"), &text);
            }
            kept += 1;
            let running =
                terminal.wait_for("recording", 30.0, |text| text.contains("dB FS") || text.contains("Recording: 1"));
            if kept < 3 && cylinder == 1 {
                keep(&format!("6-recording-{kept}"), &running);
            }
            let done = terminal.wait_for("good", 60.0, |text| !text.contains("Recording: "));
            if kept < 3 && cylinder == 1 {
                keep(&format!("7-done-{kept}"), &done);
            }
        }
    }
    keep(&format!("8-result-{cylinder}"), &terminal.text());
}

/// What the screen says before a pulsed clip.
const PULSED: &str = "High beep: open. Low beep: shut.";

/// Once more with pulsed air where the ranking proposes it and has none yet.
fn with_pulsed_air(shop: &Shop, terminal: &Terminal) {
    let text = terminal.text();
    if shop.job_file().contains("c2-oil-filler-pulsed") {
        return;
    }
    assert!(text.contains("P: oil filler once more") && text.contains("P pulsed air"), "it is proposed:\n{text}");
    terminal.press("p");
    keep("8-pulsed-1-asked", &terminal.wait(PULSED, 5.0));
    terminal.press(" ");
    pulsed(shop, terminal, true);
    keep("8-pulsed-4-result", &terminal.text());
}

/// A pulsed clip: the leak hisses while the screen says that the air is open.
fn pulsed(shop: &Shop, terminal: &Terminal, leaks: bool) {
    let mut seen = [0, 0];
    let shows_open = |text: &str| text.lines().nth(8).is_some_and(|row| row.starts_with(OPEN_TOP));
    loop {
        let text = terminal.wait_for("recording or result", 30.0, |text| {
            text.contains("Recording: ") || text.contains("SPACE next") || text.contains("Recording in")
        });
        if text.contains("SPACE next") || (seen[0] > 0 && text.contains("Recording in")) {
            break;
        }
        if text.contains("Recording: ") {
            let is_open = shows_open(&text);
            shop.loudness(if is_open && leaks { LEAK } else { QUIET });
            seen[usize::from(is_open)] += 1;
            keep(if is_open { "8-pulsed-3-open" } else { "8-pulsed-2-shut" }, &text);
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    assert!(seen[0] > 0 && seen[1] > 0, "the rhythm is shown: {seen:?}");
}

#[test]
fn a_person_does_a_whole_test_without_touching_a_file() {
    let shop = Shop::new();
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    keep("1-cautions", &terminal.wait("SPACE I have read this", 10.0));
    terminal.press(" ");
    keep("1-temperature", &terminal.wait("at its working temperature", 5.0));
    terminal.press("h");
    terminal.wait("Blank off hose", 5.0);
    terminal.press("80 78\r");
    keep("2-rig-unit", &terminal.wait("In which unit do your gauges show?", 5.0));
    terminal.press("p");
    keep("2-rig-shown", &terminal.wait("Supply 80 psi, held 78 psi.", 5.0));
    terminal.press("\r");
    for (cylinder, held, leak) in [(1, 76, None), (3, 74, Some("exhaust")), (2, 55, Some("oil filler"))] {
        let text = terminal.wait("SPACE the crank is locked", 10.0);
        keep(&format!("3-turn-{cylinder}"), &text);
        assert_eq!(text.contains("240° on from cylinder"), cylinder != 1, "{text}");
        terminal.press(" ");
        keep(&format!("4-gauge-{cylinder}"), &terminal.wait("Put the air on the cylinder slowly", 5.0));
        if cylinder == 3 {
            // A slip of the finger stands out before it is kept, and is typed anew.
            terminal.press("80 7\r");
            let text = terminal.wait("A slip of the finger?", 5.0);
            keep("4-slip", &text);
            terminal.press("\x7f");
            terminal.wait("> 80 7", 5.0);
            terminal.press("\x7f".repeat("80 7 psi".len()).as_str());
        }
        // The unit is known by now.
        terminal.press(&format!("80 {held}\r"));
        keep(&format!("4-shown-{cylinder}"), &terminal.wait(&format!("Supply 80 psi, held {held} psi."), 5.0));
        terminal.press("\r");
        terminal.wait("the rest runs on its own", 5.0);
        clips(&shop, &terminal, cylinder, leak);
        if let Some(place) = leak {
            let text = terminal.text();
            let chances = text.lines().find(|line| line.starts_with(place)).unwrap_or_default();
            let percent = chances.split('\u{a0}').find_map(|part| part.split_whitespace().last()?.parse::<u32>().ok());
            assert!(percent.is_some_and(|percent| percent >= 95), "cylinder {cylinder}: {chances:?} in\n{text}");
            assert!(text.contains(&format!("Cylinder {cylinder}: ")) && text.contains("1. "), "a finding:\n{text}");
        }
        if cylinder == 2 {
            with_pulsed_air(&shop, &terminal);
        }
        terminal.press(" ");
    }
    keep("9-end", &terminal.wait("The report is written", 20.0));
    terminal.press(" ");
    assert!(terminal.ended());
    let job = shop.job();
    for file in ["report.html", "ranking.json", "comparison.png"] {
        assert!(Path::new(&job).join("results").join(file).exists(), "{file}");
    }
    let text = shop.job_file();
    assert_eq!(text.matches("[[gauge]]").count(), 3);
    assert!(text.contains("temperature = \"hot\""), "{text}");
    assert!(text.contains("air = \"pulsed\""), "pulsed air settles what is in doubt: {text}");
    // Three for each cylinder with the air on, and quiet ones as many as were needed.
    assert!(text.matches("[[clip]]").count() >= 12 && !text.contains("[[pending]]"), "{text}");
}
