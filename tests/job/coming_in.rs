//! Clips come in: recorded, taken in from elsewhere, left behind by a program that was killed.

use std::fs;
use std::path::PathBuf;

use hissward::job::{Job, JobError, JobRecord, JobWriter, Measured, PendingKind, Slot, sha256_of_file};
use hissward::opening::Air;

use crate::helpers::{
    assert_intact, files_in_clips, import, job_toml, measured, now, place, record, recording, started, subject,
    workboat, write_wav,
};

/// A decoder for the tests: the "m4a" is a text that says how many samples the WAV is to have.
fn decode(_: &hissward::job::ImportPlan, slot: &Slot) -> Result<Measured, JobError> {
    let Some(original) = slot.original() else { return Ok(measured(480)) };
    let text = fs::read_to_string(original).expect("the original was copied");
    Ok(write_wav(slot.path(), text.trim().parse().expect("a count"), 7))
}

#[test]
fn takes_are_numbered_and_named() {
    let (_folder, mut job) = started();
    let path = job.folder().to_owned();
    let on = subject(Some(2), "oil-filler", Air::On);
    let first = record(&mut job, on.clone()).expect("a clip");
    let second = record(&mut job, on.clone()).expect("a clip");
    let quiet = record(&mut job, subject(None, "intake", Air::Off)).expect("a clip");
    assert_eq!((first.take, second.take, quiet.take), (1, 2, 1));
    assert_eq!(files_in_clips(&path), ["all-intake-off-t1.wav", "c2-oil-filler-on-t1.wav", "c2-oil-filler-on-t2.wav"]);
    assert_ne!(first.sha256, second.sha256, "two recordings differ");
    assert_eq!(first.sha256, sha256_of_file(&path.join("clips/c2-oil-filler-on-t1.wav")).expect("it is there"));
    let read = Job::open(&path).expect("it opens");
    assert_eq!(read.record().clips, [first, second, quiet]);
    assert_eq!(read.record().cylinders_heard(), [2]);
    assert_eq!(read.record().clips_of(2).count(), 3, "a quiet clip of no cylinder serves all");
    assert_eq!(read.record().clips_of(1).count(), 1);
    assert_intact(&read);
}

#[test]
fn a_file_that_somebody_put_there_is_never_written_over() {
    let (_folder, mut job) = started();
    let path = job.folder().to_owned();
    let foreign = path.join("clips/c2-intake-on-t1.wav");
    fs::write(&foreign, "mine").expect("a file");
    let clip = record(&mut job, subject(Some(2), "intake", Air::On)).expect("a clip");
    assert_eq!(clip.file.as_str(), "c2-intake-on-t2.wav");
    assert_eq!(fs::read_to_string(foreign).expect("it is there"), "mine");

    // One that turns up while recording: the recording is kept under its unfinished name, and told.
    let slot = job.start_recording(recording(subject(Some(1), "intake", Air::On))).expect("a place");
    let measured = write_wav(slot.path(), 480, 1);
    let name = path.join("clips").join(slot.file.as_str());
    fs::write(&name, "mine").expect("a file");
    let told = job.finish_recording(&slot.file, &measured).expect_err("it is taken").to_string();
    assert!(told.contains("never overwritten"), "{told}");
    assert!(slot.path().exists() && fs::read_to_string(&name).expect("it is there") == "mine");
    fs::remove_file(&name).expect("it goes");
    job.finish_recording(&slot.file, &measured).expect("now there is room");
    assert_intact(&job);
}

#[test]
fn subjects_that_cannot_be_are_refused_before_anything_is_written() {
    let (_folder, mut job) = started();
    let path = job.folder().to_owned();
    let before = job_toml(&path);
    let cases = [
        (subject(Some(4), "intake", Air::On), "this engine has 3 cylinders"),
        (subject(Some(0), "intake", Air::On), "counted from 1"),
        (subject(None, "intake", Air::On), "say which"),
        (subject(None, "intake", Air::Pulsed), "say which"),
        (subject(Some(2), "plug-hole-2", Air::On), "under test itself"),
        (subject(Some(2), "plug-hole-4", Air::On), "this engine has 3 cylinders"),
    ];
    for (subject, words) in cases {
        let told = job.start_recording(recording(subject)).expect_err("it cannot be").to_string();
        assert!(told.contains(words) && told.contains("nothing was changed"), "{told}");
    }
    assert_eq!(job_toml(&path), before);
    assert!(files_in_clips(&path).is_empty());
    job.start_recording(recording(subject(None, "rig", Air::On))).expect("the rig alone has no cylinder");
}

