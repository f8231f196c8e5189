//! Names inside a pack: relative, of few parts, the same on every system.

use std::fmt;
use std::str::FromStr;

/// The longest name, bytes.
const LONGEST: usize = 240;
/// Folders that a pack may hold.
const FOLDERS: [&str; 2] = ["clips", "results"];

/// The name of a file in a pack: in `clips/` or `results/`, or beside them.
///
/// ```
/// use hissward::pack::EntryName;
/// assert!("clips/c2-oil-filler-on-t1.wav".parse::<EntryName>().is_ok());
/// for wrong in ["../job.toml", "/etc/passwd", "clips/../../x", "clips\\x", "C:x", "clips/a\nb", "other/x"] {
///     assert!(wrong.parse::<EntryName>().is_err(), "{wrong}");
/// }
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct EntryName(String);

/// Why a text is no name in a pack.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{got}' is not a valid name for a file in a pack: rename it, with letters, digits, hyphens and dots, in clips/ or results/"
)]
pub struct EntryNameError {
    got: String,
}

impl EntryName {
    /// The name with `/` between its parts.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for EntryName {
    type Err = EntryNameError;

    fn from_str(text: &str) -> Result<Self, EntryNameError> {
        let parts: Vec<&str> = text.split('/').collect();
        let place = match parts[..] {
            [_] => true,
            [folder, _] => FOLDERS.contains(&folder),
            _ => false,
        };
        let file = parts.last().copied().unwrap_or_default();
        // Letters of any language are names; what a system or a manifest reads in its own way is not.
        let plain = file.chars().all(|c| !c.is_control() && !"\\:*?\"<>|".contains(c));
        let dots = file.starts_with('.') || file.ends_with(['.', ' ']);
        if place && plain && !dots && !file.is_empty() && text.len() <= LONGEST {
            Ok(Self(text.to_owned()))
        } else {
            Err(EntryNameError { got: text.escape_debug().to_string().chars().take(120).collect() })
        }
    }
}

impl fmt::Display for EntryName {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}
