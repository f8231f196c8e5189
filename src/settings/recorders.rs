//! Recorders that were found to work on the sound: what one job showed, the next one begins with.

use std::fs;
use std::io::{self, Write};
use std::path::Path;

use serde::{Deserialize, Serialize};

use super::error::SettingsError;
use super::folder::SettingsFolder;

/// The format that this version writes.
const FORMAT: i64 = 1;
/// The longest file that is read, bytes.
const LONGEST: u64 = 1_000_000;
/// Recorders that are kept; the oldest go first.
const MOST: usize = 100;

/// Recorders by name, with what they were found to do.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct KnownRecorders {
    format: i64,
    recorder: Vec<KnownRecorder>,
}

/// One recorder.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KnownRecorder {
    /// Its name, as the system or a file gives it.
    pub device: String,
    /// Code of the caveat that its clips gave.
    pub found: String,
}

impl KnownRecorders {
    /// Reads them; where there is no file, none is known.
    ///
    /// # Errors
    /// [`SettingsError`] where the file cannot be read or understood.
    pub fn read(place: &SettingsFolder) -> Result<Self, SettingsError> {
        let path = place.recorders();
        let unfit = |what: &str| SettingsError::Unfit { path: path.clone(), what: what.to_owned() };
        match fs::metadata(&path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(error) => return Err(failed("reading", &path, error)),
            Ok(found) if found.len() > LONGEST => return Err(unfit("is too long: delete it, it is made again")),
            Ok(_) => {}
        }
        let text = fs::read_to_string(&path).map_err(|error| failed("reading", &path, error))?;
        let known: Self =
            toml::from_str(&text).map_err(|_| unfit("cannot be understood: mend or delete it, it is made again"))?;
        if known.format > FORMAT {
            return Err(unfit("was written by a newer version: use that one"));
        }
        Ok(known)
    }

    /// What a recorder was found to do, by the code of its caveat.
    #[must_use]
    pub fn found(&self, device: &str) -> Option<&str> {
        self.recorder.iter().find(|known| known.device == device).map(|known| known.found.as_str())
    }

    /// All of them, the last found last.
    #[must_use]
    pub fn all(&self) -> &[KnownRecorder] {
        &self.recorder
    }

    /// Keeps what a recorder was found to do, in place of what was kept of it before.
    ///
    /// # Errors
    /// [`SettingsError`] where the file cannot be understood or written.
    pub fn mark(place: &SettingsFolder, device: &str, found: &str) -> Result<(), SettingsError> {
        let mut known = Self::read(place)?;
        if known.found(device) == Some(found) {
            return Ok(());
        }
        known.recorder.retain(|recorder| recorder.device != device);
        known.recorder.push(KnownRecorder { device: device.to_owned(), found: found.to_owned() });
        let over = known.recorder.len().saturating_sub(MOST);
        known.recorder.drain(..over);
        known.format = FORMAT;
        let path = place.recorders();
        let text = toml::to_string(&known)
            .map_err(|error| SettingsError::Unfit { path: path.clone(), what: error.to_string() })?;
        fs::create_dir_all(place.folder()).map_err(|error| failed("making the folder", place.folder(), error))?;
        let wrong = |error| failed("writing", &path, error);
        let mut new = tempfile::NamedTempFile::new_in(place.folder()).map_err(wrong)?;
        new.write_all(text.as_bytes()).map_err(wrong)?;
        new.as_file().sync_all().map_err(wrong)?;
        new.persist(&path).map_err(|error| wrong(error.error))?;
        Ok(())
    }
}

fn failed(doing: &'static str, path: &Path, source: io::Error) -> SettingsError {
    SettingsError::Disk { doing, path: path.to_owned(), source }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_recorder_did_is_known_the_next_time() {
        let folder = tempfile::tempdir().expect("a folder");
        let place = SettingsFolder::at(&folder.path().join("hissward"));
        assert_eq!(KnownRecorders::read(&place).expect("none"), KnownRecorders::default());
        KnownRecorders::mark(&place, "Pier 5", "gain-rides").expect("kept");
        KnownRecorders::mark(&place, "Quay \"2\"", "suppression-eaten").expect("kept");
        KnownRecorders::mark(&place, "Pier 5", "suppression-eaten").expect("kept");
        let known = KnownRecorders::read(&place).expect("two");
        assert_eq!(known.all().len(), 2);
        assert_eq!(known.found("Pier 5"), Some("suppression-eaten"));
        assert_eq!(known.found("Quay \"2\""), Some("suppression-eaten"));
        assert_eq!(known.found("another"), None);
    }

    #[test]
    fn a_file_that_is_not_understood_is_not_overwritten() {
        let folder = tempfile::tempdir().expect("a folder");
        let place = SettingsFolder::at(folder.path());
        for wrong in ["recorder = 3", "format = 2"] {
            fs::write(place.recorders(), wrong).expect("written");
            assert!(KnownRecorders::mark(&place, "Pier 5", "gain-rides").is_err(), "{wrong}");
            assert_eq!(fs::read_to_string(place.recorders()).expect("a file"), wrong);
        }
    }
}
