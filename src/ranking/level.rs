//! The hiss level at an opening: middle, interval and bound from the weights of all levels it may have.

use statrs::function::erf::erf;

use crate::hiss::{BANDS, FIRST_LEVEL_BAND};

use super::weigh::LevelWeight;

/// What the model leaves out of a level (a hiss that is not quite steady, bands between cells), standard deviation, dB.
const MODEL_DB: f64 = 1.8;

/// What a level band that the recording does not reach leaves open, standard deviation, dB.
const UNREACHED_DB: f64 = 0.7;

/// The level below which the hiss lies with a probability, dB FS. `None` without weights.
///
/// `bands`: how many bands of the grid the clips reach. The level is that of all level bands: those out of reach are
/// taken to hold as much as the others, and widen the interval.
pub fn level_at(weights: &[LevelWeight], probability: f64, bands: usize) -> Option<f64> {
    let level_bands = (BANDS - FIRST_LEVEL_BAND) as f64;
    let reached = bands.saturating_sub(FIRST_LEVEL_BAND).max(1) as f64;
    let beyond = 10.0 * (level_bands / reached).log10();
    let open = UNREACHED_DB * (level_bands - reached);
    let spread = |level: &LevelWeight| (level.variance_db2 + MODEL_DB * MODEL_DB + open * open).sqrt();
    let ends = |sign: f64| weights.iter().map(move |level| level.level_db + sign * 6.0 * spread(level));
    let mut low = ends(-1.0).min_by(f64::total_cmp)?;
    let mut high = ends(1.0).max_by(f64::total_cmp)?;
    let whole: f64 = weights.iter().map(|level| level.weight).sum();
    let below = |at: f64| {
        let share = |level: &LevelWeight| {
            let off = (at - level.level_db) / spread(level) / std::f64::consts::SQRT_2;
            level.weight * 0.5 * (1.0 + erf(off))
        };
        weights.iter().map(share).sum::<f64>() / whole
    };
    // A bracket of some hundred dB, halved 40 times.
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if below(middle) < probability {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high) + beyond)
}
