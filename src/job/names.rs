//! File names inside the job folder: made by the program, and checked while they are read.

use std::fmt;
use std::str::FromStr;

use crate::opening::{Air, Opening};

/// The longest file name inside a job; common file systems hold 255 bytes, endings are added.
pub const LONGEST: usize = 120;

/// The ending of a file that is still being written, or that a killed program left so.
pub const UNFINISHED: &str = ".part";

/// The longest ending taken over from an outside file (`flac`, `webm`).
const LONGEST_ENDING: usize = 8;

/// The name of a file in `clips/`: no folder, no `..`, nothing that a file system reads in its own way.
///
/// Lower-case letters, digits, single hyphens and dots, beginning with a letter or digit.
/// Lower case only, because some file systems hold `A.wav` and `a.wav` for one file.
///
/// ```
/// use hissward::job::FileName;
/// assert!("c2-oil-filler-on-t1.wav".parse::<FileName>().is_ok());
/// assert!("../job.toml".parse::<FileName>().is_err());
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FileName(String);

/// Why a text is no file name of a job.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{got}' is not a valid name for a file in clips/: the program makes these names (c2-oil-filler-on-t1.wav); \
     only lower-case letters, digits, single hyphens and dots are taken, and no folder"
)]
pub struct FileNameError {
    got: String,
}

impl FileName {
    /// The name of a clip: `c2-oil-filler-on-t1.wav`, or `all-intake-off-t1.wav` where it belongs to no cylinder.
    #[must_use]
    pub fn of_clip(cylinder: Option<u32>, opening: &Opening, air: Air, take: u32) -> Self {
        let whose = cylinder.map_or_else(|| "all".to_owned(), |cylinder| format!("c{cylinder}"));
        Self(format!("{whose}-{opening}-{}-t{take}.wav", air.name()))
    }

    /// The name under which the original of an imported clip is kept: `c2-oil-filler-on-t1.orig.m4a`.
    ///
    /// Of the outside name only the ending is taken, and only where it is plain letters and digits; else it is `bin`.
    #[must_use]
    pub fn of_original(&self, ending: &str) -> Self {
        let ending = ending.to_ascii_lowercase();
        let plain = !ending.is_empty()
            && ending.len() <= LONGEST_ENDING
            && ending.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit());
        let stem = self.0.strip_suffix(".wav").unwrap_or(&self.0);
        Self(format!("{stem}.orig.{}", if plain { &ending } else { "bin" }))
    }

    /// The name while the file is being written.
    #[must_use]
    pub fn unfinished(&self) -> String {
        format!("{}{UNFINISHED}", self.0)
    }

    /// The name as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for FileName {
    type Err = FileNameError;

    fn from_str(text: &str) -> Result<Self, FileNameError> {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
        let fits = text.len() <= LONGEST
            && text.starts_with(plain)
            && text.ends_with(plain)
            && text.chars().all(|c| plain(c) || c == '-' || c == '.')
            && !text.contains("..")
            && !text.contains("--")
            && !text.ends_with(UNFINISHED);
        if fits { Ok(Self(text.to_owned())) } else { Err(FileNameError { got: text.chars().take(80).collect() }) }
    }
}

impl fmt::Display for FileName {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_those_of_the_format() {
        let opening: Opening = "oil-filler".parse().expect("an opening");
        let name = FileName::of_clip(Some(2), &opening, Air::On, 1);
        assert_eq!(name.as_str(), "c2-oil-filler-on-t1.wav");
        assert_eq!(name.of_original("M4A").as_str(), "c2-oil-filler-on-t1.orig.m4a");
        assert_eq!(name.of_original("../x").as_str(), "c2-oil-filler-on-t1.orig.bin");
        assert_eq!(name.of_original("").as_str(), "c2-oil-filler-on-t1.orig.bin");
        assert_eq!(FileName::of_clip(None, &opening, Air::Off, 12).as_str(), "all-oil-filler-off-t12.wav");
    }

    #[test]
    fn every_name_the_program_makes_can_be_read_back() {
        let longest: Opening = "o".repeat(crate::opening::LONGEST_NAME).parse().expect("an opening");
        let name = FileName::of_clip(Some(48), &longest, Air::Pulsed, u32::MAX);
        assert_eq!(name.as_str().parse(), Ok(name.clone()));
        let original = name.of_original("webm");
        assert_eq!(original.as_str().parse(), Ok(original.clone()));
    }

    #[test]
    fn names_that_leave_the_folder_are_refused() {
        let hostile = [
            "",
            ".",
            "..",
            "../c1.wav",
            "/etc/passwd",
            "a/b.wav",
            "a\\b.wav",
            "c:x.wav",
            ".hidden.wav",
            "a..wav",
            "A.wav",
            "ä.wav",
            "a b.wav",
            "a\0.wav",
            "a.wav\n",
            "a.wav.part",
            "a.wav.",
            "-rf.wav",
            "a\u{202e}.wav",
        ];
        for name in hostile {
            assert!(name.parse::<FileName>().is_err(), "{name:?} must be refused");
        }
        assert!("a".repeat(LONGEST + 1).parse::<FileName>().is_err());
    }
}
