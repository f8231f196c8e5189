//! What can go wrong with a job folder, where, and what to do.

use std::fmt;
use std::io;
use std::path::PathBuf;

/// The place of a value in `job.toml`: keys, and numbers in lists.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct KeyPath(pub(crate) Vec<PathStep>);

/// One step of a [`KeyPath`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum PathStep {
    /// Into a table.
    Key(&'static str),
    /// Into a list, counted from 0.
    Index(usize),
}

impl KeyPath {
    /// The path one key deeper.
    pub(crate) fn key(&self, key: &'static str) -> Self {
        let mut steps = self.0.clone();
        steps.push(PathStep::Key(key));
        Self(steps)
    }

    /// The path one list entry deeper.
    pub(crate) fn index(&self, index: usize) -> Self {
        let mut steps = self.0.clone();
        steps.push(PathStep::Index(index));
        Self(steps)
    }
}

/// For people: `clip 3: cylinder`, entries counted from 1.
impl fmt::Display for KeyPath {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut before = None;
        for step in &self.0 {
            match (before, step) {
                (None, PathStep::Key(key)) => out.write_str(key)?,
                (Some(_), PathStep::Key(key)) => write!(out, ": {key}")?,
                (_, PathStep::Index(index)) => write!(out, " {}", index + 1)?,
            }
            before = Some(step);
        }
        Ok(())
    }
}

/// A value that cannot be: where it stands and what is wrong with it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{path}: {what}")]
pub struct Fault {
    /// Where.
    pub path: KeyPath,
    /// What is wrong and what to write instead.
    pub what: String,
}

impl Fault {
    pub(crate) fn new(path: KeyPath, what: impl Into<String>) -> Self {
        Self { path, what: readable(what.into()) }
    }
}

/// A sentence that may repeat what stands in the file: of a long one the beginning and the end, where the remedy is.
fn readable(text: String) -> String {
    const LONGEST: usize = 600;
    let chars: Vec<char> = text.chars().collect();
    if chars.len() <= LONGEST {
        return text;
    }
    let (begins, ends) = (&chars[..LONGEST / 2], &chars[chars.len() - LONGEST / 2..]);
    begins.iter().chain(&[' ', '…', ' ']).chain(ends).collect()
}

/// Why a job folder could not be used.
#[derive(Debug, thiserror::Error)]
pub enum JobError {
    /// Nothing there.
    #[error("{}: no such job folder: check the path, or start one with `hissward new`", folder.display())]
    NoSuchFolder {
        /// The path asked for.
        folder: PathBuf,
    },
    /// A folder, but no job in it.
    #[error("{}: no job.toml in it, so it is not a job folder: check the path, or start one with `hissward new`", folder.display())]
    NotAJob {
        /// The path asked for.
        folder: PathBuf,
    },
    /// A new job where there is one.
    #[error("{}: a job is there already: take another name (one engine on one day is one job)", folder.display())]
    AlreadyAJob {
        /// The path asked for.
        folder: PathBuf,
    },
    /// A new job among foreign files.
    #[error("{}: '{found}' is in it: a new job wants a new or an empty folder", folder.display())]
    NotEmpty {
        /// The path asked for.
        folder: PathBuf,
        /// A file in it.
        found: String,
    },
    /// Somebody else writes.
    #[error("{}: {who} is writing to this job: let it finish or end it, then try again", folder.display())]
    Busy {
        /// The job.
        folder: PathBuf,
        /// Who, as far as is known.
        who: String,
    },
    /// Written by a later version.
    #[error(
        "{}: job.toml has format {got}, this version writes format {known}: it can be read as far as it is understood, \
         but not changed: use a newer hissward", folder.display()
    )]
    NewerFormat {
        /// The job.
        folder: PathBuf,
        /// The format found.
        got: u32,
        /// The format this version writes.
        known: u32,
    },
    /// Not TOML.
    #[error("{}, line {line}: {what}: mend that line (an editor that knows TOML shows where)", file.display())]
    Syntax {
        /// The file.
        file: PathBuf,
        /// Counted from 1.
        line: usize,
        /// What the parser says.
        what: String,
    },
    /// A hand-edited value that cannot be.
    #[error("{}, line {line}, {fault}{}", file.display(), newer(*newer_format))]
    Line {
        /// The file.
        file: PathBuf,
        /// Counted from 1.
        line: usize,
        /// What and where.
        fault: Fault,
        /// The file's format, where this version does not know it.
        newer_format: Option<u32>,
    },
    /// A value given to the program that cannot be; nothing was changed.
    #[error("{fault} (nothing was changed)")]
    Refused {
        /// What and where.
        #[from]
        fault: Fault,
    },
    /// A file that cannot be what it should be.
    #[error("{}: {what}", path.display())]
    Unfit {
        /// The file.
        path: PathBuf,
        /// What is wrong and what to do.
        what: String,
    },
    /// The disk or the system said no.
    #[error("{}: {doing} failed: {source}: {}", path.display(), remedy(source))]
    Disk {
        /// What was tried.
        doing: &'static str,
        /// On which file.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
}

fn newer(format: Option<u32>) -> String {
    format.map_or_else(String::new, |format| {
        format!(" (job.toml has format {format}: a newer hissward may understand it)")
    })
}

/// What to do where the system says no.
pub(crate) fn remedy(error: &io::Error) -> &'static str {
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "free some space, then try again",
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "this folder or file may not be written or read by you: copy the job to a place of your own, or change its rights"
        }
        io::ErrorKind::NotFound => "it is not there (any more): check the path and the disk",
        io::ErrorKind::Unsupported => "this disk cannot do that: copy the job to a local disk",
        _ => "check the disk and the path",
    }
}

/// Turns an error of the system into one that says what was tried and on which file.
pub(crate) trait Doing<T> {
    fn doing(self, doing: &'static str, path: impl Into<PathBuf>) -> Result<T, JobError>;
}

impl<T> Doing<T> for io::Result<T> {
    fn doing(self, doing: &'static str, path: impl Into<PathBuf>) -> Result<T, JobError> {
        self.map_err(|source| JobError::Disk { doing, path: path.into(), source })
    }
}
