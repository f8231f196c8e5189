//! What one more clip is expected to tell: expected information gain (Lindley, *Annals of Mathematical Statistics* 27,
//! 1956; Chaloner and Verdinelli, *Statistical Science* 10, 1995), and the chance that the answer is settled after it.
//!
//! A clip is thought of as one Gaussian number: how far the floor with the air on lies over the quiet one, over how well
//! that is known (the deflection). Each hypothesis says which hiss levels the opening may have, so each predicts that number;
//! sums over a grid of its outcomes stand for the integrals. A model of the clip that was not made yet, not of the clips
//! that were: those are weighed as in [`super::weigh`].

use crate::hiss::{PerBand, level_bands};
use crate::opening::Air;

use super::assumptions as assume;
use super::call::Posterior;
use super::reach::log_spill;
use super::weigh::{Hypothesis, Weighed};

/// Outcomes looked at, in standard deviations: first, step, how many.
const FIRST: f64 = -4.0;
const STEP: f64 = 0.5;
const OUTCOMES: usize = 37;
/// A hiss that stands out further is told from none as surely as can be.
const FARTHEST: f64 = 10.0;

/// Chances of an outcome, on the grid.
type Outcomes = [f64; OUTCOMES];

/// What a step is expected to tell.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Expected {
    /// Expected information gain about which hypothesis is true, nats.
    pub nats: f64,
    /// The chance that the answer is settled after it.
    pub settles: f64,
}

/// Clips of an opening that count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Takes {
    /// With the air off.
    pub off: usize,
    /// With the air on.
    pub on: usize,
    /// With pulsed air.
    pub pulsed: usize,
}

/// The levels that hiss at an opening may have, and none: weights that add up to one.
#[derive(Debug, Clone)]
struct Levels {
    none: f64,
    /// By place among the levels tried.
    some: Vec<f64>,
}

impl Levels {
    fn none(count: usize) -> Self {
        Self { none: 1.0, some: vec![0.0; count] }
    }

    fn scaled(mut self) -> Self {
        let whole = (self.none + self.some.iter().sum::<f64>()).max(f64::MIN_POSITIVE);
        self.none /= whole;
        self.some.iter_mut().for_each(|weight| *weight /= whole);
        self
    }
}

/// All hypotheses, and what each says of every opening.
pub struct Prospect<'a> {
    weighed: &'a Weighed,
    levels_db: Vec<f64>,
    /// By opening: the levels of a leak there.
    own: Vec<Levels>,
    /// By opening: how much likelier its clips are with each level than with none.
    ratio: Vec<Vec<f64>>,
}

impl<'a> Prospect<'a> {
    /// From what the clips so far say.
    pub fn of(weighed: &'a Weighed) -> Self {
        let (lowest, highest, step) = assume::LEVELS_DB;
        let count = ((highest - lowest) / step).round() as usize + 1;
        let levels_db: Vec<f64> = (0..count).map(|k| weighed.shop_db + lowest + step * k as f64).collect();
        let place = |db: f64| ((db - weighed.shop_db - lowest) / step).round().clamp(0.0, count as f64 - 1.0) as usize;
        let mut own = Vec::new();
        let mut ratio = Vec::new();
        for (levels, present) in weighed.levels.iter().zip(&weighed.present) {
            let mut some = vec![0.0; count];
            for level in levels {
                some[place(level.level_db)] += level.weight;
            }
            let odds = present / (1.0 - present).max(1e-12);
            ratio.push(some.iter().map(|weight| weight * count as f64 * odds).collect());
            own.push(Levels { none: 0.0, some }.scaled());
        }
        Self { weighed, levels_db, own, ratio }
    }

    /// What another clip at an opening is expected to tell. `takes`: clips it has, `noise_db`: its noise, dB FS per band.
    pub fn of_clip(&self, at: usize, air: Air, takes: Takes, noise_db: &PerBand, bands: usize) -> Expected {
        let spread_db = self.spread_db(air, takes);
        // How well a clip will tell is not known itself.
        let each = assume::SPREADS
            .map(|(factor, share)| (self.at_spread(at, air, factor * spread_db, noise_db, bands), share));
        each.iter().fold(Expected::default(), |sum, (of, share)| Expected {
            nats: sum.nats + share * of.nats,
            settles: sum.settles + share * of.settles,
        })
    }

