//! The settings' file: read, and changed without losing what else stands in it.

use std::fs;
use std::io::{self, Write};
use std::ops::Range;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use toml_edit::{Array, DocumentMut, Item, Table, TomlError, Value, value};

use super::error::SettingsError;
use super::folder::SettingsFolder;

/// The format that this version writes.
const FORMAT: i64 = 1;
/// The longest file that is read, bytes.
const LONGEST: u64 = 1_000_000;
/// The first lines of a new file.
const HEAD: &str = "# Settings of hissward: letterhead, language and paper of reports. You may edit it by hand.\n";

/// What is set. What is `None` is not set.
#[derive(Debug, Clone, PartialEq, Eq, Default, Deserialize)]
#[serde(default)]
pub struct Settings {
    format: Option<i64>,
    shop: Shop,
    report: Report,
}

#[derive(Debug, Clone, PartialEq, Eq, Default, Deserialize)]
#[serde(default)]
struct Shop {
    name: Option<String>,
    address: Vec<String>,
    logo: Option<PathBuf>,
    text: Option<String>,
}

#[derive(Debug, Clone, PartialEq, Eq, Default, Deserialize)]
#[serde(default)]
struct Report {
    language: Option<String>,
    paper: Option<String>,
    units: Option<String>,
}

/// One setting with its new value; an empty text takes it out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// The shop's name.
    Name(String),
    /// Its address, lines parted by line breaks or semicolons.
    Address(String),
    /// The file of its logo.
    Logo(String),
    /// Free text at the end of reports.
    Text(String),
    /// The language of reports.
    Language(String),
    /// The paper of reports.
    Paper(String),
    /// The units of reports.
    Units(String),
}

impl Settings {
    /// Reads the settings; where there is no file, nothing is set.
    ///
    /// # Errors
    /// [`SettingsError`] where the file cannot be read or understood.
    pub fn read(place: &SettingsFolder) -> Result<Self, SettingsError> {
        let path = place.file();
        let Some(text) = text_of(&path)? else { return Ok(Self::default()) };
        let settings: Self = toml::from_str(&text).map_err(|error: toml::de::Error| SettingsError::Unfit {
            path: path.clone(),
            what: wrong(&text, error.message(), error.span()),
        })?;
        match settings.format {
            Some(got) if got > FORMAT => {
                let what = format!("has format {got}, this version knows {FORMAT}: use a newer hissward");
                Err(SettingsError::Unfit { path, what })
            }
            _ => Ok(settings),
        }
    }

    /// The shop's name.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        self.shop.name.as_deref()
    }

    /// Its address, line by line.
    #[must_use]
    pub fn address(&self) -> &[String] {
        &self.shop.address
    }

    /// The file of its logo; a name without a folder is beside the settings.
    #[must_use]
    pub fn logo(&self, place: &SettingsFolder) -> Option<PathBuf> {
        self.shop.logo.as_ref().map(|logo| place.folder().join(logo))
    }

    /// Free text at the end of reports.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        self.shop.text.as_deref()
    }

    /// The language of reports.
    #[must_use]
    pub fn language(&self) -> Option<&str> {
        self.report.language.as_deref()
    }

    /// The paper of reports: `a4` or `letter`.
    #[must_use]
    pub fn paper(&self) -> Option<&str> {
        self.report.paper.as_deref()
    }

    /// The units of reports: `metric` or `psi`.
    #[must_use]
    pub fn units(&self) -> Option<&str> {
        self.report.units.as_deref()
    }
}

impl Change {
    fn key(&self) -> (&'static str, &'static str) {
        match self {
            Self::Name(_) => ("shop", "name"),
            Self::Address(_) => ("shop", "address"),
            Self::Logo(_) => ("shop", "logo"),
            Self::Text(_) => ("shop", "text"),
            Self::Language(_) => ("report", "language"),
            Self::Paper(_) => ("report", "paper"),
            Self::Units(_) => ("report", "units"),
        }
    }

    fn value(&self) -> Option<Item> {
        match self {
            Self::Address(text) => {
                let lines = text.split(['\n', ';']).map(str::trim).filter(|line| !line.is_empty());
                let lines: Array = lines.map(Value::from).collect();
                (!lines.is_empty()).then(|| value(lines))
            }
            Self::Name(text)
            | Self::Logo(text)
            | Self::Text(text)
            | Self::Language(text)
            | Self::Paper(text)
            | Self::Units(text) => (!text.trim().is_empty()).then(|| value(text.trim())),
        }
    }

