//! Limiters: peaks that would go higher all end at one ceiling.

use super::super::sound::ClipFeatures;

/// So large a share of a clip peaks at its ceiling. Of steady Gaussian noise it is 0.9 %, of shop sounds 2 % at the most.
const AT_CEILING: f64 = 0.05;
/// The peak of a tone alone lies 3 dB over its mean, and at its ceiling all the time: no limiter.
const LEAST_CREST_DB: f64 = 4.5;

/// The largest share of a recorder's clips that sits at the ceiling; `None` where none does more than sound by itself.
pub fn limited(clips: &[&ClipFeatures]) -> Option<f64> {
    let crest_db = |clip: &ClipFeatures| {
        let peak = f64::from(clip.peak()).powi(2);
        10.0 * (peak / clip.mean_square().max(f64::MIN_POSITIVE)).max(f64::MIN_POSITIVE).log10()
    };
    let shares = clips.iter().filter(|clip| crest_db(clip) > LEAST_CREST_DB).map(|clip| clip.ceiling_share());
    shares.filter(|share| *share > AT_CEILING).max_by(f64::total_cmp)
}
