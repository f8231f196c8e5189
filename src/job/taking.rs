//! Clips come in: a place is reserved in `job.toml`, the file is written beside its name, then both become final.
//!
//! 1. `[[pending]]` says what is coming.
//! 2. The sound is written to `NAME.part`.
//! 3. The part is synced and hashed, and gets its name.
//! 4. One replacement of `job.toml` turns the pending entry into a clip.
//!
//! A program killed anywhere in between leaves an entry that the next one finds.

use std::collections::BTreeSet;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use crate::job::checks::check_subject;
use crate::job::error::{Doing, JobError, KeyPath};
use crate::job::hash::{Hasher, Sha256, sha256_of_file};
use crate::job::names::FileName;
use crate::job::record::{ClipRecord, Import, JobRecord, Original, PendingClip, PendingKind, Subject};
use crate::job::replace::put_in_place;
use crate::job::store::{JobWriter, no_such_clip};
use crate::job::when::When;

/// Copied at a time, bytes.
const BLOCK_BYTES: usize = 256 * 1024;
/// Kept of an outside file's name, characters.
const LONGEST_OUTSIDE_NAME: usize = 200;

/// A clip about to be recorded.
#[derive(Debug, Clone, PartialEq)]
pub struct RecordingPlan {
    /// What it is of.
    pub subject: Subject,
    /// Its place in the order of work, where it has one.
    pub visit: Option<u32>,
    /// The moment it begins.
    pub since: When,
    /// The microphone.
    pub device: Option<String>,
    /// Processing of the sound that the phone did not switch off: `echo`, `noise`, `gain`, or `unknown`, with spaces between.
    pub processing: Option<String>,
    /// The channel at the opening, counted from 1.
    pub channel: u32,
    /// The channel of a second microphone a step away.
    pub far_channel: Option<u32>,
}

/// A file about to be taken in.
#[derive(Debug, Clone, PartialEq)]
pub struct ImportPlan {
    /// Where it is.
    pub source: PathBuf,
    /// What it is of.
    pub subject: Subject,
    /// Its place in the order of work, where it has one.
    pub visit: Option<u32>,
    /// Now.
    pub when: When,
    /// It is a WAV and becomes the clip as it is, byte for byte; else it is kept as the original beside a decoded WAV.
    pub as_it_is: bool,
    /// The channel at the opening, counted from 1.
    pub channel: u32,
    /// The channel of a second microphone a step away.
    pub far_channel: Option<u32>,
    /// Somebody chose the one channel: others in the file are not asked.
    pub one_channel: bool,
    /// What the file says of the recorder that made it.
    pub made_with: MadeWith,
}

/// What a file says of the recorder that made it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MadeWith {
    /// Maker and model.
    pub device: Option<String>,
    /// The program, and its settings.
    pub application: Option<String>,
    /// The coding, where that throws sound away.
    pub coding: Option<String>,
}

/// A reserved place for a clip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// The name that the clip will have.
    pub file: FileName,
    /// Which repeat it is.
    pub take: u32,
    path: PathBuf,
    original: Option<PathBuf>,
}

impl Slot {
    /// Where the WAV is to be written. For an import that is taken as it is the copy is there already.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The copy of the original, from which an import is to be decoded; `None` where the clip is the original.
    #[must_use]
    pub fn original(&self) -> Option<&Path> {
        self.original.as_deref()
    }
}

/// What was found out about a clip while it was written or read.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// How long it is.
    pub seconds: f64,
    /// Samples per second.
    pub sample_rate_hz: u32,
    /// Channels in the WAV.
    pub channels: u32,
    /// Recording ended before its time.
    pub cut_short: bool,
    /// How often the sound card had sound that was lost.
    pub overruns: u32,
}

impl JobWriter {
    /// Reserves a place for a clip from the microphone.
    ///
    /// # Errors
    /// [`JobError`] where the subject cannot be, or the disk says no.
    pub fn start_recording(&mut self, plan: RecordingPlan) -> Result<Slot, JobError> {
        let clips = self.clips_folder()?;
        self.change(|record| {
            let (file, take) = free_name(record, &plan.subject, None, &clips)?;
            record.pending.push(PendingClip {
                kind: PendingKind::Recording,
                file: file.clone(),
                original_file: None,
                subject: plan.subject,
                take,
                visit: plan.visit,
                since: plan.since,
                channel: plan.channel,
                far_channel: plan.far_channel,
                device: plan.device,
                processing: plan.processing,
            });
            Ok(Slot { path: clips.join(file.unfinished()), file, take, original: None })
        })
    }

