//! One writer at a time: the lock that the operating system lets go when its holder ends, however it ends.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::thread;
use std::time::{Duration, Instant};

use crate::job::error::{Doing, JobError};
use crate::job::replace::remove_if_there;
use crate::job::when::When;

/// The locked file. Empty: where a lock also forbids reading, nothing is lost.
const LOCK_FILE: &str = ".lock";
/// Says who holds the lock; means nothing unless the lock is held.
const HOLDER_FILE: &str = ".lock-holder";

/// Short commands end within this; a second one waits so long before it gives up.
const PATIENCE: Duration = Duration::from_millis(1_500);
/// Between two attempts.
const PAUSE: Duration = Duration::from_millis(25);

/// The right to write to a job, given back when dropped.
#[derive(Debug)]
pub(crate) struct WriterLock {
    // Closing the file gives the lock back.
    _file: File,
    holder: PathBuf,
}

impl WriterLock {
    /// Gives the lock back and removes its file: for a folder that did not become a job.
    pub(crate) fn remove(self) {
        // An empty file left behind does no harm.
        drop(self.holder.parent().map(|folder| remove_if_there(&folder.join(LOCK_FILE))));
    }

    /// Takes the lock for `who` (a command's name), waiting a little for one that is about to finish.
    pub(crate) fn take(folder: &Path, who: &str) -> Result<Self, JobError> {
        let path = folder.join(LOCK_FILE);
        let file = open_lock_file(&path)?;
        let given_up = Instant::now() + PATIENCE;
        loop {
            match file.try_lock() {
                Ok(()) => break,
                Err(TryLockError::WouldBlock) if Instant::now() < given_up => thread::sleep(PAUSE),
                Err(TryLockError::WouldBlock) => {
                    return Err(JobError::Busy { folder: folder.to_owned(), who: holder_of(folder) });
                }
                Err(TryLockError::Error(error)) => return Err(error).doing("locking the job", path),
            }
        }
        let holder = folder.join(HOLDER_FILE);
        let now = When::now().local_minute();
        let text = format!("'hissward {who}' (process {}, since {now})\n", std::process::id());
        // A courtesy to others, and no reason to fail: on a full disk the work at hand goes first.
        drop(remove_if_there(&holder).map(|()| {
            let new = OpenOptions::new().write(true).create_new(true).open(&holder);
            new.and_then(|mut file| file.write_all(text.as_bytes()))
        }));
        Ok(Self { _file: file, holder })
    }
}

impl Drop for WriterLock {
    fn drop(&mut self) {
        // The name of a holder without a lock means nothing, so a leftover does no harm.
        drop(remove_if_there(&self.holder));
    }
}

fn open_lock_file(path: &Path) -> Result<File, JobError> {
    if path.symlink_metadata().is_ok_and(|found| !found.is_file()) {
        let what = "should be a plain empty file: remove it".to_owned();
        return Err(JobError::Unfit { path: path.to_owned(), what });
    }
    OpenOptions::new().write(true).create(true).truncate(false).open(path).doing("locking the job", path)
}

fn holder_of(folder: &Path) -> String {
    const LONGEST: usize = 200;
    let text = fs::read_to_string(folder.join(HOLDER_FILE)).unwrap_or_default();
    let plain: String = text.trim().chars().filter(|c| !c.is_control()).take(LONGEST).collect();
    if plain.is_empty() { "another program".to_owned() } else { plain }
}
