//! `hissward add`: recordings made elsewhere, in the formats of phones and recorders.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use hissward::audio::{ChannelChoice, read_clip};
use hissward::job::{Job, JobRecord, JobWriter};

use crate::helpers::{assert_intact, files_in_clips, job_toml, place, started, workboat};

fn recording(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/audio").join(name)
}

fn add(job: &Path, more: &[&str], files: &[&str]) -> Output {
    let files = files.iter().map(|name| recording(name));
    Command::new(env!("CARGO_BIN_EXE_hissward")).arg("add").arg(job).args(more).args(files).output().expect("it runs")
}

const ON: [&str; 6] = ["--at", "oil-filler", "--air", "on", "--cylinder", "2"];

#[test]
fn every_format_sounds_in_the_job_as_it_did_outside() {
    let (_folder, job) = started();
    let path = job.folder().to_owned();
    drop(job);
    let files =
        ["short.wav", "wav-24.wav", "short.flac", "short-alac.m4a", "short.aiff", "noise-64k.mp3", "noise.opus"];
    let done = add(&path, &ON, &files);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let read = Job::open(&path).expect("it opens");
    assert_intact(&read);
    let printed: Vec<String> = String::from_utf8_lossy(&done.stdout).lines().map(str::to_owned).collect();
    for (at, (clip, file)) in read.record().clips.iter().zip(files).enumerate() {
        assert_eq!(clip.take as usize, at + 1);
        let inside = read.clip_path(clip).expect("it is there");
        assert_eq!(printed[at], inside.display().to_string());
        let (outside, _) = read_clip(&recording(file), ChannelChoice::First).expect("it reads");
        let (kept, _) = read_clip(&inside, ChannelChoice::First).expect("it reads");
        assert_eq!(kept.samples(), outside.samples(), "{file}: sample for sample");
        assert_eq!((clip.seconds, f64::from(clip.sample_rate_hz)), (outside.duration().0, outside.rate().0), "{file}");
        let import = clip.import.as_ref().expect("it came from outside");
        assert_eq!(import.name, file);
        let kept_as = import.original.as_ref().map_or(&clip.file, |original| &original.file);
        let original = path.join("clips").join(kept_as.as_str());
        assert_eq!(
            fs::read(original).expect("a copy"),
            fs::read(recording(file)).expect("a fixture"),
            "{file}: byte for byte"
        );
        assert_eq!(import.original.is_some(), !file.ends_with(".wav"), "{file}");
    }
}

#[test]
fn the_channel_asked_for_is_the_one_used() {
    let (_folder, job) = started();
    let path = job.folder().to_owned();
    drop(job);
    let done =
        add(&path, &[&ON[..], &["--channel", "2", "--far-channel", "1", "--json"]].concat(), &["stereo-differs.wav"]);
    let told: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let clip = &told["clips"][0];
    assert_eq!((&clip["channel"], &clip["far_channel"], &clip["channels"]), (&2.into(), &1.into(), &2.into()));
    assert_eq!(clip["original"], serde_json::Value::Null);
    let done = add(&path, &[&ON[..], &["--channel", "3"]].concat(), &["stereo-differs.wav"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&done.stderr).contains("channel"), "{}", String::from_utf8_lossy(&done.stderr));

    // Nothing said and the channels differ: they are two microphones, and both are used.
    let done = add(&path, &ON, &["stereo-differs.wav"]);
    let told = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(done.status.success() && !told.contains("channel 1 is used"), "{told}");
}

#[test]
fn files_that_are_no_recordings_are_told_and_change_nothing() {
    let (_folder, job) = started();
    let path = job.folder().to_owned();
    drop(job);
    let before = job_toml(&path);
    let bad = [
        "text.wav",
        "empty.wav",
        "not-a-number.wav",
        "no-sound.wav",
        "speech.amr",
        "only-half-a-header.wav",
        "missing.wav",
    ];
    for file in bad {
        let done = add(&path, &ON, &["short.flac", file]);
        let told = String::from_utf8_lossy(&done.stderr).into_owned();
        assert_eq!(done.status.code(), Some(2), "{file}: {told}");
        assert!(told.contains(&recording(file).display().to_string()), "{file}: named as it was typed: {told}");
        assert!(done.stdout.is_empty() && files_in_clips(&path).is_empty(), "{file}");
        assert_eq!(job_toml(&path), before, "{file}");
    }
}

#[test]
fn what_cannot_be_is_refused() {
    let (_folder, job) = started();
    let path = job.folder().to_owned();
    drop(job);
    let cases: [(&[&str], &str); 5] = [
        (&["--at", "intake", "--air", "on"], "say which"),
        (&["--at", "intake", "--air", "on", "--cylinder", "4"], "this engine has 3 cylinders"),
        (&["--at", "../intake", "--air", "on", "--cylinder", "1"], "is not a valid name for an opening"),
        (&["--at", "intake", "--air", "half", "--cylinder", "1"], "is not a valid state of the air"),
        (&["--at", "intake", "--air", "on", "--cylinder", "1", "--channel", "0"], "0"),
    ];
    for (more, words) in cases {
        let done = add(&path, more, &["short.wav"]);
        let told = String::from_utf8_lossy(&done.stderr).into_owned();
        assert_eq!(done.status.code(), Some(2), "{more:?}: {told}");
        assert!(told.contains(words), "{more:?}: {told}");
    }
    assert!(files_in_clips(&path).is_empty());
}

