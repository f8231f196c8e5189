//! The folder: opened, started, changed as a whole.

use std::fs;
use std::io;
use std::ops::Deref;
use std::path::{Path, PathBuf};

use toml_edit::DocumentMut;

use crate::job::amendment::{rig_amendment, set_clip};
use crate::job::checks::{check, check_supply};
use crate::job::error::{Doing, Fault, JobError, KeyPath};
use crate::job::folder::{check_empty, made_folder, not_a_folder, text_of};
use crate::job::hash::{VerifiedFile, verdict_of};
use crate::job::lock::WriterLock;
use crate::job::merge::merge;
use crate::job::names::FileName;
use crate::job::reading::{Understood, read};
use crate::job::record::{ClipRecord, Found, GaugeReading, Gauges, JobRecord, RigReading, SkippedStep};
use crate::job::replace::{clear_unfinished, replace_file};
use crate::job::when::When;
use crate::job::writing::layout_of;

/// The format of `job.toml` that this version writes.
pub const FORMAT: u32 = 1;
/// The file that says what is known.
pub const JOB_FILE: &str = "job.toml";
/// The folder of recordings.
pub const CLIPS_FOLDER: &str = "clips";
/// The folder of what is derived.
pub const RESULTS_FOLDER: &str = "results";

/// The largest derived text read, bytes: a ranking of 48 cylinders at 8 openings has about 2 MB.
pub const LARGEST_RESULT_BYTES: u64 = 16 * 1024 * 1024;

const HEAD: &str = "# A hissward job: one engine on one day. Edit it by hand as you like: comments, order and keys of your own stay.\n\
                    # Every key says its unit; pressures are gauge pressures unless they say otherwise.\n";

/// A job folder opened for reading. It may be written by another program meanwhile: what was read stays as it was.
#[derive(Debug)]
pub struct Job {
    folder: PathBuf,
    record: JobRecord,
    newer_format: Option<u32>,
}

impl Job {
    /// Opens a job for reading. Takes no lock and writes nothing, so it serves read-only folders too.
    ///
    /// # Errors
    /// [`JobError`] where there is no job, or `job.toml` cannot be read or understood (with line and key).
    pub fn open(folder: &Path) -> Result<Self, JobError> {
        let Understood { record, newer_format } = read(&text_of(folder)?, &folder.join(JOB_FILE))?;
        Ok(Self { folder: folder.to_owned(), record, newer_format })
    }

    /// What `job.toml` says.
    #[must_use]
    pub fn record(&self) -> &JobRecord {
        &self.record
    }

    /// The folder, as it was given.
    #[must_use]
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The format, where this version does not know it: the record is what could be understood, and nothing is written.
    #[must_use]
    pub fn newer_format(&self) -> Option<u32> {
        self.newer_format
    }

    /// Where a clip's file is, after looking that it is there and a plain file.
    ///
    /// # Errors
    /// [`JobError`] where it is missing or no plain file (a link, a pipe).
    pub fn clip_path(&self, clip: &ClipRecord) -> Result<PathBuf, JobError> {
        self.checked_path(&clip.file)
    }

    /// Whether a file in `clips/` is gone.
    #[must_use]
    pub fn is_gone(&self, file: &FileName) -> bool {
        let path = self.folder.join(CLIPS_FOLDER).join(file.as_str());
        path.symlink_metadata().is_err_and(|error| error.kind() == io::ErrorKind::NotFound)
    }

    /// Where a file in `clips/` is, after looking that it is there and a plain file.
    ///
    /// # Errors
    /// As [`Self::clip_path`].
    pub fn checked_path(&self, file: &FileName) -> Result<PathBuf, JobError> {
        let path = self.clips_folder()?.join(file.as_str());
        let found = path.symlink_metadata().doing("reading the clip", &path)?;
        if found.is_file() {
            return Ok(path);
        }
        Err(JobError::Unfit { path, what: "is not a plain file: put the recording itself there".to_owned() })
    }

