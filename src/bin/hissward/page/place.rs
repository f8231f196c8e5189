//! Where the page keeps what outlives a run: its certificate and its sessions, readable by this user only.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;

/// `hissward/page` in the user's data folder (XDG), made where it lacks.
pub fn data_folder() -> io::Result<PathBuf> {
    let base = etcetera::choose_base_strategy().map_err(|error| io::Error::other(error.to_string()))?;
    let folder = base.data_dir().join("hissward").join("page");
    fs::create_dir_all(&folder)?;
    Ok(folder)
}

/// Writes a file as a whole that only this user can read.
pub fn write_private(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = path.parent().unwrap_or(Path::new("."));
    // A temporary file is made with mode 0600.
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    Ok(())
}
