//! `job.toml` under the hands of people.

use std::fs;
use std::path::Path;

use hissward::job::{Job, JobError, JobWriter};
use hissward::opening::Air;

use crate::helpers::{files_in_clips, job_toml, place, reading, record, started, subject};

/// An edited file, as somebody might leave it.
const EDITED: &str = r##"# Harbour yard, slip 3
format=1
cycle = 'four-stroke'   # assumed anyway, and stays
engine = "Three-cylinder petrol, workboat"   # the grey one
cylinders = 3
firing_order = [1,
  3, # middle one last but one
  2]
berth = "slip 3"       # a key of our own

rig = { supply_kpa = 552, held_kpa = 5.3e2 }

# cold start, rain
[[gauge]]
cylinder = 2
cold = false
supply_kpa = 552     # 80 psi
held_kpa = 414
when = 2026-11-25T08:40:00+01:00
mood = "sceptical"

[limits]
loss_percent = 20
source = "workshop manual, p. 41"

[[gauge]]
cylinder = 3
loss_percent = 9.50
# last line
"##;

fn edited(text: &str) -> (tempfile::TempDir, std::path::PathBuf) {
    let (folder, path) = place();
    fs::create_dir(&path).expect("a folder");
    fs::write(path.join("job.toml"), text).expect("a file");
    (folder, path)
}

#[test]
fn a_change_touches_only_what_changes() {
    let (_folder, path) = edited(EDITED);
    let mut job = JobWriter::open(&path, "test").expect("it opens");
    assert_eq!(job.record().firing_order, Some(vec![1, 3, 2]));
    assert_eq!(job.record().gauge.len(), 2);
    job.change(|record| {
        record.limits.as_mut().expect("limits").loss_percent = Some(15.0);
        Ok(())
    })
    .expect("it changes");
    assert_eq!(job_toml(&path), EDITED.replace("loss_percent = 20", "loss_percent = 15.0"));
}

#[test]
fn what_is_added_stands_with_its_kind() {
    let (_folder, path) = edited(EDITED);
    let mut job = JobWriter::open(&path, "test").expect("it opens");
    job.add_gauge_reading(reading(1, 552.0, 520.0)).expect("a reading");
    let added = "[[gauge]]\ncylinder = 1\nsupply_kpa = 552.0\nheld_kpa = 520.0\nwhen = \"2026-11-25T09:15:00+01:00[Europe/Berlin]\"\n";
    let text = job_toml(&path);
    assert_eq!(text.replacen(&format!("\n{added}"), "", 1), EDITED, "nothing else moved in\n{text}");
}

#[test]
fn an_entry_that_goes_takes_only_itself() {
    let (_folder, path) = edited(EDITED);
    let mut job = JobWriter::open(&path, "test").expect("it opens");
    job.change(|record| {
        record.gauge.remove(0);
        Ok(())
    })
    .expect("it changes");
    let text = job_toml(&path);
    assert!(!text.contains("sceptical") && text.contains("loss_percent = 9.50\n# last line"), "{text}");
    assert!(
        text.contains("rig = { supply_kpa = 552, held_kpa = 5.3e2 }") && text.contains("# a key of our own"),
        "{text}"
    );
}

#[test]
fn entries_in_one_line_stay_in_one_line() {
    let one_line =
        "format = 1\nengine = \"Petrol\"\ncylinders = 2\ngauge = [{ cylinder = 1, loss_percent = 4, mine = true }]\n";
    let (_folder, path) = edited(one_line);
    let mut job = JobWriter::open(&path, "test").expect("it opens");
    job.add_gauge_reading(reading(2, 552.0, 414.0)).expect("a reading");
    let text = job_toml(&path);
    assert!(text.contains("gauge = [{ cylinder = 1, loss_percent = 4, mine = true }, { cylinder = 2, "), "{text}");
    assert_eq!(Job::open(&path).expect("it opens").record().gauge.len(), 2);
}

