//! From fits to probabilities: every hypothesis of where the air gets away, weighed against the others.

use rayon::prelude::*;

use super::assumptions as assume;
use super::contrasts::{OpeningContrasts, levels, shop_db};
use super::evidence::{OpeningEvidence, mixed_with_neighbours, of_either};
use super::fit::{SmoothKernels, quiet_against_quiet};
use super::matrix::log_sum;
use super::prior::{Prior, before_one, shares};
use super::reach::{LevelReach, Reaches, log_blow_by, log_spill, second_of};
use super::scale::{AtScale, Heard, Shapes};

/// A hypothesis of where the air gets away. Openings by their place in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hypothesis {
    /// Nothing leaks.
    Tight,
    /// Where nobody listened, and it is not heard at the openings.
    Unheard,
    /// At the rig, and all openings hear it about alike.
    Rig,
    /// Where nobody listened, and its spill is heard.
    Elsewhere,
    /// At one; others may hear its spill.
    One(usize),
    /// At two, the first the louder.
    Two(usize, usize),
}

/// What the openings' clips say together.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Every hypothesis with its probability; they add up to one.
    pub hypotheses: Vec<(Hypothesis, f64)>,
    /// For each opening, the hiss levels it may have, each with its weight; the weights of an opening add up to one.
    pub levels: Vec<Vec<LevelWeight>>,
    /// For each opening, the probability that any hiss is there, from its own clips, even odds beforehand.
    pub present: Vec<f64>,
    /// The probability that one of them leaks as loud as would surely be heard ([`assume::LOUD_DB`]).
    pub loud: f64,
    /// For each opening, what besides a leak may be in its clips.
    pub disturbances: Vec<Disturbances>,
    /// The shop's mean noise power in the level bands, dB FS: the levels tried lie about it.
    pub shop_db: f64,
    /// How restless the shop is: the scale, geometric mean over how likely each is.
    pub variability: f64,
}

/// What besides a leak may be in an opening's clips, as probabilities from its own clips.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Disturbances {
    /// In the clips with the air on alone, something else hisses.
    pub foreign: f64,
    /// Air streams over the capsule.
    pub wind: f64,
    /// Log evidence of the pulsed clips for a hiss as loud as the clips with the air off and on show, against none; `None`
    /// where these show none, or there are not both.
    pub follows: Option<f64>,
    /// How much more log evidence there is for a hiss in a part of the time than for one throughout, or none.
    pub part: f64,
    /// How loud that hiss is, dB FS.
    pub part_db: f64,
}

/// One level an opening's hiss may have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelWeight {
    /// The level, dB FS over the level bands.
    pub level_db: f64,
    /// Its variance, dB².
    pub variance_db2: f64,
    /// Its weight.
    pub weight: f64,
}

/// All that is weighed at every scale: the answers beforehand can be changed without weighing again.
pub struct Weights {
    list: Vec<Hypothesis>,
    /// Per scale, per hypothesis.
    terms: Vec<Vec<f64>>,
    /// Per scale, per opening: the log evidence of a loud leak there.
    loud: Vec<Vec<f64>>,
    mixed: Vec<Vec<OpeningEvidence>>,
    variability: Vec<f64>,
    shop_db: f64,
}

