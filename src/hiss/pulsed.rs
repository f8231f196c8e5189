//! Pulsed air: the valve opened and shut in turn within one clip, each second held against the two beside it.

use super::contrast::{Contrast, Quiet};
use super::floor::floor_db;
use super::grid::{Grid, PerBand};
use super::scatter_matrix::ScatterMatrix;
use super::sound::ClipFeatures;

/// Seconds shut, then seconds open.
const STEP_SECONDS: f64 = 1.0;
/// What people's lateness behind the beep is looked for in, seconds.
const LATENESS_SECONDS: [f64; 5] = [0.1, 0.2, 0.3, 0.4, 0.5];
/// Left out on both sides of an edge, seconds: edges stray by about 0.1 s.
const GUARD_SECONDS: f64 = 0.15;
/// Steps needed at the least: two open seconds, each between two shut ones.
const LEAST_STEPS: usize = 5;
/// Side by side, the floor changes this much less than between two clips minutes apart.
const BACKGROUND_VARIABILITY: f64 = 0.1;
/// The differences are few and their lateness was chosen: their variance is taken this much larger.
const VARIANCE_MARGIN: f64 = 2.0;
/// The difference between all open seconds and all shut ones counts this much, the mean of the seconds' own the rest: the
/// first knows the moments in which the shop is stillest, the second goes along with a shop that drifts.
const POOLED_SHARE: f64 = 0.6;
/// Off the diagonal, a covariance from a few dozen differences is in part chance.
const KEPT_CORRELATION: f64 = 0.9;
/// A dozen differences tell their own scatter badly: this share of it is told by all pulsed clips together.
const SHARED_SCATTER: f64 = 0.5;
/// … but no more than so many times a band's own variance: where something steady covers the shop, a band stands still, and a
/// hiss that came and went would show at once.
const SHARED_AT_MOST: f64 = 3.0;

/// What a pulsed clip says.
#[derive(Debug, Clone, PartialEq)]
pub struct Pulsed {
    /// Open seconds against the shut ones beside them.
    pub contrast: Contrast,
    /// How late the person was behind the beep, seconds: the lateness that fits best.
    pub lateness_s: f64,
    /// Whether the clip changes as much in a rhythm that nobody was asked to keep: then its own noise has a rhythm.
    pub own_rhythm: bool,
}

/// The contrasts within the pulsed clips of all openings. A clip that is too short is left out (five seconds and the
/// lateness are needed).
///
/// The beep is a clip's beginning: shut from 0 s, open from 1 s, and so on, each edge late by what a person is late.
#[must_use]
pub fn pulsed_contrasts(openings: &[Vec<&ClipFeatures>]) -> Vec<Vec<Pulsed>> {
    let mut found: Vec<Vec<Pulsed>> =
        openings.iter().map(|clips| clips.iter().filter_map(|clip| pulsed_contrast(clip)).collect()).collect();
    let all = mean_scatter(&found);
    for pulsed in found.iter_mut().flatten() {
        let shared = all.clone().at_most(&pulsed.contrast.movement, SHARED_AT_MOST);
        let mut shared = shared.times(SHARED_SCATTER);
        shared.add_share(&pulsed.contrast.movement, 1.0 - SHARED_SCATTER);
        pulsed.contrast.movement = shared;
    }
    found
}

/// The mean over all pulsed clips of how their differences scatter.
fn mean_scatter(found: &[Vec<Pulsed>]) -> ScatterMatrix {
    let mut mean = ScatterMatrix::default();
    let count = found.iter().flatten().count() as f64;
    for pulsed in found.iter().flatten() {
        mean.add_share(&pulsed.contrast.movement, 1.0 / count);
    }
    mean
}

/// The contrast within one pulsed clip, its scatter told by itself alone.
fn pulsed_contrast(sound: &ClipFeatures) -> Option<Pulsed> {
    let (rows, row_seconds) = sound.rows();
    let bands = Grid::bands_below(sound.bandwidth());
    let rows: Vec<&[f32]> = rows.collect();
    let tried = LATENESS_SECONDS.iter().filter_map(|late| {
        let steps = steps(&rows, row_seconds, *late)?;
        let floors: Vec<PerBand> = steps.iter().map(|step| floor_db(step)).collect();
        let found = differences(&floors);
        let strength = strength(&found, bands);
        Some((*late, steps, floors, found, strength))
    });
    let (lateness_s, steps, floors, found, strength_of_key) = tried.max_by(|a, b| a.4.total_cmp(&b.4))?;
    let shut: Vec<&PerBand> = floors.iter().step_by(2).collect();
    let shut_db: PerBand = std::array::from_fn(|b| shut.iter().map(|s| s[b]).sum::<f64>() / shut.len() as f64);
    let (all_shut, all_open) = (pooled_db(&steps, 0), pooled_db(&steps, 1));
    let mixed = |pooled: f64, single: f64| POOLED_SHARE * pooled + (1.0 - POOLED_SHARE) * single;
    let quiet_db: PerBand = std::array::from_fn(|b| mixed(all_shut[b], shut_db[b]));
    let air_db = std::array::from_fn(|b| mixed(all_open[b], shut_db[b] + found.mean[b]));
    // The same differences half a step out of time belong to nobody's valve.
    let foreign = self::steps(&rows, row_seconds, lateness_s + STEP_SECONDS / 2.0).map(|steps| {
        let floors: Vec<PerBand> = steps.iter().map(|step| floor_db(step)).collect();
        strength(&differences(&floors), bands)
    });
    let own_rhythm = foreign.is_some_and(|foreign| foreign > strength_of_key.max(1.0));
    let (mean_quiet_db, mean_air_db) = (steps_mean(&floors, 0), steps_mean(&floors, 1));
    Some(Pulsed {
        contrast: Contrast {
            air_db,
            air_takes: 1,
            own: Some(Quiet { floor_db: quiet_db, takes: 1 }),
            others: None,
            other_openings: 0,
            movement: found.variance,
            quiet_scatter: None,
            drift_db: 0.0,
            background_variability: BACKGROUND_VARIABILITY,
            quantile_bias_db: *sound.quantile_bias_db(),
            mean_air_db,
            mean_quiet_db,
            low_air_db: f64::NEG_INFINITY,
            low_quiet_db: f64::NEG_INFINITY,
        },
        lateness_s,
        own_rhythm,
    })
}