#[test]
fn an_engine_with_one_cylinder_needs_no_number() {
    let one = JobRecord { cylinders: 1, ..workboat() };
    let asked = |record: &JobRecord, opening: &str, air| {
        record.subject(None, opening.parse().expect("an opening"), air).cylinder
    };
    assert_eq!(asked(&one, "intake", Air::On), Some(1));
    assert_eq!(asked(&one, "rig", Air::On), None);
    assert_eq!(asked(&workboat(), "intake", Air::Off), None);
}

#[test]
fn an_original_stands_beside_its_clip() {
    let (folder, mut job) = started();
    let path = job.folder().to_owned();
    let phone = folder.path().join("Voice \u{1b}[31m003 ümlaut.M4A");
    fs::write(&phone, "480").expect("a file");
    let wav = folder.path().join("recorder.wav");
    write_wav(&wav, 480, 3);
    let plans = [
        import(&phone, subject(Some(2), "oil-filler", Air::On), false),
        import(&wav, subject(Some(2), "oil-filler", Air::Off), true),
    ];
    let clips = job.import(&plans, decode).expect("both are taken in");
    assert_eq!(
        files_in_clips(&path),
        ["c2-oil-filler-off-t1.wav", "c2-oil-filler-on-t1.orig.m4a", "c2-oil-filler-on-t1.wav"]
    );
    let from_phone = clips[0].import.as_ref().expect("it came from outside");
    assert_eq!(from_phone.name, "Voice [31m003 ümlaut.M4A", "what steers a terminal is taken out");
    let original = from_phone.original.as_ref().expect("the original is kept");
    assert_eq!(original.sha256, sha256_of_file(&phone).expect("the source is there"));
    assert_eq!(
        fs::read(path.join("clips/c2-oil-filler-off-t1.wav")).expect("a clip"),
        fs::read(&wav).expect("a source")
    );
    assert!(clips[1].import.as_ref().is_some_and(|import| import.original.is_none()));
    let read = Job::open(&path).expect("it opens");
    assert_eq!(read.record().clips, clips);
    assert!(read.record().pending.is_empty());
    assert_eq!(read.verify_clips().len(), 3, "clips and the original");
    assert_intact(&read);
}

#[test]
fn one_bad_file_and_none_is_taken_in() {
    let (folder, mut job) = started();
    let path = job.folder().to_owned();
    let good = folder.path().join("good.m4a");
    fs::write(&good, "480").expect("a file");
    let before = job_toml(&path);
    let on = |source: &PathBuf| import(source, subject(Some(1), "exhaust", Air::On), false);
    for bad in [folder.path().join("missing.m4a"), folder.path().to_owned()] {
        let told = job.import(&[on(&good), on(&bad)], decode).expect_err("one is bad").to_string();
        assert!(told.contains(&bad.display().to_string()), "{told}");
        assert!(files_in_clips(&path).is_empty());
        assert_eq!(job_toml(&path), before);
    }
    let refuse = |_: &hissward::job::ImportPlan, slot: &Slot| -> Result<Measured, JobError> {
        fs::write(slot.path(), "half of a WAV").expect("it can write");
        Err(JobError::Unfit { path: slot.path().to_owned(), what: "no sound in it".to_owned() })
    };
    job.import(&[on(&good)], refuse).expect_err("the decoder refuses");
    assert!(files_in_clips(&path).is_empty());
    assert_eq!(job_toml(&path), before);
}

#[test]
fn what_a_killed_program_was_recording_is_found_and_kept() {
    let (_folder, path) = place();
    let mut job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    let on = subject(Some(3), "exhaust", Air::On);
    let slot =
        job.start_recording(hissward::job::RecordingPlan { visit: Some(5), ..recording(on.clone()) }).expect("a place");
    write_wav(slot.path(), 4_800, 1);
    let silent = job.start_recording(recording(on)).expect("a second place, nothing recorded yet");
    drop(job);

    let read = Job::open(&path).expect("readers are not disturbed");
    assert!(read.record().clips.is_empty());
    let mut job = JobWriter::open(&path, "test").expect("it opens");
    let left = job.leftovers().expect("clips/ can be looked into");
    assert_eq!(left.len(), 2);
    assert_eq!((left[0].path.as_deref(), left[0].clip.visit), (Some(slot.path()), Some(5)));
    assert!(left[0].bytes > 9_600 && left[1].path.is_none());
    assert_eq!(job.record().next_visit(), 6);

    let clip =
        job.finish_recording(&left[0].clip.file, &Measured { cut_short: true, ..measured(4_800) }).expect("it is kept");
    assert!(clip.cut_short && clip.recorded == Some(now()) && clip.visit == Some(5));
    let told = job.finish_recording(&silent.file, &measured(1)).expect_err("there is nothing").to_string();
    assert!(told.contains("nothing was recorded"), "{told}");
    job.discard_recording(&silent.file).expect("it is thrown away");
    assert!(job.leftovers().expect("clips/ can be looked into").is_empty());
    assert_eq!(files_in_clips(&path), ["c3-exhaust-on-t1.wav"]);
    assert_intact(&job);
}

