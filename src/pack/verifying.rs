//! Whether a pack or a folder is what it was: every difference named.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::{self, BufReader, Read, Seek, SeekFrom, Write};
use std::path::Path;

use super::content::{Comparing, Measured, copy};
use super::envelope::{self, Entry, Found};
use super::error::{Doing, PackError};
use super::manifest::{MANIFEST_FILE, Manifest};
use super::name::EntryName;
use super::signing::{PUBLIC_KEY_FILE, PublicKey, SIGNATURE_FILE};
use crate::job::{CLIPS_FOLDER, FileState, Job, RESULTS_FOLDER, Sha256, UNFINISHED};

/// The longest manifest or signature that is read, bytes.
const LONGEST_TEXT: u64 = 32 * 1024 * 1024;

/// What is not as it was.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Difference {
    /// A file whose content is another.
    Altered(String),
    /// A file that is gone.
    Missing(String),
    /// A file that was not there, or a name that none can have.
    Added(String),
    /// A file that is there a second time.
    Twice(String),
    /// The archive's structure, at a byte counted from 0.
    Structure(u64),
    /// The manifest, and what is wrong with it.
    Manifest(String),
    /// The signature, and what is wrong with it.
    Signature(String),
}

/// What a signature proves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Signature {
    /// There is none: an accident shows, a forger who makes the manifest anew does not.
    None,
    /// It holds, with the key that is in the pack itself: who that is has to be known from elsewhere.
    OwnKey {
        /// The key's number.
        key: String,
        /// What was signed with it.
        comment: String,
    },
    /// It holds, with the key that was asked for.
    AskedKey {
        /// The key's number.
        key: String,
        /// What was signed with it.
        comment: String,
    },
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verified {
    /// Files that were held against their hash.
    pub files: usize,
    /// The manifest; `None` for a job folder without one, held against `job.toml` alone.
    pub manifest: Option<Manifest>,
    /// What is not as it was.
    pub differences: Vec<Difference>,
    /// What the signature proves, where nothing differs in it.
    pub signature: Signature,
}

impl Verified {
    /// Whether nothing differs.
    #[must_use]
    pub fn intact(&self) -> bool {
        self.differences.is_empty()
    }
}

/// Holds a pack against its manifest, its signature and the one form in which packs are written.
///
/// # Errors
/// [`PackError`] where the file cannot be read or is no pack.
pub fn verify_pack(path: &Path, key: Option<&PublicKey>) -> Result<Verified, PackError> {
    let mut file = File::open(path).doing("opening the pack", path)?;
    let (mut found, broken_at) = envelope::follow(&mut file).doing("reading the pack", path)?;
    if found.is_empty() {
        // Altered in its first bytes: the directory at its end still shows what it was.
        found = envelope::by_directory(&mut file).doing("reading the pack", path)?.unwrap_or_default();
    }
    if found.is_empty() {
        let what = "is not a pack made by this program: where another program made it, unpack it and verify the folder";
        return Err(PackError::NoPack { path: path.to_owned(), what: what.to_owned() });
    }
    let mut differences: Vec<Difference> = broken_at.map(Difference::Structure).into_iter().collect();
    let mut files: BTreeMap<EntryName, Measured> = BTreeMap::new();
    let mut entries = Vec::new();
    for found in &found {
        let measured = measured(&mut file, found).doing("reading the pack", path)?;
        let name = String::from_utf8_lossy(&found.name).into_owned();
        entries.push(Entry { name: name.clone(), bytes: measured.bytes, crc32: measured.crc32 });
        match name.parse::<EntryName>() {
            Err(_) => differences.push(Difference::Added(name.escape_debug().to_string())),
            Ok(name) if files.contains_key(&name) => differences.push(Difference::Twice(name.to_string())),
            Ok(name) => drop(files.insert(name, measured)),
        }
    }
    let texts = [MANIFEST_FILE, SIGNATURE_FILE, PUBLIC_KEY_FILE].map(|wanted| {
        let found = found.iter().find(|found| found.name == wanted.as_bytes())?;
        text_of(&mut file, found)
    });
    let hashes = files.iter().map(|(name, found)| (name.clone(), found.sha256)).collect();
    let mut verified = held(hashes, texts, key);
    // The structure is known only where the files are: an altered file has another checksum in its header.
    if differences.is_empty() && verified.intact() {
        differences.extend(structure(path, &mut file, &entries, &found)?.map(Difference::Structure));
    }
    verified.differences.splice(0..0, differences);
    Ok(verified)
}