    /// Every file that `job.toml` lists, held against its SHA-256, clips before the originals beside them.
    #[must_use]
    pub fn verify_clips(&self) -> Vec<VerifiedFile> {
        let clips = self.folder.join(CLIPS_FOLDER);
        let mut found = Vec::new();
        for clip in &self.record.clips {
            let original = clip.import.as_ref().and_then(|import| import.original.as_ref());
            let files =
                std::iter::once((&clip.file, clip.sha256)).chain(original.map(|kept| (&kept.file, kept.sha256)));
            found.extend(files.map(|(file, sha256)| VerifiedFile {
                file: file.clone(),
                verdict: verdict_of(&clips.join(file.as_str()), sha256),
            }));
        }
        found
    }

    /// A derived text in `results/`; `None` where there is none.
    ///
    /// # Errors
    /// [`JobError`] where it is no plain file, larger than [`LARGEST_RESULT_BYTES`], or cannot be read.
    pub fn read_result(&self, name: &str) -> Result<Option<String>, JobError> {
        let path = self.folder.join(RESULTS_FOLDER).join(name);
        let found = match path.symlink_metadata() {
            Ok(found) => found,
            Err(error) if matches!(error.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) => {
                return Ok(None);
            }
            Err(error) => return Err(error).doing("reading", path),
        };
        if !found.is_file() || found.len() > LARGEST_RESULT_BYTES {
            let what = format!("should be a file of at most {} MB", LARGEST_RESULT_BYTES / 1024 / 1024);
            return Err(JobError::Unfit { path, what });
        }
        fs::read_to_string(&path).doing("reading", path).map(Some)
    }

    /// Writes a derived file into `results/` (made where it lacks), whole or not at all, and says where.
    ///
    /// # Errors
    /// [`JobError`] where the name is not one the program makes, the job is of a newer format, or the disk says no.
    pub fn write_result(&self, name: &str, bytes: &[u8]) -> Result<PathBuf, JobError> {
        if let Some(got) = self.newer_format {
            return Err(self.newer(got));
        }
        let file: FileName = name.parse().map_err(|_| JobError::Unfit {
            path: self.folder.join(RESULTS_FOLDER),
            what: format!("'{}' is not a valid name for a result", name.escape_debug()),
        })?;
        let folder = made_folder(&self.folder, RESULTS_FOLDER)?;
        let path = folder.join(file.as_str());
        replace_file(&path, bytes)?;
        Ok(path)
    }

    /// `clips/`, made where it lacks.
    pub(crate) fn clips_folder(&self) -> Result<PathBuf, JobError> {
        let path = self.folder.join(CLIPS_FOLDER);
        match path.symlink_metadata() {
            Ok(found) if found.is_dir() => Ok(path),
            Ok(_) => Err(not_a_folder(path)),
            Err(source) => Err(JobError::Disk { doing: "reading", path, source }),
        }
    }

    fn newer(&self, got: u32) -> JobError {
        JobError::NewerFormat { folder: self.folder.clone(), got, known: FORMAT }
    }
}

/// A job folder opened for writing: one at a time.
#[derive(Debug)]
pub struct JobWriter {
    job: Job,
    // Held until the writer is dropped.
    _lock: WriterLock,
}

impl Deref for JobWriter {
    type Target = Job;

    fn deref(&self) -> &Job {
        &self.job
    }
}