    /// Makes a recorded clip final. Also for one that a killed program left ([`Self::leftovers`]).
    ///
    /// # Errors
    /// [`JobError`] where no such clip is pending, it has no file, its measures cannot be, or the disk says no;
    /// then what was recorded stays where it is and is found again at the next start.
    pub fn finish_recording(&mut self, file: &FileName, measured: &Measured) -> Result<ClipRecord, JobError> {
        let pending = self.pending_recording(file)?;
        let path = self.begun_file(file)?.ok_or_else(|| JobError::Unfit {
            path: self.folder().join(file.as_str()),
            what: "nothing was recorded: record it again".to_owned(),
        })?;
        sync(&path)?;
        let sha256 = sha256_of_file(&path).doing("reading the recording", &path)?;
        put_under_name(&path, file)?;
        let clip = clip_of(&pending, measured, sha256, None);
        self.change(|record| {
            settle(record, std::slice::from_ref(&clip));
            Ok(())
        })?;
        Ok(clip)
    }

    /// Throws away a recording that was begun.
    ///
    /// # Errors
    /// [`JobError`] where no such clip is pending, or the disk says no.
    pub fn discard_recording(&mut self, file: &FileName) -> Result<(), JobError> {
        let pending = self.pending_recording(file)?;
        self.clear_pending(&[pending])
    }

    /// Takes in files recorded elsewhere: all of them or, on any error, none.
    ///
    /// Each source is copied and hashed first. Then `decode` is asked, once a file: it reads [`Slot::original`] and writes
    /// the WAV to [`Slot::path`], or only measures what is at [`Slot::path`] where the file is taken as it is.
    ///
    /// # Errors
    /// What `decode` says; [`JobError`] where a subject cannot be, a source cannot be read, or the disk says no.
    pub fn import<E: From<JobError>>(
        &mut self,
        plans: &[ImportPlan],
        mut decode: impl FnMut(&ImportPlan, &Slot) -> Result<Measured, E>,
    ) -> Result<Vec<ClipRecord>, E> {
        let reserved = self.reserve_imports(plans)?;
        let mut clips = Vec::new();
        let mut take_in = || -> Result<(), E> {
            for (plan, (pending, slot)) in plans.iter().zip(&reserved) {
                let copy = slot.original.as_deref().unwrap_or(&slot.path);
                let copied = copy_hashed(&plan.source, copy)?;
                let measured = decode(plan, slot)?;
                clips.push(finished_import(plan, pending, slot, copied, &measured)?);
            }
            Ok(())
        };
        let done = take_in().and_then(|()| {
            Ok(self.change(|record| {
                settle(record, &clips);
                Ok(())
            })?)
        });
        if let Err(error) = done {
            let pending: Vec<PendingClip> = reserved.into_iter().map(|(pending, _)| pending).collect();
            // The first error is the one to tell. What could not be cleared now is cleared at the next start.
            drop(self.clear_pending(&pending));
            return Err(error);
        }
        Ok(clips)
    }

    fn reserve_imports(&mut self, plans: &[ImportPlan]) -> Result<Vec<(PendingClip, Slot)>, JobError> {
        let clips = self.clips_folder()?;
        self.change(|record| {
            let mut reserved = Vec::new();
            for plan in plans {
                let ending = plan.source.extension().map(|ending| ending.to_string_lossy().into_owned());
                let ending = (!plan.as_it_is).then(|| ending.unwrap_or_default());
                let (file, take) = free_name(record, &plan.subject, ending.as_deref(), &clips)?;
                let original_file = ending.map(|ending| file.of_original(&ending));
                let slot = Slot {
                    path: clips.join(file.unfinished()),
                    original: original_file.as_ref().map(|original| clips.join(original.unfinished())),
                    file: file.clone(),
                    take,
                };
                let pending = PendingClip {
                    kind: PendingKind::Import,
                    file,
                    original_file,
                    subject: plan.subject.clone(),
                    take,
                    visit: plan.visit,
                    since: plan.when.clone(),
                    channel: plan.channel,
                    far_channel: plan.far_channel,
                    device: plan.made_with.device.clone(),
                    processing: None,
                };
                record.pending.push(pending.clone());
                reserved.push((pending, slot));
            }
            Ok(reserved)
        })
    }

    fn pending_recording(&self, file: &FileName) -> Result<PendingClip, JobError> {
        let found = self.record().pending.iter().find(|pending| pending.file == *file);
        found.filter(|pending| pending.kind == PendingKind::Recording).cloned().ok_or_else(|| no_such_clip(file))
    }
}