    /// Keeps changes: the file is replaced as a whole, its comments and other keys stay.
    ///
    /// # Errors
    /// [`SettingsError`] where the file cannot be understood or written.
    pub fn keep(changes: &[Self], place: &SettingsFolder) -> Result<Settings, SettingsError> {
        // Whatever stands there has to be understood before it is changed.
        Settings::read(place)?;
        let path = place.file();
        let unfit = |what: String| SettingsError::Unfit { path: path.clone(), what };
        let text = text_of(&path)?.unwrap_or_else(|| format!("{HEAD}\nformat = {FORMAT}\n"));
        let mut document: DocumentMut =
            text.parse().map_err(|error: TomlError| unfit(wrong(&text, error.message(), error.span())))?;
        for change in changes {
            let (table, key) = change.key();
            let table = document.entry(table).or_insert(Item::Table(Table::new()));
            let table = table.as_table_like_mut().ok_or_else(|| unfit("a table is something else".to_owned()))?;
            match change.value() {
                Some(item) => drop(table.insert(key, item)),
                None => drop(table.remove(key)),
            }
        }
        fs::create_dir_all(place.folder()).map_err(disk("making the folder", place.folder()))?;
        let failed = disk("writing", &path);
        let mut new = tempfile::NamedTempFile::new_in(place.folder()).map_err(&failed)?;
        new.write_all(document.to_string().as_bytes()).map_err(&failed)?;
        new.as_file().sync_all().map_err(&failed)?;
        new.persist(&path).map_err(|error| failed(error.error))?;
        Settings::read(place)
    }
}

/// The file's text; `None` where there is none.
fn text_of(path: &Path) -> Result<Option<String>, SettingsError> {
    match fs::metadata(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(disk("reading", path)(error)),
        Ok(found) if found.len() > LONGEST => {
            let what = format!("has {} bytes: too long for settings", found.len());
            return Err(SettingsError::Unfit { path: path.to_owned(), what });
        }
        Ok(_) => {}
    }
    fs::read_to_string(path).map(Some).map_err(disk("reading", path))
}

/// What is wrong, and in which line. The line itself is not repeated: it may be as long as the file.
fn wrong(text: &str, message: &str, place: Option<Range<usize>>) -> String {
    const LONGEST: usize = 300;
    let at = place.map_or(0, |place| place.start);
    let line = 1 + text.bytes().take(at).filter(|byte| *byte == b'\n').count();
    let message: String = message.chars().take(LONGEST).collect();
    format!("line {line}: {message}: mend that line")
}

fn disk(doing: &'static str, path: &Path) -> impl Fn(io::Error) -> SettingsError {
    let path = path.to_owned();
    move |source| SettingsError::Disk { doing, path: path.clone(), source }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn place() -> (tempfile::TempDir, SettingsFolder) {
        let folder = tempfile::tempdir().expect("a folder");
        let place = SettingsFolder::at(&folder.path().join("hissward"));
        (folder, place)
    }

    #[test]
    fn what_is_kept_is_read_again_and_the_rest_stays() {
        let (_folder, place) = place();
        assert_eq!(Settings::read(&place).expect("nothing set"), Settings::default());
        let changes = [Change::Name("Pier Yard".into()), Change::Address("2 Quay Street; Sandhaven".into())];
        Change::keep(&changes, &place).expect("kept");
        let text = fs::read_to_string(place.file()).expect("a file");
        fs::write(place.file(), text.replace("[shop]", "# ours\n[shop]\nmotto = \"dry feet\"")).expect("written");
        let read = Change::keep(&[Change::Name(String::new()), Change::Text("Thanks.".into())], &place).expect("kept");
        assert_eq!((read.name(), read.text()), (None, Some("Thanks.")));
        assert_eq!(read.address(), ["2 Quay Street", "Sandhaven"]);
        let text = fs::read_to_string(place.file()).expect("a file");
        assert!(text.contains("# ours") && text.contains("dry feet"), "{text}");
    }

    #[test]
    fn what_is_not_understood_is_not_overwritten() {
        let (_folder, place) = place();
        fs::create_dir_all(place.folder()).expect("a folder");
        for wrong in ["shop = 3", "format = 2", "name = "] {
            fs::write(place.file(), wrong).expect("written");
            assert!(Change::keep(&[Change::Name("x".into())], &place).is_err(), "{wrong}");
            assert_eq!(fs::read_to_string(place.file()).expect("a file"), wrong);
        }
    }
}
