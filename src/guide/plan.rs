//! The order of the test, and what of it is done.

use std::collections::{BTreeMap, BTreeSet};

use crate::hiss::{PlannedClip, air_first_order, pulsed_order};
use crate::opening::{Air, Opening};
use crate::units::Seconds;

/// A cylinder in the order of work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CylinderTurn {
    /// The cylinder.
    pub cylinder: u32,
    /// How far to turn the crank from the cylinder before it, degrees; `None` for the first.
    pub turn_deg: Option<f64>,
}

/// What is to be done on this engine.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The cylinders in the order of work.
    pub places: Vec<CylinderTurn>,
    /// Whether the firing order is known, or guessed by the cylinders' numbers.
    pub order_known: bool,
    /// Where the microphone goes, in order.
    pub openings: Vec<Opening>,
    /// Pulsed air instead of quiet and air clips.
    pub pulsed: bool,
    /// Rounds of the openings at least.
    pub least_rounds: u32,
    /// Rounds where the ranking stays undecided, at most.
    pub most_rounds: u32,
    /// Time to bring the microphone to another opening; the valve alone takes two seconds less.
    pub pause: Seconds,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Read the cautions and confirm them.
    Cautions,
    /// Say whether the engine is at its working temperature.
    Temperature,
    /// Blank the rig off and read it.
    Rig,
    /// Bring a cylinder to the top of its compression stroke and hold the crank.
    Turn(u32),
    /// Read the gauges.
    Gauge(u32),
    /// Record a clip.
    Clip(u32, PlannedClip),
    /// Look at a cylinder's ranking.
    Result(u32),
    /// All is done.
    End,
}

impl Step {
    /// The cylinder it is about.
    #[must_use]
    pub fn cylinder(&self) -> Option<u32> {
        match self {
            Self::Turn(cylinder) | Self::Gauge(cylinder) | Self::Clip(cylinder, _) | Self::Result(cylinder) => {
                Some(*cylinder)
            }
            Self::Cautions | Self::Temperature | Self::Rig | Self::End => None,
        }
    }
}

/// What is done, or left out on purpose.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Progress {
    /// The cautions were confirmed.
    pub cautions: bool,
    /// Whether the engine is hot was said, or nobody knows.
    pub temperature: bool,
    /// The rig was read, or that was skipped.
    pub rig: bool,
    /// Cylinders whose gauge was read, or that was skipped.
    pub gauge: BTreeSet<u32>,
    /// Takes that count, by cylinder, opening and air.
    pub takes: BTreeMap<(u32, Opening, Air), u32>,
    /// Clips skipped, by cylinder, opening and air.
    pub skipped: BTreeSet<(u32, Opening, Air)>,
    /// Clips of the rounds that the ranking does not need, by cylinder, opening and air.
    pub not_needed: BTreeSet<(u32, Opening, Air)>,
    /// Clips wished besides the rounds, by cylinder, opening and air.
    pub wished: BTreeMap<(u32, Opening, Air), u32>,
    /// Rounds granted beyond the least, by cylinder.
    pub more_rounds: BTreeMap<u32, u32>,
    /// Cylinders whose result was looked at.
    pub seen: BTreeSet<u32>,
    /// The cylinder that stands at its top dead centre; unknown after a break: the crank may have moved.
    pub at: Option<u32>,
}

impl Plan {
    /// The clips of a cylinder in the order of work, for so many rounds.
    #[must_use]
    pub fn visits(&self, rounds: u32) -> Vec<PlannedClip> {
        if self.pulsed { pulsed_order(&self.openings, rounds) } else { air_first_order(&self.openings, rounds) }
    }

    /// Rounds to be done on a cylinder as things stand.
    #[must_use]
    pub fn rounds(&self, progress: &Progress, cylinder: u32) -> u32 {
        self.least_rounds + progress.more_rounds.get(&cylinder).copied().unwrap_or(0)
    }

    /// All clips of a cylinder in the order of work, those that were wished besides at the end.
    #[must_use]
    pub fn visits_of(&self, progress: &Progress, cylinder: u32) -> Vec<PlannedClip> {
        let mut visits = self.visits(self.rounds(progress, cylinder));
        let wished = progress.wished.iter().filter(|((whose, ..), _)| *whose == cylinder);
        for ((_, opening, air), takes) in wished {
            let before = visits.iter().filter(|visit| visit.opening == *opening && visit.air == *air).count() as u32;
            let more =
                (before + 1..=before + takes).map(|take| PlannedClip { opening: opening.clone(), air: *air, take });
            visits.extend(more.collect::<Vec<_>>());
        }
        visits
    }

    /// The clips of a cylinder that are still to be recorded.
    #[must_use]
    pub fn open_visits(&self, progress: &Progress, cylinder: u32) -> Vec<PlannedClip> {
        let key = |visit: &PlannedClip| (cylinder, visit.opening.clone(), visit.air);
        let mut visits = self.visits_of(progress, cylinder);
        visits.retain(|visit| {
            !progress.skipped.contains(&key(visit))
                && !progress.not_needed.contains(&key(visit))
                && progress.takes.get(&key(visit)).copied().unwrap_or(0) < visit.take
        });
        visits
    }

