//! `hissward new` as people and other programs call it.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use hissward::crank::Cycle;
use hissward::job::{EngineTemperature, Job};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use crate::helpers::{job_toml, place};

fn hissward(folder: &Path, arguments: &[&str]) -> std::process::Output {
    Command::new(env!("CARGO_BIN_EXE_hissward")).current_dir(folder).args(arguments).output().expect("it runs")
}

const WORKBOAT: [&str; 7] =
    ["new", "job", "--engine", "Three-cylinder petrol, workboat", "--cylinders", "3", "--firing-order=1-3-2"];

#[test]
fn a_new_job_holds_what_was_typed() {
    let (folder, path) = place();
    let more = [
        "--restrictor",
        "0.040in",
        "--ambient",
        "1013hPa",
        "--cold",
        "--shop",
        "Harbour yard",
        "--customer",
        "Pilot service",
        "--tested-by",
        "J. Hand",
        "--notes",
        "two\nlines",
        "--language",
        "de",
        "--units",
        "psi",
        "--limit-loss",
        "20%",
        "--limit-spread",
        "10",
        "--limit-pressure",
        "80psi",
        "--limit-source",
        "manual p. 41",
        "--microphone",
        "USB",
        "--channel",
        "2",
        "--far-channel",
        "1",
        "--firing-angles",
        "0,270,450",
        "--banks",
        "1-2,3",
        "--air-temperature",
        "-4 C",
    ];
    let done = hissward(folder.path(), &[&WORKBOAT[..], &more].concat());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    assert_eq!(String::from_utf8_lossy(&done.stdout), format!("{}\n", Path::new("job").join("job.toml").display()));
    let job = Job::open(&path).expect("it opens");
    let record = job.record();
    assert_eq!((record.cylinders, record.cycle), (3, Cycle::FourStroke));
    assert_eq!(record.firing_order, Some(vec![1, 3, 2]));
    assert_eq!(record.firing_angles_deg, Some(vec![0.0, 270.0, 450.0]));
    assert_eq!(record.banks, Some(vec![vec![1, 2], vec![3]]));
    assert_eq!(record.air_temperature_c, Some(-4.0));
    assert_eq!(record.restrictor_mm, Some(1.016));
    assert_eq!(record.ambient_kpa, Some(101.3));
    assert_eq!(record.temperature, Some(EngineTemperature::Cold));
    assert_eq!(record.notes.as_deref(), Some("two\nlines"));
    let limits = record.limits.as_ref().expect("limits");
    // 80 psi, 1 psi = 0.45359237 · 9.80665 / 0.0254² Pa (calc), kept to six decimals.
    assert_eq!(limits.test_pressure_kpa, Some(551.580_583));
    assert_eq!((limits.loss_percent, limits.spread_percent), (Some(20.0), Some(10.0)));
    let microphone = record.microphone.as_ref().expect("a microphone");
    assert_eq!((microphone.channel, microphone.far_channel), (Some(2), Some(1)));
    assert!(job_toml(&path).contains("made_with = \"hissward "));
}

#[test]
fn json_is_data_and_talk_is_talk() {
    let (folder, _) = place();
    let done = hissward(folder.path(), &[&WORKBOAT[..], &["--json"]].concat());
    let told: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
    assert_eq!(told["format"], 1);
    assert_eq!(told["firing_order"], serde_json::json!([1, 3, 2]));
    assert_eq!(told["restrictor_mm"], serde_json::Value::Null);
    assert!(String::from_utf8_lossy(&done.stderr).contains("Next:"));
    let done = hissward(folder.path(), &["-q", "new", "other", "--engine", "Petrol", "--cylinders", "1"]);
    assert!(done.status.success() && done.stderr.is_empty());
}

