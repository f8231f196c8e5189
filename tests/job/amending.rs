//! Mistakes put right: by the library, and by `hissward amend` and `hissward status`.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use hissward::job::{ClipChange, Counts, Datum, FileName, GaugeChange, GaugeValue, Job, Missing, Status};
use hissward::opening::Air;

use crate::helpers::{assert_intact, job_toml, now, reading, record, started, subject};

fn file(name: &str) -> FileName {
    name.parse().expect("a file's name")
}

fn run(arguments: &[&str], job: &Path) -> Output {
    let (command, more) = arguments.split_first().expect("a command");
    Command::new(env!("CARGO_BIN_EXE_hissward")).arg(command).arg(job).args(more).output().expect("it runs")
}

#[test]
fn a_clip_moves_and_what_stood_there_stays_to_be_seen() {
    let (_folder, mut job) = started();
    record(&mut job, subject(Some(2), "exhaust", Air::On)).expect("a clip");
    let clip = record(&mut job, subject(Some(2), "intake", Air::On)).expect("a clip");
    let change = ClipChange { opening: Some("exhaust".parse().expect("an opening")), ..ClipChange::default() };
    job.amend_clips(std::slice::from_ref(&clip.file), &change, &now()).expect("it moves");
    let moved = job.record().clips.iter().find(|one| one.file == clip.file).expect("listed").clone();
    assert_eq!((moved.subject.opening.name(), moved.take), ("exhaust", 2), "the next take of its new place");
    assert_eq!(moved.sha256, clip.sha256);
    let told: Vec<String> = job
        .record()
        .amended
        .iter()
        .map(|one| format!("{} {} {:?} {:?}", one.of, one.key, one.from.as_deref(), one.to.as_deref()))
        .collect();
    let of = "c2-intake-on-t1.wav";
    assert_eq!(
        told,
        [format!("{of} opening Some(\"intake\") Some(\"exhaust\")"), format!("{of} take Some(\"1\") Some(\"2\")")]
    );
    assert!(job_toml(job.folder()).contains("[[amended]]"));
    // The name that it has on the disk is not given twice.
    let next = record(&mut job, subject(Some(2), "intake", Air::On)).expect("a clip");
    assert_ne!(next.file, clip.file);
    assert_intact(&job);
    let again = Job::open(job.folder()).expect("it opens");
    assert_eq!(again.record(), job.record());
    // Of clips that do not all exist none is changed.
    let before = job_toml(job.folder());
    let both = [clip.file, file("c1-intake-on-t9.wav")];
    job.amend_clips(&both, &ClipChange { air: Some(Air::Off), ..ClipChange::default() }, &now())
        .expect_err("one is none");
    let far = ClipChange { cylinder: Some(4), ..ClipChange::default() };
    job.amend_clips(&both[..1], &far, &now()).expect_err("no such cylinder");
    assert_eq!(job_toml(job.folder()), before);
}

#[test]
fn two_clips_change_places_and_one_is_left_out_and_taken_in() {
    let (_folder, mut job) = started();
    let off = record(&mut job, subject(Some(1), "intake", Air::Off)).expect("a clip");
    let on = record(&mut job, subject(Some(1), "intake", Air::On)).expect("a clip");
    job.swap_clips(&off.file, &on.file, &now()).expect("they swap");
    let air = |name: &FileName| job.record().clips.iter().find(|clip| clip.file == *name).map(|clip| clip.subject.air);
    assert_eq!((air(&off.file), air(&on.file)), (Some(Air::On), Some(Air::Off)));
    job.swap_clips(&on.file, &on.file, &now()).expect_err("one clip is no two");
    let left_out = ClipChange { counts: Some(Counts::LeftOut("somebody spoke".to_owned())), ..ClipChange::default() };
    job.amend_clips(std::slice::from_ref(&on.file), &left_out, &now()).expect("left out");
    let taken_in = ClipChange { counts: Some(Counts::TakenIn), ..ClipChange::default() };
    job.amend_clips(std::slice::from_ref(&on.file), &taken_in, &now()).expect("taken in");
    let last = job.record().amended.last().expect("noted");
    assert_eq!(
        (last.key.as_str(), last.from.as_deref(), last.to.as_deref()),
        ("left_out", Some("somebody spoke"), None)
    );
}

