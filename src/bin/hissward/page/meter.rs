//! How loud a recording is while it comes in: the bands in which hiss is looked for, as the ranking has them.

use hissward::meter::{CapsuleWatch, Colour, HissMeter};
use hissward::spectrum::{BandWeights, FrameSpectra, frame_length};
use hissward::units::{Hertz, Level};
use serde::Serialize;

/// The bands of the hiss level: 1 to 16 kHz, from edge to edge of third-octaves (IEC 61260-1).
const HISS_BANDS_HZ: (f64, f64) = (891.251, 17_782.794);
/// Up to this share of the rate a recording is sound and not its filter.
const HIGHEST_SHARE: f64 = 0.45;
/// From here on a sample counts as clipped: the last step of 16 bit below full scale.
const FULL_SCALE: f32 = 32_767.0 / 32_768.0;

/// Loudness of the last piece.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LiveLevel {
    /// Level of the whole sound, dB FS; `None` in digital silence.
    pub level_db: Option<f64>,
    /// Median level of the bands in which hiss is looked for, dB FS: bangs and talk do not move it.
    pub hiss_bands_db: Option<f64>,
    /// The same over the quiet clip at this opening, dB; `None` where there is none yet.
    pub above_quiet_db: Option<f64>,
    /// Samples at full scale since the beginning.
    pub clipped: u64,
    /// Whether air streams over the microphone; known only against a quiet clip.
    pub in_the_stream: bool,
}

/// What a quiet clip leaves for those that are held against it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quiet {
    /// Median level of the bands in which hiss is looked for, dB FS.
    pub hiss_bands_db: f64,
    /// What its last seconds sound like.
    pub colour: Option<Colour>,
}

/// Measures one recording, piece by piece.
pub struct Meter {
    spectra: FrameSpectra,
    band: BandWeights,
    medians: Vec<f64>,
    clipped: u64,
    // The filters of the guide's meter: what warns there warns here.
    readings: HissMeter,
    capsule: CapsuleWatch,
}

impl Meter {
    /// A meter for sound of a rate.
    pub fn new(rate_hz: u32) -> Self {
        let rate_hz = f64::from(rate_hz);
        let frame = frame_length(rate_hz);
        let high = HISS_BANDS_HZ.1.min(rate_hz * HIGHEST_SHARE);
        let band = BandWeights::new(Hertz(HISS_BANDS_HZ.0), Hertz(high), rate_hz / frame as f64, frame / 2 + 1);
        Self {
            spectra: FrameSpectra::new(frame),
            band,
            medians: Vec::new(),
            clipped: 0,
            readings: HissMeter::new(Hertz(rate_hz)),
            capsule: CapsuleWatch::default(),
        }
    }

    /// Measures a piece, against the quiet clip where there is one.
    pub fn take(&mut self, samples: &[f32], quiet: Option<&Quiet>) -> LiveLevel {
        self.clipped += samples.iter().filter(|sample| sample.abs() >= FULL_SCALE).count() as u64;
        let power = samples.iter().map(|sample| f64::from(*sample).powi(2)).sum::<f64>() / samples.len().max(1) as f64;
        let (band, mut powers) = (&self.band, Vec::new());
        self.spectra.push(samples, |bins| powers.push(f64::from(band.power(bins))));
        let hiss_bands_db = median(&mut powers).and_then(Level::of_power).map(|level| level.0);
        self.medians.extend(hiss_bands_db);
        let capsule = &mut self.capsule;
        self.readings.push(samples, |reading| capsule.push(&reading));
        LiveLevel {
            level_db: Level::of_power(power).map(|level| level.0),
            hiss_bands_db,
            above_quiet_db: hiss_bands_db.zip(quiet).map(|(now, quiet)| now - quiet.hiss_bands_db),
            clipped: self.clipped,
            in_the_stream: self.capsule.is_in_the_stream(quiet.and_then(|quiet| quiet.colour.as_ref())),
        }
    }

    /// What it was like, of a quiet clip; `None` in digital silence.
    pub fn whole(mut self) -> Option<Quiet> {
        let colour = self.capsule.colour();
        median(&mut self.medians).map(|hiss_bands_db| Quiet { hiss_bands_db, colour })
    }
}

fn median(values: &mut [f64]) -> Option<f64> {
    values.sort_unstable_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sine of amplitude 0.1 at 3 kHz has the mean square 0.005, −23.01 dB FS.
    #[test]
    fn a_sine_in_the_band_reads_its_level_and_one_below_does_not() {
        let sine = |hz: f64| -> Vec<f32> {
            (0..48_000).map(|n| (0.1 * (std::f64::consts::TAU * hz * f64::from(n) / 48_000.0).sin()) as f32).collect()
        };
        let quiet = Quiet { hiss_bands_db: -43.01, colour: None };
        let inside = Meter::new(48_000).take(&sine(3_000.0), Some(&quiet));
        assert!((inside.hiss_bands_db.expect("loud") + 23.01).abs() < 0.02, "{inside:?}");
        assert!((inside.above_quiet_db.expect("a quiet clip") - 20.0).abs() < 0.02, "{inside:?}");
        let below = Meter::new(48_000).take(&sine(200.0), None);
        assert!(below.hiss_bands_db.is_none_or(|level| level < -80.0), "{below:?}");
        assert!((below.level_db.expect("loud") + 23.01).abs() < 0.02, "{below:?}");
    }
}