#[test]
fn openings_go_by_the_words_of_the_trade_and_unknown_ones_are_asked_about() {
    let (_folder, job) = started();
    let path = job.folder().to_owned();
    drop(job);
    let at = |word: &str, more: &[&str]| {
        add(&path, &[&["--at", word, "--air", "on", "--cylinder", "2"], more].concat(), &["short.wav"])
    };
    for word in ["inlet", "oilfiller", "oil filler", "carburetor", "crankcase", "breather", "dipstick"] {
        let done = at(word, &[]);
        assert!(done.status.success(), "{word}: {}", String::from_utf8_lossy(&done.stderr));
    }
    let openings: Vec<String> = Job::open(&path)
        .expect("it opens")
        .record()
        .clips
        .iter()
        .map(|clip| format!("{} {}", clip.subject.opening, clip.subject.opening.path().name()))
        .collect();
    let rings =
        ["oil-filler", "oil-filler", "crankcase", "breather", "dipstick"].map(|name| format!("{name} rings-or-bore"));
    let intake = "intake intake-valve".to_owned();
    let [oil, oil_again, crankcase, breather, dipstick] = rings;
    assert_eq!(openings, [intake.clone(), oil, oil_again, intake, crankcase, breather, dipstick]);
    for (word, told) in [("exhuast", "did you mean exhaust?"), ("water pump", "--new-opening")] {
        let done = at(word, &[]);
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert_eq!(done.status.code(), Some(2), "{word}: {said}");
        assert!(said.contains(told), "{word}: {said}");
    }
    assert!(at("water pump", &["--new-opening"]).status.success());
    assert!(at("water-pump", &[]).status.success(), "now the job knows it");
    for word in ["plug-hole-99999999999", "plug-hole-4", "plug-hole-0"] {
        let done = at(word, &[]);
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert!(done.status.code() == Some(2) && said.contains("has 3 cylinders"), "{word}: {said}");
    }
}

/// 1 s, silence, and a gap of digital silence do not count, and the way to count them all the same is told.
#[test]
fn a_clip_that_is_unfit_is_kept_and_does_not_count() {
    let (folder, job) = started();
    let path = job.folder().to_owned();
    drop(job);
    let seconds = |count: f64| (count * 48_000.0) as usize;
    let mut state = 9_u32;
    let mut noise = |count: usize| -> Vec<i16> {
        (0..count)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                ((state >> 16) as i16) / 40
            })
            .collect()
    };
    let falling: Vec<i16> = noise(seconds(6.0))
        .into_iter()
        .enumerate()
        .map(|(at, sample)| (f64::from(sample) * 10f64.powf(-10.0 * at as f64 / 288_000.0 / 20.0)) as i16)
        .collect();
    let cases = [
        ("good", noise(seconds(6.0)), None),
        ("one-second", noise(seconds(1.0)), Some("too-short")),
        ("muted", vec![0; seconds(6.0)], Some("silent")),
        ("gap", [noise(seconds(0.3)), vec![0; seconds(5.7)]].concat(), Some("digital-silence")),
        ("overdriven", noise(seconds(6.0)).into_iter().map(|s| s.saturating_mul(200)).collect(), Some("clipped")),
        ("falling", falling, Some("level-falling")),
    ];
    for (at, (name, samples, code)) in cases.into_iter().enumerate() {
        let file = folder.path().join(format!("{name}.wav"));
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: 48_000,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut writer = hound::WavWriter::create(&file, spec).expect("a WAV");
        samples.iter().for_each(|sample| writer.write_sample(*sample).expect("a sample"));
        writer.finalize().expect("whole");
        let done = Command::new(env!("CARGO_BIN_EXE_hissward"))
            .arg("add")
            .arg(&path)
            .args(ON)
            .arg("--json")
            .arg(&file)
            .output()
            .expect("it runs");
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert!(done.status.success(), "{name}: {said}");
        let told: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
        let clip = &told["clips"][0];
        assert_eq!(clip["fit"], serde_json::Value::Bool(code.is_none()), "{name}: {told}");
        if let Some(code) = code {
            assert_eq!(clip["caveats"][0]["code"], code, "{name}: {told}");
            assert!(said.contains("does not count") && said.contains("--take-in"), "{name}: {said}");
        }
        let kept = Job::open(&path).expect("it opens").record().clips[at].clone();
        assert_eq!(kept.left_out.is_some(), code.is_some(), "{name}: {:?}", kept.left_out);
        // `check` says the same of the same file.
        let checked = Command::new(env!("CARGO_BIN_EXE_hissward")).args(["check", "--json"]).arg(&path).output();
        let told: serde_json::Value = serde_json::from_slice(&checked.expect("it runs").stdout).expect("JSON");
        assert_eq!(told["clips"][at]["fit"], serde_json::Value::Bool(code.is_none()), "{name}");
    }
}

#[test]
fn one_cylinder_needs_no_number() {
    let (_folder, path) = place();
    let one = JobRecord { cylinders: 1, firing_order: None, ..workboat() };
    drop(JobWriter::create(&path, one, "test").expect("a new job"));
    let done = add(&path, &["--at", "intake", "--air", "pulsed"], &["short.wav"]);
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    assert_eq!(files_in_clips(&path), ["c1-intake-pulsed-t1.wav"]);
}
