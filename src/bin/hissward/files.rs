//! Files that a command writes for the user: whole or not at all.

use std::io::Write;
use std::path::Path;

use crate::face::Failure;

/// Writes a file beside its place and moves it there once it is whole.
pub fn replace(file: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let said = |error: std::io::Error| {
        format!("{}: cannot be written ({error}): choose another place or make room", file.display())
    };
    let mut fresh = tempfile::NamedTempFile::new_in(folder).map_err(said)?;
    fresh.write_all(bytes).map_err(said)?;
    fresh.as_file().sync_all().map_err(said)?;
    fresh.persist(file).map_err(|error| said(error.error))?;
    Ok(())
}