    /// What comes next.
    #[must_use]
    pub fn next(&self, progress: &Progress) -> Step {
        if !progress.cautions {
            return Step::Cautions;
        }
        if !progress.temperature {
            return Step::Temperature;
        }
        if !progress.rig {
            return Step::Rig;
        }
        let mut to_do = self.places.iter().map(|place| place.cylinder).filter(|one| !progress.seen.contains(one));
        let Some(place) = to_do.next() else { return Step::End };
        let open = self.open_visits(progress, place);
        let has_work = !open.is_empty() || !progress.gauge.contains(&place);
        if has_work && progress.at != Some(place) {
            return Step::Turn(place);
        }
        if !progress.gauge.contains(&place) {
            return Step::Gauge(place);
        }
        open.into_iter().next().map_or(Step::Result(place), |visit| Step::Clip(place, visit))
    }

    /// Whether every opening has been listened at, and quiet clips alone are left of the round: the time to see whether
    /// these are needed.
    #[must_use]
    pub fn air_is_done(&self, progress: &Progress, cylinder: u32) -> bool {
        let open = self.open_visits(progress, cylinder);
        let heard =
            |opening: &Opening| progress.takes.get(&(cylinder, opening.clone(), Air::On)).is_some_and(|n| *n > 0);
        !open.is_empty() && open.iter().all(|visit| visit.air == Air::Off) && self.openings.iter().all(heard)
    }

    /// Whether a cylinder may get another round, or another clip.
    #[must_use]
    pub fn may_go_on(&self, progress: &Progress, cylinder: u32) -> bool {
        self.visits_of(progress, cylinder).len() < self.visits(self.most_rounds).len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    pub(crate) fn boat() -> Plan {
        let place = |cylinder, turn_deg| CylinderTurn { cylinder, turn_deg };
        Plan {
            places: vec![place(1, None), place(3, Some(240.0)), place(2, Some(240.0))],
            order_known: true,
            openings: ["intake", "exhaust"].map(|name| name.parse().expect("an opening")).to_vec(),
            pulsed: false,
            least_rounds: 1,
            most_rounds: 4,
            pause: Seconds(7.0),
        }
    }

    #[test]
    fn steps_follow_each_other_as_in_the_shop() {
        let plan = boat();
        let mut progress = Progress::default();
        assert_eq!(plan.next(&progress), Step::Cautions);
        progress.cautions = true;
        assert_eq!(plan.next(&progress), Step::Temperature);
        progress.temperature = true;
        assert_eq!(plan.next(&progress), Step::Rig);
        progress.rig = true;
        assert_eq!(plan.next(&progress), Step::Turn(1));
        progress.at = Some(1);
        assert_eq!(plan.next(&progress), Step::Gauge(1));
        progress.gauge.insert(1);
        let mut done = Vec::new();
        while let Step::Clip(1, visit) = plan.next(&progress) {
            done.push(format!("{} {}", visit.opening, visit.air.name()));
            *progress.takes.entry((1, visit.opening, visit.air)).or_default() += 1;
        }
        assert_eq!(done, ["intake off", "intake on", "exhaust on", "exhaust off"]);
        assert_eq!(plan.next(&progress), Step::Result(1));
        progress.more_rounds.insert(1, 1);
        let Step::Clip(1, again) = plan.next(&progress) else { panic!("another round") };
        assert_eq!((again.opening.name(), again.air, again.take), ("exhaust", Air::Off, 2), "back the same way");
        progress.seen.insert(1);
        assert_eq!(plan.next(&progress), Step::Turn(3), "in firing order");
        progress.seen.extend([2, 3]);
        assert_eq!(plan.next(&progress), Step::End);
    }

    #[test]
    fn once_every_opening_was_listened_at_quiet_clips_alone_are_left() {
        let mut plan = boat();
        plan.openings.push("oil-filler".parse().expect("an opening"));
        let mut progress = Progress::default();
        let visits = plan.visits(1);
        let done: Vec<String> = visits.iter().map(|visit| format!("{} {}", visit.opening, visit.air.name())).collect();
        assert_eq!(done[..4], ["intake off", "intake on", "exhaust on", "oil-filler on"]);
        for (at, visit) in visits.iter().enumerate() {
            assert_eq!(plan.air_is_done(&progress, 1), at >= 4, "after {at} clips");
            *progress.takes.entry((1, visit.opening.clone(), visit.air)).or_default() += 1;
        }
        assert!(!plan.air_is_done(&progress, 1), "nothing is left");
    }

    #[test]
    fn after_a_break_the_crank_is_asked_for_again() {
        let plan = boat();
        let progress =
            Progress { cautions: true, temperature: true, rig: true, gauge: [1].into(), ..Progress::default() };
        assert_eq!(plan.next(&progress), Step::Turn(1));
    }
}
