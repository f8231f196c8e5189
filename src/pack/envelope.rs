//! The zip around the files, in one canonical form: stored, no dates, no comments, no extra fields.
//!
//! Written and read here and not by a library, so that each byte of it is known beforehand, in this version and in
//! every later one. Layout: PKWARE APPNOTE 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16 (memory; the tests hold it
//! against other readers).

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};

/// A file in the envelope.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Entry {
    pub(super) name: String,
    pub(super) bytes: u64,
    pub(super) crc32: u32,
}

/// A file found in an envelope: its name as it stands there, and where its content is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Found {
    pub(super) name: Vec<u8>,
    pub(super) offset: u64,
    pub(super) bytes: u64,
}

/// The most bytes of a pack: zip's plain sizes have 32 bits.
pub(super) const MOST_BYTES: u64 = u32::MAX as u64;
/// The most files of a pack: zip's plain count has 16 bits.
pub(super) const MOST_FILES: usize = u16::MAX as usize;

const LOCAL: u32 = 0x0403_4b50;
const CENTRAL: u32 = 0x0201_4b50;
const END: u32 = 0x0605_4b50;
const LOCAL_BYTES: usize = 30;
const CENTRAL_BYTES: usize = 46;
const END_BYTES: usize = 22;
/// Version 1.0 suffices to unpack stored files.
const NEEDS: u16 = 10;
/// Made on Unix (3), by version 2.0 of the format.
const MADE_BY: u16 = 3 << 8 | 20;
/// Names are UTF-8.
const FLAGS: u16 = 1 << 11;
/// 1 January 1980, the first day zip knows: times are in `job.toml`, with their zone.
const DATE: u16 = 1 << 5 | 1;
/// A plain file that everybody may read and its owner write.
const RIGHTS: u32 = 0o100_644 << 16;

/// How long an envelope with these files is.
pub(super) fn length(entries: &[Entry]) -> u64 {
    let names: u64 = entries.iter().map(|entry| 2 * entry.name.len() as u64).sum();
    let bytes: u64 = entries.iter().map(|entry| entry.bytes).sum();
    names + bytes + (entries.len() * (LOCAL_BYTES + CENTRAL_BYTES) + END_BYTES) as u64
}

/// Writes an envelope; `content` writes each file's bytes, `failed` tells of a write that failed. The caller has seen
/// to sizes and count.
pub(super) fn write<E>(
    out: &mut dyn Write,
    entries: &[Entry],
    content: &mut dyn FnMut(&Entry, &mut dyn Write) -> Result<(), E>,
    failed: &dyn Fn(io::Error) -> E,
) -> Result<(), E> {
    let mut offsets = Vec::with_capacity(entries.len());
    let mut at = 0;
    for entry in entries {
        offsets.push(at);
        out.write_all(&local(entry)).map_err(failed)?;
        content(entry, out)?;
        at += (LOCAL_BYTES + entry.name.len()) as u64 + entry.bytes;
    }
    let directory = at;
    for (entry, offset) in entries.iter().zip(offsets) {
        let header = central(entry, offset);
        out.write_all(&header).map_err(failed)?;
        at += header.len() as u64;
    }
    out.write_all(&end(entries.len(), at - directory, directory)).map_err(failed)
}

/// What local and central headers say alike.
fn common(entry: &Entry) -> Vec<u8> {
    let mut bytes = Vec::new();
    for half in [NEEDS, FLAGS, 0, 0, DATE] {
        bytes.extend(half.to_le_bytes());
    }
    for word in [entry.crc32, short(entry.bytes), short(entry.bytes)] {
        bytes.extend(word.to_le_bytes());
    }
    bytes.extend((entry.name.len() as u16).to_le_bytes());
    // No extra field.
    bytes.extend(0_u16.to_le_bytes());
    bytes
}

fn local(entry: &Entry) -> Vec<u8> {
    [&LOCAL.to_le_bytes()[..], &common(entry), entry.name.as_bytes()].concat()
}

fn central(entry: &Entry, offset: u64) -> Vec<u8> {
    let mut bytes = [&CENTRAL.to_le_bytes()[..], &MADE_BY.to_le_bytes(), &common(entry)].concat();
    // Comment, disk, kind of text: none, the first, none.
    bytes.extend([0; 6]);
    bytes.extend(RIGHTS.to_le_bytes());
    bytes.extend(short(offset).to_le_bytes());
    bytes.extend(entry.name.as_bytes());
    bytes
}

