//! A ranking held against the truth of its case.

use hissward::opening::{Air, Opening};
use hissward::ranking::{Call, HissReading, Ranking};
use hissward::simulate::Case;
use hissward::units::Level;

use super::cases::{SCENARIOS, Scenario, Session};
use super::noises::Group;
use super::plain;

/// What came of a case.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// Number of its session.
    pub session: usize,
    /// Seed of its session.
    pub session_seed: u64,
    /// Kind of its session.
    pub group: Group,
    /// What was heard.
    pub names: String,
    /// Its row.
    pub row: usize,
    /// The true leak, the louder where there are two.
    pub leak: Option<Opening>,
    /// The call.
    pub call: Call,
    /// Openings with their probabilities, likeliest first.
    pub openings: Vec<(Opening, f64)>,
    /// Probability of elsewhere.
    pub elsewhere: f64,
    /// The true leak is on top of the openings.
    pub top_right: bool,
    /// Both true leaks are the first two.
    pub both_on_top: bool,
    /// Located at another opening than the leak's, or where nothing leaks.
    pub located_wrong: bool,
    /// Sum over openings and elsewhere of (probability − truth)².
    pub brier: f64,
    /// Probability of the likeliest answer (elsewhere is one), and whether it is right.
    pub best: (f64, bool),
    /// Whether each plain method has the leak on top.
    pub plain_right: [bool; 4],
    /// For each opening: how far the bound lies over the true level in the clip, and over that before placement, dB.
    pub bounds: Vec<Margin>,
    /// For each opening where hiss is heard: the true level is in the interval, in the clip, and before placement; width.
    pub intervals: Vec<Interval>,
}

/// How far a bound lies over the truth, dB.
#[derive(Debug, Clone, Copy)]
pub struct Margin {
    /// Over the level in the clip.
    pub in_clip_db: f64,
    /// Over the level before placement.
    pub before_placement_db: f64,
}

/// An interval against the truth.
#[derive(Debug, Clone, Copy)]
pub struct Interval {
    /// Holds the level in the clip.
    pub holds_in_clip: bool,
    /// Holds the level before placement.
    pub holds_before_placement: bool,
    /// Its width, dB.
    pub width_db: f64,
}

impl Outcome {
    /// The row's scenario.
    pub fn scenario(&self) -> Scenario {
        SCENARIOS[self.row]
    }

    /// Located, and rightly.
    pub fn located_right(&self) -> bool {
        self.call == Call::Located && !self.located_wrong
    }
}

/// Judges a ranking.
pub fn judge(session: &Session, row: usize, case: &Case, ranking: &Ranking) -> Outcome {
    let leaks: Vec<&Opening> = case.truth.leaks.iter().map(|leak| &leak.opening).collect();
    let leak = leaks.first().map(|leak| (*leak).clone());
    let openings: Vec<(Opening, f64)> =
        ranking.openings.iter().map(|found| (found.opening.clone(), found.probability)).collect();
    let top = openings.first().map(|(opening, _)| opening.clone());
    let top_probability = openings.first().map_or(0.0, |(_, probability)| *probability);
    // What no microphone was held to is not built into any case: tight and elsewhere are one answer here.
    let nowhere = ranking.tight_probability + ranking.elsewhere_probability;
    let best = if nowhere > top_probability {
        (nowhere, leak.is_none())
    } else {
        (top_probability, leak.is_some() && top == leak)
    };
    let apart = |probability: f64, is: bool| (probability - f64::from(u8::from(is))).powi(2);
    let brier = apart(nowhere, leak.is_none())
        + openings
            .iter()
            .map(|(opening, probability)| apart(*probability, Some(opening) == leak.as_ref()))
            .sum::<f64>();
    let (bounds, intervals) = levels(case, ranking);
    Outcome {
        session: session.number,
        session_seed: session.seed,
        group: session.group,
        names: session.shop.names.join(" + "),
        row,
        call: ranking.call,
        elsewhere: nowhere,
        top_right: leak.is_some() && top == leak,
        both_on_top: leaks.len() == 2 && openings.iter().take(2).all(|(opening, _)| leaks.contains(&opening)),
        located_wrong: ranking.call == Call::Located && top != leak,
        brier,
        best,
        plain_right: if leak.is_some() { plain::tops(case).map(|top| top == leak) } else { [false; 4] },
        bounds,
        intervals,
        leak,
        openings,
    }
}

/// Bounds and intervals of every opening that has hiss in truth, spill included.
fn levels(case: &Case, ranking: &Ranking) -> (Vec<Margin>, Vec<Interval>) {
    let (mut bounds, mut intervals) = (Vec::new(), Vec::new());
    for found in &ranking.openings {
        let clip = case.clips.iter().find(|clip| clip.truth.opening == found.opening && clip.truth.air != Air::Off);
        let before = case.truth.openings.iter().find(|truth| truth.opening == found.opening);
        let (Some(in_clip), Some(before)) = (clip.and_then(|c| c.truth.hiss), before.and_then(|b| b.hiss)) else {
            continue;
        };
        bounds
            .push(Margin { in_clip_db: found.at_most.0 - in_clip.0, before_placement_db: found.at_most.0 - before.0 });
        if let HissReading::Heard { low, high, .. } = found.hiss {
            let holds = |level: Level| (low.0..=high.0).contains(&level.0);
            intervals.push(Interval {
                holds_in_clip: holds(in_clip),
                holds_before_placement: holds(before),
                width_db: high.0 - low.0,
            });
        }
    }
    (bounds, intervals)
}