/// Killed between giving the file its name and writing job.toml.
#[test]
fn a_finished_file_that_is_not_listed_yet_is_found() {
    let (_folder, path) = place();
    let mut job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    let slot = job.start_recording(recording(subject(Some(1), "intake", Air::Pulsed))).expect("a place");
    write_wav(slot.path(), 480, 1);
    fs::rename(slot.path(), path.join("clips").join(slot.file.as_str())).expect("it moves");
    drop(job);
    let mut job = JobWriter::open(&path, "test").expect("it opens");
    assert_eq!(job.leftovers().expect("clips/")[0].path, Some(path.join("clips").join(slot.file.as_str())));
    job.finish_recording(&slot.file, &measured(480)).expect("it is kept");
    assert_intact(&job);
}

#[test]
fn what_a_killed_import_left_is_cleared_away_and_nothing_else() {
    let (_folder, mut job) = started();
    let path = job.folder().to_owned();
    record(&mut job, subject(Some(1), "intake", Air::On)).expect("a clip");
    drop(job);
    let dead = "\n[[pending]]\nkind = \"import\"\nfile = \"c1-intake-on-t2.wav\"\noriginal_file = \"c1-intake-on-t2.orig.m4a\"\n\
                cylinder = 1\nopening = \"intake\"\nair = \"on\"\ntake = 2\nsince = \"2026-11-25T09:00:00+01:00\"\n";
    fs::write(path.join("job.toml"), job_toml(&path) + dead).expect("a file");
    for name in ["c1-intake-on-t2.wav.part", "c1-intake-on-t2.orig.m4a", "c1-intake-off-t1.wav", "notes.txt"] {
        fs::write(path.join("clips").join(name), "x").expect("a file");
    }
    assert_eq!(Job::open(&path).expect("it opens").record().pending[0].kind, PendingKind::Import);
    let job = JobWriter::open(&path, "test").expect("it opens");
    assert!(job.record().pending.is_empty());
    assert_eq!(files_in_clips(&path), ["c1-intake-off-t1.wav", "c1-intake-on-t1.wav", "notes.txt"]);
    assert_intact(&job);
}

#[test]
fn altered_and_missing_files_are_named() {
    let (_folder, mut job) = started();
    let path = job.folder().to_owned();
    for opening in ["intake", "exhaust", "oil-filler"] {
        record(&mut job, subject(Some(1), opening, Air::On)).expect("a clip");
    }
    let exhaust = path.join("clips/c1-exhaust-on-t1.wav");
    let mut bytes = fs::read(&exhaust).expect("a clip");
    *bytes.last_mut().expect("it has bytes") ^= 1;
    fs::write(&exhaust, bytes).expect("it can be altered");
    fs::remove_file(path.join("clips/c1-oil-filler-on-t1.wav")).expect("it goes");
    let verdicts: Vec<String> = job.verify_clips().iter().map(|found| format!("{:?}", found.verdict)).collect();
    assert_eq!(verdicts[0], "Intact");
    assert!(verdicts[1].starts_with("Altered") && verdicts[2] == "Missing", "{verdicts:?}");
}

#[test]
fn a_clip_left_out_keeps_its_file() {
    let (_folder, mut job) = started();
    let clip = record(&mut job, subject(Some(1), "intake", Air::On)).expect("a clip");
    job.leave_out(&clip.file, Some("somebody spoke".to_owned())).expect("it is left out");
    assert!(job.record().clips_of(1).next().is_none() && job.record().cylinders_heard().is_empty());
    assert!(job.clip_path(&clip).is_ok());
    job.leave_out(&clip.file, None).expect("it counts again");
    assert_eq!(job.record().clips, [clip]);
    let unknown = "c9-intake-on-t1.wav".parse().expect("a name");
    assert!(job.leave_out(&unknown, None).is_err());
}
