//! What is heard beside a leak: its spill at other openings, the usual blow-by, a second leak.

use super::assumptions as assume;
use super::evidence::{OpeningEvidence, placed};
use super::matrix::log_sum;

/// Log weight of a spill that lies `under_db` under its leak, 0 at the likeliest.
pub fn log_spill(under_db: f64) -> f64 {
    let (nearest, farthest) = assume::SPILL_DB;
    let beyond = (nearest - under_db).max(under_db - farthest).max(0.0) / assume::PLACEMENT_PAIR_DB;
    -0.5 * beyond * beyond
}

/// Log weight of the usual blow-by that lies `under_db` under a leak past a valve, 0 at the likeliest.
pub fn log_blow_by(under_db: f64) -> f64 {
    let (mean, deviation) = assume::BLOW_BY_UNDER_DB;
    -0.5 * ((under_db - mean) / deviation).powi(2)
}

/// What is heard beside a leak without being one.
pub struct Reaches {
    pub spill: LevelReach,
    pub blow_by: LevelReach,
    /// Per opening.
    pub crankcase: Vec<bool>,
    /// Per opening.
    pub tracked: Vec<bool>,
}

impl Reaches {
    /// Log evidence of an opening that hears the spill of a leak at each level elsewhere.
    pub fn spill_of(&self, opening: &OpeningEvidence) -> Vec<f64> {
        let (none, some) = (assume::NO_SPILL.ln(), (1.0 - assume::NO_SPILL).ln());
        let heard = self.spill.heard(opening).into_iter();
        heard.map(|heard| log_sum([some + heard, none + opening.without].into_iter())).collect()
    }

    /// Log evidence of an opening that hears the rig, which has a level at all of them, and each its own about it.
    pub fn rig_of(&self, at: usize, opening: &OpeningEvidence) -> Vec<f64> {
        if self.tracked[at] {
            return vec![opening.without; opening.with.len()];
        }
        placed(&opening.with, opening.without, assume::RIG_SCATTER_DB)
    }

    /// … that has the usual blow-by beside a leak at each level; `None` where there is none to be expected.
    pub fn usual_of(&self, at: usize, opening: &OpeningEvidence) -> Option<Vec<f64>> {
        self.crankcase[at].then(|| self.blow_by.heard(opening))
    }
}

/// How likely a leak at each level brings a hiss of each level to another opening, as logarithms.
pub struct LevelReach {
    /// Per level of the leak: per level of the hiss, the weight below the lowest level tried, the sum of all.
    by_leak: Vec<(Vec<f64>, f64, f64)>,
}

impl LevelReach {
    /// `log_weight`: by how far under the leak the hiss lies, dB.
    pub fn of(levels_db: &[f64], log_weight: impl Fn(f64) -> f64) -> Self {
        let by_leak = levels_db.iter().map(|leak| {
            let weights: Vec<f64> = levels_db.iter().map(|level| log_weight(leak - level)).collect();
            // What lies below the lowest level tried is as good as none.
            let below = levels_db.first().map_or(0.0, |lowest| {
                let (_, _, step) = assume::LEVELS_DB;
                log_sum((1..=20).map(|k| log_weight(leak - (lowest - step * f64::from(k)))))
            });
            let whole = log_sum(weights.iter().copied().chain([below]));
            (weights, below, whole)
        });
        Self { by_leak: by_leak.collect() }
    }

    /// Log evidence of an opening that hears such a hiss of a leak at each level.
    fn heard(&self, opening: &OpeningEvidence) -> Vec<f64> {
        let of_leak = |(weights, below, whole): &(Vec<f64>, f64, f64)| {
            let levels = weights.iter().zip(&opening.with).map(|(w, with)| w + with);
            log_sum(levels.chain([below + opening.without])) - whole
        };
        self.by_leak.iter().map(of_leak).collect()
    }
}

/// Log evidence of an opening that leaks too, no louder than the first at each level.
pub fn second_of(opening: &OpeningEvidence, levels_db: &[f64]) -> Vec<f64> {
    (0..levels_db.len())
        .map(|first| {
            let weights: Vec<f64> = (0..=first)
                .map(|level| {
                    let under = (levels_db[first] - levels_db[level]) / assume::PAIR_DB;
                    // Of two alike, either may be called the louder.
                    -0.5 * under * under + if level == first { 0.5f64.ln() } else { 0.0 }
                })
                .collect();
            let heard = log_sum(weights.iter().zip(&opening.with).map(|(w, with)| w + with));
            heard - log_sum(weights.iter().copied())
        })
        .collect()
}
