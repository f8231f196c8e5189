//! A ranking held against the truth of its case.

use hissward::opening::{Air, Opening};
use hissward::ranking::{Call, HissReading, Ranking};
use hissward::simulate::Case;
use hissward::units::Level;

use super::cases::{RowCase, Session, Truth};
use super::noises::Group;
use super::plain;
use super::rows::{Row, Scenario};

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
    /// Its row's number.
    pub row: usize,
    /// What its row builds in.
    pub scenario: Scenario,
    /// The true leak, the louder where there are two; `None` where none of the openings leaks.
    pub leak: Option<Opening>,
    /// The call.
    pub call: Call,
    /// Openings with their probabilities, likeliest first.
    pub openings: Vec<(Opening, f64)>,
    /// Probability that the air gets away at none of them.
    pub none: f64,
    /// The true leak is on top of the openings.
    pub top_right: bool,
    /// Both true leaks are the first two.
    pub both_on_top: bool,
    /// Located at another opening than the leak's, or where nothing leaks.
    pub located_wrong: bool,
    /// Called shared where the first two do not both truly hiss.
    pub shared_wrong: bool,
    /// A hiss as loud as the noise or louder is there for half of the air clips or more.
    pub hiss_is_there: bool,
    /// It did not answer: it panicked, or refused the clips.
    pub failed: Option<String>,
    /// Sum over openings and "none of them" of (probability − truth)².
    pub brier: f64,
    /// Probability of the likeliest answer (none of them is one), and whether it is right.
    pub best: (f64, bool),
    /// Whether each plain method has the leak on top.
    pub plain_right: [bool; 4],
    /// For each opening: how far the bound lies over the true level in the clip, and over that before placement, dB.
    pub bounds: Vec<Margin>,
    /// For each opening where hiss is heard: the true level is in the interval, in the clip, and before placement; width.
    pub intervals: Vec<Interval>,
    /// Codes of all caveats.
    pub caveats: Vec<String>,
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
    /// Located, and rightly.
    pub fn located_right(&self) -> bool {
        self.call == Call::Located && !self.located_wrong
    }

    /// "None heard" while a hiss is there: a customer goes home with a burnt valve.
    pub fn none_heard_wrong(&self) -> bool {
        self.call == Call::NoneHeard && self.hiss_is_there
    }

    /// A wrong call: located or shared wrongly, none heard wrongly, or no answer where there should be one.
    pub fn wrong(&self) -> bool {
        self.located_wrong || self.shared_wrong || self.none_heard_wrong() || self.failed.is_some()
    }
}

/// Judges a ranking; `ranked` is an error where the program gave none.
pub fn judge(session: &Session<'_>, row: &Row, case: &RowCase, ranked: Result<&Ranking, String>) -> Outcome {
    let leaks: &[Opening] = if let Truth::Leaks(leaks) = &case.truth { leaks } else { &[] };
    let mut outcome = Outcome {
        session: session.number,
        session_seed: session.seed,
        group: session.group,
        names: session.shop.names.join(" + "),
        row: row.number,
        scenario: row.scenario,
        leak: leaks.first().cloned(),
        call: Call::CannotTell,
        openings: Vec::new(),
        none: 1.0,
        top_right: false,
        both_on_top: false,
        located_wrong: false,
        shared_wrong: false,
        hiss_is_there: hiss_is_there(case),
        failed: None,
        brier: 1.0,
        best: (1.0, false),
        plain_right: [false; 4],
        bounds: Vec::new(),
        intervals: Vec::new(),
        caveats: Vec::new(),
    };
    match ranked {
        Ok(ranking) => outcome.take(row, case, leaks, ranking),
        Err(why) => outcome.failed = Some(why),
    }
    outcome
}

impl Outcome {
    fn take(&mut self, row: &Row, case: &RowCase, leaks: &[Opening], ranking: &Ranking) {
        let openings: Vec<(Opening, f64)> =
            ranking.openings.iter().map(|found| (found.opening.clone(), found.probability)).collect();
        let top = openings.first().map(|(opening, _)| opening.clone());
        let top_probability = openings.first().map_or(0.0, |(_, probability)| *probability);
        self.call = ranking.call;
        self.none = none_probability(ranking);
        self.best = if self.none > top_probability {
            (self.none, self.leak.is_none())
        } else {
            (top_probability, self.leak.is_some() && top == self.leak)
        };
        let apart = |probability: f64, is: bool| (probability - f64::from(u8::from(is))).powi(2);
        self.brier = apart(self.none, self.leak.is_none())
            + openings
                .iter()
                .map(|(opening, probability)| apart(*probability, Some(opening) == self.leak.as_ref()))
                .sum::<f64>();
        self.top_right = self.leak.is_some() && top == self.leak;
        let first_two = || openings.iter().take(2).map(|(opening, _)| opening);
        self.both_on_top = leaks.len() == 2 && first_two().all(|opening| leaks.contains(opening));
        // Where a hiss at an opening is usual, it is truly there: naming it is not wrong, and right is only the leak.
        let usual = |opening: &Opening| case.usual.as_ref() == Some(opening);
        let named_truly = top.as_ref().is_some_and(|top| leaks.contains(top) || (leaks.is_empty() && usual(top)));
        let undecidable = row.scenario == Scenario::ForeignTight;
        // Of two leaks the softer may be named alone: it is there, but the louder was the one to find.
        let right_one = if leaks.is_empty() { named_truly } else { top == self.leak };
        self.located_wrong = ranking.call == Call::Located && !right_one && !undecidable;
        let all_true = first_two().all(|opening| leaks.contains(opening) || usual(opening));
        self.shared_wrong = ranking.call == Call::Shared && !all_true && !undecidable;
        if row.scenario.has_plain_levels() {
            (self.bounds, self.intervals) = levels(&case.case, ranking);
        }
        if row.scenario.family() == "plain" && self.leak.is_some() {
            self.plain_right = plain::tops(&case.case).map(|top| top == self.leak);
        }
        let of_openings = ranking.openings.iter().flat_map(|opening| &opening.caveats);
        self.caveats = ranking.caveats.iter().chain(of_openings).map(|caveat| caveat.code.to_string()).collect();
        self.caveats.sort();
        self.caveats.dedup();
    }
}

/// The probability that the air gets away at none of the openings: the cylinder is tight, or it leaks elsewhere. Clips
/// alone cannot tell these apart, so they are judged as one.
fn none_probability(ranking: &Ranking) -> f64 {
    ranking.tight_probability + ranking.elsewhere_probability
}

/// Half of the clips' time or more, dB over the noise. Before placement: the hand's 2 dB do not make a hiss another one.
const THERE_SHARE: f64 = 0.5;
const THERE_DB: f64 = -0.01;

/// Whether a hiss that follows the air is as loud as the noise at an opening that was listened at: the leak's, its
/// spill, or the rig's. What is usual, what streams past the capsule and what the shop does are no such hiss.
fn hiss_is_there(case: &RowCase) -> bool {
    let truth = &case.case.truth;
    let loud = |level: Option<Level>| level.is_some_and(|level| level.0 - truth.noise.0 >= THERE_DB);
    let rig = matches!(case.truth, Truth::Elsewhere);
    let clips = || case.case.clips.iter().filter(|clip| clip.truth.air != Air::Off);
    case.share_on >= THERE_SHARE
        && (truth.openings.iter().any(|place| loud(place.hiss)) || (rig && clips().any(|clip| loud(clip.truth.extra))))
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
