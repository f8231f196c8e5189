//! How likely the answers are before anything is heard.

use super::assumptions as assume;

/// How likely the answers are beforehand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Nothing leaks.
    pub tight: f64,
    /// Whether intake, exhaust and oil filler are all among the openings.
    pub usual: bool,
    /// How likely the rig is: less where it was listened at.
    pub rig: f64,
}

impl Prior {
    /// It leaks where nobody listened.
    #[must_use]
    pub fn elsewhere(self) -> f64 {
        let [unheard, spilling, rig, ..] = shares(self, 1);
        unheard + spilling + rig
    }
}

/// How a leak that is there is shared out beforehand: unheard elsewhere, spilling from elsewhere, at the rig, two, one (at
/// any of the openings).
pub fn shares(before: Prior, count: usize) -> [f64; 5] {
    let of = |pair: (f64, f64)| if before.usual { pair.0 } else { pair.1 };
    let (unheard, spilling) = (of(assume::UNHEARD), of(assume::SPILL_FROM_ELSEWHERE));
    let two = if count > 1 { assume::TWO } else { 0.0 };
    let leaks = 1.0 - before.tight;
    [unheard, spilling, before.rig, two, 1.0 - unheard - spilling - before.rig - two].map(|share| leaks * share)
}

/// The probability beforehand of a leak at one opening.
pub fn before_one(before: Prior, count: usize) -> f64 {
    shares(before, count)[4] / count.max(1) as f64
}