    /// The same where the clip tells the excess this well.
    fn at_spread(&self, at: usize, air: Air, spread_db: f64, noise_db: &PerBand, bands: usize) -> Expected {
        let count = self.levels_db.len();
        let excess = self.levels_db.iter().map(|level| excess_db(*level, noise_db, bands));
        let by_level: Vec<Outcomes> = excess.map(|db| bell((db / spread_db).min(FARTHEST))).collect();
        let silent = self.silence(at, air, &by_level);
        let outcomes = |levels: &Levels| {
            let mut sum = silent.map(|chance| chance * levels.none);
            for (weight, of_level) in levels.some.iter().zip(&by_level).filter(|(weight, _)| **weight > 1e-6) {
                sum.iter_mut().zip(of_level).for_each(|(sum, chance)| *sum += weight * chance);
            }
            sum
        };
        let none = outcomes(&Levels::none(count));
        let own = outcomes(&self.own[at]);
        let spilt: Vec<Outcomes> = (0..self.own.len()).map(|from| outcomes(&self.spill(Some(from), at))).collect();
        let from_elsewhere = outcomes(&self.spill(None, at));
        let predicted = |hypothesis: &Hypothesis| match *hypothesis {
            Hypothesis::Tight | Hypothesis::Unheard => none,
            Hypothesis::Rig => own,
            Hypothesis::Elsewhere => from_elsewhere,
            Hypothesis::One(j) if j == at => own,
            Hypothesis::One(j) => spilt[j],
            Hypothesis::Two(j, k) if j == at || k == at => own,
            Hypothesis::Two(j, _) => spilt[j],
        };
        let predicted: Vec<Outcomes> =
            self.weighed.hypotheses.iter().map(|(hypothesis, _)| predicted(hypothesis)).collect();
        self.told(&self.weighed.hypotheses, &predicted, |posterior| {
            is_settled(posterior) || posterior.tight + posterior.elsewhere >= assume::SURE
        })
    }

    /// What a look at something of two outcomes tells: `yes` is the chance of the first under each hypothesis. Of hypotheses that
    /// it is more than one thing to, each has its share.
    pub fn of_answer(&self, yes: impl Fn(&Hypothesis) -> Vec<(f64, f64)>) -> Expected {
        let (mut hypotheses, mut predicted) = (Vec::new(), Vec::new());
        for (hypothesis, probability) in &self.weighed.hypotheses {
            for (share, chance) in yes(hypothesis) {
                hypotheses.push((*hypothesis, share * probability));
                let mut outcomes = [0.0; OUTCOMES];
                (outcomes[0], outcomes[1]) = (chance, 1.0 - chance);
                predicted.push(outcomes);
            }
        }
        self.told(&hypotheses, &predicted, is_settled)
    }

    /// Information and chance to settle, from each hypothesis's outcomes.
    fn told(
        &self,
        hypotheses: &[(Hypothesis, f64)],
        predicted: &[Outcomes],
        is_settled: impl Fn(&Posterior) -> bool,
    ) -> Expected {
        let entropy = |probabilities: &mut dyn Iterator<Item = f64>| -> f64 {
            probabilities.filter(|p| *p > 0.0).map(|p| -p * p.ln()).sum()
        };
        let before = entropy(&mut hypotheses.iter().map(|(_, probability)| *probability));
        let (mut after, mut settles) = (0.0, 0.0);
        let mut updated = hypotheses.to_vec();
        for outcome in 0..OUTCOMES {
            let whole: f64 = hypotheses.iter().zip(predicted).map(|((_, p), of)| p * of[outcome]).sum();
            if whole < 1e-9 {
                continue;
            }
            for ((slot, (_, p)), of) in updated.iter_mut().zip(hypotheses).zip(predicted) {
                slot.1 = p * of[outcome] / whole;
            }
            after += whole * entropy(&mut updated.iter().map(|(_, p)| *p));
            if is_settled(&Posterior::of(&updated, self.own.len())) {
                settles += whole;
            }
        }
        Expected { nats: (before - after).max(0.0), settles: settles.min(1.0) }
    }

