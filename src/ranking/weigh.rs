//! From fits to probabilities: every account of where the air gets away, weighed against the others.

use rayon::prelude::*;

use crate::hiss::Contrast;

use super::assumptions as assume;
use super::fit::{Bells, Fit, Ground, Shape, quiet_against_quiet};
use super::matrix::log_sum;

/// An account of where the air gets away. Openings by their place in the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Account {
    /// At none, and none is heard.
    Nowhere,
    /// At none, but a leak elsewhere is heard at all of them.
    Elsewhere,
    /// At one; others may hear its spill.
    One(usize),
    /// At two, the first the louder.
    Two(usize, usize),
}

/// What the openings' clips say together.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Every account with its probability; they add up to one.
    pub accounts: Vec<(Account, f64)>,
    /// For each opening, the hiss levels it may have, each with its weight; the weights of an opening add up to one.
    pub levels: Vec<Vec<LevelWeight>>,
    /// For each opening, the probability that any hiss is there, from its own clips, even odds beforehand.
    pub present: Vec<f64>,
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

/// Log evidence of one opening at one scale: no hiss, and hiss at each level; levels with their variances.
struct Opening {
    without: f64,
    with: Vec<f64>,
    level_db: Vec<(f64, f64)>,
}

/// Weighs all accounts.
///
/// `openings`: the contrasts of each (air against quiet, pulsed air; at least one each). `bands`: bands that all clips reach.
/// `usual`: whether intake, exhaust and oil filler are all among them. `None` where an opening has nothing to compare.
#[must_use]
pub fn weigh(openings: &[Vec<Contrast>], bands: usize, usual: bool) -> Option<Weighed> {
    let levels_db = levels(openings, bands);
    let bells = Bells::new();
    let shapes = assume::SHAPES.map(|shape| (Shape::of(&shape, bands), shape.likely.ln()));
    // Per scale, per opening; the scales side by side here and below.
    let weighed_at = |(at, scale): (usize, &f64)| {
        let each: Option<Vec<Opening>> = openings
            .iter()
            .map(|contrasts| {
                let grounds = contrasts.iter().map(|contrast| Ground::of(contrast, &bells, *scale, bands));
                let fits: Option<Vec<Fit>> = grounds.map(|ground| fit_any(&ground?, &shapes, &levels_db)).collect();
                together(&fits?)
            })
            .collect();
        let all = openings.iter().flatten();
        let pairs: f64 = all.map(|contrast| quiet_against_quiet(contrast, &bells, *scale, bands)).sum();
        // Of n openings' differences from the mean of the others only n − 1 are independent.
        let independent = (openings.len() as f64 - 1.0).max(0.0) / openings.len().max(1) as f64;
        Some((each?, at as f64 * assume::RESTLESS_DECAY.ln() + pairs * independent))
    };
    let by_scale: Option<Vec<(Vec<Opening>, f64)>> =
        assume::RESTLESSNESS.par_iter().enumerate().map(weighed_at).collect();
    let (fits, restless): (Vec<Vec<Opening>>, Vec<f64>) = by_scale?.into_iter().unzip();
    let list = list_of(openings.len());
    let reach = SpillReach::of(&levels_db);
    let told_at = |at: usize| {
        let mixed = mixed_with_neighbours(&fits, at);
        let terms = terms_of(&list, &mixed, restless[at], &reach, &levels_db);
        (mixed, terms)
    };
    let (mixed, terms): (Vec<Vec<Opening>>, Vec<Vec<f64>>) = (0..fits.len()).into_par_iter().map(told_at).unzip();
    let accounts = accounts(&list, &terms, openings.len(), usual);
    let (levels, present) = (0..openings.len()).into_par_iter().map(|o| levels_of(&mixed, &restless, o)).unzip();
    Some(Weighed { accounts, levels, present })
}

/// The levels tried, dB FS: from far under the shop's noise to far over it.
fn levels(openings: &[Vec<Contrast>], bands: usize) -> Vec<f64> {
    let (lowest, highest, step) = assume::LEVELS_DB;
    let power = |contrast: &Contrast| -> f64 {
        (crate::hiss::FIRST_LEVEL_BAND..bands).map(|b| 10f64.powf(contrast.mean_quiet_db[b] / 10.0)).sum()
    };
    let all: Vec<f64> = openings.iter().flatten().map(power).collect();
    let shop_db = 10.0 * (all.iter().sum::<f64>() / all.len().max(1) as f64).max(f64::MIN_POSITIVE).log10();
    let count = ((highest - lowest) / step).round() as usize;
    (0..=count).map(|k| shop_db + lowest + step * k as f64).collect()
}

