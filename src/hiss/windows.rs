//! When the air may have been on in a clip that is said to have it on throughout.
//!
//! A person opens the valve a little late, or shuts it early, or the tank runs down. The low quantile of the whole clip then
//! shows the shop alone. So the loudest stretch of the clip is looked at by itself, and held against the loudest stretch of
//! the quiet clip: a shop that comes and goes has loud stretches with the air off as well.

use super::floor::{Floor, floor_db};
use super::grid::{FLOOR_QUANTILE, Grid, level_bands};
use super::sound::ClipFeatures;

/// Length of the pieces that a stretch is made of, seconds.
const PIECE_SECONDS: f64 = 0.5;
/// Pieces that a clip must have, for one of its stretches to be looked at.
const LEAST_PIECES: usize = 4;
/// Lengths of the stretches, as shares of the clip.
pub const STRETCH_SHARES: [f64; 2] = [0.5, 0.75];

/// The floor of the loudest stretch of a clip, for each of [`STRETCH_SHARES`]; none of a clip that is too short.
pub(super) fn loudest_stretches(sound: &ClipFeatures) -> Option<[Floor; STRETCH_SHARES.len()]> {
    let (rows, row_seconds) = sound.rows();
    let rows: Vec<&[f32]> = rows.collect();
    let size = ((PIECE_SECONDS / row_seconds).round() as usize).max(1);
    let bands = level_bands(Grid::bands_below(sound.bandwidth()));
    let level = |piece: &[&[f32]]| floor_db(piece)[bands.clone()].iter().sum::<f64>();
    let levels: Vec<f64> = rows.chunks_exact(size).map(level).collect();
    if levels.len() < LEAST_PIECES {
        return None;
    }
    let stretch = |share: f64| {
        let pieces = ((share * levels.len() as f64).round() as usize).clamp(1, levels.len());
        let first = loudest(&levels, pieces);
        Floor::of_rows(&rows[first * size..(first + pieces) * size], row_seconds, FLOOR_QUANTILE)
    };
    let [half, most] = STRETCH_SHARES.map(stretch);
    Some([half?, most?])
}

/// Where the loudest stretch of so many pieces begins.
fn loudest(levels: &[f64], pieces: usize) -> usize {
    let sum = |first: &usize| levels[*first..*first + pieces].iter().sum::<f64>();
    (0..=levels.len() - pieces).max_by(|a, b| sum(a).total_cmp(&sum(b))).unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_loudest_stretch_is_found_where_it_is() {
        let late = [-60.0, -60.2, -59.9, -55.0, -55.1, -54.9, -55.0, -55.2, -55.0, -54.8, -55.1, -55.0];
        assert_eq!(loudest(&late, 9), 3);
        let early: Vec<f64> = late.iter().rev().copied().collect();
        assert_eq!(loudest(&early, 9), 0);
        assert_eq!(loudest(&early, 12), 0, "all of it");
    }
}