/// Holds a folder against its manifest, where it was unpacked from a pack, and its clips against `job.toml`.
///
/// # Errors
/// [`PackError`] where it is no job or cannot be read.
pub fn verify_folder(folder: &Path, key: Option<&PublicKey>) -> Result<Verified, PackError> {
    let job = Job::open(folder)?;
    let mut verified = if folder.join(MANIFEST_FILE).symlink_metadata().is_ok() {
        let (files, unfit) = files_of(folder)?;
        let texts =
            [text_in(folder, MANIFEST_FILE)?, text_in(folder, SIGNATURE_FILE)?, text_in(folder, PUBLIC_KEY_FILE)?];
        let mut verified = held(files, texts, key);
        verified.differences.extend(unfit);
        verified
    } else {
        Verified { files: 0, manifest: None, differences: Vec::new(), signature: Signature::None }
    };
    let mut of_record = unlisted(&job)?;
    for clip in job.verify_clips() {
        let name = format!("{CLIPS_FOLDER}/{}", clip.file);
        if verified.manifest.is_none() {
            verified.files += 1;
        }
        match clip.verdict {
            FileState::Intact => {}
            FileState::Altered { .. } => of_record.push(Difference::Altered(name)),
            FileState::Missing => of_record.push(Difference::Missing(name)),
            FileState::Unreadable(source) => {
                return Err(PackError::Disk { doing: "reading the clip", path: folder.join(name), source });
            }
        }
    }
    of_record.retain(|difference| !verified.differences.contains(difference));
    verified.differences.extend(of_record);
    Ok(verified)
}

/// Files in `clips/` that `job.toml` does not list. What is being recorded or taken in is listed as pending.
fn unlisted(job: &Job) -> Result<Vec<Difference>, PackError> {
    let record = job.record();
    let clips = record.clips.iter().flat_map(|clip| {
        let original = clip.import.as_ref().and_then(|import| import.original.as_ref());
        [Some(&clip.file), original.map(|original| &original.file)]
    });
    let pending = record.pending.iter().flat_map(|pending| [Some(&pending.file), pending.original_file.as_ref()]);
    let listed: BTreeSet<&str> = clips.chain(pending).flatten().map(|file| file.as_str()).collect();
    let folder = job.folder().join(CLIPS_FOLDER);
    let mut added = BTreeSet::new();
    for name in names_in(&folder)? {
        let own = name.starts_with('.') || name.ends_with(UNFINISHED);
        if !own && !listed.contains(name.as_str()) {
            added.insert(name);
        }
    }
    Ok(added.into_iter().map(|name| Difference::Added(format!("{CLIPS_FOLDER}/{}", name.escape_debug()))).collect())
}

fn names_in(folder: &Path) -> Result<Vec<String>, PackError> {
    let listing = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.doing("listing", folder)?,
    };
    let name = |file: io::Result<fs::DirEntry>| Ok(file.doing("listing", folder)?.file_name().to_string_lossy().into());
    listing.map(name).collect()
}

/// Holds a job's folder against a pack that was made of it earlier: what was altered, taken out or added since.
///
/// # Errors
/// [`PackError`] where the folder is no job, the pack cannot be read or is itself not intact.
pub fn verify_against(folder: &Path, pack: &Path, key: Option<&PublicKey>) -> Result<Verified, PackError> {
    Job::open(folder)?;
    let packed = verify_pack(pack, key)?;
    let Some(mut known) = packed.manifest.clone().filter(|_| packed.intact()) else {
        let what = "is itself not intact: 'hissward verify' with it alone names what; take another pack of the job";
        return Err(PackError::Unfit { path: pack.to_owned(), what: what.to_owned() });
    };
    let (mut files, unfit) = files_of(folder)?;
    // A pack's own files stand in a folder only where it was unpacked.
    let own = |name: &EntryName| [MANIFEST_FILE, SIGNATURE_FILE, PUBLIC_KEY_FILE].contains(&name.as_str());
    files.retain(|name, _| !own(name) && !name.as_str().ends_with(UNFINISHED));
    known.files.retain(|name, _| !own(name));
    let mut differences = between(&known, &files);
    differences.extend(unfit);
    Ok(Verified { files: files.len(), manifest: Some(known), differences, signature: packed.signature })
}

/// Where files are not as a manifest says.
fn between(known: &Manifest, files: &BTreeMap<EntryName, Sha256>) -> Vec<Difference> {
    let gone = known.files.iter().filter_map(|(name, hash)| match files.get(name) {
        None => Some(Difference::Missing(name.to_string())),
        Some(found) if found != hash => Some(Difference::Altered(name.to_string())),
        Some(_) => None,
    });
    let added = files.keys().filter(|name| !known.files.contains_key(*name));
    gone.chain(added.map(|name| Difference::Added(name.to_string()))).collect()
}

/// Files with their hashes against the texts of manifest, signature and public key.
fn held(mut files: BTreeMap<EntryName, Sha256>, texts: [Option<String>; 3], key: Option<&PublicKey>) -> Verified {
    let [manifest, signature, public] = texts;
    let own = |name: &EntryName| [MANIFEST_FILE, SIGNATURE_FILE].contains(&name.as_str());
    files.retain(|name, _| !own(name));
    let mut differences = Vec::new();
    let read = manifest.as_deref().map(Manifest::read);
    let known = match &read {
        None => {
            differences.push(Difference::Missing(MANIFEST_FILE.to_owned()));
            None
        }
        Some(Err(what)) => {
            differences.push(Difference::Manifest(what.clone()));
            None
        }
        Some(Ok(known)) => Some(known.clone()),
    };
    differences.extend(known.iter().flat_map(|known| between(known, &files)));
    let proof = proof(manifest.as_deref(), signature.as_deref(), public.as_deref(), key);
    let signature = proof.unwrap_or_else(|what| {
        differences.push(Difference::Signature(what));
        Signature::None
    });
    Verified { files: files.len(), manifest: known, differences, signature }
}

