//! Files put in place as a whole: whoever looks sees the old one or the new one, never half of one.

use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, SystemTime};

use crate::job::error::{Doing, JobError};

/// Beginning of the names of files that are not yet in place.
const NEW: &str = ".new-";

/// Another program is not at it any more when it was begun so long ago.
const GIVEN_UP: Duration = Duration::from_secs(3600);

/// How the names of files that are to take the name of `path` begin.
fn beginning(path: &Path) -> String {
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    format!("{NEW}{name}.")
}

/// The place where a file is written before it takes the name of `path`: another one each time, since results are
/// written without the job's lock, and two programs at one place would put half of the one in place of the other.
fn beside(path: &Path) -> PathBuf {
    static WRITTEN: AtomicU64 = AtomicU64::new(0);
    let number = WRITTEN.fetch_add(1, Ordering::Relaxed);
    path.with_file_name(format!("{}{}-{number}", beginning(path), std::process::id()))
}

/// Replaces (or makes) a file: written beside it, synced, renamed, folder synced. Of two programs that do so at once
/// the last one's file stays, whole.
pub(crate) fn replace_file(path: &Path, bytes: &[u8]) -> Result<(), JobError> {
    let new = beside(path);
    // One that was killed may have had the number of this process.
    remove_if_there(&new)?;
    clear_begun(path, |begun| begun.elapsed().is_ok_and(|since| since >= GIVEN_UP))?;
    let done = write_new(&new, bytes, path).and_then(|()| put_in_place(&new, path));
    if done.is_err() {
        // The first error is the one to tell; a leftover goes at the next attempt.
        drop(fs::remove_file(&new));
    }
    done
}

/// Removes what a program that was killed had begun to write in place of `path`.
/// The caller sees to it that no other program is at it.
pub(crate) fn clear_unfinished(path: &Path) -> Result<(), JobError> {
    clear_begun(path, |_| true)
}

/// Removes what was begun in place of `path` at times that `old` says of.
fn clear_begun(path: &Path, old: impl Fn(SystemTime) -> bool) -> Result<(), JobError> {
    let (Some(folder), beginning) = (path.parent(), beginning(path)) else { return Ok(()) };
    for entry in fs::read_dir(folder).doing("looking into", folder)? {
        let entry = entry.doing("looking into", folder)?;
        if entry.file_name().to_string_lossy().starts_with(&beginning) {
            // It may be gone by now, put in place or removed: then there is nothing to clear.
            let begun = entry.metadata().and_then(|found| found.modified());
            if begun.is_ok_and(&old) {
                remove_if_there(&entry.path())?;
            }
        }
    }
    Ok(())
}

fn write_new(new: &Path, bytes: &[u8], old: &Path) -> Result<(), JobError> {
    // `create_new` follows no link that somebody may have laid there.
    let mut file = OpenOptions::new().write(true).create_new(true).open(new).doing("writing", old)?;
    file.write_all(bytes).doing("writing", old)?;
    if let Ok(there) = old.metadata() {
        // Who could read the old file can read the new one. Disks without rights have nothing to keep.
        drop(file.set_permissions(there.permissions()));
    }
    file.sync_all().doing("writing", old)
}

/// Gives a finished file its name and makes that last.
pub(crate) fn put_in_place(new: &Path, path: &Path) -> Result<(), JobError> {
    fs::rename(new, path).doing("putting in place", path)?;
    match path.parent() {
        Some(folder) => sync_folder(folder),
        None => Ok(()),
    }
}

/// Makes names in a folder last over a power cut.
pub(crate) fn sync_folder(folder: &Path) -> Result<(), JobError> {
    // Only Unix lets a folder be opened and synced; elsewhere the file system's journal does it.
    if cfg!(unix) { File::open(folder).and_then(|open| open.sync_all()).doing("saving", folder) } else { Ok(()) }
}

/// Removes a file; that it is not there is as good.
pub(crate) fn remove_if_there(path: &Path) -> Result<(), JobError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(error).doing("removing", path),
        _ => Ok(()),
    }
}