/// Weighs all hypotheses.
///
/// `openings`: what is known of each (at least one contrast each). `bands`: bands that all clips reach.
/// `None` where an opening has nothing to compare.
#[must_use]
pub fn weigh(openings: &[OpeningContrasts], bands: usize) -> Option<Weights> {
    let levels_db = levels(openings, bands);
    let kernels = SmoothKernels::new();
    let shapes = Shapes::of(bands);
    // Per scale, per opening; the scales side by side here and below.
    let weighed_at = |(at, scale): (usize, &f64)| {
        let at_scale = AtScale { kernels: &kernels, shapes: &shapes, levels_db: &levels_db, scale: *scale, bands };
        let heard: Option<Vec<Heard>> = openings.par_iter().map(|evidence| at_scale.opening(evidence)).collect();
        let heard = heard?;
        let of_one_source = at_scale.of_one_source(openings, &heard)?;
        let each: Vec<OpeningEvidence> = heard.into_iter().map(|heard| heard.free).collect();
        let all = openings.iter().flat_map(OpeningContrasts::contrasts);
        let pairs: f64 = all.map(|contrast| quiet_against_quiet(contrast, &kernels, *scale, bands)).sum();
        // Of n openings' differences from the mean of the others only n − 1 are independent.
        let independent = (openings.len() as f64 - 1.0).max(0.0) / openings.len().max(1) as f64;
        Some(((each, of_one_source), at as f64 * assume::VARIABILITY_DECAY.ln() + pairs * independent))
    };
    let by_scale: Option<Vec<_>> = assume::BACKGROUND_VARIABILITY.par_iter().enumerate().map(weighed_at).collect();
    let (fits, variability): (Vec<_>, Vec<f64>) = by_scale?.into_iter().unzip();
    let (fits, of_one_source): (Vec<Vec<OpeningEvidence>>, Vec<Vec<OpeningEvidence>>) = fits.into_iter().unzip();
    let list = list_of(openings.len());
    let reach = Reaches {
        spill: LevelReach::of(&levels_db, log_spill),
        blow_by: LevelReach::of(&levels_db, log_blow_by),
        crankcase: openings.iter().map(|evidence| evidence.crankcase).collect(),
        tracked: openings.iter().map(|evidence| evidence.tracked).collect(),
    };
    let loud_from = levels_db.iter().take_while(|db| **db < shop_db(openings, bands) + assume::LOUD_DB).count();
    let told_at = |at: usize| {
        let mixed = mixed_with_neighbours(&fits, at);
        let one_source = mixed_with_neighbours(&of_one_source, at);
        let (terms, loud) = terms_of(&list, (&mixed, &one_source), variability[at], &reach, &levels_db, loud_from);
        (mixed, (terms, loud))
    };
    let (mixed, told): (Vec<_>, Vec<_>) = (0..fits.len()).into_par_iter().map(told_at).unzip();
    let (terms, loud) = told.into_iter().unzip();
    let shop_db = shop_db(openings, bands);
    Some(Weights { list, terms, loud, mixed, variability, shop_db })
}

impl Weights {
    /// Probabilities of all hypotheses, and what is read of each opening.
    #[must_use]
    pub fn weighed(&self, before: Prior) -> Weighed {
        let count = self.mixed.first().map_or(0, Vec::len);
        let (hypotheses, whole) = hypotheses(&self.list, &self.terms, count, before);
        let one = before_one(before, count);
        let loud = log_sum(self.loud.iter().flatten().copied()) + one.ln() - whole;
        let (levels, rest): (Vec<_>, Vec<_>) =
            (0..count).into_par_iter().map(|o| levels_of(&self.mixed, &self.variability, o)).unzip();
        let (present, disturbances) = rest.into_iter().unzip();
        let variability = likely_scale(&self.terms);
        Weighed { hypotheses, levels, present, loud: loud.exp(), disturbances, shop_db: self.shop_db, variability }
    }
}

/// Every hypothesis that so many openings allow.
fn list_of(count: usize) -> Vec<Hypothesis> {
    let pairs = (0..count).flat_map(|j| (0..count).filter(move |k| *k != j).map(move |k| Hypothesis::Two(j, k)));
    [Hypothesis::Tight, Hypothesis::Unheard, Hypothesis::Rig, Hypothesis::Elsewhere]
        .into_iter()
        .chain((0..count).map(Hypothesis::One))
        .chain(pairs)
        .collect()
}