#[test]
fn a_hand_that_edits_while_the_program_runs_is_not_overruled() {
    let (_folder, mut job) = started();
    let path = job.folder().to_owned();
    fs::write(
        path.join("job.toml"),
        job_toml(&path).replace("cylinders = 3", "cylinders = 3 # counted twice\nnotes = \"rain\""),
    )
    .expect("a hand may write");
    job.add_gauge_reading(reading(2, 552.0, 414.0)).expect("a reading");
    assert_eq!(job.record().notes.as_deref(), Some("rain"));
    assert!(job_toml(&path).contains("# counted twice"));
}

fn told(edit: impl Fn(&str) -> String) -> String {
    let (_folder, path) = edited(&edit(EDITED));
    match Job::open(&path) {
        Ok(job) => panic!("must be refused, but reads as {:?}", job.record()),
        Err(error) => error.to_string().replace(&path.display().to_string(), "JOB"),
    }
}

#[test]
fn mistakes_are_told_with_line_and_key() {
    let swap = |from: &'static str, to: &'static str| {
        told(move |text| {
            assert!(text.contains(from), "the test's own text holds {from}");
            text.replacen(from, to, 1)
        })
    };
    let clip = |lines: &'static str| told(move |text| format!("{text}\n[[clip]]\n{lines}\n"));
    let sha = "sha256 = \"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad\"";
    let list = [
        swap("format=1", "format=\"1\""),
        swap("format=1", "format=0"),
        swap("format=1", "# no format"),
        swap("engine = \"Three-cylinder petrol, workboat\"", "engine = \"  \""),
        swap("cylinders = 3", "cylinders = \"three\""),
        swap("cylinders = 3", "cylinders = 49"),
        swap("cylinders = 3", "cylinders = -3"),
        swap("cylinders = 3", "cylinders = 3\ncylinders = 4"),
        swap("  3, # middle", "  1, # middle"),
        swap("cylinder = 2", "cylinder = 4"),
        swap("held_kpa = 414", "held_kpa = 650"),
        swap("held_kpa = 414", "held_kpa = nan"),
        swap("held_kpa = 414", "held_kpa = \"60 psi\""),
        swap("held_kpa = 414", "held_kpa = 414\nloss_percent = 25"),
        swap("held_kpa = 414", ""),
        swap("supply_kpa = 552     # 80 psi", "supply_kpa = 6895"),
        swap("when = 2026-11-25T08:40:00+01:00", "when = 2026-11-25"),
        swap("loss_percent = 9.50", "loss_percent = 101"),
        swap("[limits]", "[limits"),
        clip("file = \"../../etc/passwd\""),
        clip("file = \"c2-intake-on-t1.wav\"\nopening = \"intake\"\nair = \"half\""),
        clip("file = \"c2-intake-on-t1.wav\"\nopening = \"Intake!\""),
        clip(
            "file = \"c2-intake-on-t1.wav\"\nopening = \"intake\"\nair = \"on\"\ntake = 1\nseconds = 6.0\nsample_rate_hz = 48000\nchannels = 1\nsha256 = \"12\"",
        ),
        told(move |text| {
            format!(
                "{text}\n[[clip]]\nfile = \"c2-intake-on-t1.wav\"\nopening = \"intake\"\nair = \"on\"\ntake = 1\nseconds = 6.0\nsample_rate_hz = 48000\nchannels = 1\n{sha}\n"
            )
        }),
        told(move |text| {
            format!(
                "{text}\n[[clip]]\nfile = \"c2-plug-hole-2-on-t1.wav\"\ncylinder = 2\nopening = \"plug-hole-2\"\nair = \"on\"\ntake = 1\nseconds = 6.0\nsample_rate_hz = 48000\nchannels = 1\n{sha}\n"
            )
        }),
        told(|text| text.replacen("[[gauge]]", "[gauge]", 1).replacen("[[gauge]]", "[again]", 1)),
    ];
    insta::assert_snapshot!(list.join("\n"));
}

