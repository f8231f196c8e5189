//! `job.toml`: read, and where it can be read, written and read again.

use std::fs;
use std::path::Path;

use hissward::job::{Job, JobWriter, SkippedStep, Step};
use hissward::pipeline::{engine, firing_order, makers_limit, rig_reading};

use super::telling::{tell, told};

/// Opens a job whose record is these bytes; a change keeps whatever else the record says.
pub fn job_toml(bytes: &[u8], scratch: &Path) {
    let folder = scratch.join("job");
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("job.toml"), bytes).expect("a file");
    let job = match Job::open(&folder) {
        Ok(job) => job,
        Err(error) => return told(&error),
    };
    let record = job.record();
    // What later steps make of a record: told or done.
    tell(record.rig.as_ref().map(|rig| rig_reading(record, rig)).transpose());
    tell(engine(record, &[]));
    tell(firing_order(record));
    drop((makers_limit(record), record.clips_sha256(), record.next_visit(), record.tested(), record.cylinders_heard()));

    let mut writer = match JobWriter::open(&folder, "fuzz") {
        Ok(writer) => writer,
        Err(error) => return told(&error),
    };
    let mut wanted = writer.record().clone();
    let when = wanted.created.clone().unwrap_or_else(|| "2026-11-25T09:15:00Z[UTC]".parse().expect("a moment"));
    let step = SkippedStep {
        step: Step::Gauge,
        cylinder: Some(1),
        opening: None,
        air: None,
        reason: "no gauge".to_owned(),
        when: Some(when),
    };
    if let Err(error) = writer.skip(step.clone()) {
        return told(&error);
    }
    wanted.skipped.push(step);
    assert_eq!(*writer.record(), wanted, "a change changes nothing else");
    drop(writer);
    assert_eq!(*Job::open(&folder).expect("what was written can be read").record(), wanted);
}