#[test]
fn what_cannot_be_is_refused_and_leaves_nothing() {
    let (folder, path) = place();
    let base = ["new", "job", "--engine", "Petrol", "--cylinders"];
    let cases: [(&[&str], &str); 16] = [
        (&["0"], "0"),
        (&["49"], "49"),
        (&["3", "--firing-order", "1-3-3"], "the firing order 1-3-3 must name each of the cylinders 1 to 3 once"),
        (&["3", "--firing-order", "1-3"], "each of the cylinders 1 to 3 once"),
        (&["3", "--firing-order", "1-x-2"], "'x' is not a cylinder number"),
        (&["3", "--firing-angles", "0,240,480"], "--firing-order"),
        (&["2", "--firing-order=1-2", "--firing-angles", "0,720"], "below 720"),
        (&["2", "--firing-order=1-2", "--cycle", "two-stroke", "--firing-angles", "0,360"], "below 360"),
        (&["3", "--restrictor", "0.040"], "unit"),
        (&["3", "--restrictor", "40in"], "in"),
        (&["3", "--hot", "--cold"], "--cold"),
        (&["3", "--language", "xx"], "there are de, en"),
        (&["4", "--banks", "1-3,2"], "name every one once"),
        (&["4", "--banks", "1-3,2-x"], "'x' is not a cylinder number"),
        (&["3", "--air-temperature", "20"], "unit"),
        (&["3", "--notes", "bell \u{7}"], "U+0007"),
    ];
    for (more, words) in cases {
        let done = hissward(folder.path(), &[&base[..], more].concat());
        let told = String::from_utf8_lossy(&done.stderr).into_owned();
        assert_eq!(done.status.code(), Some(2), "{more:?}: {told}");
        assert!(told.contains(words), "{more:?}: {told}");
        assert!(!path.exists(), "{more:?} left something behind");
    }
    let done = hissward(folder.path(), &["new", "no/where/job", "--engine", "Petrol", "--cylinders", "1"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(!folder.path().join("no").exists());
}

#[test]
fn a_folder_with_something_in_it_stays_as_it_is() {
    let (folder, path) = place();
    assert!(hissward(folder.path(), &WORKBOAT).status.success());
    let before = job_toml(&path);
    let again = hissward(folder.path(), &WORKBOAT);
    assert_eq!(again.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&again.stderr).contains("a job is there already"));
    assert_eq!(job_toml(&path), before);

    let foreign = folder.path().join("Bücher und Bilder");
    fs::create_dir(&foreign).expect("a folder");
    fs::write(foreign.join("letter.txt"), "mine").expect("a file");
    let done = hissward(folder.path(), &["new", "Bücher und Bilder", "--engine", "Petrol", "--cylinders", "1"]);
    assert!(String::from_utf8_lossy(&done.stderr).contains("'letter.txt' is in it"));
    assert_eq!(fs::read_dir(&foreign).expect("a folder").count(), 1);
    let spaces = hissward(folder.path(), &["new", "Motor 3 (grün)", "--engine", "Petrol", "--cylinders", "1"]);
    assert!(spaces.status.success() && Job::open(&folder.path().join("Motor 3 (grün)")).is_ok());
}

/// Killed while it starts a job: there is a whole job, or none and `new` may be asked again.
#[test]
fn a_killed_new_leaves_a_job_or_room_for_one() {
    let mut chance = ChaCha8Rng::seed_from_u64(11);
    for _ in 0..50 {
        let (folder, path) = place();
        let mut child = Command::new(env!("CARGO_BIN_EXE_hissward"))
            .current_dir(folder.path())
            .args(WORKBOAT)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("it starts");
        std::thread::sleep(Duration::from_micros(chance.random_range(0..25_000)));
        child.kill().expect("it can be killed");
        child.wait().expect("it ended");
        if path.join("job.toml").exists() {
            assert_eq!(Job::open(&path).expect("it is whole").record().cylinders, 3);
        } else {
            let again = hissward(folder.path(), &WORKBOAT);
            assert!(again.status.success(), "{}", String::from_utf8_lossy(&again.stderr));
        }
    }
}
