//! Sound of a WAV file: big blocks of bytes, converted in bulk.

use std::fs::File;
use std::io::Read;

use super::error::AudioError;
use super::recording::{Shape, Source};
use super::wav_header;
use super::wav_header::{Header, HeaderFault, Length, Packing};
use crate::caveat::Caveat;
use crate::clip::check_finite;
use crate::simd::dispatch;

/// Large enough that the system call does not count; with the samples made of it small enough for the second-level cache of
/// an old processor.
const BLOCK_BYTES: usize = 64 * 1024;

/// The samples of a WAV file.
pub(super) struct Wav {
    file: File,
    name: String,
    header: Header,
    left_bytes: u64,
    given_frames: u64,
    bytes: Vec<u8>,
}

impl Wav {
    /// Reads the header. `None` where the coding inside is another decoder's business.
    pub(super) fn open(mut file: File, name: &str) -> Result<Option<Self>, AudioError> {
        let header = match wav_header::read(&mut file) {
            Ok(header) => header,
            Err(HeaderFault::OtherCoding) => return Ok(None),
            Err(HeaderFault::System(error)) => return Err(AudioError::of_system(name, error)),
            Err(HeaderFault::Broken(detail)) => return Err(AudioError::damaged(name, detail)),
        };
        Ok(Some(Self {
            file,
            name: name.to_owned(),
            left_bytes: header.bytes,
            header,
            given_frames: 0,
            bytes: Vec::new(),
        }))
    }

    fn frame_bytes(&self) -> usize {
        self.header.packing.bytes() * usize::from(self.header.channels)
    }

    fn seconds(&self, bytes: u64) -> f64 {
        bytes as f64 / self.frame_bytes() as f64 / f64::from(self.header.rate_hz)
    }
}

impl Source for Wav {
    fn shape(&self) -> Shape {
        Shape {
            rate_hz: f64::from(self.header.rate_hz),
            channels: self.header.channels,
            total_frames: Some(self.header.bytes / self.frame_bytes() as u64),
            coding: self.header.packing.name().to_owned(),
            lossy: false,
        }
    }

    fn next(&mut self, samples: &mut Vec<f32>) -> Result<bool, AudioError> {
        let frame = self.frame_bytes();
        let wanted = (BLOCK_BYTES / frame).max(1) * frame;
        let wanted = usize::try_from(self.left_bytes).map_or(wanted, |left| left.min(wanted));
        self.bytes.resize(wanted, 0);
        let mut filled = 0;
        while filled < wanted {
            match self.file.read(&mut self.bytes[filled..]) {
                Ok(0) => break,
                Ok(more) => filled += more,
                Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
                Err(error) => return Err(AudioError::of_system(&self.name, error)),
            }
        }
        self.left_bytes = if filled < wanted { 0 } else { self.left_bytes - filled as u64 };
        let whole = filled - filled % frame;
        if whole == 0 {
            return Ok(false);
        }
        convert(&self.bytes[..whole], self.header.packing, samples);
        if matches!(self.header.packing, Packing::F32 | Packing::F64) {
            let first = self.given_frames as usize * usize::from(self.header.channels);
            check_finite(samples, first, &self.name)?;
        }
        self.given_frames += (whole / frame) as u64;
        Ok(true)
    }

    fn caveats(&self) -> Vec<Caveat> {
        let kept = self.seconds(self.given_frames * self.frame_bytes() as u64);
        match self.header.length {
            Length::Kept | Length::Open => Vec::new(),
            Length::Unfinished => {
                vec![Caveat::new("unfinished-file").text("file", &self.name).number("kept_s", kept, 1)]
            }
            Length::Short { promised_bytes } => {
                vec![Caveat::new("cut-off-file").text("file", &self.name).number("kept_s", kept, 1).number(
                    "promised_s",
                    self.seconds(promised_bytes),
                    1,
                )]
            }
            Length::Long { unread_bytes } => {
                vec![Caveat::new("header-too-short").text("file", &self.name).number("kept_s", kept, 1).number(
                    "unread_s",
                    self.seconds(unread_bytes),
                    1,
                )]
            }
        }
    }
}

const STEP_32: f32 = 1.0 / 2_147_483_648.0;

