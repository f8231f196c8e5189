//! The hiss level at an opening: middle, interval and bound from the weights of all levels it may have.

use std::f64::consts::{FRAC_1_SQRT_2, TAU};

use statrs::function::erf::erf;

use crate::hiss::{BANDS, level_bands};

use super::weigh::LevelWeight;

/// What the model leaves out of a level (a hiss that is not quite steady, bands between cells), standard deviation, dB.
const MODEL_DB: f64 = 1.8;

/// What a level band that the recording does not reach leaves open, standard deviation, dB.
const UNREACHED_DB: f64 = 0.7;

/// A step this small is the last, dB.
const SETTLED_DB: f64 = 1e-9;

/// The level below which the hiss lies with a probability, dB FS. `None` without weights.
///
/// `bands`: how many bands of the grid the clips reach. The level is that of all level bands: those out of reach are
/// taken to hold as much as the others, and widen the interval.
pub fn level_at(weights: &[LevelWeight], probability: f64, bands: usize) -> Option<f64> {
    let wanted = level_bands(BANDS).len() as f64;
    let reached = level_bands(bands).len().max(1) as f64;
    let beyond = 10.0 * (wanted / reached).log10();
    let open = UNREACHED_DB * (wanted - reached);
    let model = MODEL_DB * MODEL_DB + open * open;
    let kernels: Vec<(&LevelWeight, f64)> =
        weights.iter().map(|level| (level, (level.variance_db2 + model).sqrt())).collect();
    let ends = |sign: f64| kernels.iter().map(move |(level, spread)| level.level_db + sign * 6.0 * spread);
    let mut low = ends(-1.0).min_by(f64::total_cmp)?;
    let mut high = ends(1.0).max_by(f64::total_cmp)?;
    let whole: f64 = weights.iter().map(|level| level.weight).sum();
    // The share below a level, and the density there.
    let below = |at: f64| {
        let (mut share, mut density) = (0.0, 0.0);
        for (level, spread) in &kernels {
            let off = (at - level.level_db) / spread;
            share += level.weight * 0.5 * (1.0 + erf(off * FRAC_1_SQRT_2));
            density += level.weight * (-0.5 * off * off).exp() / spread;
        }
        (share / whole, density / whole / TAU.sqrt())
    };
    // Newton's steps, within a bracket that is halved where they would leave it.
    let mut at = 0.5 * (low + high);
    for _ in 0..60 {
        let (share, density) = below(at);
        if share < probability {
            low = at;
        } else {
            high = at;
        }
        let step = (probability - share) / density;
        if step.abs() < SETTLED_DB {
            at += step;
            break;
        }
        let next = at + step;
        at = if next > low && next < high { next } else { 0.5 * (low + high) };
    }
    Some(at + beyond)
}
