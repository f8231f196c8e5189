//! Level tracking: a second microphone a step away tells how loud the shop is at every moment.
//!
//! The ratio of band powers near over far, learnt from the quiet clip, predicts what the shop alone would make of the air
//! clip, block by block. What is over the prediction is hiss; what rises at both microphones is the shop's.

use super::contrast::{Contrast, Quiet};
use super::grid::{BANDS, CELLS, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND, PerBand};
use super::scatter_matrix::ScatterMatrix;
use super::sound::ClipFeatures;

/// Length of a block, seconds: short enough to follow a shop, long enough for a steady ratio.
const BLOCK_SECONDS: f64 = 0.35;
/// Blocks of the quiet clip needed to know the ratio and its scatter.
const LEAST_BLOCKS: usize = 6;
/// The share of the air clip's blocks that is looked at: those in which the shop is stillest.
const STILLEST_SHARE: f64 = 0.25;
/// What another place in the noise field does to the ratio between two takes, standard deviation, dB.
const RATIO_DRIFT_DB: f64 = 0.5;
/// How far the ratio may change beyond that, re two clips apart: other things may make the noise.
const BACKGROUND_VARIABILITY: f64 = 0.4;
/// The ratio scatters, block by block, by at most this much more (as a variance) than the near level itself: else the
/// far microphone hears another room, and tells nothing.
const WORST_VARIANCE: f64 = 1.5;
/// Off the diagonal, a covariance from a few dozen blocks is mostly chance.
const KEPT_CORRELATION: f64 = 0.7;
/// From this rise at the far microphone on something has grown louder there, dB; what was added, re the shop, is then to
/// be this much more at the near one, dB, or it was not made at the opening: a hand's breadth makes 10 dB of a leak.
const RISEN_DB: f64 = 3.0;
const NEARER_DB: f64 = 5.0;

/// What near and far say together.
#[derive(Debug, Clone, PartialEq)]
pub struct Tracked {
    /// The air clips against what the far microphone predicts for them.
    pub contrast: Contrast,
    /// Whether the shop rose at both microphones alike, from quiet to air.
    pub risen_everywhere: bool,
    /// How far near rose over far with the air, dB: mean of the half of the level bands in which it moved most.
    pub turned_db: f64,
}

/// Mean powers of a block at both microphones, dB FS per band.
struct Block {
    near_db: PerBand,
    far_db: PerBand,
}

/// The air clips of an opening against what the far channel predicts from the quiet ones.
///
/// `None` unless every clip carries its far channel ([`ClipFeatures::tracked_by`]), the quiet clips are long enough (about
/// two seconds) and the far channel follows the same shop.
#[must_use]
pub fn tracked_contrast(quiet: &[&ClipFeatures], air: &[&ClipFeatures]) -> Option<Tracked> {
    let shut = blocks_of(quiet)?;
    let open = blocks_of(air)?;
    if shut.len() < LEAST_BLOCKS || open.is_empty() {
        return None;
    }
    let ratio_db: PerBand =
        std::array::from_fn(|b| median(shut.iter().map(|block| block.near_db[b] - block.far_db[b])));
    let left = |block: &Block| -> PerBand { std::array::from_fn(|b| block.near_db[b] - block.far_db[b] - ratio_db[b]) };
    let scatter: Vec<PerBand> = shut.iter().map(left).collect();
    if variance(&scatter) > WORST_VARIANCE * variance(&shut.iter().map(|block| block.near_db).collect::<Vec<_>>()) + 0.5
    {
        return None;
    }
    let stillest = stillest(&open);
    let air_db = std::array::from_fn(|b| median(stillest.iter().map(|block| block.near_db[b])));
    let quiet_db: PerBand = std::array::from_fn(|b| {
        air_db[b] - median(stillest.iter().map(|block| block.near_db[b] - block.far_db[b] - ratio_db[b]))
    });
    let counted = stillest.len().min(shut.len()) as f64;
    let mean = |blocks: &[Block], of: &dyn Fn(&Block) -> PerBand| -> PerBand {
        std::array::from_fn(|b| blocks.iter().map(|block| of(block)[b]).sum::<f64>() / blocks.len() as f64)
    };
    let rise = |of: &dyn Fn(&Block) -> PerBand| {
        let (before, after) = (mean(&shut, of), mean(&open, of));
        (FIRST_LEVEL_BAND..END_OF_LEVEL_BANDS).map(|b| after[b] - before[b]).sum::<f64>()
            / (END_OF_LEVEL_BANDS - FIRST_LEVEL_BAND) as f64
    };
    let (near, far) = (rise(&|block| block.near_db), rise(&|block| block.far_db));
    Some(Tracked {
        contrast: Contrast {
            air_db,
            air_takes: air.len(),
            own: Some(Quiet { floor_db: quiet_db, takes: quiet.len() }),
            others: None,
            other_openings: 0,
            movement: covariance(&scatter, counted),
            quiet_scatter: None,
            drift_db: RATIO_DRIFT_DB,
            background_variability: BACKGROUND_VARIABILITY,
            // Block means lie at the mean, not at a low quantile.
            quantile_bias_db: [0.0; BANDS],
            mean_air_db: air_db,
            mean_quiet_db: quiet_db,
            low_air_db: f64::NEG_INFINITY,
            low_quiet_db: f64::NEG_INFINITY,
        },
        risen_everywhere: far > RISEN_DB && added_db(near) < added_db(far) + NEARER_DB,
        turned_db: turned_db(&open, &ratio_db),
    })
}

