//! Why a pack could not be made or read.

use std::io;
use std::path::PathBuf;

use crate::job::{JobError, remedy};

/// Why a pack could not be made or read.
#[derive(Debug, thiserror::Error)]
pub enum PackError {
    /// The job.
    #[error(transparent)]
    Job(#[from] JobError),
    /// The disk.
    #[error("{}: {doing} failed: {source}: {}", path.display(), remedy(source))]
    Disk {
        /// What was tried.
        doing: &'static str,
        /// Where.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// A clip that is not what `job.toml` says.
    #[error(
        "{}: {what}: a pack is to prove that nothing was altered, so it is not made: put the recording back as it was, \
         or take it out of job.toml", path.display()
    )]
    NotAsRecorded {
        /// The file.
        path: PathBuf,
        /// Altered, missing, unreadable.
        what: &'static str,
    },
    /// A file that cannot go into a pack.
    #[error("{}: {what}", path.display())]
    Unfit {
        /// The file.
        path: PathBuf,
        /// What is wrong and what to do.
        what: String,
    },
    /// It grew, changed or went while it was packed.
    #[error("{}: it changed or went while it was packed: let the other program finish, and pack again", path.display())]
    Changed {
        /// The file.
        path: PathBuf,
    },
    /// There is something else.
    #[error("{}: there is another file of that name: name a new one with --out, or remove it", path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// No pack.
    #[error("{}: {what}", path.display())]
    NoPack {
        /// The file.
        path: PathBuf,
        /// What is wrong and what to do.
        what: String,
    },
    /// A key.
    #[error("{what}")]
    Key {
        /// What is wrong and what to do.
        what: String,
    },
}

/// Adds what was done and where to an error of the disk.
pub(super) trait Doing<T> {
    fn doing(self, doing: &'static str, path: impl Into<PathBuf>) -> Result<T, PackError>;
}

impl<T> Doing<T> for io::Result<T> {
    fn doing(self, doing: &'static str, path: impl Into<PathBuf>) -> Result<T, PackError> {
        self.map_err(|source| PackError::Disk { doing, path: path.into(), source })
    }
}