/// Packed 24 bit, four samples from three words: byte by byte takes several times as long.
#[inline(always)]
fn convert_i24(bytes: &[u8], samples: &mut [f32]) {
    // Shifted to the top of 32 bits; what stands below their 24 is cut away.
    let sample = |top: u32| (top & 0xFFFF_FF00) as i32 as f32 * STEP_32;
    let (fours, rest) = bytes.as_chunks::<12>();
    let (out, out_rest) = samples.as_chunks_mut::<4>();
    for (four, [a, b, c, d, e, f, g, h, i, j, k, l]) in out.iter_mut().zip(fours) {
        let words = [[*a, *b, *c, *d], [*e, *f, *g, *h], [*i, *j, *k, *l]].map(u32::from_le_bytes);
        *four = [
            sample(words[0] << 8),
            sample((words[0] >> 24 << 8) | (words[1] << 16)),
            sample((words[1] >> 16 << 8) | (words[2] << 24)),
            sample(words[2]),
        ];
    }
    each(rest, out_rest, |[low, mid, high]| sample(u32::from_le_bytes([0, low, mid, high])));
}

/// Converts each sample of `N` bytes.
#[inline(always)]
fn each<const N: usize>(bytes: &[u8], samples: &mut [f32], one: impl Fn([u8; N]) -> f32) {
    for (sample, bytes) in samples.iter_mut().zip(bytes.as_chunks().0) {
        *sample = one(*bytes);
    }
}

/// Bytes to samples of full scale ±1. Whole numbers are divided by a power of two, so nothing is rounded up to 24 bit.
fn convert(bytes: &[u8], packing: Packing, samples: &mut Vec<f32>) {
    const STEP_8: f32 = 1.0 / 128.0;
    const STEP_16: f32 = 1.0 / 32_768.0;
    samples.resize(bytes.len() / packing.bytes(), 0.0);
    dispatch(
        #[inline(always)]
        || match packing {
            Packing::U8 => each(bytes, samples, |[byte]| (f32::from(byte) - 128.0) * STEP_8),
            Packing::I16 => each(bytes, samples, |two| f32::from(i16::from_le_bytes(two)) * STEP_16),
            Packing::I24 => convert_i24(bytes, samples),
            Packing::I32 => each(bytes, samples, |four| i32::from_le_bytes(four) as f32 * STEP_32),
            Packing::F32 => each(bytes, samples, f32::from_le_bytes),
            Packing::F64 => each(bytes, samples, |eight| f64::from_le_bytes(eight) as f32),
        },
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    fn converted(bytes: &[u8], packing: Packing) -> Vec<f32> {
        let mut samples = Vec::new();
        convert(bytes, packing, &mut samples);
        samples
    }

    #[test]
    fn full_scale_is_one_in_every_packing() {
        assert_eq!(converted(&[0, 64, 128, 192, 255], Packing::U8), [-1.0, -0.5, 0.0, 0.5, 127.0 / 128.0]);
        assert_eq!(converted(&[0x00, 0x80, 0x00, 0x40, 0xFF, 0x7F], Packing::I16), [-1.0, 0.5, 32767.0 / 32768.0]);
        assert_eq!(converted(&[0, 0, 0x80, 0, 0, 0x20, 1, 0, 0], Packing::I24), [-1.0, 0.25, 1.0 / 8_388_608.0]);
        let many: Vec<i32> = (0..1003).map(|n| (n * 7919) % 8_388_608 * if n % 2 == 0 { 1 } else { -1 }).collect();
        let packed: Vec<u8> = many.iter().flat_map(|n| n.to_le_bytes()[..3].to_vec()).collect();
        let exact: Vec<f32> = many.iter().map(|n| *n as f32 / 8_388_608.0).collect();
        assert_eq!(converted(&packed, Packing::I24), exact);
        assert_eq!(converted(&[0, 0, 0, 0x80, 0, 0, 0, 0x60], Packing::I32), [-1.0, 0.75]);
        assert_eq!(converted(&1.5f32.to_le_bytes(), Packing::F32), [1.5]);
        assert_eq!(converted(&(-0.125f64).to_le_bytes(), Packing::F64), [-0.125]);
    }
}