impl JobWriter {
    /// Starts a job: makes the folder (its parent must be there) with `job.toml` and `clips/`. `who` is the command.
    ///
    /// # Errors
    /// [`JobError`] where the record makes no sense, there is a job or foreign files already, or the disk says no;
    /// then nothing is left behind.
    pub fn create(folder: &Path, record: JobRecord, who: &str) -> Result<Self, JobError> {
        check(&record)?;
        let made = match fs::create_dir(folder) {
            Ok(()) => true,
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                check_empty(folder)?;
                false
            }
            Err(error) => return Err(error).doing("making the job folder", folder),
        };
        let done = Self::fill(folder, record, who);
        if done.is_err() && made {
            // Not with everything in it: another `new` may have been quicker. The first error is the one to tell.
            drop(fs::remove_dir(folder));
        }
        done
    }

    fn fill(folder: &Path, record: JobRecord, who: &str) -> Result<Self, JobError> {
        let lock = WriterLock::take(folder, who)?;
        if folder.join(JOB_FILE).symlink_metadata().is_ok() {
            return Err(JobError::AlreadyAJob { folder: folder.to_owned() });
        }
        let mut document = DocumentMut::new();
        document.decor_mut().set_prefix(HEAD);
        let made = made_folder(folder, CLIPS_FOLDER).and_then(|_| write(folder, document, record));
        match made {
            Ok(record) => {
                let job = Job { folder: folder.to_owned(), record, newer_format: None };
                Ok(Self { job, _lock: lock })
            }
            Err(error) => {
                // The first error is the one to tell; an empty folder left behind is none.
                drop(fs::remove_dir(folder.join(CLIPS_FOLDER)));
                lock.remove();
                Err(error)
            }
        }
    }

    /// Opens a job for writing and clears away what a killed import left. `who` is the command, told to others.
    ///
    /// # Errors
    /// [`JobError`] as [`Job::open`]; also where another program writes, the format is newer, or the folder is read-only.
    pub fn open(folder: &Path, who: &str) -> Result<Self, JobError> {
        // Look first: a folder that is no job gets no lock file.
        let job = Job::open(folder)?;
        if let Some(got) = job.newer_format {
            return Err(job.newer(got));
        }
        let lock = WriterLock::take(folder, who)?;
        made_folder(folder, CLIPS_FOLDER)?;
        // Read again: the one who held the lock may have written.
        let mut writer = Self { job: Job::open(folder)?, _lock: lock };
        writer.clear_dead_imports()?;
        clear_unfinished(&writer.folder.join(JOB_FILE))?;
        Ok(writer)
    }

    /// Changes the record: applied to what is on disk now (a hand may have edited it meanwhile), checked, then written
    /// as a whole. On any error nothing is changed.
    ///
    /// # Errors
    /// What `change` says; [`JobError`] where the outcome makes no sense or the disk says no.
    pub fn change<T>(&mut self, change: impl FnOnce(&mut JobRecord) -> Result<T, JobError>) -> Result<T, JobError> {
        let file = self.folder.join(JOB_FILE);
        let text = text_of(&self.folder)?;
        let Understood { mut record, newer_format } = read(&text, &file)?;
        if let Some(got) = newer_format {
            return Err(self.newer(got));
        }
        let before = record.clone();
        let told = change(&mut record)?;
        if record != before {
            check(&record)?;
            // It was read a moment ago, so it parses.
            let document: DocumentMut = text.parse().map_err(|error: toml_edit::TomlError| JobError::Unfit {
                path: file.clone(),
                what: error.message().to_owned(),
            })?;
            record = write(&self.folder, document, record)?;
        }
        self.job.record = record;
        Ok(told)
    }

    /// Keeps what the rig alone loses, in place of an earlier reading; that one stands among the amendments.
    ///
    /// # Errors
    /// [`JobError`] where the values cannot be or the supply is above the job's test pressure: nothing is kept then.
    pub fn set_rig(&mut self, reading: RigReading) -> Result<(), JobError> {
        self.change(|record| {
            check_supply(record, reading.value.supply_kpa(), &KeyPath::default().key("rig"))?;
            record.amended.extend(rig_amendment(record.rig.as_ref(), &reading));
            record.rig = Some(reading);
            Ok(())
        })
    }

    /// Writes down what was found when a cylinder was opened: the same path again takes the place of what was said of it.
    ///
    /// # Errors
    /// [`JobError`] where the cylinder cannot be, or the record cannot be written.
    pub fn add_found(&mut self, found: Found) -> Result<(), JobError> {
        self.change(|record| {
            record.found.retain(|other| (other.cylinder, other.path) != (found.cylinder, found.path));
            record.found.push(found);
            check(record)?;
            Ok(())
        })
    }

    /// Keeps how well the two gauges agree, and their class.
    ///
    /// # Errors
    /// [`JobError`] where the values cannot be or the supply is above the job's test pressure: nothing is kept then.
    pub fn set_gauges(&mut self, gauges: Gauges) -> Result<(), JobError> {
        self.change(|record| {
            check_supply(record, gauges.shut_supply_kpa, &KeyPath::default().key("gauges"))?;
            record.gauges = Some(gauges);
            Ok(())
        })
    }

    /// Adds a gauge reading; the last one of a cylinder counts, earlier ones stay.
    ///
    /// # Errors
    /// [`JobError`] where the cylinder or the values cannot be or the supply is above the job's test pressure: nothing
    /// is kept then. A reading that does not go with the rig's is kept; its assessment says so.
    pub fn add_gauge_reading(&mut self, reading: GaugeReading) -> Result<(), JobError> {
        self.add_gauge_readings(vec![reading])
    }

    /// Adds several readings at once, all or none.
    ///
    /// # Errors
    /// As [`JobWriter::add_gauge_reading`].
    pub fn add_gauge_readings(&mut self, readings: Vec<GaugeReading>) -> Result<(), JobError> {
        self.change(|record| {
            for reading in readings {
                let path = KeyPath::default().key("gauge").index(record.gauge.len());
                check_supply(record, reading.value.supply_kpa(), &path)?;
                record.gauge.push(reading);
            }
            Ok(())
        })
    }

    /// Keeps that the cautions were read and confirmed.
    ///
    /// # Errors
    /// [`JobError`] where the disk says no.
    pub fn confirm_cautions(&mut self, when: When) -> Result<(), JobError> {
        self.change(|record| {
            record.cautions_confirmed = Some(when);
            Ok(())
        })
    }

    /// Keeps that a step was left out, and why.
    ///
    /// # Errors
    /// [`JobError`] where the step cannot be, or the disk says no.
    pub fn skip(&mut self, step: SkippedStep) -> Result<(), JobError> {
        self.change(|record| {
            record.skipped.push(step);
            Ok(())
        })
    }

    /// Leaves a clip out of every ranking, and says why; `None` takes it in again. Its file stays.
    ///
    /// # Errors
    /// [`JobError`] where there is no such clip, or the disk says no.
    pub fn leave_out(&mut self, file: &FileName, reason: Option<String>) -> Result<(), JobError> {
        self.change(|record| {
            let at = record.clips.iter().position(|clip| clip.file == *file).ok_or_else(|| no_such_clip(file))?;
            let clip = &record.clips[at];
            // A reason says all there is to say; that it was taken back would be gone.
            if clip.left_out.is_none() {
                record.clips[at].left_out = reason;
                return Ok(());
            }
            let subject = clip.subject.clone();
            set_clip(record, at, subject, reason, &When::now())
        })
    }
}

pub(crate) fn no_such_clip(file: &FileName) -> JobError {
    Fault::new(KeyPath::default().key("clip"), format!("'{file}' is not listed in job.toml")).into()
}

/// Writes the record into the document and the document to disk; gives back the record as it will be read.
fn write(folder: &Path, mut document: DocumentMut, record: JobRecord) -> Result<JobRecord, JobError> {
    let file = folder.join(JOB_FILE);
    merge(&mut document, layout_of(&record));
    let text = document.to_string();
    // What cannot be read back the same must not replace what can.
    let Understood { record: again, .. } = read(&text, &file)?;
    if again != record {
        let what =
            "the change does not fit into the file as it was edited: write its lists as [[gauge]] and [[clip]] entries";
        return Err(JobError::Unfit { path: file, what: what.to_owned() });
    }
    replace_file(&file, text.as_bytes())?;
    Ok(again)
}
