//! Noise suppression: a steady floor eaten away, moment by moment and band by band.

use super::super::grid::{CELLS, END_OF_LEVEL_BANDS};
use super::super::sound::ClipFeatures;

/// From this share of samples in runs of digital zero on, something has shut the sound off between words.
const SILENCED_SHARE: f64 = 0.003;
/// Scatter of steady noise from row to row in a cell held against its neighbours, standard deviation, dB, mean over a band's
/// cells. Measured on white Gaussian noise; the unit test measures again.
const STEADY_DB: [f64; END_OF_LEVEL_BANDS] = [
    1.479, 2.124, 2.409, 2.281, 2.513, 2.393, 2.276, 2.122, 1.942, 1.833, 1.641, 1.469, 1.298, 1.175, 1.064, 0.952,
    0.860,
];
/// Mean magnitude of a Gaussian value over its standard deviation, times √2: the difference of two rows.
const MEAN_OF_DIFFERENCE: f64 = 0.797_885 * std::f64::consts::SQRT_2;
/// A single jump counts as no more than this, re steady noise.
const MOST_SCATTER: f64 = 4.0;
/// Rows, about a third of a second, over which scatter is averaged; and the share of such stretches that are stiller.
const STRETCH_ROWS: usize = 8;
const STILLEST: f64 = 0.1;
/// Changes that a stretch of bands makes as a whole are counted up to this, dB.
const MOST_CHANGE_DB: f64 = 6.0;
/// What the change of the 8 and 10 kHz bands together scatters by in steady noise, dB.
const STEADY_CHANGE_DB: f64 = 0.466;
/// The bands looked at: 1–2.5 kHz, 3.15–6.3 kHz, 8–16 kHz (the last without its last cell, which has no neighbour above).
const MIDDLE: std::ops::Range<usize> = 4 * CELLS..9 * CELLS;
const HIGH: std::ops::Range<usize> = 9 * CELLS..13 * CELLS;
const TOP: std::ops::Range<usize> = 13 * CELLS..END_OF_LEVEL_BANDS * CELLS - 1;
/// The bands whose levels change together where one gain is laid over all of 8 kHz and up.
const BELOW_TOP: std::ops::Range<usize> = 13 * CELLS..15 * CELLS;
const AT_TOP: std::ops::Range<usize> = 15 * CELLS..17 * CELLS;
/// A clip with a higher score looks suppressed; of a recorder's clips so large a share must.
const SUPPRESSED_FROM: f64 = 2.0;
const SUPPRESSED_CLIPS: f64 = 0.3;
/// Weights of the score and what is taken off. Set on the tuning noises alone.
const WEIGHTS: Weights = Weights { middle: 16.0, high: 10.6, top: -4.7, common: 6.6, swing: -2.4, less: 24.8 };

struct Weights {
    middle: f64,
    high: f64,
    top: f64,
    common: f64,
    swing: f64,
    less: f64,
}

/// How noise was suppressed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Suppression {
    /// The sound is shut off where there is no speech.
    ShutOff {
        /// Share of the samples that are digital zero, in the clip that has most.
        share: f64,
    },
    /// A steady floor is turned down, more in the moments when it is weak.
    Eaten,
}

impl Suppression {
    /// What one recorder's clips show, together.
    #[must_use]
    pub fn of(clips: &[&ClipFeatures]) -> Option<Self> {
        let share = clips.iter().map(|clip| clip.zeroed_share()).fold(0.0, f64::max);
        if share > SILENCED_SHARE {
            return Some(Self::ShutOff { share });
        }
        let scores: Vec<f64> = clips.iter().filter_map(|clip| score(clip)).collect();
        let over = scores.iter().filter(|score| **score > SUPPRESSED_FROM).count();
        let eaten = over > 0 && over as f64 >= SUPPRESSED_CLIPS * scores.len() as f64;
        eaten.then_some(Self::Eaten)
    }
}

/// How much a clip's floor looks like that of noise suppression: positive where it does, `None` where the clip is too short
/// or ends too low to tell.
///
/// A suppressor turns each band down in the moments when it is weak, so steady noise scatters more than Gaussian noise can,
/// even in its stillest stretches; most of all where speech lies (3–6 kHz), and above 8 kHz, where one gain serves, all bands
/// together.
fn score(clip: &ClipFeatures) -> Option<f64> {
    if clip.bandwidth().0 < 16_000.0 {
        return None;
    }
    let (rows, _) = clip.rows();
    let levels: Vec<Vec<f64>> =
        rows.map(|row| row.iter().map(|power| 10.0 * f64::from(*power).max(1e-18).log10()).collect()).collect();
    if levels.len() < 3 * STRETCH_ROWS {
        return None;
    }
    let scatter: Vec<[f64; 3]> = levels.windows(2).map(|pair| scatter(&pair[0], &pair[1])).collect();
    let stillest = |at: usize| {
        let stretches = scatter.windows(STRETCH_ROWS);
        let mut means: Vec<f64> =
            stretches.map(|part| part.iter().map(|of| of[at]).sum::<f64>() / STRETCH_ROWS as f64).collect();
        means.sort_by(f64::total_cmp);
        means.get((means.len() as f64 * STILLEST) as usize).copied().unwrap_or(1.0)
    };
    let changes = |cells: std::ops::Range<usize>| -> Vec<f64> {
        let mean = |row: &[f64]| row[cells.clone()].iter().sum::<f64>() / cells.len() as f64;
        let each = levels.windows(2).map(|pair| mean(&pair[1]) - mean(&pair[0]));
        each.map(|change| change.clamp(-MOST_CHANGE_DB, MOST_CHANGE_DB)).collect()
    };
    let (below, at) = (changes(BELOW_TOP), changes(AT_TOP));
    let swing = (deviation(&below) / STEADY_CHANGE_DB + 0.1).ln();
    let w = WEIGHTS;
    let still = w.middle * stillest(0) + w.high * stillest(1) + w.top * stillest(2);
    Some(still + w.common * correlation(&below, &at) + w.swing * swing - w.less)
}

/// Mean scatter, re steady noise, of the middle, high and top bands from one row to the next.
fn scatter(before: &[f64], after: &[f64]) -> [f64; 3] {
    let apart = |row: &[f64], cell: usize| row[cell] - 0.5 * (row[cell - 1] + row[cell + 1]);
    let of = |cells: std::ops::Range<usize>| {
        let count = cells.len() as f64;
        let each = cells.map(|cell| {
            let change = (apart(after, cell) - apart(before, cell)).abs();
            (change / (STEADY_DB[cell / CELLS] * MEAN_OF_DIFFERENCE)).min(MOST_SCATTER)
        });
        each.sum::<f64>() / count
    };
    [of(MIDDLE), of(HIGH), of(TOP)]
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

fn deviation(values: &[f64]) -> f64 {
    let middle = mean(values);
    (values.iter().map(|value| (value - middle).powi(2)).sum::<f64>() / values.len().max(1) as f64).sqrt()
}

fn correlation(one: &[f64], other: &[f64]) -> f64 {
    let (a, b) = (mean(one), mean(other));
    let product = one.iter().zip(other).map(|(x, y)| (x - a) * (y - b)).sum::<f64>() / one.len().max(1) as f64;
    let scale = deviation(one) * deviation(other);
    if scale > 0.0 { product / scale } else { 0.0 }
}
