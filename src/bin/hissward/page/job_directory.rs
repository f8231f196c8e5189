//! The jobs that the page serves: one, or all in a folder. A name from outside is only ever compared, never a path.

use std::fs;
use std::path::{Path, PathBuf};

use hissward::job::{JOB_FILE, Job, JobRecord, JobWriter};

use super::error::PageError;

/// The most characters of an engine's name in a job's.
const LONGEST_STEM: usize = 40;
/// The most jobs listed.
const MOST_JOBS: usize = 500;
/// Jobs of one engine on one day.
const MOST_ALIKE: u32 = 100;

/// Where the jobs are.
#[derive(Debug, Clone)]
pub enum JobDirectory {
    /// One job.
    One(PathBuf),
    /// Every job in a folder.
    Folder(PathBuf),
}

impl JobDirectory {
    /// What a path is: a job, or a folder of jobs.
    ///
    /// # Errors
    /// [`PageError::NotFound`] where there is no such folder.
    pub fn at(path: &Path) -> Result<Self, PageError> {
        if path.join(JOB_FILE).is_file() {
            return Ok(Self::One(path.to_owned()));
        }
        if path.is_dir() {
            return Ok(Self::Folder(path.to_owned()));
        }
        Err(PageError::not_found(format!("{}: neither a job nor a folder of jobs", path.display())))
    }

    /// Whether jobs can be started here.
    pub fn takes_new(&self) -> bool {
        matches!(self, Self::Folder(_))
    }

    /// All jobs, by name.
    pub fn jobs(&self) -> Vec<(String, PathBuf)> {
        match self {
            Self::One(path) => vec![(name_of(path), path.clone())],
            Self::Folder(folder) => {
                let entries = fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok);
                let paths = entries.map(|entry| entry.path()).filter(|path| path.join(JOB_FILE).is_file());
                let mut found: Vec<(String, PathBuf)> = paths.map(|path| (name_of(&path), path)).collect();
                found.sort_unstable();
                found.truncate(MOST_JOBS);
                found
            }
        }
    }

    /// The folder of a job, by its name among those there are.
    ///
    /// # Errors
    /// [`PageError::NotFound`].
    pub fn find(&self, name: &str) -> Result<PathBuf, PageError> {
        let found = self.jobs().into_iter().find(|(there, _)| there == name);
        let shown: String = name.chars().take(60).collect();
        found.map(|(_, path)| path).ok_or_else(|| PageError::not_found(format!("job '{}'", shown.escape_debug())))
    }

    /// Starts a job under a name made from engine and day.
    ///
    /// # Errors
    /// [`PageError`] where none can be started here, or the record makes no sense.
    pub fn start(&self, record: JobRecord, day: &str) -> Result<String, PageError> {
        let Self::Folder(folder) = self else {
            return Err(PageError::unfit(
                "this page serves one job: start `hissward page` with the folder of all jobs",
            ));
        };
        let stem = stem_of(&record.engine);
        let names = (1..MOST_ALIKE).map(|count| match count {
            1 => format!("{stem}-{day}"),
            _ => format!("{stem}-{day}-{count}"),
        });
        for name in names {
            let path = folder.join(&name);
            if path.symlink_metadata().is_err() {
                drop(JobWriter::create(&path, record, "page")?);
                return Ok(name);
            }
        }
        Err(PageError::unfit("there are a hundred jobs of this engine today: clear some away"))
    }
}

/// A job opened for reading.
///
/// # Errors
/// Those of [`Job::open`].
pub fn open(path: &Path) -> Result<Job, PageError> {
    Ok(Job::open(path)?)
}

fn name_of(path: &Path) -> String {
    // `.` and `..` have no name of their own.
    let full = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    full.file_name().map_or_else(|| "job".to_owned(), |name| name.to_string_lossy().into_owned())
}

/// A name that every file system takes: small letters, digits, single hyphens.
fn stem_of(engine: &str) -> String {
    let mut stem = String::new();
    for c in engine.to_lowercase().chars() {
        match c {
            'ä' => stem.push_str("ae"),
            'ö' => stem.push_str("oe"),
            'ü' => stem.push_str("ue"),
            'ß' => stem.push_str("ss"),
            c if c.is_ascii_alphanumeric() => stem.push(c),
            _ if !stem.ends_with('-') && !stem.is_empty() => stem.push('-'),
            _ => {}
        }
        if stem.len() >= LONGEST_STEM {
            break;
        }
    }
    let stem = stem.trim_matches('-');
    if stem.is_empty() { "engine".to_owned() } else { stem.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_made_by_the_program() {
        assert_eq!(stem_of("Three-cylinder petrol, workboat Gull"), "three-cylinder-petrol-workboat-gull");
        assert_eq!(stem_of("../../etc/passwd"), "etc-passwd");
        assert_eq!(stem_of("Möwe №1"), "moewe-1");
        assert_eq!(stem_of("日本"), "engine");
        assert!(stem_of(&"x".repeat(500)).len() <= LONGEST_STEM);
    }

    #[test]
    fn a_name_from_outside_is_only_compared() {
        let folder = tempfile::tempdir().expect("a folder");
        let directory = JobDirectory::at(folder.path()).expect("a folder of jobs");
        let record = JobRecord { engine: "Gull".to_owned(), cylinders: 3, ..JobRecord::default() };
        let name = directory.start(record.clone(), "2026-11-25").expect("started");
        assert_eq!(name, "gull-2026-11-25");
        assert_eq!(directory.start(record, "2026-11-25").expect("another"), "gull-2026-11-25-2");
        assert!(directory.find(&name).is_ok());
        for outside in ["..", ".", "", "/", "gull-2026-11-25/", "./gull-2026-11-25", "../x/gull-2026-11-25"] {
            assert!(directory.find(outside).is_err(), "{outside}");
        }
    }
}
