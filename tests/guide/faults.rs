//! What the guide survives.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use super::shop::{Shop, Terminal};
use super::whole_test::keep;

/// To the first clip of the first cylinder.
fn to_the_first_clip(terminal: &Terminal) {
    terminal.wait("SPACE I have read this", 10.0);
    terminal.press(" ");
    terminal.wait("at its working temperature", 5.0);
    terminal.press("h");
    terminal.wait("Blank off hose", 5.0);
    terminal.press("80 78 psi\r");
    terminal.wait("ENTER keep it", 5.0);
    terminal.press("\r");
    terminal.wait("SPACE the crank is locked", 5.0);
    terminal.press(" ");
    terminal.wait("Put the air on the cylinder", 5.0);
    terminal.press("22%\r");
    terminal.wait("ENTER keep it", 5.0);
    terminal.press("\r");
    terminal.wait("the rest runs on its own", 5.0);
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
        terminal.wait("the rest runs on its own", 5.0);
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
    // At the pace of life a clip lasts six seconds: time enough to pull the plug within it.
    let shop = Shop::at_speed(1.0);
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    to_the_first_clip(&terminal);
    terminal.press(" ");
    shop.wait_for_sound("c1-intake-off-t1.wav", 1.0);
    shop.unplug(true);
    let text = terminal.wait("Plug it in again", 10.0);
    assert!(text.contains("SPACE try again"), "{text}");
    shop.unplug(false);
    terminal.press(" ");
    terminal.wait("the rest runs on its own", 15.0);
    terminal.press(" ");
    terminal.wait("clips 1 of 6", 30.0);
    terminal.press(" ");
    terminal.press("q");
    assert!(terminal.ended());
    let file = shop.job_file();
    assert!(file.contains("cut_short = true") && file.contains("left_out"), "what there was is kept:\n{file}");
}

/// Stops the program for a while, as a machine that is closed and opened again does.
fn asleep(terminal: &Terminal, seconds: u64) {
    let id = terminal.child.id().to_string();
    let send = |signal: &str| {
        let sent = Command::new("kill").args([signal, &id]).status();
        assert!(sent.expect("kill").success());
    };
    send("-STOP");
    thread::sleep(Duration::from_secs(seconds));
    send("-CONT");
}

#[test]
fn a_gap_in_the_sound_is_told_and_the_clip_recorded_again() {
    let shop = Shop::at_speed(1.0);
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    to_the_first_clip(&terminal);
    terminal.press(" ");
    shop.wait_for_sound("c1-intake-off-t1.wav", 1.0);
    // Longer than a device may be silent: that it was must not be taken for its end.
    asleep(&terminal, 4);
    let text = terminal.wait("are missing from the recording", 20.0);
    assert!(text.contains("Keep it awake"), "{text}");
    keep("gap", &text);
    terminal.wait("clips 1 of 6", 30.0);
    terminal.press("q");
    assert!(terminal.ended());
    let file = shop.job_file();
    assert!(file.contains("left_out = \"recorded again\"") && file.contains("c1-intake-off-t2.wav"), "{file}");
}

#[test]
fn a_clock_that_jumps_changes_nothing() {
    let library = "/usr/lib/x86_64-linux-gnu/faketime/libfaketime.so.1";
    if !Path::new(library).exists() {
        #[expect(clippy::print_stderr, reason = "a test that looked at nothing says so")]
        {
            eprintln!("not looked at: libfaketime is missing (run 'make setup-tests')");
        }
        return;
    }
    let shop = Shop::new();
    let clock = shop.path("clock");
    // The clock is set while a clip is recorded; time that only goes on is left as it is.
    let set = |by: &str| fs::write(&clock, format!("{by}\n")).expect("sets the clock");
    set("+0");
    let clock_file = clock.display().to_string();
    let environment = [
        ("LD_PRELOAD", library),
        ("FAKETIME_TIMESTAMP_FILE", clock_file.as_str()),
        ("FAKETIME_NO_CACHE", "1"),
        ("FAKETIME_DONT_FAKE_MONOTONIC", "1"),
    ];
    let mut terminal = shop.terminal_with(&["guide", &shop.job(), "--silent", "--pause", "1"], &environment);
    to_the_first_clip(&terminal);
    terminal.press(" ");
    shop.wait_for_sound("c1-intake-off-t1.wav", 1.0);
    set("+40d");
    terminal.wait("clips 1 of 6", 30.0);
    shop.wait_for_sound("c1-intake-on-t1.wav", 1.0);
    set("-10d");
    terminal.wait("clips 2 of 6", 30.0);
    terminal.press("q");
    assert!(terminal.ended());
    let file = shop.job_file();
    assert!(!file.contains("cut_short") && !file.contains("left_out") && !file.contains("overruns"), "{file}");
    let months: Vec<&str> =
        file.lines().filter(|line| line.starts_with("recorded = ")).map(|line| &line[..19]).collect();
    assert!(months.len() >= 2 && months[0] != months[1], "the clock did jump: {file}");
    let orders = file.lines().filter(|line| line.starts_with("visit = ")).collect::<Vec<_>>();
    assert_eq!(orders[..2], ["visit = 1", "visit = 2"], "the order of work is not the clock's");
}

