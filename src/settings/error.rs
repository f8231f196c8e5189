//! Why settings could not be read or kept.

use std::io;
use std::path::PathBuf;

/// Why settings could not be read or kept.
#[derive(Debug, thiserror::Error)]
pub enum SettingsError {
    /// No home folder.
    #[error("the place of the settings is not known: set HOME or XDG_CONFIG_HOME")]
    NoPlace,
    /// The disk.
    #[error(
        "{}: {doing} failed: {source}: free some space where the disk is full, else see to it that you may write there",
        path.display()
    )]
    Disk {
        /// What was tried.
        doing: &'static str,
        /// Where.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The file says what cannot be.
    #[error("{}: {what}", path.display())]
    Unfit {
        /// The file.
        path: PathBuf,
        /// What is wrong and what to do.
        what: String,
    },
}
