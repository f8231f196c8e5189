//! Many shops' jobs as one data set that grows: Parquet files in folders by year and yard, as query engines read them.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File, TryLockError};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use tempfile::NamedTempFile;

use super::columns::COLUMNS;
use super::parquet::{ExportError, ParquetTable};
use crate::history::Visit;

/// What is in the set; query engines leave out names that begin so.
const INDEX: &str = "_hissward.json";
/// Held while somebody writes.
const LOCK: &str = "_hissward.lock";
/// Where the year or the yard is not known: the name that query engines read as null.
const UNKNOWN: &str = "__HIVE_DEFAULT_PARTITION__";
/// The longest part of a yard's name that becomes a folder's, characters.
const LONGEST_YARD: usize = 60;

/// Why a data set was not written.
#[derive(Debug, thiserror::Error)]
pub enum DataSetError {
    /// The disk.
    #[error("{}: cannot be written ({source}): make room or choose another folder", path.display())]
    Disk {
        /// Where.
        path: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The encoder.
    #[error(transparent)]
    Table(#[from] ExportError),
    /// There is something else.
    #[error("{}: holds something else than a data set of this program: give a new or an empty folder", folder.display())]
    Foreign {
        /// The folder.
        folder: PathBuf,
    },
    /// Its index cannot be read.
    #[error("{}: its index cannot be read ({detail}): restore it, or write the set again into an empty folder", path.display())]
    Index {
        /// The index.
        path: PathBuf,
        /// What is wrong with it.
        detail: String,
    },
    /// Another program writes it.
    #[error("{}: another program is writing it: let it finish", folder.display())]
    Busy {
        /// The folder.
        folder: PathBuf,
    },
}

#[derive(Debug, Default, Serialize, Deserialize)]
struct Index {
    format: u32,
    /// Files that belong to the set, by their path in it.
    files: BTreeSet<String>,
    /// Jobs by name and engine: the hash of their rows, and how often they were written.
    jobs: BTreeMap<String, Written>,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
struct Written {
    sha256: String,
    revision: u32,
}

/// What became of the jobs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Grown {
    /// Jobs that are new in the set.
    pub added: usize,
    /// Jobs that had changed: written again with the next revision.
    pub changed: usize,
    /// Jobs that are in it as they are.
    pub same: usize,
}

struct Part {
    table: ParquetTable<BufWriter<File>>,
    file: NamedTempFile,
    hash: Sha256,
}

/// A data set being grown. Nothing in it is ever rewritten: what changed comes again with a higher `revision`, and a
/// query takes the latest of each job, engine and cylinder. Until [`Self::finish`] nothing is in it.
pub struct DataSet {
    folder: PathBuf,
    index: Index,
    parts: BTreeMap<String, Part>,
    grown: Grown,
    /// Its end lets others write.
    _lock: File,
}

impl DataSet {
    /// Opens a data set to grow it, or begins one in a new or empty folder.
    ///
    /// # Errors
    /// [`DataSetError`] where the folder holds something else, is written by another, or the disk says no.
    pub fn open(folder: &Path) -> Result<Self, DataSetError> {
        let disk = |source| DataSetError::Disk { path: folder.to_owned(), source };
        fs::create_dir_all(folder).map_err(disk)?;
        let path = folder.join(INDEX);
        let index = match fs::read(&path) {
            Ok(bytes) => {
                let bad = |detail| DataSetError::Index { path: path.clone(), detail };
                let index: Index = serde_json::from_slice(&bytes).map_err(|error| bad(error.to_string()))?;
                if index.format != 1 {
                    return Err(bad(format!("format {}, of a newer version", index.format)));
                }
                index
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let others = fs::read_dir(folder).map_err(disk)?.filter_map(Result::ok);
                // What a killed first run left is one of ours.
                if others.into_iter().any(|entry| !is_own(&entry.file_name().to_string_lossy())) {
                    return Err(DataSetError::Foreign { folder: folder.to_owned() });
                }
                Index { format: 1, ..Index::default() }
            }
            Err(error) => return Err(disk(error)),
        };
        let lock = File::options().create(true).append(true).open(folder.join(LOCK)).map_err(disk)?;
        match lock.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(DataSetError::Busy { folder: folder.to_owned() }),
            Err(TryLockError::Error(error)) => return Err(disk(error)),
        }
        let set =
            Self { folder: folder.to_owned(), index, parts: BTreeMap::new(), grown: Grown::default(), _lock: lock };
        set.clear_leftovers()?;
        Ok(set)
    }

    /// Files that the index does not know: a killed run left them, and the next one writes their rows again.
    fn clear_leftovers(&self) -> Result<(), DataSetError> {
        for year in folders(&self.folder, "year=")? {
            for yard in folders(&year, "yard=")? {
                for entry in fs::read_dir(&yard).map_err(|source| disk(&yard, source))? {
                    let path = entry.map_err(|source| disk(&yard, source))?.path();
                    let name = path.strip_prefix(&self.folder).unwrap_or(&path).to_string_lossy().replace('\\', "/");
                    let is_ours = name.ends_with(".parquet") || name.contains("/.new-");
                    if is_ours && !self.index.files.contains(&name) {
                        fs::remove_file(&path).map_err(|source| disk(&path, source))?;
                    }
                }
            }
        }
        Ok(())
    }

    /// Adds a job, unless it is there as it is.
    ///
    /// # Errors
    /// [`DataSetError`] where it cannot be written.
    pub fn push(&mut self, visit: &Visit) -> Result<(), DataSetError> {
        let key = format!("{} | {}", visit.job, visit.engine);
        let sha256 = fingerprint(visit);
        let before = self.index.jobs.get(&key);
        if before.is_some_and(|written| written.sha256 == sha256) {
            self.grown.same += 1;
            return Ok(());
        }
        let revision = before.map_or(1, |written| written.revision.saturating_add(1));
        let counter = if revision == 1 { &mut self.grown.added } else { &mut self.grown.changed };
        *counter += 1;
        let place = partition(visit);
        if !self.parts.contains_key(&place) {
            let part = self.begin(&place)?;
            self.parts.insert(place.clone(), part);
        }
        if let Some(part) = self.parts.get_mut(&place) {
            part.table.push(&Visit { revision, ..visit.clone() })?;
            part.hash.update(format!("{key}\n{sha256}\n{revision}\n"));
        }
        self.index.jobs.insert(key, Written { sha256, revision });
        Ok(())
    }

    fn begin(&self, place: &str) -> Result<Part, DataSetError> {
        let folder = self.folder.join(place);
        let begun = || {
            fs::create_dir_all(&folder)?;
            let mut builder = tempfile::Builder::new();
            builder.prefix(".new-");
            #[cfg(unix)]
            builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
            let file = builder.tempfile_in(&folder)?;
            let out = BufWriter::new(file.reopen()?);
            Ok((file, out))
        };
        let (file, out) = begun().map_err(|source| disk(&folder, source))?;
        Ok(Part { table: ParquetTable::new(out)?, file, hash: Sha256::new() })
    }

    /// Puts what was written in place: the files, then the index that says they count.
    ///
    /// # Errors
    /// [`DataSetError`] where the disk says no; the set is then as it was.
    pub fn finish(mut self) -> Result<Grown, DataSetError> {
        for (place, part) in std::mem::take(&mut self.parts) {
            let Part { table, file, hash } = part;
            let hash: String = hash.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect();
            let name = format!("{place}/jobs-{hash}.parquet");
            let path = self.folder.join(&name);
            table.finish()?.flush().map_err(|source| disk(&path, source))?;
            file.as_file().sync_all().map_err(|source| disk(&path, source))?;
            file.persist(&path).map_err(|error| disk(&path, error.error))?;
            self.index.files.insert(name);
        }
        let path = self.folder.join(INDEX);
        let written = || {
            let mut file = tempfile::Builder::new().prefix(".new-").tempfile_in(&self.folder)?;
            serde_json::to_writer(&mut BufWriter::new(file.as_file_mut()), &self.index).map_err(io::Error::from)?;
            file.as_file().sync_all()?;
            file.persist(&path).map_err(|error| error.error)
        };
        written().map_err(|source| disk(&path, source))?;
        Ok(self.grown)
    }
}

fn disk(path: &Path, source: io::Error) -> DataSetError {
    DataSetError::Disk { path: path.to_owned(), source }
}

fn is_own(name: &str) -> bool {
    name.starts_with("year=") || name.starts_with(".new-") || name == LOCK
}

fn folders(below: &Path, beginning: &str) -> Result<Vec<PathBuf>, DataSetError> {
    let mut found = Vec::new();
    for entry in fs::read_dir(below).map_err(|source| disk(below, source))? {
        let entry = entry.map_err(|source| disk(below, source))?;
        let is_folder = entry.file_type().map_err(|source| disk(below, source))?.is_dir();
        if is_folder && entry.file_name().to_string_lossy().starts_with(beginning) {
            found.push(entry.path());
        }
    }
    Ok(found)
}

/// The hash of what the table says of a job.
fn fingerprint(visit: &Visit) -> String {
    let mut hash = Sha256::new();
    for row in &visit.rows {
        for column in COLUMNS.iter().filter(|column| column.name != "revision") {
            hash.update(format!("{:?}\n", (column.of)(visit, row)));
        }
    }
    hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

/// `year=2026/yard=Pier%20Yard`.
fn partition(visit: &Visit) -> String {
    let year = visit.moment.as_ref().and_then(|moment| moment.day.get(..4)).unwrap_or(UNKNOWN);
    let yard = visit.shop.as_deref().map(str::trim).filter(|shop| !shop.is_empty());
    let yard =
        yard.map_or_else(|| UNKNOWN.to_owned(), |shop| escaped(&shop.chars().take(LONGEST_YARD).collect::<String>()));
    format!("year={year}/yard={yard}")
}

/// Every byte but letters, digits, `-` and `_` as `%XX` (RFC 3986, 2.1): what engines take back, and no path.
fn escaped(name: &str) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || byte == b'-' || byte == b'_';
    name.bytes().map(|byte| if plain(byte) { char::from(byte).to_string() } else { format!("%{byte:02X}") }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Calls, CylinderVisit, Moment};

    fn visit(job: &str, shop: Option<&str>, cold: bool) -> Visit {
        Visit {
            job: job.to_owned(),
            engine: "Gull".to_owned(),
            cylinders: 1,
            moment: Some(Moment { unix_s: 0, day: "2026-11-25".to_owned(), day_number: 20_782 }),
            shop: shop.map(str::to_owned),
            restrictor: None,
            calls: Calls::NotRanked,
            revision: 1,
            rows: vec![CylinderVisit { cylinder: 1, cold, gauge: None, heard: None, found: None }],
        }
    }

    fn grow(folder: &Path, visits: &[Visit]) -> Grown {
        let mut set = DataSet::open(folder).expect("a set");
        visits.iter().for_each(|visit| set.push(visit).expect("written"));
        set.finish().expect("finished")
    }

    fn files(folder: &Path) -> Vec<String> {
        let text = fs::read(folder.join(INDEX)).expect("an index");
        serde_json::from_slice::<Index>(&text).expect("JSON").files.into_iter().collect()
    }

    #[test]
    fn a_set_grows_by_what_is_new_or_changed() {
        let folder = tempfile::tempdir().expect("a folder");
        let (one, two) = (visit("a", Some("Pier Yard/../x"), false), visit("b", None, false));
        assert_eq!(grow(folder.path(), &[one.clone(), two.clone()]), Grown { added: 2, changed: 0, same: 0 });
        let first = files(folder.path());
        assert!(first[0].starts_with("year=2026/yard=Pier%20Yard%2F%2E%2E%2Fx/jobs-"), "{first:?}");
        assert!(first[1].starts_with("year=2026/yard=__HIVE_DEFAULT_PARTITION__/jobs-"), "{first:?}");
        let changed = visit("b", None, true);
        assert_eq!(grow(folder.path(), &[one, changed]), Grown { added: 0, changed: 1, same: 1 });
        let second = files(folder.path());
        assert!(second.len() == 3 && first.iter().all(|file| second.contains(file)), "{second:?}");
        assert_eq!(grow(folder.path(), &[two]).changed, 1, "back again is a change, too");
    }

    #[test]
    fn what_a_killed_run_left_does_not_count() {
        let folder = tempfile::tempdir().expect("a folder");
        grow(folder.path(), &[visit("a", None, false)]);
        let whole = files(folder.path());
        let place = folder.path().join("year=2026/yard=__HIVE_DEFAULT_PARTITION__");
        fs::write(place.join("jobs-0000.parquet"), "left").expect("written");
        fs::write(place.join(".new-x"), "left").expect("written");
        grow(folder.path(), &[visit("a", None, false)]);
        assert_eq!(files(folder.path()), whole);
        assert_eq!(fs::read_dir(place).expect("listed").count(), 1);
    }

    #[test]
    fn another_folder_and_a_second_writer_are_refused() {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("job.toml"), "x").expect("written");
        assert!(matches!(DataSet::open(folder.path()), Err(DataSetError::Foreign { .. })));
        let folder = tempfile::tempdir().expect("a folder");
        let first = DataSet::open(folder.path()).expect("a set");
        assert!(matches!(DataSet::open(folder.path()), Err(DataSetError::Busy { .. })));
        drop(first);
        fs::write(folder.path().join(INDEX), "{").expect("written");
        assert!(matches!(DataSet::open(folder.path()), Err(DataSetError::Index { .. })));
    }
}
