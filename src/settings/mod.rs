//! What a shop sets once for all its jobs: its head on reports, language, paper, units.
//!
//! A hand-editable file in the place where the system keeps settings (`~/.config/hissward/settings.toml`, or under
//! `XDG_CONFIG_HOME`). Comments and keys of the user's own stay.

mod error;
mod folder;
mod recorder_trials;
mod recorders;
mod shop;

pub use error::SettingsError;
pub use folder::SettingsFolder;
pub use recorder_trials::{TriedRecorder, TriedRecorders};
pub use recorders::{KnownRecorder, KnownRecorders};
pub use shop::{Change, Settings};
