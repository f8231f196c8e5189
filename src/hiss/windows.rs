//! When the air may have been on in a clip that is said to have it on throughout.
//!
//! A person opens the valve a little late, or shuts it early, or the tank runs down. The low quantile of the whole clip then
//! shows the shop alone. Where the clip's half seconds step up, or down, the stretch on the louder side is looked at by itself.

use super::floor::{Floor, floor_db};
use super::grid::{FLOOR_QUANTILE, Grid, level_bands};
use super::sound::ClipSound;

/// Length of the pieces between which a step may lie, seconds.
const PIECE_SECONDS: f64 = 0.5;
/// Pieces on each side of a step at the least.
const LEAST_PIECES: usize = 2;
/// Mean step over the bands of the hiss level from which a stretch is looked at, dB: less would not change its floor.
const LEAST_STEP_DB: f64 = 1.0;
/// … and over the standard error of such a difference, as the pieces on each side scatter: the clearest of many places was
/// chosen, and a shop that comes and goes steps as well.
const LEAST_CLARITY: f64 = 5.0;
/// No pieces scatter less, dB.
const LEAST_SCATTER_DB: f64 = 0.4;

/// The floors of the louder stretches: after the clearest step up, before the clearest step down.
pub(super) fn air_windows(sound: &ClipSound) -> Vec<Floor> {
    let (rows, row_seconds) = sound.rows();
    let rows: Vec<&[f32]> = rows.collect();
    let size = ((PIECE_SECONDS / row_seconds).round() as usize).max(1);
    let bands = level_bands(Grid::bands_below(sound.bandwidth()));
    let count = bands.len().max(1) as f64;
    let loud = |piece: &[&[f32]]| floor_db(piece)[bands.clone()].iter().sum::<f64>() / count;
    let pieces: Vec<f64> = rows.chunks_exact(size).map(loud).collect();
    let Some((up, down)) = clearest_steps(&pieces) else { return Vec::new() };
    let after = up.map(|at| &rows[at * size..]);
    let before = down.map(|at| &rows[..at * size]);
    after.into_iter().chain(before).filter_map(|part| Floor::of_rows(part, row_seconds, FLOOR_QUANTILE)).collect()
}

/// The pieces before which the level steps up, and down, most clearly (difference of the means times the root of what they
/// are known by); `None` where there are too few pieces.
fn clearest_steps(pieces: &[f64]) -> Option<(Option<usize>, Option<usize>)> {
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len() as f64;
    let off_mean = |part: &[f64]| part.iter().map(|level| (level - mean(part)).powi(2)).sum::<f64>();
    let last = pieces.len().checked_sub(LEAST_PIECES).filter(|last| *last >= LEAST_PIECES)?;
    let steps = (LEAST_PIECES..=last).map(|at| {
        let (before, after) = pieces.split_at(at);
        let step = mean(after) - mean(before);
        let freedom = (pieces.len() as f64 - 2.0).max(1.0);
        let variance = ((off_mean(before) + off_mean(after)) / freedom).max(LEAST_SCATTER_DB.powi(2));
        let error = (variance * (1.0 / before.len() as f64 + 1.0 / after.len() as f64)).sqrt();
        (at, step, step.abs() / error)
    });
    let clearest = |sign: f64| {
        let best = steps.clone().filter(|(_, step, _)| sign * step > 0.0).max_by(|a, b| a.2.total_cmp(&b.2));
        best.filter(|(_, step, clarity)| sign * step >= LEAST_STEP_DB && *clarity >= LEAST_CLARITY).map(|(at, ..)| at)
    };
    Some((clearest(1.0), clearest(-1.0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_is_found_where_it_is() {
        let late = [-60.0, -60.2, -59.9, -55.0, -55.1, -54.9, -55.0, -55.2, -55.0, -54.8, -55.1, -55.0];
        assert_eq!(clearest_steps(&late), Some((Some(3), None)));
        let early: Vec<f64> = late.iter().rev().copied().collect();
        assert_eq!(clearest_steps(&early), Some((None, Some(9))));
        assert_eq!(clearest_steps(&[-60.0; 12]), Some((None, None)), "nothing steps");
        assert_eq!(clearest_steps(&[-60.0, -50.0, -50.0]), None, "too few to tell");
    }
}