/// Log evidence of each hypothesis at one scale, and of a leak at each opening from a level on.
fn terms_of(
    list: &[Hypothesis],
    (openings, one_source): (&[OpeningEvidence], &[OpeningEvidence]),
    variability: f64,
    reach: &Reaches,
    levels_db: &[f64],
    loud_from: usize,
) -> (Vec<f64>, Vec<f64>) {
    let count = openings.len();
    let flat = -(levels_db.len() as f64).ln();
    // Without hiss everywhere is the common measure; all else is counted relative to it.
    let nowhere: f64 = openings.iter().map(|opening| opening.without).sum();
    let openings: Vec<OpeningEvidence> =
        openings.iter().zip(one_source).map(|(free, told)| of_either(free, told)).collect();
    let spill: Vec<Vec<f64>> = openings.iter().map(|opening| reach.spill_of(opening)).collect();
    let usual: Vec<Option<Vec<f64>>> =
        openings.iter().enumerate().map(|(o, opening)| reach.usual_of(o, opening)).collect();
    let second: Vec<Vec<f64>> = openings.iter().map(|opening| second_of(opening, levels_db)).collect();
    let alike: Vec<Vec<f64>> = one_source.iter().enumerate().map(|(o, opening)| reach.rig_of(o, opening)).collect();
    let by_level = |h: usize, leaks: [Option<usize>; 2]| {
        let others = (0..count).filter(|o| !leaks.contains(&Some(*o)));
        // The usual blow-by goes with a leak past a valve; that of a leak elsewhere is not known.
        let beside = |o: usize| match &usual[o] {
            Some(usual) if leaks[0].is_some_and(|leak| !reach.crankcase[leak]) => {
                let (some, none) = (assume::USUAL_BLOW_BY.ln(), (1.0 - assume::USUAL_BLOW_BY).ln());
                log_sum([none + spill[o][h], some + usual[h]].into_iter())
            }
            _ => spill[o][h],
        };
        others.map(beside).sum::<f64>()
    };
    let term = |hypothesis: &Hypothesis| {
        let levels = 0..levels_db.len();
        let term = match *hypothesis {
            Hypothesis::Tight | Hypothesis::Unheard => nowhere,
            Hypothesis::Rig => flat + log_sum(levels.map(|h| alike.iter().map(|with| with[h]).sum::<f64>())),
            Hypothesis::Elsewhere => flat + log_sum(levels.map(|h| by_level(h, [None, None]))),
            Hypothesis::One(j) => flat + log_sum(levels.map(|h| openings[j].with[h] + by_level(h, [Some(j), None]))),
            Hypothesis::Two(j, k) => {
                let both = |h: usize| openings[j].with[h] + second[k][h] + by_level(h, [Some(j), Some(k)]);
                flat + log_sum(levels.map(both))
            }
        };
        variability + term
    };
    let loud = (0..count)
        .map(|j| {
            let levels = loud_from..levels_db.len();
            variability + flat + log_sum(levels.map(|h| openings[j].with[h] + by_level(h, [Some(j), None])))
        })
        .collect();
    (list.iter().map(term).collect(), loud)
}

/// Every hypothesis's probability, from its log evidence per scale; and the log of what all weigh together.
fn hypotheses(list: &[Hypothesis], terms: &[Vec<f64>], count: usize, before: Prior) -> (Vec<(Hypothesis, f64)>, f64) {
    let [unheard, spilling, rig, two, _] = shares(before, count);
    let one = before_one(before, count);
    let before_tight = before.tight;
    let ordered_pairs = (count * count.saturating_sub(1)).max(1) as f64;
    let log: Vec<f64> = list
        .iter()
        .enumerate()
        .map(|(at, hypothesis)| {
            let probability = match hypothesis {
                Hypothesis::Tight => before_tight,
                Hypothesis::Unheard => unheard,
                Hypothesis::Rig => rig,
                Hypothesis::Elsewhere => spilling,
                Hypothesis::One(_) => one,
                Hypothesis::Two(..) => 2.0 * two / ordered_pairs,
            };
            probability.ln() + log_sum(terms.iter().map(|of_scale| of_scale[at]))
        })
        .collect();
    let whole = log_sum(log.iter().copied());
    (list.iter().zip(&log).map(|(hypothesis, log)| (*hypothesis, (log - whole).exp())).collect(), whole)
}