/// What the signature proves, or why it does not.
fn proof(
    manifest: Option<&str>,
    signature: Option<&str>,
    public: Option<&str>,
    asked: Option<&PublicKey>,
) -> Result<Signature, String> {
    let (Some(manifest), Some(signature)) = (manifest, signature) else {
        return match (asked, public) {
            (None, None) => Ok(Signature::None),
            (Some(key), _) => Err(format!("there is none, and it was to be of the key {}", key.id())),
            (None, Some(_)) => Err("there is none, though a key is in it".to_owned()),
        };
    };
    let own = public.map(PublicKey::of_text).transpose().map_err(|_| "the key in it cannot be read".to_owned())?;
    match (asked, own) {
        (Some(key), _) => key.holds(manifest, signature).map(|comment| Signature::AskedKey { key: key.id(), comment }),
        (None, Some(key)) => key.holds(manifest, signature).map(|comment| Signature::OwnKey { key: key.id(), comment }),
        (None, None) => Err("the key that it was made with is not in it: give it with --key".to_owned()),
    }
}

/// A text beside an unpacked job's files; `None` where it is not there. One that is no text is altered, not absent: it comes
/// back empty, as out of a pack.
fn text_in(folder: &Path, name: &str) -> Result<Option<String>, PackError> {
    let path = folder.join(name);
    match fs::read(&path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        other => Ok(Some(String::from_utf8(other.doing("reading", &path)?).unwrap_or_default())),
    }
}

/// The files of an unpacked folder with their hashes, and what no pack can hold.
fn files_of(folder: &Path) -> Result<(BTreeMap<EntryName, Sha256>, Vec<Difference>), PackError> {
    let mut files = BTreeMap::new();
    let mut unfit = Vec::new();
    for part in ["", CLIPS_FOLDER, RESULTS_FOLDER] {
        let path = folder.join(part);
        let listing = match fs::read_dir(&path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => continue,
            other => other.doing("listing", &path)?,
        };
        for file in listing {
            let file = file.doing("listing", &path)?;
            let name = file.file_name().to_string_lossy().into_owned();
            let kind = file.file_type().doing("looking at", file.path())?;
            // Locks and leftovers are the program's own; the two folders are listed themselves.
            if name.starts_with('.') || (part.is_empty() && [CLIPS_FOLDER, RESULTS_FOLDER].contains(&name.as_str())) {
                continue;
            }
            let name = if part.is_empty() { name } else { format!("{part}/{name}") };
            match name.parse::<EntryName>() {
                Ok(entry) if kind.is_file() => {
                    let hash = crate::job::sha256_of_file(&file.path()).doing("reading", file.path())?;
                    files.insert(entry, hash);
                }
                _ => unfit.push(Difference::Added(name.escape_debug().to_string())),
            }
        }
    }
    Ok((files, unfit))
}

/// One file's content in the pack.
fn content<'a>(file: &'a mut File, found: &Found) -> io::Result<io::Take<&'a mut File>> {
    file.seek(SeekFrom::Start(found.offset))?;
    Ok(file.take(found.bytes))
}

fn measured(file: &mut File, found: &Found) -> io::Result<Measured> {
    copy(&mut content(file, found)?, &mut io::sink())
}

/// A file's content as text; what is too long or no text is no manifest.
pub(super) fn text_of(file: &mut File, found: &Found) -> Option<String> {
    if found.bytes > LONGEST_TEXT {
        return Some(String::new());
    }
    let mut bytes = Vec::new();
    let read = content(file, found).and_then(|mut content| content.read_to_end(&mut bytes));
    read.ok().map(|_| String::from_utf8(bytes).unwrap_or_default())
}

/// Where the pack differs from the one form in which these files are written, if anywhere.
fn structure(path: &Path, file: &mut File, entries: &[Entry], found: &[Found]) -> Result<Option<u64>, PackError> {
    let mut order: Vec<&str> = entries.iter().map(|entry| entry.name.as_str()).collect();
    order.sort_unstable();
    let sorted = order.iter().zip(entries).all(|(name, entry)| *name == entry.name);
    if !sorted {
        return Ok(Some(0));
    }
    let again = File::open(path).doing("opening the pack", path)?;
    let mut comparing = Comparing::with(BufReader::new(again));
    let mut places = found.iter();
    let failed = |source| PackError::Disk { doing: "reading the pack", path: path.to_owned(), source };
    let mut pass = |_: &Entry, out: &mut dyn Write| match places.next() {
        Some(place) => {
            let mut from = content(file, place).map_err(failed)?;
            copy(&mut from, out).map(drop).map_err(failed)
        }
        None => Ok(()),
    };
    envelope::write(&mut comparing, entries, &mut pass, &failed)?;
    comparing.finish().map_err(failed)
}