/// The next take whose names nothing has, neither in `job.toml` nor on disk.
fn free_name(
    record: &JobRecord,
    subject: &Subject,
    original_ending: Option<&str>,
    clips: &Path,
) -> Result<(FileName, u32), JobError> {
    check_subject(subject, record, &KeyPath::default())?;
    let listed = record.clips.iter().map(|clip| (&clip.subject, clip.take));
    let coming = record.pending.iter().map(|pending| (&pending.subject, pending.take));
    let taken: BTreeSet<u32> =
        listed.chain(coming).filter(|(other, _)| *other == subject).map(|(_, take)| take).collect();
    let mut take = taken.last().map_or(1, |last| last.saturating_add(1));
    loop {
        let file = FileName::of_clip(subject.cylinder, &subject.opening, subject.air, take);
        let original = original_ending.map(|ending| file.of_original(ending));
        let names = std::iter::once(&file).chain(&original);
        // A clip that was assigned to another place keeps its file's name, also where that file is gone.
        let is_listed = names.clone().any(|name| record.clips.iter().any(|clip| clip.file == *name));
        let mut paths = names.flat_map(|name| [clips.join(name.as_str()), clips.join(name.unfinished())]);
        if !is_listed
            && paths.all(|path| path.symlink_metadata().is_err_and(|error| error.kind() == io::ErrorKind::NotFound))
        {
            return Ok((file, take));
        }
        take = take.saturating_add(1);
    }
}

fn finished_import(
    plan: &ImportPlan,
    pending: &PendingClip,
    slot: &Slot,
    copied: Sha256,
    measured: &Measured,
) -> Result<ClipRecord, JobError> {
    let mut sha256 = copied;
    let mut original = None;
    if let (Some(path), Some(file)) = (&slot.original, &pending.original_file) {
        sync(&slot.path)?;
        sha256 = sha256_of_file(&slot.path).doing("reading the decoded clip", &slot.path)?;
        put_under_name(path, file)?;
        original = Some(Original { file: file.clone(), sha256: copied });
    }
    put_under_name(&slot.path, &slot.file)?;
    let import = Import { when: plan.when.clone(), name: outside_name(&plan.source), original };
    Ok(ClipRecord {
        one_channel: plan.one_channel,
        application: plan.made_with.application.clone(),
        coding: plan.made_with.coding.clone(),
        ..clip_of(pending, measured, sha256, Some(import))
    })
}

fn clip_of(pending: &PendingClip, measured: &Measured, sha256: Sha256, import: Option<Import>) -> ClipRecord {
    ClipRecord {
        file: pending.file.clone(),
        subject: pending.subject.clone(),
        take: pending.take,
        visit: pending.visit,
        // When a file from elsewhere was recorded nobody knows: its time on disk is that of some copy.
        recorded: import.is_none().then(|| pending.since.clone()),
        seconds: measured.seconds,
        sample_rate_hz: measured.sample_rate_hz,
        channels: measured.channels,
        channel: pending.channel,
        far_channel: pending.far_channel,
        one_channel: false,
        device: pending.device.clone(),
        application: None,
        coding: None,
        processing: pending.processing.clone(),
        sha256,
        cut_short: measured.cut_short,
        overruns: measured.overruns,
        left_out: None,
        import,
    }
}

/// Pending clips become clips.
fn settle(record: &mut JobRecord, clips: &[ClipRecord]) {
    record.pending.retain(|pending| !clips.iter().any(|clip| clip.file == pending.file));
    record.clips.extend_from_slice(clips);
}

/// The name of an outside file as text for people: never a path, nothing that steers a terminal.
fn outside_name(source: &Path) -> String {
    let name = source.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    name.chars().filter(|c| !c.is_control()).take(LONGEST_OUTSIDE_NAME).collect()
}

fn sync(path: &Path) -> Result<(), JobError> {
    OpenOptions::new().append(true).open(path).and_then(|file| file.sync_all()).doing("saving the clip", path)
}

/// Gives an unfinished file its name, and never that of a file that is there.
fn put_under_name(path: &Path, file: &FileName) -> Result<(), JobError> {
    let name = path.with_file_name(file.as_str());
    if path == name {
        return Ok(());
    }
    if name.symlink_metadata().is_ok() {
        let what = "is there already, and a clip is never overwritten: move that file out of clips/".to_owned();
        return Err(JobError::Unfit { path: name, what });
    }
    put_in_place(path, &name)
}

fn copy_hashed(source: &Path, copy: &Path) -> Result<Sha256, JobError> {
    if fs::metadata(source).doing("reading", source)?.is_dir() {
        let what = "is a folder: name the recordings in it".to_owned();
        return Err(JobError::Unfit { path: source.to_owned(), what });
    }
    let mut from = File::open(source).doing("reading", source)?;
    let mut to = OpenOptions::new().write(true).create_new(true).open(copy).doing("copying into the job", copy)?;
    let mut hasher = Hasher::default();
    let mut block = vec![0; BLOCK_BYTES];
    loop {
        let got = match from.read(&mut block) {
            Ok(0) => break,
            Ok(got) => got,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(error).doing("reading", source),
        };
        hasher.take(&block[..got]);
        to.write_all(&block[..got]).doing("copying into the job", copy)?;
    }
    to.sync_all().doing("copying into the job", copy)?;
    Ok(hasher.finish())
}
