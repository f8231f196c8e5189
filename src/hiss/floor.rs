//! The floor of a clip: what lies under bangs, talk and tones, per band, and how much it moved within the clip.

use crate::spectrum::quantile_of;

use super::grid::{CELLS, FLOOR_QUANTILE, PerBand};
use super::scatter_matrix::ScatterMatrix;
use super::sound::ClipFeatures;

/// A part of a clip for telling how its floor moves: about a second.
const PART_SECONDS: f64 = 1.0;
/// Parts at the least (a short clip has shorter ones) and at the most.
const PARTS: (usize, usize) = (3, 12);

/// The floor of a stretch of sound.
#[derive(Debug, Clone, PartialEq)]
pub struct Floor {
    /// Low quantile of each band's cell powers, as a level of the whole band, dB FS. Lies under the mean
    /// even in steady noise, by [`ClipFeatures::quantile_bias_db`].
    pub level_db: PerBand,
    /// The same for the clip's parts, in order of time.
    pub parts_db: Vec<PerBand>,
}

impl Floor {
    /// The floor of a whole clip. A clip shorter than one row of cells has none.
    #[must_use]
    pub fn of(sound: &ClipFeatures) -> Option<Self> {
        let (rows, row_seconds) = sound.rows();
        Self::of_rows(&rows.collect::<Vec<_>>(), row_seconds, FLOOR_QUANTILE)
    }

    /// The floor of some rows of cells, or another quantile in its place; `None` of too few.
    pub(super) fn of_rows(rows: &[&[f32]], row_seconds: f64, quantile: f64) -> Option<Self> {
        let wanted = (rows.len() as f64 * row_seconds / PART_SECONDS).round() as usize;
        let parts = wanted.clamp(PARTS.0, PARTS.1);
        let size = rows.len() / parts;
        if size == 0 {
            return None;
        }
        let parts_db = rows.chunks_exact(size).take(parts).map(|part| quantile_db(part, quantile)).collect();
        Some(Self { level_db: quantile_db(rows, quantile), parts_db })
    }
}

/// The floor of a few rows of cells, dB FS per band.
pub(super) fn floor_db(rows: &[&[f32]]) -> PerBand {
    quantile_db(rows, FLOOR_QUANTILE)
}

/// A quantile of the cell powers of a few rows, as a level of the whole band, dB FS per band.
fn quantile_db(rows: &[&[f32]], quantile: f64) -> PerBand {
    let mut pool = Vec::with_capacity(rows.len() * CELLS);
    std::array::from_fn(|place: usize| {
        pool.clear();
        for row in rows {
            pool.extend_from_slice(&row[place * CELLS..(place + 1) * CELLS]);
        }
        // A cell is a quarter of its band.
        10.0 * (CELLS as f64 * quantile_of(&mut pool, quantile)).max(f64::MIN_POSITIVE).log10()
    })
}

/// Covariance over bands of how floors move within clips, from their parts, pooled over clips with each clip's own mean
/// taken off.
pub(super) fn movement(floors: &[&Floor]) -> ScatterMatrix {
    let mut sums = ScatterMatrix::default();
    for floor in floors {
        sums.add_share(&ScatterMatrix::about_mean(&floor.parts_db), 1.0);
    }
    let freedom: f64 = floors.iter().map(|floor| floor.parts_db.len() as f64 - 1.0).sum();
    sums.times(1.0 / freedom.max(1.0))
}