/// The fit of a hiss that may have either kind of spectrum.
fn fit_any(ground: &Ground, shapes: &[(Shape, f64)], levels_db: &[f64]) -> Option<Fit> {
    let fits: Vec<(Fit, f64)> = shapes.iter().map(|(shape, log)| (ground.fit(shape, levels_db), *log)).collect();
    let without = fits.first()?.0.without;
    let mut all = Fit { without, with: Vec::new(), level_db: Vec::new() };
    for k in 0..levels_db.len() {
        let with = log_sum(fits.iter().map(|(fit, log)| fit.with[k] + log));
        let share = |fit: &Fit, log: f64| (fit.with[k] + log - with).exp();
        let mean: f64 = fits.iter().map(|(fit, log)| share(fit, *log) * fit.level_db[k].0).sum();
        let spread = |fit: &Fit| fit.level_db[k].1 + (fit.level_db[k].0 - mean).powi(2);
        let variance = fits.iter().map(|(fit, log)| share(fit, *log) * spread(fit)).sum();
        all.with.push(with);
        all.level_db.push((mean, variance));
    }
    Some(all)
}

/// Several contrasts of one opening are independent looks at the same hiss level.
fn together(fits: &[Fit]) -> Option<Opening> {
    let first = fits.first()?;
    let with = (0..first.with.len()).map(|k| fits.iter().map(|fit| fit.with[k]).sum()).collect();
    // Of the levels read from each, the surer counts more.
    let level_db = (0..first.with.len()).map(|k| {
        let weights: Vec<f64> = fits.iter().map(|fit| 1.0 / (fit.level_db[k].1 + 0.01)).collect();
        let sum: f64 = weights.iter().sum();
        let mean = fits.iter().zip(&weights).map(|(fit, w)| fit.level_db[k].0 * w).sum::<f64>() / sum;
        (mean, (1.0 / sum - 0.01).max(0.0))
    });
    Some(Opening { without: fits.iter().map(|fit| fit.without).sum(), with, level_db: level_db.collect() })
}

/// Each opening's clips may be somewhat calmer or more restless than the shop on the whole.
fn mixed_with_neighbours(fits: &[Vec<Opening>], at: usize) -> Vec<Opening> {
    let mut shares = vec![(at, 1.0)];
    for (step, weight) in assume::RESTLESS_NEIGHBOURS {
        shares.extend(at.checked_add_signed(step).filter(|k| *k < fits.len()).map(|k| (k, weight)));
    }
    let sum: f64 = shares.iter().map(|share| share.1).sum();
    let shares: Vec<(usize, f64)> = shares.into_iter().map(|(k, weight)| (k, (weight / sum).ln())).collect();
    let count = fits[at].len();
    (0..count)
        .map(|o| Opening {
            without: log_sum(shares.iter().map(|(k, log)| fits[*k][o].without + log)),
            with: (0..fits[at][o].with.len())
                .map(|h| log_sum(shares.iter().map(|(k, log)| fits[*k][o].with[h] + log)))
                .collect(),
            level_db: fits[at][o].level_db.clone(),
        })
        .collect()
}

/// Every account that so many openings allow.
fn list_of(count: usize) -> Vec<Account> {
    let pairs = (0..count).flat_map(|j| (0..count).filter(move |k| *k != j).map(move |k| Account::Two(j, k)));
    [Account::Nowhere, Account::Elsewhere].into_iter().chain((0..count).map(Account::One)).chain(pairs).collect()
}

/// Log evidence of each account at one scale.
fn terms_of(list: &[Account], openings: &[Opening], restless: f64, reach: &SpillReach, levels_db: &[f64]) -> Vec<f64> {
    let count = openings.len();
    let flat = -(levels_db.len() as f64).ln();
    // Without hiss everywhere is the common measure; all else is counted relative to it.
    let nowhere: f64 = openings.iter().map(|opening| opening.without).sum();
    let spill: Vec<Vec<f64>> = openings.iter().map(|opening| reach.spill_of(opening)).collect();
    let second: Vec<Vec<f64>> = openings.iter().map(|opening| second_of(opening, levels_db)).collect();
    let by_level = |h: usize, leaks: [Option<usize>; 2]| {
        let others = (0..count).filter(|o| !leaks.contains(&Some(*o)));
        others.map(|o| spill[o][h]).sum::<f64>()
    };
    let term = |account: &Account| {
        let levels = 0..levels_db.len();
        let term = match *account {
            Account::Nowhere => nowhere,
            Account::Elsewhere => flat + log_sum(levels.map(|h| by_level(h, [None, None]))),
            Account::One(j) => flat + log_sum(levels.map(|h| openings[j].with[h] + by_level(h, [Some(j), None]))),
            Account::Two(j, k) => {
                let both = |h: usize| openings[j].with[h] + second[k][h] + by_level(h, [Some(j), Some(k)]);
                flat + log_sum(levels.map(both))
            }
        };
        restless + term
    };
    list.iter().map(term).collect()
}

