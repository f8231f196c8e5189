//! A stretch of recorded sound: finite samples, their rate, and where they came from. Checked once, here.

use crate::units::{Hertz, Seconds};

/// The lowest sample rate taken in, hertz (narrow-band telephone speech).
pub const LOWEST_RATE_HZ: f64 = 8_000.0;
/// The highest sample rate taken in, hertz.
pub const HIGHEST_RATE_HZ: f64 = 192_000.0;

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

/// Whether every sample of a block is finite; `first` is the block's place in the clip.
///
/// # Errors
/// [`ClipError::NotFinite`] with the place of the first that is not.
pub fn check_finite(block: &[f32], first: usize, name: &str) -> Result<(), ClipError> {
    // Infinities and NaN are those with all exponent bits set. Looked for without a branch, so that the
    // compiler takes many at a time; the search runs only where there is one.
    const MAGNITUDE: u32 = 0x7FFF_FFFF;
    if !block.iter().fold(false, |found, x| found | (x.to_bits() & MAGNITUDE >= f32::INFINITY.to_bits())) {
        return Ok(());
    }
    match block.iter().position(|x| !x.is_finite()) {
        Some(at) => Err(ClipError::NotFinite { name: name.to_owned(), at: first + at }),
        None => Ok(()),
    }
}