    /// What is seen where no leak hisses: nothing, or once more what hissed in the clips before.
    fn silence(&self, at: usize, air: Air, by_level: &[Outcomes]) -> Outcomes {
        let nothing = bell(0.0);
        // A rhythm that nothing else keeps.
        if air == Air::Pulsed {
            return nothing;
        }
        let stays = if air == Air::On { assume::FOREIGN_STAYS } else { 1.0 };
        let present = self.weighed.present[at];
        let odds = |probability: f64| probability / (1.0 - probability).max(1e-12);
        let foreign = odds(self.weighed.disturbances[at].foreign) * (1.0 + odds(present));
        let again = stays * foreign / (1.0 + foreign);
        let mut seen = nothing.map(|chance| chance * (1.0 - again));
        for (weight, of_level) in self.own[at].some.iter().zip(by_level) {
            seen.iter_mut().zip(of_level).for_each(|(seen, chance)| *seen += again * weight * chance);
        }
        seen
    }

    /// The spill that an opening may hear of a leak at another, or elsewhere.
    fn spill(&self, from: Option<usize>, at: usize) -> Levels {
        let count = self.levels_db.len();
        let Some(from) = from else {
            let Levels { some, .. } = &self.own[at];
            let some = some.iter().map(|weight| (1.0 - assume::NO_SPILL) * weight).collect();
            return Levels { none: assume::NO_SPILL, some };
        };
        let (_, _, step) = assume::LEVELS_DB;
        let mut levels = Levels { none: assume::NO_SPILL, some: vec![0.0; count] };
        // Under the lowest level tried a spill is as good as none.
        let beyond = 20;
        let reach: Vec<f64> =
            (0..count + beyond).map(|under| log_spill(step * (under as f64 - beyond as f64 / 2.0)).exp()).collect();
        for (leak, weight) in self.own[from].some.iter().enumerate().filter(|(_, weight)| **weight > 1e-6) {
            let lower = |under: usize| (leak + beyond / 2).checked_sub(under);
            let whole: f64 = reach.iter().sum();
            for (under, share) in reach.iter().enumerate() {
                let share = (1.0 - assume::NO_SPILL) * weight * share / whole;
                match lower(under) {
                    Some(level) if level < count => levels.some[level] += share * self.ratio[at][level],
                    Some(_) => {}
                    None => levels.none += share,
                }
            }
        }
        levels.scaled()
    }

    /// How well a clip tells the excess, dB: of off and on that is how much better their difference is known with one more.
    fn spread_db(&self, air: Air, takes: Takes) -> f64 {
        let variability = self.weighed.variability;
        if air == Air::Pulsed {
            return assume::PULSED_SPREAD_DB * variability.powf(assume::PULSED_VARIABILITY);
        }
        // Other openings' quiet clips serve for half a one.
        let count = |takes: usize| if takes == 0 { 0.5 } else { takes as f64 };
        let (off, on) = (count(takes.off), if takes.on == 0 { 1e-3 } else { takes.on as f64 });
        let known = |off: f64, on: f64| 1.0 / (1.0 / off + 1.0 / on);
        let now = known(off, on);
        let then = match air {
            Air::Off => known(takes.off as f64 + 1.0, on),
            _ => known(off, takes.on as f64 + 1.0),
        };
        assume::ON_SPREAD_DB * variability / (then - now).max(1e-6).sqrt()
    }
}

/// How far a hiss of equal power in all bands raises the noise, dB: root mean square over the bands. Where there is little
/// noise the hiss stands out.
fn excess_db(level_db: f64, noise_db: &PerBand, bands: usize) -> f64 {
    let of_band_db = level_db - 10.0 * (level_bands(bands).len().max(1) as f64).log10();
    let rise = |noise_db: f64| 10.0 * (1.0 + 10f64.powf((of_band_db - noise_db) / 10.0)).log10();
    (noise_db[..bands].iter().map(|noise| rise(*noise).powi(2)).sum::<f64>() / bands.max(1) as f64).sqrt()
}

/// The chances of the outcomes about a mean, in standard deviations.
fn bell(mean: f64) -> Outcomes {
    let density: Outcomes = std::array::from_fn(|k| (-0.5 * (FIRST + STEP * k as f64 - mean).powi(2)).exp());
    let whole: f64 = density.iter().sum();
    density.map(|chance| chance / whole)
}

/// Whether there is no more to ask: an opening located, two shared, tight, or surely elsewhere.
fn is_settled(posterior: &Posterior) -> bool {
    posterior.located().is_some()
        || posterior.is_shared()
        || posterior.tight >= assume::SURE
        || posterior.elsewhere >= assume::SURE
}
