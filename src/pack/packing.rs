//! A job's folder to a pack.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use super::content::{Measured, copy};
use super::envelope::{self, Entry, MOST_BYTES, MOST_FILES};
use super::error::{Doing, PackError};
use super::manifest::{MANIFEST_FILE, Manifest};
use super::name::EntryName;
use super::signing::{PUBLIC_KEY_FILE, SIGNATURE_FILE, SigningKey};
use super::verifying::{Verified, verify_pack};
use crate::job::{CLIPS_FOLDER, FileState, JOB_FILE, Job, RESULTS_FOLDER, UNFINISHED, When};

/// What became of a pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Packed {
    /// Where it is.
    pub path: PathBuf,
    /// How many files are in it, the manifest and its signature among them.
    pub files: usize,
    /// Its size.
    pub bytes: u64,
    /// The number of the key it was signed with.
    pub signed_by: Option<String>,
    /// A pack of the very same content was there already.
    pub was_there: bool,
}

/// Where the bytes of an entry come from.
enum Source {
    File(PathBuf),
    Text(String),
}

/// Packs a job: `job.toml`, `clips/`, `results/` and a manifest, signed where there is a key. Same content, same
/// bytes, but for the signature. The file is put in place as a whole, and never over another one.
///
/// # Errors
/// [`PackError`] where a clip is not as it was recorded, a file cannot be packed, or the disk says no.
pub fn pack(job: &Job, to: &Path, key: Option<&SigningKey>, now: &When) -> Result<Packed, PackError> {
    check_clips(job)?;
    let mut sources = files(job)?;
    if let Some(key) = key {
        sources.insert(known(PUBLIC_KEY_FILE)?, Source::Text(key.public().text()?));
    }
    let mut measured = measure(&sources)?;
    let manifest = Manifest { files: measured.iter().map(|(name, found)| (name.clone(), found.sha256)).collect() };
    let text = manifest.text();
    if let Some(key) = key {
        let comment = format!("hissward evidence of {} files, signed {now}", manifest.files.len());
        sources.insert(known(SIGNATURE_FILE)?, Source::Text(key.sign(&text, &comment)?));
    }
    sources.insert(known(MANIFEST_FILE)?, Source::Text(text));
    measured.extend(measure(&of_manifest(&sources)?)?);
    let entries: Vec<Entry> = measured
        .iter()
        .map(|(name, found)| Entry { name: name.to_string(), bytes: found.bytes, crc32: found.crc32 })
        .collect();
    let bytes = envelope::length(&entries);
    if bytes > MOST_BYTES || entries.len() > MOST_FILES {
        let what =
            format!("a pack of {bytes} bytes in {} files is too large (at most {MOST_BYTES} bytes)", entries.len());
        return Err(PackError::Unfit { path: job.folder().to_owned(), what });
    }
    let was_there = put(to, &entries, &sources, &measured)?;
    let signed_by = key.map(|key| key.public().id());
    Ok(Packed { path: to.to_owned(), files: entries.len(), bytes, signed_by, was_there })
}

/// The manifest and its signature, which stand in no manifest.
fn of_manifest(sources: &BTreeMap<EntryName, Source>) -> Result<BTreeMap<EntryName, Source>, PackError> {
    let mut own = BTreeMap::new();
    for name in [known(MANIFEST_FILE)?, known(SIGNATURE_FILE)?] {
        if let Some(Source::Text(text)) = sources.get(&name) {
            own.insert(name, Source::Text(text.clone()));
        }
    }
    Ok(own)
}

fn known(name: &str) -> Result<EntryName, PackError> {
    name.parse().map_err(|error| unfit(Path::new(name), &error))
}

fn unfit(path: &Path, error: &dyn std::fmt::Display) -> PackError {
    PackError::Unfit { path: path.to_owned(), what: error.to_string() }
}

/// Whether every clip is what `job.toml` says.
fn check_clips(job: &Job) -> Result<(), PackError> {
    for found in job.verify_clips() {
        let path = job.folder().join(CLIPS_FOLDER).join(found.file.as_str());
        // One that is gone and left out stands in job.toml with the reason.
        let left_out = || job.record().clips.iter().any(|clip| clip.file == found.file && clip.left_out.is_some());
        match found.verdict {
            FileState::Intact => {}
            FileState::Missing if left_out() => {}
            FileState::Altered { .. } => return Err(PackError::NotAsRecorded { path, what: "it was altered" }),
            FileState::Missing => return Err(PackError::NotAsRecorded { path, what: "it is missing" }),
            FileState::Unreadable(source) => return Err(PackError::Disk { doing: "reading the clip", path, source }),
        }
    }
    Ok(())
}