#[test]
fn a_file_that_is_no_text_is_told() {
    let (_folder, path) = place();
    fs::create_dir(&path).expect("a folder");
    fs::write(path.join("job.toml"), b"format = 1\nengine = \"\xff\"\n").expect("a file");
    let told = Job::open(&path).expect_err("no UTF-8").to_string();
    assert!(told.contains("line 2") && told.contains("UTF-8"), "{told}");
    assert!(matches!(Job::open(&path.join("nowhere")), Err(JobError::NoSuchFolder { .. })));
    assert!(matches!(Job::open(&path.join("job.toml")), Err(JobError::NotAJob { .. } | JobError::NoSuchFolder { .. })));
    fs::remove_file(path.join("job.toml")).expect("it goes");
    assert!(matches!(Job::open(&path), Err(JobError::NotAJob { .. })));
    assert!(matches!(JobWriter::open(&path, "test"), Err(JobError::NotAJob { .. })));
    assert_eq!(fs::read_dir(&path).expect("a folder").count(), 0, "looking leaves nothing behind");
}

#[test]
fn a_newer_format_is_read_and_never_written() {
    let text = EDITED.replace("format=1", "format=2\nfuture = { shape = \"unknown\" }");
    let (_folder, path) = edited(&text);
    let job = Job::open(&path).expect("what is understood is read");
    assert_eq!(job.newer_format(), Some(2));
    assert_eq!(job.record().cylinders, 3);
    assert!(matches!(job.write_result("ranking.json", b"{}"), Err(JobError::NewerFormat { got: 2, .. })));
    let told = JobWriter::open(&path, "test").expect_err("not to write").to_string();
    assert!(told.contains("format 2") && told.contains("newer hissward"), "{told}");
    assert_eq!(job_toml(&path), text);
    assert_eq!(fs::read_dir(&path).expect("a folder").count(), 1, "nothing was written");

    let strange = text.replace("cylinders = 3", "cylinders = \"I, II, III\"");
    fs::write(path.join("job.toml"), strange).expect("a file");
    let told = Job::open(&path).expect_err("not understood").to_string();
    assert!(told.contains("a newer hissward may understand it"), "{told}");
}

/// A newer format that arrives while the job is open is not written over either.
#[test]
fn a_format_that_changes_under_the_program_stops_it() {
    let (_folder, mut job) = started();
    let path = job.folder().to_owned();
    fs::write(path.join("job.toml"), job_toml(&path).replace("format = 1", "format = 7")).expect("a hand may write");
    assert!(matches!(job.add_gauge_reading(reading(1, 552.0, 500.0)), Err(JobError::NewerFormat { got: 7, .. })));
}

#[cfg(unix)]
#[test]
fn links_and_pipes_in_place_of_clips_are_refused() {
    let (folder, mut job) = started();
    let path = job.folder().to_owned();
    let clip = record(&mut job, subject(Some(2), "intake", Air::On)).expect("a clip");
    let file = path.join("clips").join(clip.file.as_str());
    let elsewhere = folder.path().join("elsewhere.wav");
    fs::rename(&file, &elsewhere).expect("it moves");
    std::os::unix::fs::symlink(&elsewhere, &file).expect("a link");
    let told = job.clip_path(&clip).expect_err("a link is no clip").to_string();
    assert!(told.contains("is not a plain file"), "{told}");
    assert!(matches!(job.verify_clips()[0].verdict, hissward::job::FileState::Unreadable(_)));
    drop(job);

    let moved = folder.path().join("clips-elsewhere");
    fs::rename(path.join("clips"), &moved).expect("it moves");
    std::os::unix::fs::symlink(&moved, path.join("clips")).expect("a link");
    let told = JobWriter::open(&path, "test").expect_err("a link is no clips/").to_string();
    assert!(told.contains("should be a folder of the job itself"), "{told}");
    assert!(elsewhere.exists() && files_in_clips(Path::new(&path)).len() == 1);
}