#[test]
fn readings_and_data_are_put_right() {
    let (_folder, mut job) = started();
    job.add_gauge_reading(reading(1, 690.0, 269.0)).expect("100/39, a slip");
    let value = GaugeValue::Pressures { supply_kpa: 690.0, held_kpa: 641.0 };
    job.amend_gauge(1, &GaugeChange::Value(value, None), &now()).expect("100/93");
    assert_eq!(job.record().gauge.len(), 1);
    assert_eq!(job.record().latest_gauge(1).map(|reading| reading.value), Some(value));
    let noted = job.record().amended.last().expect("noted").clone();
    assert_eq!(noted.of, "gauge 1");
    assert!(noted.from.is_some_and(|from| from.contains("269")), "{:?}", noted.to);
    job.amend_gauge(2, &GaugeChange::Cold(true), &now()).expect_err("it has none");
    job.amend_gauge(1, &GaugeChange::MovedTo(3), &now()).expect("it was cylinder 3");
    assert!(job.record().latest_gauge(1).is_none() && job.record().latest_gauge(3).is_some());
    job.amend_gauge(3, &GaugeChange::TakenBack("the wrong engine".to_owned()), &now()).expect("taken back");
    assert!(job.record().gauge.is_empty());
    assert!(job.record().amended.iter().any(|one| one.to.as_deref() == Some("taken back: the wrong engine")));
    let data = [Datum::Customer(Some("Pier Yard".to_owned())), Datum::Notes(None)];
    job.amend_data(&data, &now()).expect("data");
    assert_eq!(job.record().customer.as_deref(), Some("Pier Yard"));
    job.amend_data(&[Datum::Cylinders(0)], &now()).expect_err("no engine has none");
    let again = Job::open(job.folder()).expect("it opens");
    assert_eq!(again.record(), job.record());
}

#[test]
fn what_is_missing_is_said_with_the_command_that_does_it() {
    let (_folder, mut job) = started();
    let status = Status::of(job.record());
    assert_eq!(status.missing.first(), Some(&Missing::Rig));
    assert_eq!(
        status.missing[1].command("the job"),
        "hissward gauge 'the job' --cylinder 1 --supply 80psi --held 60psi"
    );
    for air in [Air::Off, Air::On] {
        record(&mut job, subject(Some(1), "intake", air)).expect("a clip");
    }
    record(&mut job, subject(Some(1), "dipstick", Air::Pulsed)).expect("a clip");
    let missing = Status::of(job.record()).missing;
    let of_one: Vec<String> = missing
        .iter()
        .filter_map(|missing| match missing {
            Missing::Clip { cylinder: 1, opening, air } => Some(format!("{opening} {}", air.name())),
            _ => None,
        })
        .collect();
    assert_eq!(of_one, ["exhaust off", "exhaust on"], "the dipstick is the crankcase");
    assert!(
        matches!(
            missing.iter().find(|m| matches!(m, Missing::Clip { cylinder: 2 | 3, .. })),
            Some(Missing::Clip { cylinder: 3, .. })
        ),
        "in firing order"
    );
}

#[test]
fn on_the_command_line_a_swap_is_offered_and_done_and_a_lost_file_stops_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let job = folder.path().join("job");
    let made = Command::new(env!("CARGO_BIN_EXE_hissward"))
        .args(["simulate", "--cylinders", "1", "--seconds", "4", "--leak", "1:exhaust:12", "--quiet", "--out"])
        .arg(&job)
        .output()
        .expect("it runs");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    let told = |output: &Output| {
        format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
    };
    let (off, on) = ("c1-exhaust-off-t1.wav", "c1-exhaust-on-t1.wav");
    let status = run(&["status"], &job);
    assert!(status.status.success() && !told(&status).contains("swapped"), "{}", told(&status));
    let swapped = run(&["amend", "--swap", off, on], &job);
    assert!(swapped.status.success() && told(&swapped).contains("air off → on"), "{}", told(&swapped));
    let status = told(&run(&["status"], &job));
    // The file's name is of its first place: the one that is listed as quiet now is loud.
    assert!(status.contains(&format!("--swap {on} {off}")), "{status}");
    let again = run(&["amend", "--swap", on, off, "--json"], &job);
    let rows: serde_json::Value = serde_json::from_slice(&again.stdout).expect("JSON");
    assert_eq!(rows["amended"].as_array().map(Vec::len), Some(2), "{rows}");
    fs::remove_file(job.join("clips").join("c1-intake-on-t1.wav")).expect("it goes");
    let ranked = run(&["rank"], &job);
    assert!(matches!(ranked.status.code(), Some(0 | 1)), "{}", told(&ranked));
    assert!(told(&ranked).contains("c1-intake-on-t1.wav is gone"), "{}", told(&ranked));
    let status = run(&["status", "--json"], &job);
    let told: serde_json::Value = serde_json::from_slice(&status.stdout).expect("JSON");
    assert_eq!(told["mistakes"][0]["code"], "mistake-gone", "{told}");
    let refused = run(&["amend", "c1-nowhere-on-t1.wav", "--at", "intake"], &job);
    assert_eq!(refused.status.code(), Some(2));
}
