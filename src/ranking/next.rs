//! What to record next, and when to stop.
//!
//! Missing comes first: an opening of the usual three without a clip with the air on or pulsed. Then whatever is expected
//! to tell most per second of the person's time ([`super::expected`]): another clip with the air off, on or pulsed at an
//! opening, a clip at the rig or the coolant filler where nobody listened there, a reading. Nothing where the call is
//! safe, or where nothing would tell enough.

use crate::hiss::PerBand;
use crate::opening::{Air, EscapePath, Opening};
use crate::units::Seconds;

use super::assumptions as assume;
use super::expected::{Expected, Prospect, Takes};
use super::result::{Call, Next, NextStep};
use super::weigh::{Hypothesis, Weighed};

/// A clip of an opening, moving the microphone and turning the valve included, seconds. Common practice, no source.
const CLIP_S: f64 = 17.0;
/// A clip with pulsed air, seconds.
const PULSED_CLIP_S: f64 = 20.0;
/// A reading, hose changed or crank held again, seconds.
const READING_S: f64 = 90.0;
/// Where is listened at least.
const USUAL: [&str; 3] = ["intake", "exhaust", "oil-filler"];

/// An opening with clips, as the choice sees it.
#[derive(Debug, Clone, Copy)]
pub struct Listened<'a> {
    /// The opening.
    pub opening: &'a Opening,
    /// Its clips so far.
    pub takes: Takes,
    /// Its noise, dB FS per band; `None` where there is nothing to compare.
    pub noise_db: Option<PerBand>,
}

/// What is known beside the clips, and what the person left out on purpose.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Asked {
    /// A cylinder of a job: readings can be asked for.
    pub of_job: bool,
    /// Its gauge was read, or that was left out.
    pub gauge: bool,
    /// The rig was read, or that was left out.
    pub rig: bool,
    /// Clips left out on purpose.
    pub left_out: Vec<(Opening, Air)>,
}

impl Asked {
    fn may(&self, opening: &Opening, air: Air) -> bool {
        !self.left_out.iter().any(|(left, of)| left == opening && *of == air)
    }
}

/// An opening of the usual three that was not listened at with the air on or pulsed. Any opening of the crankcase serves
/// as the oil filler. `elsewhere`: the probability that it leaks where nobody listened.
pub fn missing(openings: &[Listened<'_>], elsewhere: f64, asked: &Asked) -> Option<Next> {
    let is_heard = |one: &&Listened<'_>| one.takes.on + one.takes.pulsed > 0;
    let heard: Vec<&Opening> = openings.iter().filter(is_heard).map(|one| one.opening).collect();
    let pulsed_alone = openings.iter().all(|one| one.takes.off + one.takes.on == 0) && !heard.is_empty();
    let air = if pulsed_alone { Air::Pulsed } else { Air::On };
    let usual = USUAL.iter().filter_map(|name| name.parse::<Opening>().ok());
    let lacks = |opening: &Opening| match opening.path() {
        EscapePath::RingsOrBore => heard.iter().all(|one| one.path() != EscapePath::RingsOrBore),
        _ => !heard.contains(&opening),
    };
    let mut lacking: Vec<Opening> = usual.filter(|opening| lacks(opening) && asked.may(opening, air)).collect();
    let count = lacking.len();
    if count > 0 {
        let opening = lacking.remove(0);
        // What leaks elsewhere may leak at any of those that lack.
        let settles = elsewhere * assume::HEARD_WHERE_IT_LEAKS / count as f64;
        return Some(Next { step: NextStep::Clip(opening, air), settles, seconds: seconds(air), missing: true });
    }
    // Clips that have nothing to be held against.
    let alone = openings.iter().filter(is_heard).find(|one| one.noise_db.is_none())?;
    let air = if alone.takes.off == 0 { Air::Off } else { Air::On };
    let clip = NextStep::Clip(alone.opening.clone(), air);
    asked.may(alone.opening, air).then(|| Next { step: clip, settles: 0.0, seconds: seconds(air), missing: false })
}

/// An opening that the call was taken back for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Doubted {
    /// Its place.
    pub at: usize,
    /// Its clips are not fit to name it; else they show what they may not be silent about.
    pub unfit: bool,
}

/// So many pulsed clips at an opening whose clips are in doubt, and another would not help.
const MOST_AGAIN: usize = 2;

/// The choice.
pub struct Choice<'a> {
    /// The openings that were weighed, as in `weighed`.
    pub openings: &'a [Listened<'a>],
    /// What their clips say.
    pub weighed: &'a Weighed,
    /// The call.
    pub call: Call,
    /// An opening that the call was taken back for.
    pub doubted: Option<Doubted>,
    /// Bands that all clips reach.
    pub bands: usize,
    /// What is known besides.
    pub asked: &'a Asked,
}

