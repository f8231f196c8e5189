//! The header of a WAV file: what it promises, and what is really there.

use std::io::{self, Read, Seek, SeekFrom};

/// How one sample lies in the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Packing {
    /// Unsigned 8 bit.
    U8,
    /// Signed 16 bit.
    I16,
    /// Signed 24 bit, packed.
    I24,
    /// Signed 32 bit.
    I32,
    /// 32-bit float.
    F32,
    /// 64-bit float.
    F64,
}

impl Packing {
    /// Bytes of one sample.
    pub(super) fn bytes(self) -> usize {
        match self {
            Self::U8 => 1,
            Self::I16 => 2,
            Self::I24 => 3,
            Self::I32 | Self::F32 => 4,
            Self::F64 => 8,
        }
    }

    /// Name of the coding, as shown.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::U8 => "PCM 8 bit",
            Self::I16 => "PCM 16 bit",
            Self::I24 => "PCM 24 bit",
            Self::I32 => "PCM 32 bit",
            Self::F32 => "float 32 bit",
            Self::F64 => "float 64 bit",
        }
    }
}

/// What a header says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Header {
    pub(super) packing: Packing,
    pub(super) channels: u16,
    pub(super) rate_hz: u32,
    /// Where the sound begins.
    pub(super) begin: u64,
    /// How many bytes of sound there really are, in whole frames.
    pub(super) bytes: u64,
    pub(super) length: Length,
}

/// How the promised length stands to the real one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Length {
    /// As promised.
    Kept,
    /// The header names no length; the sound runs to the end of the file.
    Open,
    /// The writer never came to fill the length in: the recording was broken off.
    Unfinished,
    /// Fewer bytes than promised.
    Short { promised_bytes: u64 },
    /// More bytes than promised follow, and they are no further chunk.
    Long { unread_bytes: u64 },
}

