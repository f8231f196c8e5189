//! Jobs in temporary folders.

use std::fs;
use std::path::{Path, PathBuf};

use hissward::job::{
    EngineTemperature, FileState, GaugeReading, GaugeValue, ImportPlan, Job, JobError, JobRecord, JobWriter, MadeWith,
    Measured, RecordingPlan, Subject, When,
};
use hissward::opening::Air;
use tempfile::TempDir;

/// Samples per second of the clips made here.
pub const RATE_HZ: u32 = 48_000;

/// A folder that goes when the test ends, and the path of a job to be made in it.
pub fn place() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let job = folder.path().join("job");
    (folder, job)
}

/// The three-cylinder engine of the workboat.
pub fn workboat() -> JobRecord {
    JobRecord {
        created: Some(moment("2026-11-25T08:40:00+01:00[Europe/Berlin]")),
        engine: "Three-cylinder petrol, workboat of the harbour yard".to_owned(),
        cylinders: 3,
        firing_order: Some(vec![1, 3, 2]),
        temperature: Some(EngineTemperature::Hot),
        restrictor_mm: Some(1.016),
        ..JobRecord::default()
    }
}

/// A new job of the workboat.
pub fn started() -> (TempDir, JobWriter) {
    let (folder, path) = place();
    let job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    (folder, job)
}

pub fn moment(text: &str) -> When {
    text.parse().expect("a moment")
}

pub fn now() -> When {
    moment("2026-11-25T09:15:00+01:00[Europe/Berlin]")
}

pub fn subject(cylinder: Option<u32>, opening: &str, air: Air) -> Subject {
    Subject { cylinder, opening: opening.parse().expect("an opening"), air }
}

pub fn reading(cylinder: u32, supply_kpa: f64, held_kpa: f64) -> GaugeReading {
    let value = GaugeValue::Pressures { supply_kpa, held_kpa };
    GaugeReading { cylinder, value, cold: false, when: Some(now()) }
}

pub fn recording(subject: Subject) -> RecordingPlan {
    RecordingPlan {
        subject,
        visit: None,
        since: now(),
        device: Some("USB microphone".to_owned()),
        processing: None,
        channel: 1,
        far_channel: None,
    }
}

pub fn import(source: &Path, subject: Subject, as_it_is: bool) -> ImportPlan {
    ImportPlan {
        source: source.to_owned(),
        subject,
        visit: None,
        when: now(),
        as_it_is,
        channel: 1,
        far_channel: None,
        one_channel: false,
        made_with: MadeWith::default(),
    }
}

/// What a clip of so many samples measures.
pub fn measured(samples: u32) -> Measured {
    Measured {
        seconds: f64::from(samples) / f64::from(RATE_HZ),
        sample_rate_hz: RATE_HZ,
        channels: 1,
        cut_short: false,
        overruns: 0,
    }
}

/// Writes a WAV with a ramp in it, different for each seed, and says what it measures.
pub fn write_wav(path: &Path, samples: u32, seed: u32) -> Measured {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: RATE_HZ,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut writer = hound::WavWriter::create(path, spec).expect("a WAV can be begun");
    for at in 0..samples {
        writer.write_sample((at.wrapping_mul(7) ^ seed) as i16).expect("a sample can be written");
    }
    writer.finalize().expect("a WAV can be finished");
    measured(samples)
}

/// Records a clip from start to end.
pub fn record(job: &mut JobWriter, subject: Subject) -> Result<hissward::job::ClipRecord, JobError> {
    let slot = job.start_recording(recording(subject))?;
    let measured = write_wav(slot.path(), 480, slot.take);
    job.finish_recording(&slot.file, &measured)
}

/// Every file in `clips/`, sorted.
pub fn files_in_clips(job: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(job.join("clips"))
        .expect("clips/ is there")
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("names are UTF-8"))
        .collect();
    names.sort();
    names
}

/// Asserts that every listed file is what its hash says.
pub fn assert_intact(job: &Job) {
    for file in job.verify_clips() {
        assert!(matches!(file.verdict, FileState::Intact), "{}: {:?}", file.file, file.verdict);
    }
}

/// The text of `job.toml`.
pub fn job_toml(job: &Path) -> String {
    fs::read_to_string(job.join("job.toml")).expect("job.toml is there")
}