/// The scale of background variability, geometric mean over how likely each is by all hypotheses alike.
fn likely_scale(terms: &[Vec<f64>]) -> f64 {
    let log: Vec<f64> = terms.iter().map(|of_scale| log_sum(of_scale.iter().copied())).collect();
    let whole = log_sum(log.iter().copied());
    let mean: f64 =
        log.iter().zip(assume::BACKGROUND_VARIABILITY).map(|(log, scale)| (log - whole).exp() * scale.ln()).sum();
    mean.exp()
}

/// The levels an opening's hiss may have by its own clips, and the probability that there is any.
fn levels_of(mixed: &[Vec<OpeningEvidence>], variability: &[f64], o: usize) -> (Vec<LevelWeight>, (f64, Disturbances)) {
    let count = mixed.first().and_then(|openings| openings.get(o)).map_or(1, |opening| opening.with.len());
    let flat = -(count as f64).ln();
    // How restless the shop is, is told by all openings together, each with or without hiss.
    let shop: Vec<f64> = mixed
        .iter()
        .zip(variability)
        .map(|(openings, variability)| {
            let others = openings.iter().enumerate().filter(|(at, _)| *at != o);
            let either = |opening: &OpeningEvidence| {
                log_sum([opening.without, flat + log_sum(opening.with.iter().copied())].into_iter())
            };
            variability + others.map(|(_, opening)| either(opening)).sum::<f64>()
        })
        .collect();
    let without = log_sum(mixed.iter().zip(&shop).map(|(openings, shop)| shop + openings[o].without));
    let mut each: Vec<(f64, (f64, f64))> = Vec::new();
    for (openings, shop) in mixed.iter().zip(&shop) {
        let opening = &openings[o];
        each.extend(opening.with.iter().zip(&opening.level_db).map(|(with, level)| (shop + flat + with, *level)));
    }
    let with = log_sum(each.iter().map(|(log, _)| *log));
    let present = (with - log_sum([with, without].into_iter())).exp();
    let weights = each
        .iter()
        .map(|(log, (level_db, variance_db2))| LevelWeight {
            level_db: *level_db,
            variance_db2: *variance_db2,
            weight: (log - with).exp(),
        })
        .filter(|level| level.weight > 1e-9)
        .collect();
    // Each scale counts by how likely it is, with hiss here or without.
    let of_scale = |at: usize| {
        let opening = &mixed[at][o];
        shop[at] + log_sum([opening.without, flat + log_sum(opening.with.iter().copied())].into_iter())
    };
    let whole = log_sum((0..mixed.len()).map(of_scale));
    let share = |of: &dyn Fn(&OpeningEvidence) -> f64| -> f64 {
        (0..mixed.len()).map(|at| (of_scale(at) - whole).exp() / (1.0 + (-of(&mixed[at][o])).exp())).sum()
    };
    let follows: Option<Vec<f64>> =
        (0..mixed.len()).map(|at| mixed[at][o].follows.map(|log| of_scale(at) - whole + log)).collect();
    let disturbances = Disturbances {
        foreign: share(&|opening| opening.foreign),
        wind: share(&|opening| opening.wind),
        follows: follows.map(|logs| log_sum(logs.into_iter())),
        part: log_sum((0..mixed.len()).map(|at| of_scale(at) - whole + mixed[at][o].part.0)),
        part_db: likely_part_db(
            &(0..mixed.len()).map(|at| (of_scale(at) - whole, mixed[at][o].part)).collect::<Vec<_>>(),
        ),
    };
    (weights, (present, disturbances))
}

/// The level of a hiss in a part of the time, mean over the scales in which there is one; −∞ where there is none.
fn likely_part_db(scales: &[(f64, (f64, f64))]) -> f64 {
    let there = || scales.iter().filter(|(_, (_, level_db))| level_db.is_finite());
    let whole: f64 = there().map(|(log, _)| log.exp()).sum();
    if whole > 0.0 {
        there().map(|(log, (_, level_db))| log.exp() * level_db).sum::<f64>() / whole
    } else {
        f64::NEG_INFINITY
    }
}
