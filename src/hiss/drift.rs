//! How far the shop's floor may have drifted between an opening's quiet clips and those with the air on.

use crate::units::{LevelDiff, Seconds};

/// How a floor wanders that nobody disturbs: a random walk of 0.3 dB in ten seconds. Common practice, no source.
const WANDER_DB: f64 = 0.3;
const WANDER_SECONDS: f64 = 10.0;

/// Standard deviation of the mean of the air clips' floors over that of the quiet ones, where the floor walks at random,
/// from the moments of the clips (seconds from anywhere).
///
/// The walk's steps are independent, so with weights `+1/n` for air and `−1/n` for quiet the variance is
/// `σ² · Σ Δt · (sum of the weights still to come)²` over the stretches between clips. A counterbalanced order (quiet, air,
/// air, quiet) leaves less than two clips as far apart as its ends. 0 where there are no clips of either kind.
///
/// ```
/// use hissward::hiss::wander;
/// use hissward::units::Seconds;
/// // One after the other, a minute apart: 0.3 · √6.
/// let apart = wander(&[Seconds(0.0)], &[Seconds(60.0)]);
/// assert!((apart.0 - 0.7348).abs() < 1e-4);
/// // Quiet, air, air, quiet in the same minute: 0.3 · √(¼ · 2 + ¼ · 2).
/// let between = wander(&[Seconds(0.0), Seconds(60.0)], &[Seconds(20.0), Seconds(40.0)]);
/// assert!((between.0 - 0.3).abs() < 1e-12);
/// ```
#[must_use]
pub fn wander(quiet: &[Seconds], air: &[Seconds]) -> LevelDiff {
    if quiet.is_empty() || air.is_empty() {
        return LevelDiff(0.0);
    }
    let weighted = |clips: &[Seconds], sign: f64| -> Vec<(f64, f64)> {
        clips.iter().map(|at| (at.0, sign / clips.len() as f64)).collect()
    };
    let mut clips = weighted(quiet, -1.0);
    clips.extend(weighted(air, 1.0));
    clips.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut to_come = 0.0;
    let mut stretches = 0.0;
    for pair in clips.windows(2).rev() {
        to_come += pair[1].1;
        stretches += (pair[1].0 - pair[0].0) * to_come * to_come;
    }
    LevelDiff(WANDER_DB * (stretches / WANDER_SECONDS).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_longer_between_quiet_and_air_the_more_and_the_order_of_work_leaves_less() {
        let at = |moments: &[f64]| moments.iter().copied().map(Seconds).collect::<Vec<_>>();
        let pair = |apart: f64| wander(&at(&[0.0]), &at(&[apart])).0;
        assert!((pair(10.0) - 0.3).abs() < 1e-12 && (pair(40.0) - 0.6).abs() < 1e-12);
        let there_and_back = wander(&at(&[0.0, 30.0]), &at(&[10.0, 20.0])).0;
        let one_after_the_other = wander(&at(&[0.0, 10.0]), &at(&[20.0, 30.0])).0;
        // 0.3 · √½ against 0.3 · √1½.
        assert!((there_and_back - 0.2121).abs() < 1e-4 && (one_after_the_other - 0.3674).abs() < 1e-4);
        // Neither where the clock starts nor which comes first matters.
        assert_eq!(wander(&at(&[100.0]), &at(&[160.0])), wander(&at(&[60.0]), &at(&[0.0])));
        assert_eq!(wander(&[], &at(&[1.0])), LevelDiff(0.0));
    }
}
