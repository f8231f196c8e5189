//! The few boxes of ISO base media (m4a, mp4, 3gp, mov) that say where the sound begins (ISO/IEC 14496-12).

use std::io::{self, Read, Seek, SeekFrom};

/// The part of a sound track that is to be heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edit {
    /// Where it begins, seconds into the coded sound.
    pub(super) begin_s: f64,
    /// How long it is, where the file says so.
    pub(super) length_s: Option<f64>,
}

/// What the index says of the first sound track.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Found {
    /// Whether there is an index at all. Recorders write it last.
    pub(super) index: bool,
    /// The edit list's first edit.
    pub(super) edit: Option<Edit>,
    /// Whether the sound is coded as AMR.
    pub(super) amr: bool,
}

/// A box: its name, and where its content lies.
#[derive(Clone, Copy)]
struct Part {
    name: [u8; 4],
    begin: u64,
    end: u64,
}

/// An index holds few boxes on any level; a file that says otherwise is not believed.
const MOST_PARTS: usize = 1000;

/// Reads the index. What is broken in it is left to the decoder to complain about.
pub(super) fn read(file: &mut (impl Read + Seek)) -> io::Result<Found> {
    let end = file.seek(SeekFrom::End(0))?;
    let Some(index) = find(&parts(file, 0, end)?, b"moov") else {
        return Ok(Found::default());
    };
    let index_parts = parts(file, index.begin, index.end)?;
    let movie_rate = match find(&index_parts, b"mvhd") {
        Some(header) => time_scale(file, header)?,
        None => None,
    };
    for track in index_parts.iter().filter(|part| &part.name == b"trak") {
        let track_parts = parts(file, track.begin, track.end)?;
        let Some(media) = find(&track_parts, b"mdia") else { continue };
        let media_parts = parts(file, media.begin, media.end)?;
        let Some(handler) = find(&media_parts, b"hdlr") else { continue };
        if bytes(file, handler, 8)? != Some(*b"soun") {
            continue;
        }
        let media_rate = match find(&media_parts, b"mdhd") {
            Some(header) => time_scale(file, header)?,
            None => None,
        };
        let amr = matches!(coding(file, &media_parts)?.as_ref(), Some(b"samr" | b"sawb"));
        let list = match find(&track_parts, b"edts") {
            Some(edits) => find(&parts(file, edits.begin, edits.end)?, b"elst"),
            None => None,
        };
        let edit = match list {
            Some(list) => first_edit(file, list, media_rate, movie_rate)?,
            None => None,
        };
        return Ok(Found { index: true, edit, amr });
    }
    Ok(Found { index: true, ..Found::default() })
}

fn find(parts: &[Part], name: &[u8; 4]) -> Option<Part> {
    parts.iter().find(|part| &part.name == name).copied()
}

fn parts(file: &mut (impl Read + Seek), begin: u64, end: u64) -> io::Result<Vec<Part>> {
    let mut found = Vec::new();
    let mut at = begin;
    while at.saturating_add(8) <= end && found.len() < MOST_PARTS {
        let span = Part { name: [0; 4], begin: at, end };
        let (Some(size), Some(name)) = (bytes(file, span, 0)?, bytes(file, span, 4)?) else { break };
        let (head, size) = match u32::from_be_bytes(size) {
            0 => (8, end - at),
            1 => match (bytes(file, span, 8)?, bytes(file, span, 12)?) {
                (Some(high), Some(low)) => {
                    (16, u64::from(u32::from_be_bytes(high)) << 32 | u64::from(u32::from_be_bytes(low)))
                }
                _ => break,
            },
            size => (8, u64::from(size)),
        };
        if size < head || size > end - at {
            break;
        }
        found.push(Part { name, begin: at + head, end: at + size });
        at += size;
    }
    Ok(found)
}

/// Four bytes at a place within a box; `None` where the box ends before.
fn bytes(file: &mut (impl Read + Seek), part: Part, at: u64) -> io::Result<Option<[u8; 4]>> {
    if part.begin + at + 4 > part.end {
        return Ok(None);
    }
    file.seek(SeekFrom::Start(part.begin + at))?;
    let mut four = [0; 4];
    match file.read_exact(&mut four) {
        Ok(()) => Ok(Some(four)),
        Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => Ok(None),
        Err(error) => Err(error),
    }
}

fn number(file: &mut (impl Read + Seek), part: Part, at: u64) -> io::Result<Option<u32>> {
    Ok(bytes(file, part, at)?.map(u32::from_be_bytes))
}

/// Whether a box's numbers are 64 bit: its first byte, the version, is 1.
fn is_wide(file: &mut (impl Read + Seek), part: Part) -> io::Result<bool> {
    Ok(bytes(file, part, 0)?.is_some_and(|four| four[0] == 1))
}

/// Ticks per second of `mvhd` or `mdhd`: after two times of creation.
fn time_scale(file: &mut (impl Read + Seek), part: Part) -> io::Result<Option<f64>> {
    let at = if is_wide(file, part)? { 20 } else { 12 };
    Ok(number(file, part, at)?.filter(|ticks| *ticks > 0).map(f64::from))
}

/// The name of the coding: mdia/minf/stbl/stsd, first entry.
fn coding(file: &mut (impl Read + Seek), media_parts: &[Part]) -> io::Result<Option<[u8; 4]>> {
    let mut level = media_parts.to_vec();
    for name in [b"minf", b"stbl"] {
        let Some(part) = find(&level, name) else { return Ok(None) };
        level = parts(file, part.begin, part.end)?;
    }
    match find(&level, b"stsd") {
        Some(list) => bytes(file, list, 12),
        None => Ok(None),
    }
}

/// The first edit that plays something; an edit of nothing before it (time −1) is a pause, not sound.
fn first_edit(
    file: &mut (impl Read + Seek),
    list: Part,
    media_rate: Option<f64>,
    movie_rate: Option<f64>,
) -> io::Result<Option<Edit>> {
    let Some(media_rate) = media_rate else { return Ok(None) };
    let wide = is_wide(file, list)?;
    let count = number(file, list, 4)?.unwrap_or(0).min(16);
    for entry in 0..u64::from(count) {
        let (length, begin) = if wide {
            let at = 8 + entry * 20;
            let halves = (
                number(file, list, at)?,
                number(file, list, at + 4)?,
                number(file, list, at + 8)?,
                number(file, list, at + 12)?,
            );
            let (Some(a), Some(b), Some(c), Some(d)) = halves else { return Ok(None) };
            (u64::from(a) << 32 | u64::from(b), (u64::from(c) << 32 | u64::from(d)) as i64)
        } else {
            let at = 8 + entry * 12;
            let (Some(length), Some(begin)) = (number(file, list, at)?, number(file, list, at + 4)?) else {
                return Ok(None);
            };
            (u64::from(length), i64::from(begin as i32))
        };
        if begin >= 0 {
            let length_s = movie_rate.filter(|_| length > 0).map(|rate| length as f64 / rate);
            return Ok(Some(Edit { begin_s: begin as f64 / media_rate, length_s }));
        }
    }
    Ok(None)
}
