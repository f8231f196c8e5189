//! What a file is, by its first bytes. Its name is never asked.

/// How many bytes of the beginning are looked at.
pub(super) const HEAD_BYTES: usize = 512;

/// What the first bytes say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Content {
    /// RIFF, RF64 or BW64 with WAVE inside.
    Wav,
    /// A format that the decoders take, with its name.
    Coded(&'static str),
    /// ISO base media (m4a, mp4, mov, 3gp), with its name.
    IsoMedia(&'static str),
    /// A format known and not read: its name, and why.
    Refused(&'static str, &'static str),
    /// Letters.
    Text,
    /// No bytes.
    Nothing,
    /// Anything else.
    Unknown,
}

/// Recognises the content by the first bytes (up to [`HEAD_BYTES`]).
pub(super) fn recognise(head: &[u8]) -> Content {
    let tag = |at: usize| head.get(at..at + 4).unwrap_or(&[]);
    match (tag(0), tag(8)) {
        (b"RIFF" | b"RF64" | b"BW64", b"WAVE") => return Content::Wav,
        (b"RIFX", b"WAVE") => return Content::Refused("WAV in big-endian order (RIFX)", "it is very rare"),
        (b"FORM", b"AIFF" | b"AIFC") => return Content::Coded("AIFF"),
        (b"fLaC", _) => return Content::Coded("FLAC"),
        (b"OggS", _) => return Content::Coded("Ogg"),
        (b"caff", _) => return Content::Coded("CAF"),
        ([0x1A, 0x45, 0xDF, 0xA3], _) => return Content::Coded("WebM"),
        ([0x30, 0x26, 0xB2, 0x75], _) => return Content::Refused("WMA", "its coding is closed"),
        (b"#!AM", _) => return Content::Refused("AMR", AMR_REASON),
        _ => {}
    }
    if tag(4) == b"ftyp" {
        return Content::IsoMedia(iso_name(tag(8)));
    }
    match head {
        [] => Content::Nothing,
        // QuickTime files of old begin with the sound or the index itself.
        [_, _, _, _, b'm', b'o', b'o', b'v', ..] | [_, _, _, _, b'm', b'd', b'a', b't', ..] => Content::IsoMedia("MOV"),
        [b'I', b'D', b'3', ..] => Content::Coded("MP3"),
        [0xFF, second, ..] if second & 0xF6 == 0xF0 => Content::Coded("AAC"),
        [0xFF, second, third, ..]
            if second & 0xE0 == 0xE0 && matches!(second & 0x06, 0x02 | 0x04) && third >> 4 != 0xF =>
        {
            Content::Coded("MP3")
        }
        _ if is_text(head) => Content::Text,
        _ => Content::Unknown,
    }
}

/// Why AMR is refused: it holds nothing of a hiss.
pub(super) const AMR_REASON: &str = "it ends at 3.4 kHz (wide-band: 7 kHz), where a hiss has hardly begun";

fn iso_name(brand: &[u8]) -> &'static str {
    match brand {
        [b'3', b'g', ..] => "3GP",
        b"M4A " | b"M4B " => "M4A",
        b"qt  " => "MOV",
        _ => "MP4",
    }
}

/// Text is bytes without control characters other than those of lines; or a byte order mark of UTF-16.
fn is_text(head: &[u8]) -> bool {
    let plain = |byte: &u8| matches!(byte, b'\t' | b'\n' | b'\r' | 0x1B | 0x20..=0x7E | 0x80..);
    let letters = head.iter().filter(|byte| byte.is_ascii_graphic() || **byte == b' ').count();
    head.starts_with(&[0xFF, 0xFE])
        || head.starts_with(&[0xFE, 0xFF])
        || (head.iter().all(plain) && 2 * letters > head.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn content_is_known_by_its_first_bytes() {
        for (head, content) in [
            (&b"RIFF\x24\0\0\0WAVEfmt "[..], Content::Wav),
            (b"RF64\xFF\xFF\xFF\xFFWAVEds64", Content::Wav),
            (b"FORM\0\0\0\x10AIFC", Content::Coded("AIFF")),
            (b"\0\0\0\x18ftyp3gp4", Content::IsoMedia("3GP")),
            (b"\0\0\0\x1cftypM4A ", Content::IsoMedia("M4A")),
            (b"\xFF\xFB\x90\x64", Content::Coded("MP3")),
            (b"\xFF\xF1\x50\x80", Content::Coded("AAC")),
            (b"ID3\x04\0\0", Content::Coded("MP3")),
            (b"quiet, 3 s\nintake, 3 s\n", Content::Text),
            ("Stille über alles\n".as_bytes(), Content::Text),
            (b"\xFF\xFEi\0n\0t\0a\0k\0e\0", Content::Text),
            (b"", Content::Nothing),
            (b"\x7FELF\x02\x01\x01\0", Content::Unknown),
            (b"\0\0\0\0\0\0\0\0\0\0\0\0", Content::Unknown),
        ] {
            assert_eq!(recognise(head), content, "{:?}", String::from_utf8_lossy(head));
        }
        assert!(matches!(recognise(b"#!AMR\n\x3C"), Content::Refused("AMR", _)));
        assert!(matches!(recognise(b"#!AMR-WB\n"), Content::Refused("AMR", _)));
        assert!(matches!(recognise(b"\x30\x26\xB2\x75\x8E\x66\xCF\x11"), Content::Refused("WMA", _)));
    }
}
