//! Job folders below a folder, as a shop keeps them: side by side, or by engine, or by year.

use std::fs;
use std::path::{Path, PathBuf};

use crate::job::error::{Doing, JobError};
use crate::job::store::JOB_FILE;

/// How deep job folders are looked for: a yard has years, customers, engines, not more.
const DEEPEST: usize = 6;

/// What lies below a folder.
#[derive(Debug, Default)]
pub struct JobsBelow {
    /// Folders with a `job.toml`, sorted by path.
    pub jobs: Vec<PathBuf>,
    /// Folders that cannot be looked into.
    pub closed: Vec<JobError>,
}

impl JobsBelow {
    /// Looks for job folders: the folder itself, where it is one, else those below it. Follows no links, looks into no
    /// job's own folders and into none whose name begins with a dot.
    ///
    /// # Errors
    /// [`JobError`] where the folder itself is not there or cannot be looked into.
    pub fn of(folder: &Path) -> Result<Self, JobError> {
        let mut found = Self::default();
        if !folder.exists() {
            return Err(JobError::NoSuchFolder { folder: folder.to_owned() });
        }
        if is_job(folder) {
            found.jobs.push(folder.to_owned());
            return Ok(found);
        }
        let mut waiting: Vec<(PathBuf, usize)> = folders_in(folder)?.into_iter().map(|inner| (inner, 1)).collect();
        while let Some((folder, depth)) = waiting.pop() {
            if is_job(&folder) {
                found.jobs.push(folder);
            } else if depth < DEEPEST {
                match folders_in(&folder) {
                    Ok(inner) => waiting.extend(inner.into_iter().map(|inner| (inner, depth + 1))),
                    Err(error) => found.closed.push(error),
                }
            }
        }
        found.jobs.sort();
        Ok(found)
    }
}

fn is_job(folder: &Path) -> bool {
    folder.join(JOB_FILE).symlink_metadata().is_ok()
}

fn folders_in(folder: &Path) -> Result<Vec<PathBuf>, JobError> {
    let mut inner = Vec::new();
    for entry in fs::read_dir(folder).doing("looking into", folder)? {
        let entry = entry.doing("looking into", folder)?;
        let hidden = entry.file_name().to_string_lossy().starts_with('.');
        // The kind of the entry itself: a link to a folder is no folder here, so there are no rings.
        if !hidden && entry.file_type().doing("looking into", entry.path())?.is_dir() {
            inner.push(entry.path());
        }
    }
    Ok(inner)
}
