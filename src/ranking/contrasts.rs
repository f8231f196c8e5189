//! What is known of each opening, and the levels its hiss may have.

use crate::hiss::{Contrast, Views, level_bands};

use super::assumptions as assume;

/// What is known of an opening.
#[derive(Debug, Clone, Default)]
pub struct OpeningContrasts {
    /// Clips with the air off and on, by view.
    pub views: Views,
    /// Whether a second microphone heard the shop rise as much.
    pub risen: bool,
    /// Whether a second microphone told the shop apart in these: what hisses elsewhere raises both, and shows in neither view.
    pub tracked: bool,
    /// Pulsed clips.
    pub pulsed: Vec<Contrast>,
    /// Whether it opens into the crankcase, where a little air past the rings is usual.
    pub crankcase: bool,
}

impl OpeningContrasts {
    /// Every contrast that stands for clips of its own.
    pub fn contrasts(&self) -> impl Iterator<Item = &Contrast> {
        self.views.first().map(|(_, contrast)| contrast).into_iter().chain(&self.pulsed)
    }
}

/// The shop's mean noise power in the level bands, dB FS.
pub fn shop_db(openings: &[OpeningContrasts], bands: usize) -> f64 {
    let power =
        |contrast: &Contrast| -> f64 { level_bands(bands).map(|b| 10f64.powf(contrast.mean_quiet_db[b] / 10.0)).sum() };
    let all: Vec<f64> = openings.iter().flat_map(OpeningContrasts::contrasts).map(power).collect();
    10.0 * (all.iter().sum::<f64>() / all.len().max(1) as f64).max(f64::MIN_POSITIVE).log10()
}

/// The level of a hiss with equal power in all bands that lies at the quiet floor of the stillest band, dB FS.
fn weakest_floor_db(contrast: &Contrast, bands: usize) -> f64 {
    let Some(quiet) = contrast.own.as_ref().or(contrast.others.as_ref()) else { return f64::INFINITY };
    let range = level_bands(bands);
    let all_db = 10.0 * (range.len().max(1) as f64).log10();
    range.map(|b| quiet.floor_db[b] - contrast.quantile_bias_db[b] + all_db).fold(f64::INFINITY, f64::min)
}

/// The levels tried, dB FS: from far under the shop's noise to far over it.
pub fn levels(openings: &[OpeningContrasts], bands: usize) -> Vec<f64> {
    let (lowest, highest, step) = assume::LEVELS_DB;
    let shop_db = shop_db(openings, bands);
    // Under the lowest level tried nothing may be heard: where the shop comes and goes, its floor lies far under its mean.
    let weakest =
        openings.iter().flat_map(OpeningContrasts::contrasts).map(|contrast| weakest_floor_db(contrast, bands));
    let under = weakest.fold(f64::INFINITY, f64::min) - assume::UNDER_THE_FLOOR_DB - shop_db;
    let lowest = if under.is_finite() { under.clamp(lowest - assume::FARTHER_DOWN_DB, lowest) } else { lowest };
    let lowest = (lowest / step).floor() * step;
    let count = ((highest - lowest) / step).round() as usize;
    (0..=count).map(|k| shop_db + lowest + step * k as f64).collect()
}
