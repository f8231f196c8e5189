//! The settings' file: read, and where it can be read, changed.

use std::fs;
use std::path::Path;

use hissward::settings::{Change, Settings, SettingsFolder};

use super::telling::told;

/// Reads settings, sets the shop's name in them and takes it out again.
pub fn settings(bytes: &[u8], scratch: &Path) {
    let place = SettingsFolder::at(&scratch.join("settings"));
    fs::create_dir_all(place.folder()).expect("a folder");
    fs::write(place.file(), bytes).expect("a file");
    let before = match Settings::read(&place) {
        Ok(settings) => settings,
        Err(error) => {
            told(&error);
            let kept = Change::keep(&[Change::Name("Pier Yard".to_owned())], &place);
            assert!(kept.is_err(), "what is not understood is not changed");
            assert_eq!(fs::read(place.file()).expect("it is there"), bytes);
            return;
        }
    };
    match Change::keep(&[Change::Name("Pier Yard".to_owned())], &place) {
        Err(error) => {
            told(&error);
            assert_eq!(fs::read(place.file()).expect("it is there"), bytes, "on an error nothing is changed");
        }
        Ok(named) => {
            assert_eq!(named.name(), Some("Pier Yard"));
            assert_eq!(
                (named.address(), named.text(), named.paper()),
                (before.address(), before.text(), before.paper())
            );
            let bare = Change::keep(&[Change::Name(String::new())], &place).expect("it was written a moment ago");
            assert_eq!(bare.name(), None);
        }
    }
}
