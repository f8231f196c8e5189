//! Automatic gain: all bands ride down together from the start of every recording, whatever the shop does.

use crate::units::LevelDiff;

use super::super::grid::{CELLS, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND};
use super::super::sound::ClipFeatures;

/// Stretches of a clip's beginning, seconds: after the click of the button, and as the gain comes to rest.
const STAGES_S: [(f64, f64); 3] = [(0.08, 0.35), (0.6, 0.9), (1.2, 1.5)];
/// From here on the gain is at rest, seconds; a clip needs so much sound there.
const AT_REST_S: f64 = 2.0;
const LEAST_REST_S: f64 = 1.5;
/// A ride begins this far over its rest, dB, and is still so far over it in the second stretch; from one stretch to the next
/// it falls by so much at the least. A shop that happens to begin loud does not come down in steps.
const BEGINS_DB: f64 = 4.0;
const THEN_DB: f64 = 1.5;
const FALLS_DB: [f64; 2] = [1.0, 0.8];
/// All cells ride alike to within this, standard deviation, dB: a gain has no colour. One clip alone has to show it better.
const UNEVEN_DB: f64 = 3.0;
const UNEVEN_ALONE_DB: f64 = 2.0;

const LEVEL_CELLS: usize = (END_OF_LEVEL_BANDS - FIRST_LEVEL_BAND) * CELLS;
/// How far each cell lies over its rest, dB.
type OverRest = [f64; LEVEL_CELLS];

/// How far one recorder's clips begin above where they come to rest, where that is its gain's doing. The shop's own changes
/// differ from clip to clip and average out; the gain's do not.
pub fn ride(clips: &[&ClipFeatures]) -> Option<LevelDiff> {
    let each: Vec<[OverRest; 3]> = clips.iter().filter_map(|clip| beginning(clip)).collect();
    if each.is_empty() {
        return None;
    }
    let stage = |at: usize| median(each.iter().map(|of| median(of[at].to_vec())).collect());
    let [first, second, third] = [0, 1, 2].map(stage);
    let uneven =
        deviation(&std::array::from_fn(|cell| each.iter().map(|of| of[0][cell]).sum::<f64>() / each.len() as f64));
    let even = uneven < if each.len() < 3 { UNEVEN_ALONE_DB } else { UNEVEN_DB };
    let falls = first > second + FALLS_DB[0] && second > third + FALLS_DB[1];
    (first > BEGINS_DB && second > THEN_DB && falls && even).then_some(LevelDiff(first))
}

/// The three stretches of a clip's beginning; `None` where it is too short to have come to rest.
fn beginning(clip: &ClipFeatures) -> Option<[OverRest; 3]> {
    let (rows, row_seconds) = clip.rows();
    let db = |power: &f32| 10.0 * f64::from(*power).max(1e-18).log10();
    let levels: Vec<Vec<f64>> = rows.map(|row| row[FIRST_LEVEL_BAND * CELLS..].iter().map(db).collect()).collect();
    let at = |seconds: f64| (seconds / row_seconds).round() as usize;
    let rest = levels.get(at(AT_REST_S)..)?;
    if rest.is_empty() || (rest.len() as f64) * row_seconds < LEAST_REST_S {
        return None;
    }
    let at_rest: OverRest = std::array::from_fn(|cell| median(rest.iter().map(|row| row[cell]).collect()));
    let stage = |(from, to): (f64, f64)| {
        let part = levels.get(at(from)..at(to)).filter(|part| !part.is_empty())?;
        let mean = |cell: usize| part.iter().map(|row| row[cell]).sum::<f64>() / part.len() as f64;
        Some(std::array::from_fn(|cell| mean(cell) - at_rest[cell]))
    };
    Some([stage(STAGES_S[0])?, stage(STAGES_S[1])?, stage(STAGES_S[2])?])
}

fn deviation(values: &OverRest) -> f64 {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / values.len() as f64).sqrt()
}

/// The middle value, the lower of two; 0 of none.
fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len().saturating_sub(1) / 2).copied().unwrap_or(0.0)
}
