//! What is known of recorders by their names: how they treat steady noise, tried once and kept.

use std::collections::BTreeMap;
use std::fs;
use std::io::{self, Write};

use serde::{Deserialize, Serialize};

use super::error::SettingsError;
use super::folder::SettingsFolder;

/// The longest file that is read, bytes.
const LONGEST: u64 = 1_000_000;

/// What a trial of a recorder found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TriedRecorder {
    /// When.
    pub tried: String,
    /// What is wrong with it, by the names of [`crate::meter::RecorderFault`]; none where it leaves steady noise alone.
    pub faults: Vec<String>,
    /// By how much steady noise sank within four seconds, dB.
    pub sank_db: f64,
    /// By how much it rose where it was made 12 dB louder.
    pub rose_db: f64,
}

/// Recorders by the names that the system gives them.
pub type TriedRecorders = BTreeMap<String, TriedRecorder>;

impl TriedRecorder {
    /// Those that were tried; none where nothing was kept.
    ///
    /// # Errors
    /// [`SettingsError`] where the file is there and cannot be read or understood.
    pub fn all(place: &SettingsFolder) -> Result<TriedRecorders, SettingsError> {
        let path = place.recorder_trials();
        let disk = |source| SettingsError::Disk { doing: "reading", path: path.clone(), source };
        match fs::metadata(&path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(TriedRecorders::new()),
            Err(error) => return Err(disk(error)),
            Ok(found) if found.len() > LONGEST => {
                let what = format!("has {} bytes: too long for a list of recorders, remove it", found.len());
                return Err(SettingsError::Unfit { path, what });
            }
            Ok(_) => {}
        }
        let text = fs::read_to_string(&path).map_err(disk)?;
        toml::from_str(&text).map_err(|error| {
            let what = format!("{}: mend it, or remove the file and try the recorders again", error.message());
            SettingsError::Unfit { path: path.clone(), what }
        })
    }

    /// Keeps what was found of one; what was known of it before goes.
    ///
    /// # Errors
    /// [`SettingsError`] where what is there cannot be understood, or the disk says no.
    pub fn keep(self, name: &str, place: &SettingsFolder) -> Result<(), SettingsError> {
        let mut all = Self::all(place)?;
        all.insert(name.to_owned(), self);
        let path = place.recorder_trials();
        let disk = |source| SettingsError::Disk { doing: "writing", path: path.clone(), source };
        let text = toml::to_string(&all).map_err(|error| disk(io::Error::other(error)))?;
        fs::create_dir_all(place.folder()).map_err(disk)?;
        let mut new = tempfile::NamedTempFile::new_in(place.folder()).map_err(disk)?;
        new.write_all(text.as_bytes()).map_err(disk)?;
        new.as_file().sync_all().map_err(disk)?;
        new.persist(&path).map_err(|error| disk(error.error))?;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_kept_of_a_recorder_is_read_again() {
        let folder = tempfile::tempdir().expect("a folder");
        let place = SettingsFolder::at(&folder.path().join("hissward"));
        assert!(TriedRecorder::all(&place).expect("none").is_empty());
        let tried = |faults: &[&str]| TriedRecorder {
            tried: "2026-11-25T09:15:00+01:00[Europe/Berlin]".to_owned(),
            faults: faults.iter().map(|fault| (*fault).to_owned()).collect(),
            sank_db: 14.5,
            rose_db: 4.0,
        };
        tried(&["fades"]).keep("USB microphone: \"front\"", &place).expect("kept");
        tried(&[]).keep("phone", &place).expect("kept");
        tried(&["pumps"]).keep("phone", &place).expect("kept");
        let all = TriedRecorder::all(&place).expect("read");
        assert_eq!(
            (all.len(), &all["phone"], &all["USB microphone: \"front\""]),
            (2, &tried(&["pumps"]), &tried(&["fades"]))
        );
        fs::write(place.recorder_trials(), "phone = 3").expect("written");
        assert!(tried(&[]).keep("x", &place).is_err());
        assert_eq!(
            fs::read_to_string(place.recorder_trials()).expect("there"),
            "phone = 3",
            "what is not understood stays"
        );
    }
}
