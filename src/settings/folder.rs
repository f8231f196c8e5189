//! Where the settings are.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;

use super::error::SettingsError;

/// The folder of the settings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SettingsFolder(PathBuf);

impl SettingsFolder {
    /// The folder where this system's user keeps settings of this program.
    ///
    /// # Errors
    /// [`SettingsError::NoPlace`] where the user has no home.
    pub fn of_user() -> Result<Self, SettingsError> {
        let base = etcetera::base_strategy::choose_base_strategy().map_err(|_| SettingsError::NoPlace)?;
        Ok(Self(base.config_dir().join("hissward")))
    }

    /// A folder of one's own choice.
    #[must_use]
    pub fn at(folder: &Path) -> Self {
        Self(folder.to_owned())
    }

    /// The folder.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.0
    }

    /// The settings' file.
    #[must_use]
    pub fn file(&self) -> PathBuf {
        self.0.join("settings.toml")
    }

    /// What trials of recorders found.
    #[must_use]
    pub fn recorder_trials(&self) -> PathBuf {
        self.0.join("recorder-trials.toml")
    }

    /// The file of recorders that were found to work on the sound.
    #[must_use]
    pub fn recorders(&self) -> PathBuf {
        self.0.join("recorders.toml")
    }

    /// The secret key that signs packs.
    #[must_use]
    pub fn signing_key(&self) -> PathBuf {
        self.0.join("signing.key")
    }

    /// Its public half.
    #[must_use]
    pub fn public_key(&self) -> PathBuf {
        self.0.join("signing.pub")
    }
}
