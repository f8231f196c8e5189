//! The manifest: SHA-256 and name of every file, one text for one content.

use std::collections::BTreeMap;

use super::name::EntryName;
use crate::job::Sha256;

/// The manifest's own name.
pub const MANIFEST_FILE: &str = "MANIFEST.sha256";
/// Its first line; `sha256sum -c` reads it as a comment.
const HEAD: &str = "# hissward evidence, format 1";

/// Every file of a pack with its hash, but for the manifest and its signature.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Manifest {
    /// The files, sorted by name.
    pub files: BTreeMap<EntryName, Sha256>,
}

impl Manifest {
    /// The manifest as text: a head, then a line per file, sorted by the bytes of the names.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = format!("{HEAD}\n");
        for (name, hash) in &self.files {
            text.push_str(&format!("{hash}  {name}\n"));
        }
        text
    }

    /// Reads a manifest; only the very text that [`Self::text`] writes is one.
    ///
    /// # Errors
    /// A sentence that says what is wrong with it.
    pub fn read(text: &str) -> Result<Self, String> {
        let mut lines = text.lines();
        match lines.next() {
            Some(HEAD) => {}
            Some(other) if other.starts_with("# hissward evidence") => {
                return Err("it is of a newer format: use a newer hissward".to_owned());
            }
            _ => return Err(format!("it does not begin with '{HEAD}'")),
        }
        let mut files = BTreeMap::new();
        for (place, line) in lines.enumerate() {
            let wrong = || format!("line {} is not a hash with a name", place + 2);
            let (hash, name) = line.split_once("  ").ok_or_else(wrong)?;
            let hash = hash.parse().map_err(|_| wrong())?;
            let name: EntryName = name.parse().map_err(|_| wrong())?;
            if files.insert(name, hash).is_some() {
                return Err(format!("line {} names a file a second time", place + 2));
            }
        }
        let manifest = Self { files };
        if manifest.text() == text {
            Ok(manifest)
        } else {
            Err("it is not in the form in which it is written".to_owned())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn manifest() -> Manifest {
        let file = |name: &str, byte: u8| (name.parse().expect("a name"), Sha256([byte; 32]));
        Manifest { files: [file("job.toml", 1), file("clips/b.wav", 2), file("clips/a.wav", 3)].into() }
    }

    #[test]
    fn one_text_for_one_content() {
        let text = manifest().text();
        let names: Vec<&str> = text.lines().skip(1).filter_map(|line| line.split_once("  ")).map(|(_, n)| n).collect();
        assert_eq!(names, ["clips/a.wav", "clips/b.wav", "job.toml"]);
        assert_eq!(Manifest::read(&text), Ok(manifest()));
    }

    #[test]
    fn any_other_text_is_refused() {
        let text = manifest().text();
        let lines: Vec<&str> = text.lines().collect();
        let swapped = [lines[0], lines[2], lines[1], lines[3], ""].join("\n");
        let twice = format!("{text}{}\n", lines[3]);
        let upper = text.replace("0303", "0A0A").replace('a', "A");
        for wrong in [swapped, twice, upper, text.trim_end().to_owned(), text.replace('\n', "\r\n"), String::new()] {
            assert!(Manifest::read(&wrong).is_err(), "{wrong}");
        }
        for at in 0..text.len() {
            let mut bytes = text.clone().into_bytes();
            bytes[at] ^= 1;
            let read = String::from_utf8(bytes).map(|text| Manifest::read(&text));
            assert!(!matches!(read, Ok(Ok(read)) if read == manifest()), "byte {at}");
        }
    }
}