/// Every account's probability, from its log evidence per scale.
fn accounts(list: &[Account], terms: &[Vec<f64>], count: usize, usual: bool) -> Vec<(Account, f64)> {
    let from_elsewhere = if usual { assume::SPILL_FROM_ELSEWHERE.0 } else { assume::SPILL_FROM_ELSEWHERE.1 };
    let two = if count > 1 { assume::TWO } else { 0.0 };
    let one = (1.0 - assume::NOWHERE - from_elsewhere - two) / count.max(1) as f64;
    let ordered_pairs = (count * count.saturating_sub(1)).max(1) as f64;
    let log: Vec<f64> = list
        .iter()
        .enumerate()
        .map(|(at, account)| {
            let before = match account {
                Account::Nowhere => assume::NOWHERE,
                Account::Elsewhere => from_elsewhere,
                Account::One(_) => one,
                Account::Two(..) => 2.0 * two / ordered_pairs,
            };
            before.ln() + log_sum(terms.iter().map(|of_scale| of_scale[at]))
        })
        .collect();
    let whole = log_sum(log.iter().copied());
    list.iter().zip(&log).map(|(account, log)| (*account, (log - whole).exp())).collect()
}

/// Log weight of a spill that lies `under_db` under its leak, 0 at the likeliest.
pub fn log_spill(under_db: f64) -> f64 {
    let (nearest, farthest) = assume::SPILL_DB;
    let beyond = (nearest - under_db).max(under_db - farthest).max(0.0) / assume::PLACEMENT_PAIR_DB;
    -0.5 * beyond * beyond
}

/// How likely a leak at each level spills at each level, as logarithms.
struct SpillReach {
    /// Per level of the leak: per level of the spill, the weight below the lowest level tried, the sum of all.
    by_leak: Vec<(Vec<f64>, f64, f64)>,
}

impl SpillReach {
    fn of(levels_db: &[f64]) -> Self {
        let by_leak = levels_db.iter().map(|leak| {
            let weights: Vec<f64> = levels_db.iter().map(|level| log_spill(leak - level)).collect();
            // Spill below the lowest level tried is as good as none.
            let below = levels_db.first().map_or(0.0, |lowest| {
                let (_, _, step) = assume::LEVELS_DB;
                log_sum((1..=20).map(|k| log_spill(leak - (lowest - step * f64::from(k)))))
            });
            let whole = log_sum(weights.iter().copied().chain([below]));
            (weights, below, whole)
        });
        Self { by_leak: by_leak.collect() }
    }

    /// Log evidence of an opening that hears the spill of a leak at each level elsewhere.
    fn spill_of(&self, opening: &Opening) -> Vec<f64> {
        let (none, some) = (assume::NO_SPILL.ln(), (1.0 - assume::NO_SPILL).ln());
        let of_leak = |(weights, below, whole): &(Vec<f64>, f64, f64)| {
            let heard =
                log_sum(weights.iter().zip(&opening.with).map(|(w, with)| w + with).chain([below + opening.without]));
            log_sum([some + heard - whole, none + opening.without].into_iter())
        };
        self.by_leak.iter().map(of_leak).collect()
    }
}

/// Log evidence of an opening that leaks too, no louder than the first at each level.
fn second_of(opening: &Opening, levels_db: &[f64]) -> Vec<f64> {
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

/// The levels an opening's hiss may have by its own clips, and the probability that there is any.
fn levels_of(mixed: &[Vec<Opening>], restless: &[f64], o: usize) -> (Vec<LevelWeight>, f64) {
    let count = mixed.first().and_then(|openings| openings.get(o)).map_or(1, |opening| opening.with.len());
    let flat = -(count as f64).ln();
    // How restless the shop is, is told by all openings together, each with or without hiss.
    let shop: Vec<f64> = mixed
        .iter()
        .zip(restless)
        .map(|(openings, restless)| {
            let others = openings.iter().enumerate().filter(|(at, _)| *at != o);
            let either = |opening: &Opening| {
                log_sum([opening.without, flat + log_sum(opening.with.iter().copied())].into_iter())
            };
            restless + others.map(|(_, opening)| either(opening)).sum::<f64>()
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
    (weights, present)
}
