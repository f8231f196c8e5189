//! Two channels of a recording: two microphones, or one sound twice; and which of them was at the opening.

use super::grid::{BANDS, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND};
use super::sound::ClipFeatures;
use super::tracked::tracked_contrast;

/// Power of the difference of two channels over that of either below which they are one sound, dB: rounding, and what a
/// coder makes of two equal channels.
const SAME_DB: f64 = -40.0;
/// A lossy coder that stores one sound for both channels leaves them alike in a band to this (real part of the coherence), …
const ALIKE: f64 = 0.95;
/// … and does it in so many of the level bands. Two microphones a hand apart are alike below 2 kHz at the most.
const ALIKE_BANDS: usize = 4;
/// A clip with less in one channel than this holds one microphone, dB FS.
const SILENT_DB: f64 = -110.0;
/// Near over far has to turn by this with the air to tell which is near, dB: well over what places and takes do (0.5 dB).
const TURNED_DB: f64 = 1.5;

/// Whether two channels are two microphones: neither is silent, they are no copies of each other and no leftovers of a coder
/// that stored their common part alone.
///
/// `difference` is what a [`super::ClipAnalyzer`] made of the first channel minus the second.
#[must_use]
pub fn are_two_microphones(first: &ClipFeatures, second: &ClipFeatures, difference: &ClipFeatures) -> bool {
    let (one, other, apart) = (first.mean_db(), second.mean_db(), difference.mean_db());
    let power = |db: f64| 10f64.powf(db / 10.0);
    let all = |db: &[f64; BANDS]| {
        10.0 * db[FIRST_LEVEL_BAND..END_OF_LEVEL_BANDS].iter().map(|db| power(*db)).sum::<f64>().log10()
    };
    let quieter_db = all(&one).min(all(&other));
    if quieter_db < SILENT_DB || all(&apart) - quieter_db < SAME_DB {
        return false;
    }
    let coherence = |b: usize| {
        let (p, q) = (power(one[b]), power(other[b]));
        (p + q - power(apart[b])) / (2.0 * (p * q).sqrt())
    };
    let alike = (FIRST_LEVEL_BAND..END_OF_LEVEL_BANDS).filter(|b| coherence(*b) > ALIKE).count();
    first.coding().is_none() || alike < ALIKE_BANDS
}

/// Which of two microphones is nearer, from openings of which each gives its quiet clips and those with the air on.
///
/// A leak raises the nearer one more. The opening at which near over far turns furthest tells, for all: a recorder is held
/// one way round for a job. `Some(true)` where it is the second, `None` where no opening turns by 1.5 dB.
#[must_use]
pub fn second_is_nearer(openings: &[(Vec<&ClipFeatures>, Vec<&ClipFeatures>)]) -> Option<bool> {
    let turned = openings.iter().filter_map(|(quiet, air)| Some(tracked_contrast(quiet, air)?.turned_db));
    let most = turned.max_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    (most.abs() >= TURNED_DB).then_some(most < 0.0)
}