/// A disk in memory of so many KiB; `None` where this user cannot mount one.
fn small_disk(kib: u32) -> Option<(tempfile::TempDir, Unmounts)> {
    let folder = tempfile::tempdir().expect("a folder");
    let options = format!("size={kib}k");
    let mounted = Command::new("mount").args(["-t", "tmpfs", "-o", &options, "tmpfs"]).arg(folder.path()).output();
    if !mounted.is_ok_and(|done| done.status.success()) {
        #[expect(clippy::print_stderr, reason = "a test that looked at nothing says so")]
        {
            eprintln!("not looked at: this user cannot mount a small disk in memory (root can)");
        }
        return None;
    }
    let unmounts = Unmounts(folder.path().to_owned());
    Some((folder, unmounts))
}

struct Unmounts(PathBuf);

impl Drop for Unmounts {
    fn drop(&mut self) {
        let done = Command::new("umount").arg(&self.0).status();
        assert!(done.is_ok_and(|status| status.success()) || thread::panicking());
    }
}

/// What is said may run over a line's end.
fn is_told_of_room(text: &str) -> bool {
    text.split_whitespace().collect::<Vec<_>>().join(" ").contains("free some space, then try again")
}

#[test]
fn a_disk_that_is_full_is_told_and_once_there_is_room_the_guide_goes_on() {
    let Some((disk, _unmounts)) = small_disk(4096) else { return };
    let shop = Shop::on_disk(disk.path());
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent", "--pause", "1"]);
    to_the_first_clip(&terminal);
    terminal.press(" ");
    shop.wait_for_sound("c1-intake-off-t1.wav", 1.0);
    let filler = disk.path().join("filler");
    let filled = fs::File::create(&filler).and_then(|mut file| {
        loop {
            file.write_all(&[1; 4096])?;
        }
    });
    assert_eq!(filled.map_err(|error: std::io::Error| error.kind()), Err::<(), _>(std::io::ErrorKind::StorageFull));
    let text = terminal.wait_for("what to do", 20.0, is_told_of_room);
    assert!(text.split_whitespace().collect::<Vec<_>>().join(" ").contains("stays on the disk"), "{text}");
    keep("disk-full", &text);
    // Another try while it is full is told as well, and the guide stays.
    terminal.wait("the rest runs on its own", 10.0);
    terminal.press(" ");
    // What stands there until then is the first telling.
    terminal.wait("Recording in 1 s", 10.0);
    terminal.wait_for("told again", 20.0, is_told_of_room);
    fs::remove_file(&filler).expect("room");
    terminal.wait("the rest runs on its own", 10.0);
    terminal.press(" ");
    terminal.wait("clips 1 of 6", 30.0);
    terminal.press("q");
    assert!(terminal.ended());
    let file = shop.job_file();
    assert!(file.contains("cut_short = true") && !file.contains("[[pending]]"), "what there was is kept:\n{file}");
    let kept = hound::WavReader::open(Path::new(&shop.job()).join("clips/c1-intake-off-t1.wav")).expect("whole");
    assert!(kept.duration() >= 48_000, "{} frames", kept.duration());
}

#[test]
fn a_german_job_is_guided_in_german() {
    let shop = Shop::new();
    let file = Path::new(&shop.job()).join("job.toml");
    let text = shop.job_file().replace("engine = ", "language = \"de\"\nengine = ");
    fs::write(&file, text).expect("edited by hand");
    let mut terminal = shop.terminal(&["guide", &shop.job(), "--silent"]);
    terminal.wait("LEERTASTE gelesen", 10.0);
    terminal.press(" ");
    keep("german", &terminal.wait("Ist der Motor auf Betriebstemperatur?", 5.0));
    terminal.press("c");
    terminal.wait("Schlauch", 5.0);
    terminal.press("q");
    assert!(terminal.ended());
    assert!(shop.job_file().contains("temperature = \"cold\""), "{}", shop.job_file());
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
    // Cautions, hot, rig and yes, crank, gauge and yes, the clips; then nobody types any more.
    keys.write_all(b"\nh\n80 78 psi\n\n\n22%\n\n\n").expect("keys");
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
    terminal.wait("at its working temperature", 5.0);
    terminal.press("h");
    terminal.wait("Blank off hose", 5.0);
    terminal.press("s");
    terminal.wait("Why is this left out", 5.0);
    terminal.press("no cap fits\r");
    terminal.wait("SPACE the crank is locked", 5.0);
    terminal.press(" ");
    terminal.wait("Put the air on", 5.0);
    terminal.press("22%\r");
    terminal.wait("ENTER keep it", 5.0);
    terminal.press("\r");
    terminal.wait("the rest runs on its own", 5.0);
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
