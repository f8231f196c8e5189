//! A stretch of recorded sound: finite samples, their rate, and where they came from. Checked once, here.

use crate::units::{Hertz, Seconds};

/// The lowest sample rate taken in, hertz (narrow-band telephone speech).
pub const LOWEST_RATE_HZ: f64 = 8_000.0;
/// The highest sample rate taken in, hertz.
pub const HIGHEST_RATE_HZ: f64 = 192_000.0;
/// The largest sample taken for sound, full scale being 1: beyond what 32-bit whole numbers stored as floats reach, and
/// small enough that the power of a spectrum fits single precision.
pub const LARGEST_SAMPLE: f32 = 1e10;

/// One channel of finite samples, full scale ±1.
#[derive(Debug, Clone, PartialEq)]
pub struct Clip {
    samples: Vec<f32>,
    rate_hz: f64,
    name: String,
}

/// Why samples are no clip.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ClipError {
    /// No samples at all.
    #[error("{name}: no sound in it: record it again")]
    Empty {
        /// The clip's name.
        name: String,
    },
    /// A sample that is no number.
    #[error(
        "{name}: sample {at} is not a number: the file is damaged or was written wrongly, export it again as 16-bit WAV"
    )]
    NotFinite {
        /// The clip's name.
        name: String,
        /// Index of the first such sample.
        at: usize,
    },
    /// A sample that no recording can hold.
    #[error(
        "{name}: sample {at} is {times_full_scale:e} times full scale: the file is damaged or was written wrongly, export it again as 16-bit WAV"
    )]
    Absurd {
        /// The clip's name.
        name: String,
        /// Index of the first such sample.
        at: usize,
        /// How large it is.
        times_full_scale: f32,
    },
    /// A rate outside what is taken in.
    #[error(
        "{name}: {got_hz} Hz is not a sample rate between {LOWEST_RATE_HZ} and {HIGHEST_RATE_HZ} Hz: record at 44100 or 48000 Hz"
    )]
    Rate {
        /// The clip's name.
        name: String,
        /// The rate found, hertz.
        got_hz: f64,
    },
}

impl Clip {
    /// Checks the samples and keeps them.
    ///
    /// # Errors
    /// [`ClipError`] where there is none, one is NaN or infinite, or the rate is out of range.
    pub fn new(samples: Vec<f32>, rate: Hertz, name: impl Into<String>) -> Result<Self, ClipError> {
        let name = name.into();
        check_rate(rate, &name)?;
        if samples.is_empty() {
            return Err(ClipError::Empty { name });
        }
        check_finite(&samples, 0, &name)?;
        Ok(Self { samples, rate_hz: rate.0, name })
    }

    /// The samples, full scale ±1.
    #[must_use]
    pub fn samples(&self) -> &[f32] {
        &self.samples
    }

    /// Samples per second.
    #[must_use]
    pub fn rate(&self) -> Hertz {
        Hertz(self.rate_hz)
    }

    /// Where it came from: a file's name as the user wrote it.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How long it is.
    #[must_use]
    pub fn duration(&self) -> Seconds {
        Seconds(self.samples.len() as f64 / self.rate_hz)
    }
}

/// Whether a rate is one that is taken in.
///
/// # Errors
/// [`ClipError::Rate`] where it is not.
pub fn check_rate(rate: Hertz, name: &str) -> Result<(), ClipError> {
    if (LOWEST_RATE_HZ..=HIGHEST_RATE_HZ).contains(&rate.0) {
        Ok(())
    } else {
        Err(ClipError::Rate { name: name.to_owned(), got_hz: rate.0 })
    }
}

/// Whether every sample of a block is finite and no larger than [`LARGEST_SAMPLE`]; `first` is the block's place in the
/// clip.
///
/// # Errors
/// [`ClipError::NotFinite`] or [`ClipError::Absurd`] with the place of the first that is not.
pub fn check_finite(block: &[f32], first: usize, name: &str) -> Result<(), ClipError> {
    // Magnitudes are in the order of their bits, with infinities and NaN above all numbers. Looked for without a branch,
    // so that the compiler takes many at a time; the search runs only where there is one.
    const MAGNITUDE: u32 = 0x7FFF_FFFF;
    let wrong = |x: &f32| x.to_bits() & MAGNITUDE > LARGEST_SAMPLE.to_bits();
    if !block.iter().fold(false, |found, x| found | wrong(x)) {
        return Ok(());
    }
    match block.iter().enumerate().find(|(_, x)| wrong(x)) {
        Some((at, x)) if x.is_finite() => {
            Err(ClipError::Absurd { name: name.to_owned(), at: first + at, times_full_scale: x.abs() })
        }
        Some((at, _)) => Err(ClipError::NotFinite { name: name.to_owned(), at: first + at }),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_recording_can_hold_is_told_with_its_place() {
        assert_eq!(check_finite(&[1.0, -LARGEST_SAMPLE, 0.0, f32::MIN_POSITIVE], 7, "a.wav"), Ok(()));
        let told = |x: f32| check_finite(&[0.5, x], 7, "a.wav").expect_err("no sound");
        let too_large = LARGEST_SAMPLE.next_up();
        for x in [too_large, -too_large, f32::MAX] {
            assert_eq!(told(x), ClipError::Absurd { name: "a.wav".to_owned(), at: 8, times_full_scale: x.abs() });
        }
        for x in [f32::NAN, -f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
            assert_eq!(told(x), ClipError::NotFinite { name: "a.wav".to_owned(), at: 8 });
        }
        assert!(told(3e12).to_string().contains("3e12 times full scale"));
    }
}