impl Choice<'_> {
    /// The step that is expected to tell most per second; `None` where the call is safe or nothing would tell enough.
    pub fn made(&self) -> Option<Next> {
        let tight: f64 =
            self.weighed.hypotheses.iter().filter(|(of, _)| *of == Hypothesis::Tight).map(|(_, p)| p).sum();
        // Silent, and probably tight by the gauge as well: it holds.
        let holds = self.call == Call::NoneHeard && self.asked.gauge && tight >= 0.5;
        if matches!(self.call, Call::Located | Call::Shared) || holds {
            return None;
        }
        let prospect = Prospect::of(self.weighed);
        if let Some(Doubted { at, unfit }) = self.doubted {
            // What is unfit stays so until it is left out: a better clip is the beginning.
            let there = self.weighed.hypotheses.iter().filter(|(hypothesis, _)| is_at(hypothesis, at)).map(|(_, p)| p);
            let settles = if unfit { 0.0 } else { there.sum() };
            let one = &self.openings[at];
            let step = NextStep::Clip(one.opening.clone(), Air::Pulsed);
            let next = Next { step, settles, seconds: seconds(Air::Pulsed), missing: false };
            return (one.takes.pulsed < MOST_AGAIN && self.asked.may(one.opening, Air::Pulsed)).then_some(next);
        }
        let rate = |(next, expected): &(Next, Expected)| expected.nats / next.seconds.0;
        let telling = self.candidates(&prospect).into_iter().filter(|(_, of)| of.nats >= assume::TELLS_ENOUGH);
        telling.max_by(|a, b| rate(a).total_cmp(&rate(b))).map(|(next, _)| next)
    }

    /// Every step that may be asked for, with what it is expected to tell.
    fn candidates(&self, prospect: &Prospect<'_>) -> Vec<(Next, Expected)> {
        let mut found: Vec<(NextStep, f64, Expected)> = Vec::new();
        for (at, one) in self.openings.iter().enumerate() {
            let Some(noise_db) = one.noise_db else { continue };
            for air in [Air::Pulsed, Air::On, Air::Off] {
                // A quiet clip tells nothing where no clip with the air on stands against it.
                if (air == Air::Off && one.takes.on == 0) || !self.asked.may(one.opening, air) {
                    continue;
                }
                let expected = prospect.of_clip(at, air, one.takes, &noise_db, self.bands);
                found.push((NextStep::Clip(one.opening.clone(), air), seconds(air).0, expected));
            }
        }
        found.extend(self.elsewhere(prospect));
        let next = |(step, seconds, expected): (NextStep, f64, Expected)| {
            (Next { step, settles: expected.settles, seconds: Seconds(seconds), missing: false }, expected)
        };
        found.into_iter().map(next).collect()
    }

    /// Places where nobody listened, and readings.
    fn elsewhere(&self, prospect: &Prospect<'_>) -> Vec<(NextStep, f64, Expected)> {
        let mut found = Vec::new();
        let heard = |name: &str| self.openings.iter().any(|one| one.opening.name() == name);
        let place =
            |name: &str| name.parse::<Opening>().ok().filter(|one| !heard(name) && self.asked.may(one, Air::Pulsed));
        let clip = |opening: Opening| NextStep::Clip(opening, Air::Pulsed);
        let (there, nowhere) = (assume::HEARD_WHERE_IT_LEAKS, assume::HEARD_WHERE_NOTHING_LEAKS);
        let is_outside = |hypothesis: &Hypothesis| {
            matches!(hypothesis, Hypothesis::Unheard | Hypothesis::Rig | Hypothesis::Elsewhere)
        };
        let outside: f64 =
            self.weighed.hypotheses.iter().filter(|(hypothesis, _)| is_outside(hypothesis)).map(|(_, p)| p).sum();
        // Nobody looks on at a cylinder that is probably tight, nor while the openings heard at hold the most.
        let looks_on = outside >= 0.5;
        let whole = |chance: f64| vec![(1.0, chance)];
        let rig_or = |of_rig: f64, of_others: f64| {
            move |hypothesis: &Hypothesis| whole(if *hypothesis == Hypothesis::Rig { of_rig } else { of_others })
        };
        if let Some(rig) = place("rig").filter(|_| looks_on) {
            found.push((clip(rig), PULSED_CLIP_S, prospect.of_answer(rig_or(there, nowhere))));
        }
        if let Some(coolant) = place("coolant-filler").filter(|_| looks_on) {
            let expected = prospect.of_answer(|hypothesis| match hypothesis {
                Hypothesis::Unheard | Hypothesis::Elsewhere => {
                    let share = assume::COOLANT_OF_ELSEWHERE;
                    vec![(share, there), (1.0 - share, nowhere)]
                }
                _ => whole(nowhere),
            });
            found.push((clip(coolant), PULSED_CLIP_S, expected));
        }
        if self.asked.of_job && !self.asked.gauge {
            let (tight, leaks) = assume::HOLDS_BY_GAUGE;
            let expected =
                prospect.of_answer(|hypothesis| whole(if *hypothesis == Hypothesis::Tight { tight } else { leaks }));
            found.push((NextStep::Gauge, READING_S, expected));
        }
        if self.asked.of_job && !self.asked.rig && looks_on {
            let (leaks, tight) = assume::RIG_LEAKS_BY_GAUGE;
            found.push((NextStep::Rig, READING_S, prospect.of_answer(rig_or(leaks, tight))));
        }
        found
    }
}