/// The files of a job by their names in the pack. Locks, leftovers and anything beside are no part of it.
fn files(job: &Job) -> Result<BTreeMap<EntryName, Source>, PackError> {
    let mut found = BTreeMap::new();
    let record = job.folder().join(JOB_FILE);
    found.insert(known(JOB_FILE)?, Source::File(record));
    for folder in [CLIPS_FOLDER, RESULTS_FOLDER] {
        let path = job.folder().join(folder);
        let listing = match fs::read_dir(&path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => continue,
            other => other.doing("listing", &path)?,
        };
        for file in listing {
            let file = file.doing("listing", &path)?;
            let name = file.file_name().to_string_lossy().into_owned();
            // What is being recorded or taken in, or was when a program was killed, is no part of the job yet.
            if name.starts_with('.') || (folder == CLIPS_FOLDER && name.ends_with(UNFINISHED)) {
                continue;
            }
            let path = file.path();
            if !file.file_type().doing("looking at", &path)?.is_file() {
                let what = "is not a plain file, and a pack holds nothing else: move it out of the job".to_owned();
                return Err(PackError::Unfit { path, what });
            }
            let name = format!("{folder}/{name}").parse().map_err(|error| unfit(&path, &error))?;
            found.insert(name, Source::File(path));
        }
    }
    Ok(found)
}

fn measure(sources: &BTreeMap<EntryName, Source>) -> Result<BTreeMap<EntryName, Measured>, PackError> {
    sources.iter().map(|(name, source)| Ok((name.clone(), send(source, &mut io::sink())?))).collect()
}

/// Writes a source's bytes and says what they were.
fn send(source: &Source, out: &mut dyn Write) -> Result<Measured, PackError> {
    match source {
        Source::File(path) => {
            let mut file = match File::open(path) {
                // It was there a moment ago.
                Err(error) if error.kind() == io::ErrorKind::NotFound => {
                    return Err(PackError::Changed { path: path.clone() });
                }
                other => other.doing("reading", path)?,
            };
            copy(&mut file, out).doing("packing", path)
        }
        Source::Text(text) => copy(&mut text.as_bytes(), out).doing("packing", MANIFEST_FILE),
    }
}

/// Writes the pack beside its place and puts it there; says whether the same was there already.
fn put(
    to: &Path,
    entries: &[Entry],
    sources: &BTreeMap<EntryName, Source>,
    measured: &BTreeMap<EntryName, Measured>,
) -> Result<bool, PackError> {
    let folder = to.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut new = tempfile::Builder::new().prefix(".new-").tempfile_in(folder).doing("making the pack", to)?;
    {
        let mut out = BufWriter::new(new.as_file_mut());
        let mut content = |entry: &Entry, out: &mut dyn Write| {
            let name = known(&entry.name)?;
            let source = sources.get(&name).ok_or_else(|| unfit(Path::new(&entry.name), &"it is gone"))?;
            let now = send(source, out)?;
            match source {
                Source::File(path) if measured.get(&name) != Some(&now) => {
                    Err(PackError::Changed { path: path.clone() })
                }
                _ => Ok(()),
            }
        };
        let failed = |source| PackError::Disk { doing: "writing the pack", path: to.to_owned(), source };
        envelope::write(&mut out, entries, &mut content, &failed)?;
        out.flush().doing("writing the pack", to)?;
    }
    new.as_file().sync_all().doing("writing the pack", to)?;
    if to.symlink_metadata().is_ok() {
        // A signature differs each time it is made; what it signs does not.
        let manifest =
            |path: &Path| verify_pack(path, None).ok().filter(Verified::intact).and_then(|found| found.manifest);
        let there = manifest(to);
        return if there.is_some() && there == manifest(new.path()) {
            Ok(true)
        } else {
            Err(PackError::Exists { path: to.to_owned() })
        };
    }
    // Files made for a moment are their owner's alone; a pack is to be read by others.
    #[cfg(unix)]
    new.as_file().set_permissions(std::os::unix::fs::PermissionsExt::from_mode(0o644)).doing("writing the pack", to)?;
    match new.persist_noclobber(to) {
        Ok(_) => Ok(false),
        Err(error) if error.error.kind() == io::ErrorKind::AlreadyExists => {
            Err(PackError::Exists { path: to.to_owned() })
        }
        Err(error) => Err(error.error).doing("putting the pack in place", to),
    }
}
