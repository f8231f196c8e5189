//! What a file says of the recorder that made it: device and program, from its tags.
//!
//! WAV: the `INFO` list's `ISFT` (software) and `IENG`/`ISRC`, and `bext` (EBU Tech 3285: originator). ISO media: the
//! `udta` texts `©mak`, `©mod`, `©swr`, `©too` (QuickTime File Format), alone or in `meta`/`ilst`. Others: the tags that the
//! decoder's reader finds (Vorbis comments, ID3). All are text from outside: cut, and cleared of what steers a terminal.

use std::fs::File;
use std::io::{Read, Seek, SeekFrom};

use symphonia::core::meta::{RawValue, Tag};

/// A file's words are kept up to this length, characters.
const LONGEST: usize = 120;
/// So much of a file's beginning and end is looked through for chunks and boxes, bytes: recorders write them there.
const LOOKED_THROUGH: u64 = 256 * 1024;

/// Device and program.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MadeBy {
    /// Maker and model of the device.
    pub device: Option<String>,
    /// The program, and the settings it names.
    pub application: Option<String>,
}

impl MadeBy {
    /// What this says, and where it says nothing, the other.
    pub(super) fn or(self, other: Self) -> Self {
        Self { device: self.device.or(other.device), application: self.application.or(other.application) }
    }

    /// From tags by name.
    pub(super) fn of_tags(tags: &[Tag]) -> Self {
        let text = |names: &[&str]| {
            let of = |tag: &&Tag| names.iter().any(|name| tag.raw.key.eq_ignore_ascii_case(name));
            tags.iter().find(of).and_then(|tag| match &tag.raw.value {
                RawValue::String(text) => clean(text.as_bytes()),
                _ => None,
            })
        };
        let maker = text(&["make", "manufacturer", "\u{a9}mak"]);
        let model = text(&["model", "device", "\u{a9}mod"]);
        let program = ["encoder", "software", "encoded_by", "TSSE", "TENC", "\u{a9}swr", "\u{a9}too"];
        Self { device: joined(maker, model), application: program.iter().find_map(|name| text(&[name])) }
    }
}

/// Reads a file's own chunks or boxes. What cannot be read says nothing.
pub(super) fn read(mut file: File, container: &str) -> MadeBy {
    let Ok(length) = file.seek(SeekFrom::End(0)) else { return MadeBy::default() };
    let mut parts = Vec::new();
    for from in [0, length.saturating_sub(LOOKED_THROUGH)] {
        let mut bytes = Vec::new();
        if file.seek(SeekFrom::Start(from)).is_ok() && (&mut file).take(LOOKED_THROUGH).read_to_end(&mut bytes).is_ok()
        {
            parts.push(bytes);
        }
    }
    match container {
        "WAV" => parts.iter().map(|bytes| of_wav(bytes)).fold(MadeBy::default(), MadeBy::or),
        "M4A" | "MP4" | "3GP" | "MOV" => {
            parts.iter().map(|bytes| of_iso_media(bytes)).fold(MadeBy::default(), MadeBy::or)
        }
        _ => MadeBy::default(),
    }
}

fn of_wav(bytes: &[u8]) -> MadeBy {
    // A chunk's name, its length (little-endian), its text.
    let text = |name: &[u8; 4]| {
        let at = bytes.windows(4).position(|four| four == name)?;
        let length = u32::from_le_bytes(bytes.get(at + 4..at + 8)?.try_into().ok()?) as usize;
        clean(bytes.get(at + 8..at + 8 + length.min(LONGEST))?)
    };
    // 256 bytes of description stand before the originator's 32.
    let originator =
        bytes.windows(4).position(|four| four == b"bext").and_then(|at| clean(bytes.get(at + 264..at + 296)?));
    MadeBy { device: originator.or_else(|| text(b"IENG")), application: text(b"ISFT") }
}

fn of_iso_media(bytes: &[u8]) -> MadeBy {
    let text = |name: &[u8; 4]| {
        let at = bytes.windows(4).position(|four| four == name)?;
        // In `ilst` the text is in a box of its own, `data`, after a type and a language of four bytes each; alone in
        // `udta` it follows its length and language of two bytes each.
        let inside = bytes.get(at + 4..)?;
        if inside.get(4..8)? == b"data" {
            let length = u32::from_be_bytes(inside.get(..4)?.try_into().ok()?) as usize;
            clean(inside.get(16..length.min(16 + LONGEST))?)
        } else {
            let length = usize::from(u16::from_be_bytes(inside.get(..2)?.try_into().ok()?));
            clean(inside.get(4..4 + length.min(LONGEST))?)
        }
    };
    MadeBy {
        device: joined(text(b"\xa9mak"), text(b"\xa9mod")),
        application: text(b"\xa9swr").or_else(|| text(b"\xa9too")),
    }
}

fn joined(maker: Option<String>, model: Option<String>) -> Option<String> {
    match (maker, model) {
        (Some(maker), Some(model)) if !model.starts_with(&maker) => Some(format!("{maker} {model}")),
        (maker, model) => model.or(maker),
    }
}

/// Text for people: up to its first zero, one line, nothing that steers a terminal; `None` where nothing is left.
fn clean(bytes: &[u8]) -> Option<String> {
    let text = bytes.split(|byte| *byte == 0).next()?;
    let text = std::str::from_utf8(text).ok()?;
    let text: String = text.chars().filter(|c| !c.is_control()).take(LONGEST).collect();
    let text = text.trim();
    (!text.is_empty()).then(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_of_iso_media_are_read_alone_and_in_a_list() {
        let alone = b"\0\0\0\x16udta\0\0\0\x0e\xa9mod\0\x04\x15\xc7Gull....";
        assert_eq!(of_iso_media(alone).device.as_deref(), Some("Gull"));
        let listed = b"\0\0\0\x1d\xa9too\0\0\0\x15data\0\0\0\x01\0\0\0\0Quay 2";
        assert_eq!(of_iso_media(listed).application.as_deref(), Some("Quay"), "its box's length counts");
    }

    #[test]
    fn a_wav_names_software_and_originator() {
        let mut bytes = b"RIFF....WAVEbext\0\0\0\0".to_vec();
        bytes.extend([0; 256]);
        bytes.extend_from_slice(b"Quay recorder");
        bytes.extend([0; 32]);
        bytes.extend_from_slice(b"LIST....INFOISFT\x06\0\0\0Quay 3");
        let found = of_wav(&bytes);
        assert_eq!(found.device.as_deref(), Some("Quay recorder"));
        assert_eq!(found.application.as_deref(), Some("Quay 3"));
    }

    #[test]
    fn what_steers_a_terminal_or_is_no_text_is_left_out() {
        assert_eq!(clean(b"a\x1b[31mb"), Some("a[31mb".to_owned()));
        assert_eq!(clean(b"\xff\xfe"), None);
        assert_eq!(clean(b"  \0x"), None);
    }
}