fn is_at(hypothesis: &Hypothesis, at: usize) -> bool {
    matches!(*hypothesis, Hypothesis::One(j) | Hypothesis::Two(j, _) if j == at)
}

fn seconds(air: Air) -> Seconds {
    Seconds(if air == Air::Pulsed { PULSED_CLIP_S } else { CLIP_S })
}

#[cfg(test)]
mod tests {
    use super::super::weigh::{Disturbances, LevelWeight};
    use super::*;
    use crate::hiss::BANDS;

    const PLACES: [&str; 3] = ["intake", "exhaust", "oil-filler"];
    const OFF_AND_ON: Takes = Takes { off: 1, on: 1, pulsed: 0 };

    fn openings(names: &[&str]) -> Vec<Opening> {
        names.iter().map(|name| name.parse().expect("an opening")).collect()
    }

    fn listened(openings: &[Opening], takes: Takes) -> Vec<Listened<'_>> {
        openings.iter().map(|opening| Listened { opening, takes, noise_db: Some([-60.0; BANDS]) }).collect()
    }

    /// A shop as loud as the noise above, hiss at each opening this far over it if there is any.
    fn weighed(hypotheses: &[(Hypothesis, f64)], level_db: f64, present: f64) -> Weighed {
        let shop_db = -60.0 + 10.0 * 13f64.log10();
        let level = LevelWeight { level_db: shop_db + level_db, variance_db2: 1.0, weight: 1.0 };
        Weighed {
            hypotheses: hypotheses.to_vec(),
            levels: vec![vec![level]; 3],
            present: vec![present; 3],
            loud: 0.1,
            disturbances: vec![Disturbances::default(); 3],
            shop_db,
            variability: 0.7,
        }
    }

    fn made(weighed: &Weighed, call: Call, asked: &Asked) -> Option<Next> {
        let openings = openings(&PLACES);
        let listened = listened(&openings, OFF_AND_ON);
        Choice { openings: &listened, weighed, call, doubted: None, bands: 17, asked }.made()
    }

    #[test]
    fn an_opening_not_yet_listened_at_comes_first() {
        let asked = Asked::default();
        let heard = openings(&["intake", "exhaust"]);
        let next = missing(&listened(&heard, OFF_AND_ON), 0.4, &asked).expect("the oil filler lacks");
        assert!(next.missing && (0.3..0.4).contains(&next.settles), "{next:?}");
        assert_eq!(next.step, NextStep::Clip("oil-filler".parse().expect("an opening"), Air::On));
        // Any opening of the crankcase serves; a quiet clip alone does not.
        let heard = openings(&["intake", "exhaust", "dipstick"]);
        assert_eq!(missing(&listened(&heard, OFF_AND_ON), 0.4, &asked), None);
        let quiet = listened(&heard, Takes { off: 1, ..Takes::default() });
        assert!(missing(&quiet, 0.4, &asked).is_some_and(|next| next.missing));
        // Where all is pulsed, so is this; where it was left out on purpose, nobody asks again.
        let heard = openings(&["intake", "exhaust"]);
        let pulsed = listened(&heard, Takes { pulsed: 1, ..Takes::default() });
        let step = missing(&pulsed, 0.4, &asked).map(|next| next.step);
        assert_eq!(step, Some(NextStep::Clip("oil-filler".parse().expect("an opening"), Air::Pulsed)));
        let left_out = vec![("oil-filler".parse().expect("an opening"), Air::Pulsed)];
        assert_eq!(missing(&pulsed, 0.4, &Asked { left_out, ..asked }), None);
    }

    #[test]
    fn a_clip_with_nothing_to_be_held_against_gets_its_quiet_one() {
        let all = openings(&PLACES);
        let mut alone = listened(&all, Takes { on: 1, ..Takes::default() });
        alone.iter_mut().for_each(|one| one.noise_db = None);
        let step = missing(&alone, 0.4, &Asked::default()).map(|next| next.step);
        assert_eq!(step, Some(NextStep::Clip("intake".parse().expect("an opening"), Air::Off)));
    }

    #[test]
    fn a_safe_call_asks_nothing() {
        let weighed = weighed(&[(Hypothesis::One(1), 0.6), (Hypothesis::Tight, 0.4)], -8.0, 0.6);
        assert!(made(&weighed, Call::CannotTell, &Asked::default()).is_some());
        assert_eq!(made(&weighed, Call::Located, &Asked::default()), None);
        assert_eq!(made(&weighed, Call::Shared, &Asked::default()), None);
    }

    #[test]
    fn between_a_leak_and_a_foreign_hiss_pulsed_air_at_that_opening_decides() {
        let mut weighed = weighed(&[(Hypothesis::One(1), 0.6), (Hypothesis::Tight, 0.4)], 6.0, 0.5);
        weighed.present[1] = 0.999;
        weighed.disturbances[1].foreign = 0.9;
        let next = made(&weighed, Call::CannotTell, &Asked::default()).expect("something to record");
        assert_eq!(next.step, NextStep::Clip("exhaust".parse().expect("an opening"), Air::Pulsed));
        assert!(next.settles > 0.9, "{next:?}");
    }

    #[test]
    fn the_softer_the_hiss_the_smaller_the_chance_that_one_clip_settles_it() {
        let hypotheses = [(Hypothesis::One(0), 0.4), (Hypothesis::Tight, 0.6)];
        let chance = |level_db: f64| {
            made(&weighed(&hypotheses, level_db, 0.4), Call::CannotTell, &Asked::default())
                .map_or(0.0, |next| next.settles)
        };
        let chances = [-2.0, -14.0, -18.0, -30.0].map(chance);
        assert!(chances.is_sorted_by(|louder, softer| louder >= softer), "{chances:?}");
        assert!(chances[0] > 0.8 && chances[3] < 0.1, "{chances:?}");
    }

    #[test]
    fn there_is_an_end_where_nothing_would_tell() {
        // A hiss this soft is told from none by nobody.
        let deaf = weighed(&[(Hypothesis::One(0), 0.5), (Hypothesis::Tight, 0.5)], -34.0, 0.5);
        assert_eq!(made(&deaf, Call::CannotTell, &Asked::default()), None);
        // … but the gauge may tell tight from leaking, where there is a job that it can be read for.
        let asked = Asked { of_job: true, ..Asked::default() };
        assert_eq!(made(&deaf, Call::CannotTell, &asked).map(|next| next.step), Some(NextStep::Gauge));
        let silent = weighed(&[(Hypothesis::Tight, 0.8), (Hypothesis::One(0), 0.2)], -12.0, 0.2);
        assert!(made(&silent, Call::NoneHeard, &Asked::default()).is_some());
        let read = Asked { gauge: true, ..asked };
        assert_eq!(made(&silent, Call::NoneHeard, &read), None, "silent, and it holds by the gauge");
        assert_eq!(made(&deaf, Call::CannotTell, &read), None, "it was read");
    }

    #[test]
    fn much_lost_and_nothing_heard_leads_to_where_nobody_listened() {
        let hypotheses = [
            (Hypothesis::Unheard, 0.8),
            (Hypothesis::Rig, 0.12),
            (Hypothesis::One(0), 0.06),
            (Hypothesis::Tight, 0.02),
        ];
        let silent = weighed(&hypotheses, -30.0, 0.05);
        let asked = Asked { of_job: true, gauge: true, rig: true, ..Asked::default() };
        let step = made(&silent, Call::NoneHeard, &asked).map(|next| next.step);
        assert_eq!(step, Some(NextStep::Clip("coolant-filler".parse().expect("an opening"), Air::Pulsed)));
        // While the openings listened at hold the most, they come first.
        let there =
            weighed(&[(Hypothesis::Unheard, 0.3), (Hypothesis::One(1), 0.5), (Hypothesis::One(0), 0.2)], -12.0, 0.5);
        let step = made(&there, Call::CannotTell, &asked).map(|next| next.step);
        assert_eq!(step, Some(NextStep::Clip("exhaust".parse().expect("an opening"), Air::Pulsed)));
        // A cylinder that is probably tight is let alone.
        let tight = weighed(&[(Hypothesis::Tight, 0.97), (Hypothesis::Unheard, 0.03)], -30.0, 0.05);
        assert_eq!(made(&tight, Call::NoneHeard, &asked), None);
    }
}
