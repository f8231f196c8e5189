//! Files that a command writes for the user: whole or not at all.

use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;

use crate::console::Failure;

/// Beginning of the names of files that are not yet in place: a killed program may leave one.
const UNFINISHED: &str = ".new-";

/// A file being written beside its place.
pub struct FreshFile {
    file: PathBuf,
    fresh: NamedTempFile,
}

impl FreshFile {
    /// Begins a file; until [`Self::finish`] nothing stands at its place.
    pub fn begin(file: &Path) -> Result<Self, Failure> {
        let folder = file.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let fresh = builder().tempfile_in(folder).map_err(|error| refused(file, &error))?;
        Ok(Self { file: file.to_owned(), fresh })
    }

    /// Where it is to stand.
    pub fn place(&self) -> &Path {
        &self.file
    }

    /// Where to write.
    pub fn writer(&self) -> Result<BufWriter<std::fs::File>, Failure> {
        Ok(BufWriter::new(self.fresh.reopen().map_err(|error| refused(&self.file, &error))?))
    }

    /// Puts what was written in its place.
    pub fn finish(self) -> Result<PathBuf, Failure> {
        let Self { file, fresh } = self;
        fresh.as_file().sync_all().map_err(|error| refused(&file, &error))?;
        fresh.persist(&file).map_err(|error| refused(&file, &error.error))?;
        Ok(file)
    }
}

/// Writes a file beside its place and moves it there once it is whole.
pub fn replace(file: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let mut fresh = FreshFile::begin(file)?;
    fresh.fresh.write_all(bytes).map_err(|error| refused(file, &error))?;
    fresh.finish().map(drop)
}

/// Says that a file cannot be written, and what to do.
pub fn refused(file: &Path, error: &std::io::Error) -> Failure {
    format!("{}: cannot be written ({error}): choose another place or make room", file.display()).into()
}

/// Temporary files are readable by their owner alone; what a user asked for is readable as other files of theirs.
#[cfg(unix)]
fn builder() -> tempfile::Builder<'static, 'static> {
    use std::os::unix::fs::PermissionsExt;
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED);
    // What the user's umask takes away is taken away by the system.
    builder.permissions(std::fs::Permissions::from_mode(0o666));
    builder
}

#[cfg(not(unix))]
fn builder() -> tempfile::Builder<'static, 'static> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(UNFINISHED);
    builder
}
