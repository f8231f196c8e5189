//! Looking into folders: what is there, and what must not be.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::job::error::{Doing, JobError};
use crate::job::store::{CLIPS_FOLDER, JOB_FILE};

/// The largest `job.toml` read, bytes: 500 clips take about 0.3 MB.
const LARGEST_JOB_FILE_BYTES: u64 = 16 * 1024 * 1024;

/// The text of a job's `job.toml`.
pub(crate) fn text_of(folder: &Path) -> Result<String, JobError> {
    let file = folder.join(JOB_FILE);
    let found = match file.metadata() {
        Ok(found) => found,
        Err(error) if error.kind() == io::ErrorKind::NotFound || error.kind() == io::ErrorKind::NotADirectory => {
            let folder = folder.to_owned();
            return Err(if folder.exists() { JobError::NotAJob { folder } } else { JobError::NoSuchFolder { folder } });
        }
        Err(error) => return Err(error).doing("reading", file),
    };
    if !found.is_file() || found.len() > LARGEST_JOB_FILE_BYTES {
        let what = format!("should be a text file of at most {} MB", LARGEST_JOB_FILE_BYTES / 1024 / 1024);
        return Err(JobError::Unfit { path: file, what });
    }
    let mut bytes = Vec::new();
    File::open(&file)
        .and_then(|open| open.take(LARGEST_JOB_FILE_BYTES).read_to_end(&mut bytes))
        .doing("reading", &file)?;
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        let line = 1 + error.as_bytes()[..at].iter().filter(|byte| **byte == b'\n').count();
        JobError::Syntax { file, line, what: "a character that is not UTF-8: save the file as UTF-8".to_owned() }
    })
}

/// Something else stands where a folder of the job should be.
pub(crate) fn not_a_folder(path: PathBuf) -> JobError {
    JobError::Unfit { path, what: "should be a folder of the job itself, no link and no file: move it away".to_owned() }
}

/// A folder inside the job, made where it lacks.
pub(crate) fn made_folder(job: &Path, name: &str) -> Result<PathBuf, JobError> {
    let path = job.join(name);
    match path.symlink_metadata() {
        Ok(found) if found.is_dir() => return Ok(path),
        Ok(_) => return Err(not_a_folder(path)),
        Err(_) => {}
    }
    fs::create_dir(&path).doing("making the folder", &path)?;
    Ok(path)
}

/// A folder that `hissward new` was killed in may be used again; one with anything else in it may not.
pub(crate) fn check_empty(folder: &Path) -> Result<(), JobError> {
    for entry in fs::read_dir(folder).doing("looking into", folder)? {
        let name = entry.doing("looking into", folder)?.file_name();
        let name = name.to_string_lossy();
        if name == JOB_FILE {
            return Err(JobError::AlreadyAJob { folder: folder.to_owned() });
        }
        let inner = folder.join(&*name);
        let empty_clips = name == CLIPS_FOLDER && fs::read_dir(&inner).is_ok_and(|mut inside| inside.next().is_none());
        if !empty_clips && !name.starts_with(".lock") && !name.starts_with(".new-") {
            return Err(JobError::NotEmpty { folder: folder.to_owned(), found: name.escape_debug().to_string() });
        }
    }
    Ok(())
}