struct Differences {
    mean: PerBand,
    /// Covariance of the mean difference, halved: [`Contrast`] counts it once for air and once for quiet.
    variance: ScatterMatrix,
}

/// The rows of the steps (shut, open, shut, …), edges left out.
fn steps<'a>(rows: &[&'a [f32]], row_seconds: f64, late: f64) -> Option<Vec<Vec<&'a [f32]>>> {
    let at = |seconds: f64| (seconds / row_seconds).round() as usize;
    let mut steps: Vec<Vec<&[f32]>> = Vec::new();
    loop {
        let begin = steps.len() as f64 * STEP_SECONDS + late;
        // The first step is shut from the beep on, before any lateness.
        let from = at(if steps.is_empty() { 0.0 } else { begin + GUARD_SECONDS });
        let to = at(begin + STEP_SECONDS - GUARD_SECONDS);
        match rows.get(from..to) {
            Some(part) if !part.is_empty() => steps.push(part.to_vec()),
            _ => break,
        }
    }
    (steps.len() >= LEAST_STEPS).then_some(steps)
}

/// The floor of every second step together, from the first of them on.
fn pooled_db(steps: &[Vec<&[f32]>], first: usize) -> PerBand {
    let rows: Vec<&[f32]> = steps.iter().skip(first).step_by(2).flatten().copied().collect();
    floor_db(&rows)
}

/// Every open step against the mean of the two shut ones beside it; the scatter from steps of the same state.
fn differences(steps: &[PerBand]) -> Differences {
    let beside = |k: usize, b: usize| match steps.get(k + 1) {
        Some(after) => 0.5 * (steps[k - 1][b] + after[b]),
        None => steps[k - 1][b],
    };
    let each: Vec<PerBand> =
        (1..steps.len()).step_by(2).map(|k| std::array::from_fn(|b| steps[k][b] - beside(k, b))).collect();
    let count = each.len() as f64;
    // A step amid a bang tells little: the mean of the middle half.
    let mean = std::array::from_fn(|b| {
        let mut values: Vec<f64> = each.iter().map(|d| d[b]).collect();
        values.sort_by(f64::total_cmp);
        let cut = values.len() / 4;
        let kept = &values[cut..values.len() - cut];
        kept.iter().sum::<f64>() / kept.len() as f64
    });
    // How much such differences scatter is told by themselves and by steps held against those of their own state,
    // two steps away.
    let alike = (2..steps.len().saturating_sub(2))
        .map(|k| -> PerBand { std::array::from_fn(|b| steps[k][b] - 0.5 * (steps[k - 2][b] + steps[k + 2][b])) });
    let off_mean = each.iter().map(|d| -> PerBand { std::array::from_fn(|b| d[b] - mean[b]) });
    let scatter: Vec<PerBand> = off_mean.chain(alike).collect();
    let freedom = (scatter.len() as f64 - 1.0).max(1.0);
    let share = VARIANCE_MARGIN / (count * freedom) / 2.0;
    let variance = ScatterMatrix::of(&scatter).less_correlated(KEPT_CORRELATION).times(share);
    Differences { mean, variance }
}

/// How clearly the differences stand out of their scatter: the mean over bands of mean over standard error.
fn strength(found: &Differences, bands: usize) -> f64 {
    let each = |b: usize| found.mean[b] / (2.0 * found.variance[(b, b)] + 0.01).sqrt();
    (0..bands).map(each).sum::<f64>() / bands.max(1) as f64
}

/// Mean over every second step, as a power, dB: a stand-in for the mean where steps are too short for one.
fn steps_mean(steps: &[PerBand], first: usize) -> PerBand {
    let chosen: Vec<&PerBand> = steps.iter().skip(first).step_by(2).collect();
    std::array::from_fn(|b| {
        let mean = chosen.iter().map(|s| 10f64.powf(s[b] / 10.0)).sum::<f64>() / chosen.len().max(1) as f64;
        10.0 * mean.log10()
    })
}
