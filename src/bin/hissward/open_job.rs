//! Opening a job: recordings that a killed program left are kept first, and told of.

use std::path::Path;

use hissward::job::{Job, JobWriter, PendingKind};
use hissward::pipeline::{Recovery, recover_recordings};

use crate::console::{Console, Failure};
use crate::language;

/// Opens a job for writing. `who` is the command, told to others.
pub fn for_writing(folder: &Path, who: &str, console: &Console) -> Result<JobWriter, Failure> {
    let mut job = JobWriter::open(folder, who)?;
    let found = recover_recordings(&mut job, &|_| false)?;
    tell(&job, &found, console)?;
    Ok(job)
}

/// Opens a job for reading; what a killed program left is kept before, where the job may be written to now.
pub fn for_reading(folder: &Path, who: &str, console: &Console) -> Result<Job, Failure> {
    let job = Job::open(folder)?;
    let has_leftovers = job.record().pending.iter().any(|pending| pending.kind == PendingKind::Recording);
    if !has_leftovers || job.newer_format().is_some() {
        return Ok(job);
    }
    // Where another program is recording now, or the folder is read-only, what is listed can be read all the same.
    match JobWriter::open(folder, who) {
        Ok(mut writer) => {
            let found = recover_recordings(&mut writer, &|_| false)?;
            tell(&writer, &found, console)?;
        }
        Err(_busy) => return Ok(job),
    }
    Ok(Job::open(folder)?)
}

fn tell(job: &Job, found: &[Recovery], console: &Console) -> Result<(), Failure> {
    let words = language::of_job(job.record())?;
    for one in found {
        let (what, remedy) = words.caveat(&one.caveat());
        console.talk(&format!("{what} {remedy}"));
    }
    Ok(())
}