fn end(count: usize, size: u64, offset: u64) -> Vec<u8> {
    let count = count as u16;
    let mut bytes = END.to_le_bytes().to_vec();
    for half in [0, 0, count, count] {
        bytes.extend(half.to_le_bytes());
    }
    bytes.extend(short(size).to_le_bytes());
    bytes.extend(short(offset).to_le_bytes());
    // No comment.
    bytes.extend(0_u16.to_le_bytes());
    bytes
}

/// Sizes are bounded by [`MOST_BYTES`] before anything is written or read.
fn short(size: u64) -> u32 {
    u32::try_from(size).unwrap_or(u32::MAX)
}

/// The files of an envelope in their order, as far as it can be followed; the place where it can not, if any.
///
/// Only what [`write`] writes can be followed: stored files one after the other. So a size that lies points beyond
/// the file's end and is no bomb, and nothing hides between the files.
pub(super) fn follow(file: &mut File) -> io::Result<(Vec<Found>, Option<u64>)> {
    let length = file.metadata()?.len();
    let mut found = Vec::new();
    let mut at = 0;
    loop {
        file.seek(SeekFrom::Start(at))?;
        let mut header = [0; LOCAL_BYTES];
        if !filled(file, &mut header)? {
            // The directory at the end is longer than a header, so the end cannot come first.
            return Ok((found, Some(at)));
        }
        let half = |place: usize| u64::from(u16::from_le_bytes([header[place], header[place + 1]]));
        let word =
            |place: usize| u32::from_le_bytes([header[place], header[place + 1], header[place + 2], header[place + 3]]);
        match word(0) {
            LOCAL => {}
            CENTRAL => return Ok((found, None)),
            _ => return Ok((found, Some(at))),
        }
        let (method, bytes, name_bytes) = (half(8), u64::from(word(18)), half(26));
        let offset = at + LOCAL_BYTES as u64 + name_bytes + half(28);
        if method != 0 || bytes != u64::from(word(22)) || offset + bytes > length || found.len() >= MOST_FILES {
            return Ok((found, Some(at)));
        }
        let mut name = vec![0; name_bytes as usize];
        file.read_exact(&mut name)?;
        found.push(Found { name, offset, bytes });
        at = offset + bytes;
    }
}

/// The files of an envelope as its directory at the end tells them, where that is one that [`write`] writes: what shows
/// that a file was a pack though its beginning cannot be followed.
pub(super) fn by_directory(file: &mut File) -> io::Result<Option<Vec<Found>>> {
    let length = file.metadata()?.len();
    let mut foot = [0; END_BYTES];
    let Some(foot_at) = length.checked_sub(END_BYTES as u64) else { return Ok(None) };
    file.seek(SeekFrom::Start(foot_at))?;
    file.read_exact(&mut foot)?;
    let word = |bytes: &[u8], place: usize| {
        u32::from_le_bytes([bytes[place], bytes[place + 1], bytes[place + 2], bytes[place + 3]])
    };
    let count = usize::from(u16::from_le_bytes([foot[10], foot[11]]));
    let (size, begin) = (u64::from(word(&foot, 12)), u64::from(word(&foot, 16)));
    if word(&foot, 0) != END || begin + size != foot_at || count * CENTRAL_BYTES > size as usize {
        return Ok(None);
    }
    file.seek(SeekFrom::Start(begin))?;
    let mut directory = vec![0; size as usize];
    file.read_exact(&mut directory)?;
    let mut found = Vec::with_capacity(count);
    let mut rest = &directory[..];
    while let Some((header, behind)) = rest.split_at_checked(CENTRAL_BYTES) {
        let name_bytes = usize::from(u16::from_le_bytes([header[28], header[29]]));
        let Some((name, behind)) = behind.split_at_checked(name_bytes) else { return Ok(None) };
        let entry = Entry {
            name: String::from_utf8_lossy(name).into_owned(),
            bytes: u64::from(word(header, 24)),
            crc32: word(header, 16),
        };
        let local_at = u64::from(word(header, 42));
        let offset = local_at + (LOCAL_BYTES + name_bytes) as u64;
        if [header, name].concat() != central(&entry, local_at) || offset + entry.bytes > begin {
            return Ok(None);
        }
        found.push(Found { name: name.to_vec(), offset, bytes: entry.bytes });
        rest = behind;
    }
    Ok((rest.is_empty() && found.len() == count && count > 0).then_some(found))
}

/// Fills the block, or says that the file ends before.
fn filled(file: &mut File, block: &mut [u8]) -> io::Result<bool> {
    match file.read_exact(block) {
        Ok(()) => Ok(true),
        Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => Ok(false),
        Err(error) => Err(error),
    }
}