/// What was added, re what was there before, dB, where a level rose by so much.
fn added_db(rise_db: f64) -> f64 {
    10.0 * (10f64.powf(rise_db / 10.0) - 1.0).max(1e-3).log10()
}

/// How far near over far lies from its usual ratio: the half of the level bands that moved most, either way.
fn turned_db(open: &[Block], ratio_db: &PerBand) -> f64 {
    let moved = |b: usize| median(open.iter().map(|block| block.near_db[b] - block.far_db[b])) - ratio_db[b];
    let mut each: Vec<f64> = (FIRST_LEVEL_BAND..BANDS).map(moved).collect();
    each.sort_by(|a, b| b.abs().total_cmp(&a.abs()));
    each.truncate(each.len().div_ceil(2));
    each.iter().sum::<f64>() / each.len().max(1) as f64
}

/// The blocks of all clips; `None` where one has no far channel.
fn blocks_of(clips: &[&ClipFeatures]) -> Option<Vec<Block>> {
    let mut blocks = Vec::new();
    for clip in clips {
        let far = clip.far_rows()?;
        let (near, row_seconds) = clip.rows();
        let rows: Vec<(&[f32], &[f32])> = near.zip(far).collect();
        let size = ((BLOCK_SECONDS / row_seconds).round() as usize).max(1);
        blocks.extend(rows.chunks_exact(size).map(|part| Block {
            near_db: mean_db(part.iter().map(|row| row.0)),
            far_db: mean_db(part.iter().map(|row| row.1)),
        }));
    }
    Some(blocks)
}

/// Mean power of every band over rows, dB FS.
fn mean_db<'a>(rows: impl Iterator<Item = &'a [f32]>) -> PerBand {
    let (mut sums, mut count) = ([0.0; BANDS], 0.0);
    for row in rows {
        count += 1.0;
        for (sum, cells) in sums.iter_mut().zip(row.chunks_exact(CELLS)) {
            *sum += f64::from(cells.iter().sum::<f32>());
        }
    }
    sums.map(|sum| 10.0 * (sum / count).max(f64::MIN_POSITIVE).log10())
}

/// The blocks in which the far microphone hears least.
fn stillest(blocks: &[Block]) -> Vec<&Block> {
    let loudness = |block: &Block| block.far_db[FIRST_LEVEL_BAND..END_OF_LEVEL_BANDS].iter().sum::<f64>();
    let mut sorted: Vec<&Block> = blocks.iter().collect();
    sorted.sort_by(|a, b| loudness(a).total_cmp(&loudness(b)));
    let kept = ((blocks.len() as f64 * STILLEST_SHARE).ceil() as usize).clamp(1, blocks.len());
    sorted.truncate(kept);
    sorted
}

/// Mean variance over bands, dB².
fn variance(values: &[PerBand]) -> f64 {
    ScatterMatrix::about_mean(values).mean_square() / (values.len() as f64 - 1.0).max(1.0)
}

/// Covariance of a median of `counted` blocks (a median scatters π/2 as much as a mean).
fn covariance(scatter: &[PerBand], counted: f64) -> ScatterMatrix {
    let share = std::f64::consts::FRAC_PI_2 / (scatter.len() as f64 * counted);
    ScatterMatrix::of(scatter).less_correlated(KEPT_CORRELATION).times(share)
}

fn median(values: impl Iterator<Item = f64>) -> f64 {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    let upper = sorted.get(sorted.len() / 2).copied().unwrap_or(0.0);
    let lower = sorted.get(sorted.len().saturating_sub(1) / 2).copied().unwrap_or(0.0);
    0.5 * (lower + upper)
}
