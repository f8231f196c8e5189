//! What the guide survives.

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::Stdio;
use std::thread;
use std::time::Duration;

use super::shop::{Shop, Terminal};

/// To the first clip of the first cylinder.
fn to_the_first_clip(terminal: &Terminal) {
    terminal.wait("SPACE I have read this", 10.0);
    terminal.press(" ");
    terminal.wait("Blank off hose", 5.0);
    terminal.press("80 78 psi\r");
    terminal.wait("SPACE the crank is locked", 5.0);
    terminal.press(" ");
    terminal.wait("Put the air on the cylinder", 5.0);
    terminal.press("22%\r");
    terminal.wait("the rest goes by itself", 5.0);
}

#[test]
fn killed_at_any_moment_nothing_that_was_recorded_is_lost() {
    let shop = Shop::new();
    let terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    to_the_first_clip(&terminal);
    drop(terminal);
    // Moments from within the count-down to within later clips, the same always.
    let mut listed = 0;
    for round in 0..6_u64 {
        let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
        terminal.wait("SPACE the crank is locked", 10.0);
        terminal.press(" ");
        terminal.wait("the rest goes by itself", 5.0);
        terminal.press(" ");
        thread::sleep(Duration::from_millis(700 + 613 * round));
        terminal.child.kill().expect("killed");
        terminal.child.wait().expect("gone");
        let text = shop.job_file();
        let clips = text.matches("[[clip]]").count();
        assert!(clips >= listed, "round {round}: {clips} clips after {listed}");
        listed = clips;
    }
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    terminal.wait("SPACE the crank is locked", 10.0);
    terminal.press("q");
    assert!(terminal.ended());
    let text = shop.job_file();
    assert!(!text.contains("[[pending]]"), "{text}");
    assert!(text.contains("cut_short = true"), "at least one was killed while it recorded:\n{text}");
    // Every file is listed, every listed file is there and whole.
    let clips = Path::new(&shop.job()).join("clips");
    for entry in fs::read_dir(&clips).expect("clips") {
        let name = entry.expect("an entry").file_name().into_string().expect("a plain name");
        assert!(name.ends_with(".wav") && text.contains(&name), "{name}");
        let reader = hound::WavReader::open(clips.join(&name)).expect("whole");
        assert!(reader.duration() > 0, "{name}");
    }
    let checked = shop.command(&["check", &shop.job(), "--json"]).output().expect("runs");
    assert!(checked.status.code().is_some_and(|code| code < 2), "{}", String::from_utf8_lossy(&checked.stderr));
}

#[test]
fn a_microphone_that_is_pulled_out_is_told_and_the_guide_goes_on() {
    let shop = Shop::new();
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    to_the_first_clip(&terminal);
    terminal.press(" ");
    terminal.wait("Recording: ", 10.0);
    shop.unplug(true);
    let text = terminal.wait("Plug it in again", 10.0);
    assert!(text.contains("SPACE try again"), "{text}");
    shop.unplug(false);
    terminal.press(" ");
    terminal.wait("the rest goes by itself", 15.0);
    terminal.press(" ");
    terminal.wait("clips 1 of 6", 30.0);
    terminal.press(" ");
    terminal.press("q");
    assert!(terminal.ended());
    let file = shop.job_file();
    assert!(file.contains("cut_short = true") && file.contains("left_out"), "what there was is kept:\n{file}");
}

#[test]
fn a_second_program_on_the_job_is_told_who_has_it() {
    let shop = Shop::new();
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent"]);
    terminal.wait("SPACE I have read this", 10.0);
    let second = shop.command(&["listen", &shop.job(), "--at", "intake", "--air", "off", "--silent"]).output();
    let second = second.expect("runs");
    let said = String::from_utf8_lossy(&second.stderr).into_owned();
    assert_eq!(second.status.code(), Some(2));
    assert!(said.contains("hissward guide") && said.contains("is writing to this job"), "{said}");
    terminal.press("q");
    assert!(terminal.ended());
}

#[test]
fn without_a_terminal_lines_are_keys() {
    let shop = Shop::new();
    let mut guide = shop
        .command(&["guide", &shop.job(), "--silent", "--pause", "1", "--openings", "intake", "--most-rounds", "1"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts");
    let mut keys = guide.stdin.take().expect("piped");
    // Cautions, rig, crank, gauge, the clips; then nobody types any more.
    keys.write_all(b"\n80 78 psi\n\n22%\n\n").expect("keys");
    drop(keys);
    let output = guide.wait_with_output().expect("ends");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.success() && output.stdout.is_empty(), "{said}");
    for part in ["TAKE CARE", "RIG ALONE", "LOCK THE CRANK", "GAUGE", "AIR OFF", "GOOD"] {
        assert!(said.contains(part), "no {part} in:\n{said}");
    }
    assert!(said.lines().count() < 120, "{} lines", said.lines().count());
    let file = shop.job_file();
    assert_eq!(file.matches("[[clip]]").count(), 2, "{file}");
}

#[test]
fn a_step_is_skipped_with_its_reason_and_a_clip_is_taken_back() {
    let shop = Shop::new();
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    terminal.wait("SPACE I have read this", 10.0);
    terminal.press(" ");
    terminal.wait("Blank off hose", 5.0);
    terminal.press("s");
    terminal.wait("Why is this left out", 5.0);
    terminal.press("no cap fits\r");
    terminal.wait("SPACE the crank is locked", 5.0);
    terminal.press(" ");
    terminal.wait("Put the air on", 5.0);
    terminal.press("22%\r");
    terminal.wait("the rest goes by itself", 5.0);
    terminal.press(" ");
    terminal.wait("clips 1 of 6", 30.0);
    terminal.press("r");
    terminal.wait("clips 0 of 6", 5.0);
    terminal.press("q");
    assert!(terminal.ended());
    let file = shop.job_file();
    assert!(file.contains("reason = \"no cap fits\"") && file.contains("step = \"rig\""), "{file}");
    assert!(file.contains("left_out = \"recorded again\""), "{file}");
}