/// Why there is no header to work with.
#[derive(Debug)]
pub(super) enum HeaderFault {
    /// The system would not read.
    System(io::Error),
    /// A coding inside WAV that other decoders may know (A-law, ADPCM, …).
    OtherCoding,
    /// Broken, and how.
    Broken(&'static str),
}

impl From<io::Error> for HeaderFault {
    fn from(error: io::Error) -> Self {
        if error.kind() == io::ErrorKind::UnexpectedEof {
            Self::Broken("it ends inside its header")
        } else {
            Self::System(error)
        }
    }
}

#[derive(Clone, Copy)]
struct Shape {
    packing: Packing,
    channels: u16,
    rate_hz: u32,
}

impl Shape {
    fn frame_bytes(self) -> u64 {
        self.packing.bytes() as u64 * u64::from(self.channels)
    }
}

const RF64_MARK: u64 = u32::MAX as u64;

/// Reads the header of a stream that begins with RIFF, RF64 or BW64 and WAVE.
pub(super) fn read(file: &mut (impl Read + Seek)) -> Result<Header, HeaderFault> {
    let end = file.seek(SeekFrom::End(0))?;
    let mut at = file.seek(SeekFrom::Start(12))?;
    let mut shape = None;
    let mut long_length = None;
    while at + 8 <= end {
        let (name, size) = chunk_head(file)?;
        let begin = at + 8;
        match &name {
            b"ds64" => {
                let mut body = [0; 16];
                file.read_exact(&mut body)?;
                long_length = Some(u64_at(&body, 8));
            }
            b"fmt " => shape = Some(read_shape(file, size)?),
            b"data" => {
                let shape = shape.ok_or(HeaderFault::Broken("its sound comes before its description"))?;
                let size = if size == RF64_MARK { long_length.unwrap_or(size) } else { size };
                return measure(file, shape, begin, size, end);
            }
            _ => {}
        }
        // Chunks begin at even places.
        at = file.seek(SeekFrom::Start(begin + size + size % 2))?;
    }
    Err(HeaderFault::Broken(if shape.is_some() { "there is no sound in it" } else { "it ends inside its header" }))
}

fn chunk_head(file: &mut impl Read) -> io::Result<([u8; 4], u64)> {
    let mut head = [0; 8];
    file.read_exact(&mut head)?;
    let [a, b, c, d, e, f, g, h] = head;
    Ok(([a, b, c, d], u64::from(u32::from_le_bytes([e, f, g, h]))))
}

fn u64_at(bytes: &[u8; 16], at: usize) -> u64 {
    let mut eight = [0; 8];
    eight.copy_from_slice(&bytes[at..at + 8]);
    u64::from_le_bytes(eight)
}

fn read_shape(file: &mut impl Read, size: u64) -> Result<Shape, HeaderFault> {
    const PCM: u16 = 1;
    const FLOAT: u16 = 3;
    const EXTENSIBLE: u16 = 0xFFFE;
    const MOST_PLACES: u16 = 31;
    let mut body = [0; 40];
    let there = size.min(40) as usize;
    if there < 16 {
        return Err(HeaderFault::Broken("its description is too short"));
    }
    file.read_exact(&mut body[..there])?;
    let half = |at: usize| u16::from_le_bytes([body[at], body[at + 1]]);
    let mut tag = half(0);
    if tag == EXTENSIBLE && there >= 26 {
        tag = half(24);
    }
    let (channels, rate_hz) = (half(2), u32::from_le_bytes([body[4], body[5], body[6], body[7]]));
    let (frame_bytes, bits) = (half(12), half(14));
    if tag != PCM && tag != FLOAT {
        // Each channel has its place, a bit: the decoder of what else there is counts on that.
        if half(0) == EXTENSIBLE && (channels > MOST_PLACES || half(22) >> 15 != 0) {
            return Err(HeaderFault::Broken("its header names places for its channels that do not exist"));
        }
        return Err(HeaderFault::OtherCoding);
    }
    if channels == 0 {
        return Err(HeaderFault::Broken("its header names no channel"));
    }
    // Odd depths (12, 20 bit) fill their bytes from the top, so the bytes decide.
    let bytes = bits.div_ceil(8);
    let bytes = if frame_bytes % channels == 0 && frame_bytes > 0 { frame_bytes / channels } else { bytes };
    let packing = match (tag, bytes) {
        (PCM, 1) => Packing::U8,
        (PCM, 2) => Packing::I16,
        (PCM, 3) => Packing::I24,
        (PCM, 4) => Packing::I32,
        (FLOAT, 4) => Packing::F32,
        (FLOAT, 8) => Packing::F64,
        _ => return Err(HeaderFault::Broken("its header names a sample size that does not exist")),
    };
    Ok(Shape { packing, channels, rate_hz })
}

fn measure(
    file: &mut (impl Read + Seek),
    shape: Shape,
    begin: u64,
    promised: u64,
    end: u64,
) -> Result<Header, HeaderFault> {
    // Writers into a pipe leave these lengths, they cannot come back to fill them in.
    const OPEN: [u64; 3] = [0xFFFF_FFFF, 0x7FFF_FFFF, 0x8000_0000];
    let there = end - begin;
    let (bytes, length) = if promised == 0 && there > 0 {
        (there, Length::Unfinished)
    } else if OPEN.contains(&promised) && there < promised {
        (there, Length::Open)
    } else if promised > there {
        (there, Length::Short { promised_bytes: promised })
    } else {
        let after = begin + promised + promised % 2;
        let unread_bytes = end.saturating_sub(after);
        let fits = unread_bytes < 8 || is_chunk(file, after, end)?;
        (promised, if fits { Length::Kept } else { Length::Long { unread_bytes } })
    };
    let bytes = bytes - bytes % shape.frame_bytes();
    file.seek(SeekFrom::Start(begin))?;
    Ok(Header { packing: shape.packing, channels: shape.channels, rate_hz: shape.rate_hz, begin, bytes, length })
}

/// Whether something like a chunk lies here: a name in letters, a size that fits.
fn is_chunk(file: &mut (impl Read + Seek), at: u64, end: u64) -> io::Result<bool> {
    file.seek(SeekFrom::Start(at))?;
    let (name, size) = chunk_head(file)?;
    Ok(name.iter().all(|letter| matches!(letter, 0x20..=0x7E)) && at + 8 + size <= end + 1)
}
