//! Whether two clips hold the same sound: the same seconds, begun a hair later, made louder or coded once more.
//!
//! Noise never comes twice: how the power of single cells scatters from moment to moment is as good as a fingerprint. What
//! moves all cells of a moment, or one cell throughout, is taken off first (a two-way layout's residuals), so that the shop's
//! own comings and goings do not count.

use super::grid::{CELLS, Grid, level_bands};
use super::sound::ClipFeatures;

/// Two clips may begin this far apart, seconds.
const FARTHEST_SECONDS: f64 = 1.0;
/// Rows that both must have at the least.
const LEAST_ROWS: usize = 40;
/// Correlation of the residuals from which the sound is the same. Of independent noise it scatters by 0.02 (a few thousand
/// cells); of the same sound half a row apart it is about 0.5.
const SAME: f64 = 0.3;
/// A machine that repeats itself is like itself at more than one place: the best must be so many times the next.
const ALONE: f64 = 2.0;
/// Places this near to the best are no other ones, rows: neighbouring rows share samples.
const NEAR_ROWS: isize = 2;

/// Whether these are the same seconds of sound.
#[must_use]
pub fn same_sound(a: &ClipFeatures, b: &ClipFeatures) -> bool {
    if a.digest() == b.digest() {
        return true;
    }
    let (_, row_seconds) = a.rows();
    if (b.rows().1 / row_seconds - 1.0).abs() > 1e-6 {
        return false;
    }
    let bands = level_bands(Grid::bands_below(a.bandwidth()).min(Grid::bands_below(b.bandwidth())));
    let width = bands.len();
    if width < 2 {
        return false;
    }
    let (a, b) = (residuals(a, bands.clone()), residuals(b, bands));
    let farthest = (FARTHEST_SECONDS / row_seconds).round() as isize;
    let each: Vec<(isize, f64)> =
        (-farthest..=farthest).filter_map(|lag| Some((lag, correlation(&a, &b, width, lag)?))).collect();
    let Some(best) = each.iter().copied().max_by(|x, y| x.1.total_cmp(&y.1)) else { return false };
    let apart = each.iter().filter(|(lag, _)| (lag - best.0).abs() > NEAR_ROWS);
    let next = apart.map(|(_, found)| found.abs()).fold(0.0, f64::max);
    best.1 >= SAME && best.1 >= ALONE * next
}

/// What is left of each row's band levels, dB, when the row's and the band's own means are taken off.
fn residuals(sound: &ClipFeatures, bands: std::ops::Range<usize>) -> Vec<f32> {
    let width = bands.len();
    // One cell of each band does.
    let mut left: Vec<f32> = sound
        .rows()
        .0
        .flat_map(|row| bands.clone().map(|band| 10.0 * row[band * CELLS].max(f32::MIN_POSITIVE).log10()))
        .collect();
    for row in left.chunks_exact_mut(width) {
        let mean = row.iter().sum::<f32>() / width as f32;
        row.iter_mut().for_each(|level| *level -= mean);
    }
    let rows = (left.len() / width).max(1);
    for band in 0..width {
        let mean = left.iter().skip(band).step_by(width).sum::<f32>() / rows as f32;
        left.iter_mut().skip(band).step_by(width).for_each(|level| *level -= mean);
    }
    left
}

/// Correlation of two tables of so many columns, the second begun so many rows later; `None` where too little is common.
fn correlation(a: &[f32], b: &[f32], width: usize, lag: isize) -> Option<f64> {
    let skip = |rows: isize| rows.max(0) as usize * width;
    let (a, b) = (a.get(skip(lag)..)?, b.get(skip(-lag)..)?);
    let common = a.len().min(b.len());
    if common < LEAST_ROWS * width {
        return None;
    }
    let (mut ab, mut aa, mut bb) = (0.0f32, 0.0f32, 0.0f32);
    for (x, y) in a[..common].iter().zip(&b[..common]) {
        ab += x * y;
        aa += x * x;
        bb += y * y;
    }
    let both = f64::from(aa) * f64::from(bb);
    (both > 0.0).then(|| f64::from(ab) / both.sqrt())
}
