//! From fits to probabilities: every hypothesis of where the air gets away, weighed against the others.

use rayon::prelude::*;

use crate::hiss::{Contrast, View, Views, level_bands};

use super::assumptions as assume;
use super::fit::{Fit, FloorDifference, Shape, SmoothKernels, quiet_against_quiet};
use super::matrix::log_sum;

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
}

/// What is known of an opening.
#[derive(Debug, Clone, Default)]
pub struct OpeningContrasts {
    /// Clips with the air off and on, by view.
    pub views: Views,
    /// Whether a second microphone heard the shop rise as much.
    pub risen: bool,
    /// Pulsed clips.
    pub pulsed: Vec<Contrast>,
    /// Whether it opens into the crankcase, where a little air past the rings is usual.
    pub crankcase: bool,
}

impl OpeningContrasts {
    /// Every contrast that stands for clips of its own.
    fn contrasts(&self) -> impl Iterator<Item = &Contrast> {
        self.views.first().map(|(_, contrast)| contrast).into_iter().chain(&self.pulsed)
    }
}

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
#[derive(Clone)]
struct OpeningEvidence {
    without: f64,
    with: Vec<f64>,
    level_db: Vec<(f64, f64)>,
    /// Log odds that something else hisses, or that wind blows, against a clean clip with or without a leak.
    foreign: f64,
    wind: f64,
    /// Log evidence of the pulsed clips for a hiss as loud as the others show, against none; `None` where there are not both.
    follows: Option<f64>,
    /// How much more log evidence there is for a hiss in a part of the time than throughout.
    part: f64,
}

/// Shapes of hiss with the logarithm of how likely each is.
struct Shapes {
    leak: Vec<(Shape, f64)>,
    wind: Vec<(Shape, f64)>,
}

impl Shapes {
    fn of(bands: usize) -> Self {
        let even = -(assume::WIND_KNEES_HZ.len() as f64).ln();
        Self {
            leak: assume::SHAPES.iter().map(|shape| (Shape::of(shape, bands), shape.likely.ln())).collect(),
            wind: assume::WIND_KNEES_HZ
                .iter()
                .map(|knee| (Shape::of_wind(&assume::WIND_SHAPE, *knee, bands), even))
                .collect(),
        }
    }
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
        let each: Option<Vec<OpeningEvidence>> =
            openings.par_iter().map(|evidence| at_scale.opening(evidence)).collect();
        let all = openings.iter().flat_map(OpeningContrasts::contrasts);
        let pairs: f64 = all.map(|contrast| quiet_against_quiet(contrast, &kernels, *scale, bands)).sum();
        // Of n openings' differences from the mean of the others only n − 1 are independent.
        let independent = (openings.len() as f64 - 1.0).max(0.0) / openings.len().max(1) as f64;
        Some((each?, at as f64 * assume::VARIABILITY_DECAY.ln() + pairs * independent))
    };
    let by_scale: Option<Vec<(Vec<OpeningEvidence>, f64)>> =
        assume::BACKGROUND_VARIABILITY.par_iter().enumerate().map(weighed_at).collect();
    let (fits, variability): (Vec<Vec<OpeningEvidence>>, Vec<f64>) = by_scale?.into_iter().unzip();
    let list = list_of(openings.len());
    let reach = Reaches {
        spill: LevelReach::of(&levels_db, log_spill),
        blow_by: LevelReach::of(&levels_db, log_blow_by),
        crankcase: openings.iter().map(|evidence| evidence.crankcase).collect(),
    };
    let loud_from = levels_db.iter().take_while(|db| **db < shop_db(openings, bands) + assume::LOUD_DB).count();
    let told_at = |at: usize| {
        let mixed = mixed_with_neighbours(&fits, at);
        let (terms, loud) = terms_of(&list, &mixed, variability[at], &reach, &levels_db, loud_from);
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

/// What one scale is weighed with.
struct AtScale<'a> {
    kernels: &'a SmoothKernels,
    shapes: &'a Shapes,
    levels_db: &'a [f64],
    scale: f64,
    bands: usize,
}

/// Evidence relative to no hiss, level by level, with the levels.
struct Curve {
    factor: Vec<f64>,
    level_db: Vec<(f64, f64)>,
}

impl AtScale<'_> {
    /// What an opening's clips say: those with the air on as one, each pulsed one beside it, all of one hiss level.
    fn opening(&self, evidence: &OpeningContrasts) -> Option<OpeningEvidence> {
        let pulsed: Option<Vec<OpeningEvidence>> =
            evidence.pulsed.iter().map(|contrast| self.pulsed(contrast)).collect();
        let pulsed = pulsed?;
        let mut all: Vec<OpeningEvidence> = Vec::new();
        let mut follows = None;
        if !evidence.views.is_empty() {
            let (opening, leak) = self.off_and_on(evidence)?;
            follows = follows_valve(&leak, &pulsed);
            all.push(opening);
        }
        all.extend(pulsed);
        together(&all).map(|opening| OpeningEvidence { follows, ..opening })
    }

    /// The evidence of a contrast: without hiss, and the curve with it.
    fn curve(&self, contrast: &Contrast, shapes: &[(Shape, f64)]) -> Option<(f64, Curve)> {
        let ground = FloorDifference::of(contrast, self.kernels, self.scale, self.bands)?;
        let fit = fit_any(&ground, shapes, self.levels_db)?;
        let factor = fit.with.iter().map(|with| with - fit.without).collect();
        Some((fit.without, Curve { factor, level_db: fit.level_db }))
    }

    /// Clips with the air off and on, in each of which something else may hiss. Gives besides the Bayes factors of a leak with nothing else in the clips.
    fn off_and_on(&self, evidence: &OpeningContrasts) -> Option<(OpeningEvidence, Vec<f64>)> {
        let (_, whole_contrast) = evidence.views.first()?;
        let (without, whole) = self.curve(whole_contrast, &self.shapes.leak)?;
        let of_view = |wanted: &dyn Fn(&View) -> bool| -> Option<Vec<Curve>> {
            let chosen = evidence.views.iter().skip(1).filter(|(view, _)| wanted(view));
            chosen.map(|(_, contrast)| self.curve(contrast, &self.shapes.leak).map(|found| found.1)).collect()
        };
        let levels = self.levels_db.len();
        // Some takes with something else in them, the others without.
        let takes = evidence.views.iter().filter(|(view, _)| matches!(view, View::Take(_))).count();
        let single = |take: usize| of_view(&|view| *view == View::Take(take)).map(|mut found| found.pop());
        let others = |take: usize| of_view(&|view| *view == View::Without(take)).map(|mut found| found.pop());
        // Where both microphones hear the shop rise alike, something else is the likelier reason.
        let foreign_before = if evidence.risen { assume::FOREIGN_RISEN } else { assume::FOREIGN };
        let whole_foreign = foreign(&whole.factor);
        let all_share = if takes > 1 { foreign_before * assume::FOREIGN_STAYS } else { foreign_before };
        let mut dirty: Vec<(Vec<f64>, f64, f64)> = vec![(whole_foreign.0, whole_foreign.1, all_share)];
        for take in 0..takes {
            if let (Some(alone), Some(rest)) = (single(take)?, others(take)?) {
                let (_, something) = foreign(&alone.factor);
                let with = rest.factor.iter().map(|factor| factor + something).collect();
                dirty.push((with, something, foreign_before * (1.0 - assume::FOREIGN_STAYS)));
            }
        }
        let wind = self.wind(whole_contrast, &whole)?;
        dirty.extend(wind.clone().map(|(with, something)| (with, something, assume::WIND)));
        let clean_share = (1.0 - dirty.iter().map(|(_, _, share)| share).sum::<f64>()).max(0.02);
        let none = log_sum(dirty.iter().map(|(_, something, share)| share.ln() + something).chain([clean_share.ln()]));
        let with: Vec<f64> = (0..levels)
            .map(|k| {
                let each = dirty.iter().map(|(with, _, share)| share.ln() + with[k]);
                log_sum(each.chain([clean_share.ln() + whole.factor[k]]))
            })
            .collect();
        let flat = -(levels as f64).ln();
        let leak = clean_share.ln() + flat + log_sum(whole.factor.iter().copied());
        let calm = log_sum([leak, clean_share.ln()].into_iter());
        let of_foreign = all_share.ln() + dirty[0].1 - calm;
        let of_wind = wind.map_or(f64::NEG_INFINITY, |(_, something)| assume::WIND.ln() + something - calm);
        let part = self.part(&of_view(&|view| matches!(view, View::Part | View::Median))?, &whole);
        let opening = OpeningEvidence {
            without: without + none,
            with: with.into_iter().map(|factor| without + factor).collect(),
            level_db: whole.level_db,
            foreign: of_foreign,
            wind: of_wind,
            follows: None,
            part,
        };
        Some((opening, whole.factor))
    }

    /// How much more a stretch of the clips, or their median, says for a hiss than their floors do.
    fn part(&self, views: &[Curve], whole: &Curve) -> f64 {
        let mean = |curve: &Curve| log_sum(curve.factor.iter().copied()) - (self.levels_db.len() as f64).ln();
        views.iter().map(mean).fold(f64::NEG_INFINITY, f64::max) - mean(whole).max(0.0)
    }

    /// Wind on the capsule in place of, or beside, a hiss. `None` inside where the low end speaks against it.
    #[expect(clippy::option_option, reason = "the outer is a contrast that cannot be made, the inner no wind")]
    fn wind(&self, contrast: &Contrast, whole: &Curve) -> Option<Option<(Vec<f64>, f64)>> {
        let (_, curve) = self.curve(contrast, &self.shapes.wind)?;
        // The level that explains best, at 1 kHz, and what wind of that level has below the bands of hiss.
        let best = (0..curve.factor.len()).max_by(|a, b| curve.factor[*a].total_cmp(&curve.factor[*b]));
        let Some(best) = best else { return Some(None) };
        let bands = level_bands(self.bands).len().max(1) as f64;
        let at_1_khz_db = curve.level_db[best].0 - 10.0 * bands.log10() + WIND_AT_1_KHZ_DB;
        let Some(low) = low_end(contrast, at_1_khz_db) else { return Some(None) };
        let levels = curve.factor.len() as f64;
        let something = log_sum(curve.factor.iter().copied()) - levels.ln() + low;
        // A leak under the wind's level changes nothing; a louder one is heard beside it.
        let with = (0..curve.factor.len())
            .map(|k| {
                log_sum([something, whole.factor[k] - levels.ln()].into_iter()).min(something.max(whole.factor[k]))
            })
            .collect();
        Some(Some((with, something)))
    }

    /// A pulsed clip: next to nothing else keeps its rhythm.
    fn pulsed(&self, contrast: &Contrast) -> Option<OpeningEvidence> {
        let (without, curve) = self.curve(contrast, &self.shapes.leak)?;
        let (beside, something) = foreign(&curve.factor);
        let clean = (1.0 - assume::FOREIGN_PULSED - assume::PULSED_WITHOUT_AIR).ln();
        let none =
            log_sum([clean, assume::PULSED_WITHOUT_AIR.ln(), assume::FOREIGN_PULSED.ln() + something].into_iter());
        let with = curve.factor.iter().zip(&beside).map(|(factor, beside)| {
            let whole = [clean + factor, assume::PULSED_WITHOUT_AIR.ln(), assume::FOREIGN_PULSED.ln() + beside];
            without + log_sum(whole.into_iter())
        });
        Some(OpeningEvidence {
            without: without + none,
            with: with.collect(),
            level_db: curve.level_db,
            foreign: f64::NEG_INFINITY,
            wind: f64::NEG_INFINITY,
            follows: None,
            part: f64::NEG_INFINITY,
        })
    }
}

/// Log evidence of the power below the bands of hiss for wind of a level (its band at 1 kHz, dB FS) against none: with wind it
/// rises over the quiet clip's by what such wind has there. `None` where that power is not known.
fn low_end(contrast: &Contrast, at_1_khz_db: f64) -> Option<f64> {
    let (air, quiet) = (contrast.low_air_db, contrast.low_quiet_db);
    if !air.is_finite() || !quiet.is_finite() {
        return None;
    }
    let log_normal = |off: f64, deviation: f64| -0.5 * (off / deviation).powi(2) - deviation.ln();
    let (nearest, farthest) = assume::WIND_LOW_DB;
    let steps = 8;
    let with = (0..=steps).map(|k| {
        let wind = at_1_khz_db + nearest + (farthest - nearest) * f64::from(k) / f64::from(steps);
        let both = 10.0 * (10f64.powf(wind / 10.0) + 10f64.powf(quiet / 10.0)).log10();
        log_normal(air - both, assume::LOW_CHANGE_DB[0].0)
    });
    let with = log_sum(with) - f64::from(steps + 1).ln();
    let without = assume::LOW_CHANGE_DB.map(|(deviation, share)| share.ln() + log_normal(air - quiet, deviation));
    Some(with - log_sum(without.into_iter()))
}

/// Log evidence of pulsed clips for a hiss of the level that the clips with the air off and on show, against none; `None` where
/// these show no hiss.
fn follows_valve(leak: &[f64], pulsed: &[OpeningEvidence]) -> Option<f64> {
    let whole = log_sum(leak.iter().copied());
    if pulsed.is_empty() || whole - (leak.len() as f64).ln() < assume::SHOWN {
        return None;
    }
    let each: Vec<Vec<f64>> =
        pulsed.iter().map(|clip| placed(&clip.with, clip.without, assume::PLACEMENT_PAIR_DB)).collect();
    let without: f64 = pulsed.iter().map(|clip| clip.without).sum();
    let at = |k: usize| leak[k] - whole + each.iter().map(|with| with[k]).sum::<f64>() - without;
    Some(log_sum((0..leak.len()).map(at)))
}

/// The band at 1 kHz of wind over the mean of the level bands, dB (about, for both knees).
const WIND_AT_1_KHZ_DB: f64 = 6.0;

/// Something else hisses in the clip, of any level: with a leak at each level beside it, and without one. Of two hisses the
/// louder counts.
fn foreign(factor: &[f64]) -> (Vec<f64>, f64) {
    let levels = factor.len() as f64;
    let flat = -levels.ln();
    let with = (0..factor.len()).map(|k| {
        let louder = factor[k + 1..].iter().copied();
        flat + log_sum(louder.chain([factor[k] + ((k + 1) as f64).ln()]))
    });
    (with.collect(), flat + log_sum(factor.iter().copied()))
}

/// The shop's mean noise power in the level bands, dB FS.
fn shop_db(openings: &[OpeningContrasts], bands: usize) -> f64 {
    let power =
        |contrast: &Contrast| -> f64 { level_bands(bands).map(|b| 10f64.powf(contrast.mean_quiet_db[b] / 10.0)).sum() };
    let all: Vec<f64> = openings.iter().flat_map(OpeningContrasts::contrasts).map(power).collect();
    10.0 * (all.iter().sum::<f64>() / all.len().max(1) as f64).max(f64::MIN_POSITIVE).log10()
}

/// The level of a hiss with equal power in all bands that lies at the quiet floor of the stillest band, dB FS.
fn weakest_floor_db(contrast: &Contrast, bands: usize) -> f64 {
    let Some(quiet) = contrast.own.as_ref().or(contrast.others.as_ref()) else { return f64::INFINITY };
    let range = level_bands(bands);
    let all_db = 10.0 * (range.len().max(1) as f64).log10();
    range.map(|b| quiet.floor_db[b] - contrast.quantile_bias_db[b] + all_db).fold(f64::INFINITY, f64::min)
}

/// The levels tried, dB FS: from far under the shop's noise to far over it.
fn levels(openings: &[OpeningContrasts], bands: usize) -> Vec<f64> {
    let (lowest, highest, step) = assume::LEVELS_DB;
    let shop_db = shop_db(openings, bands);
    // Under the lowest level tried nothing may be heard: where the shop comes and goes, its floor lies far under its mean.
    let weakest =
        openings.iter().flat_map(OpeningContrasts::contrasts).map(|contrast| weakest_floor_db(contrast, bands));
    let under = weakest.fold(f64::INFINITY, f64::min) - assume::UNDER_THE_FLOOR_DB - shop_db;
    let lowest = if under.is_finite() { under.clamp(lowest - assume::FARTHER_DOWN_DB, lowest) } else { lowest };
    let lowest = (lowest / step).floor() * step;
    let count = ((highest - lowest) / step).round() as usize;
    (0..=count).map(|k| shop_db + lowest + step * k as f64).collect()
}

/// The fit of a hiss that may have any of these kinds of spectrum.
fn fit_any(ground: &FloorDifference, shapes: &[(Shape, f64)], levels_db: &[f64]) -> Option<Fit> {
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

/// Several groups of clips of one opening are independent looks at the same hiss level, but for where the microphone was.
fn together(all: &[OpeningEvidence]) -> Option<OpeningEvidence> {
    let first = all.first()?;
    if all.len() == 1 {
        return Some(first.clone());
    }
    let smoothed: Vec<Vec<f64>> = all.iter().map(|one| placed(&one.with, one.without, assume::PLACEMENT_DB)).collect();
    let with = (0..first.with.len()).map(|k| smoothed.iter().map(|with| with[k]).sum()).collect();
    // Of the levels read from each, the surer counts more.
    let level_db = (0..first.with.len()).map(|k| {
        let weights: Vec<f64> = all.iter().map(|one| 1.0 / (one.level_db[k].1 + 0.01)).collect();
        let sum: f64 = weights.iter().sum();
        let mean = all.iter().zip(&weights).map(|(one, w)| one.level_db[k].0 * w).sum::<f64>() / sum;
        (mean, (1.0 / sum - 0.01).max(0.0))
    });
    let most = |of: &dyn Fn(&OpeningEvidence) -> f64| all.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    Some(OpeningEvidence {
        without: all.iter().map(|one| one.without).sum(),
        with,
        level_db: level_db.collect(),
        foreign: most(&|one| one.foreign),
        wind: most(&|one| one.wind),
        follows: None,
        part: most(&|one| one.part),
    })
}

/// A curve over levels as it is where each clip's level scatters by a standard deviation about the common one. Below the
/// lowest level tried there is as good as no hiss; above the highest it is as at the highest.
fn placed(with: &[f64], without: f64, scatter_db: f64) -> Vec<f64> {
    let (_, _, step) = assume::LEVELS_DB;
    let reach = (3.0 * scatter_db / step).ceil() as isize;
    let weights: Vec<(isize, f64)> =
        (-reach..=reach).map(|off| (off, -0.5 * (off as f64 * step / scatter_db).powi(2))).collect();
    let whole = log_sum(weights.iter().map(|(_, weight)| *weight));
    let last = with.len().saturating_sub(1);
    (0..with.len())
        .map(|k| {
            let at = |off: isize| match k.checked_add_signed(off) {
                None => without,
                Some(place) => with[place.min(last)],
            };
            log_sum(weights.iter().map(|(off, weight)| weight + at(*off))) - whole
        })
        .collect()
}

/// Each opening's clips may be somewhat calmer or more restless than the shop on the whole.
fn mixed_with_neighbours(fits: &[Vec<OpeningEvidence>], at: usize) -> Vec<OpeningEvidence> {
    let mut shares = vec![(at, 1.0)];
    for (step, weight) in assume::VARIABILITY_NEIGHBOURS {
        shares.extend(at.checked_add_signed(step).filter(|k| *k < fits.len()).map(|k| (k, weight)));
    }
    let sum: f64 = shares.iter().map(|share| share.1).sum();
    let shares: Vec<(usize, f64)> = shares.into_iter().map(|(k, weight)| (k, (weight / sum).ln())).collect();
    let count = fits[at].len();
    (0..count)
        .map(|o| OpeningEvidence {
            without: log_sum(shares.iter().map(|(k, log)| fits[*k][o].without + log)),
            with: (0..fits[at][o].with.len())
                .map(|h| log_sum(shares.iter().map(|(k, log)| fits[*k][o].with[h] + log)))
                .collect(),
            level_db: fits[at][o].level_db.clone(),
            foreign: fits[at][o].foreign,
            wind: fits[at][o].wind,
            follows: fits[at][o].follows,
            part: fits[at][o].part,
        })
        .collect()
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
    openings: &[OpeningEvidence],
    variability: f64,
    reach: &Reaches,
    levels_db: &[f64],
    loud_from: usize,
) -> (Vec<f64>, Vec<f64>) {
    let count = openings.len();
    let flat = -(levels_db.len() as f64).ln();
    // Without hiss everywhere is the common measure; all else is counted relative to it.
    let nowhere: f64 = openings.iter().map(|opening| opening.without).sum();
    let spill: Vec<Vec<f64>> = openings.iter().map(|opening| reach.spill_of(opening)).collect();
    let usual: Vec<Option<Vec<f64>>> =
        openings.iter().enumerate().map(|(o, opening)| reach.usual_of(o, opening)).collect();
    let second: Vec<Vec<f64>> = openings.iter().map(|opening| second_of(opening, levels_db)).collect();
    let alike: Vec<Vec<f64>> =
        openings.iter().map(|opening| placed(&opening.with, opening.without, assume::RIG_SCATTER_DB)).collect();
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

/// How a leak that is there is shared out beforehand: unheard elsewhere, spilling from elsewhere, at the rig, two, one (at
/// any of the openings).
fn shares(before: Prior, count: usize) -> [f64; 5] {
    let of = |pair: (f64, f64)| if before.usual { pair.0 } else { pair.1 };
    let (unheard, spilling) = (of(assume::UNHEARD), of(assume::SPILL_FROM_ELSEWHERE));
    let two = if count > 1 { assume::TWO } else { 0.0 };
    let leaks = 1.0 - before.tight;
    [unheard, spilling, before.rig, two, 1.0 - unheard - spilling - before.rig - two].map(|share| leaks * share)
}

/// The probability beforehand of a leak at one opening.
fn before_one(before: Prior, count: usize) -> f64 {
    shares(before, count)[4] / count.max(1) as f64
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
struct Reaches {
    spill: LevelReach,
    blow_by: LevelReach,
    /// Per opening.
    crankcase: Vec<bool>,
}

impl Reaches {
    /// Log evidence of an opening that hears the spill of a leak at each level elsewhere.
    fn spill_of(&self, opening: &OpeningEvidence) -> Vec<f64> {
        let (none, some) = (assume::NO_SPILL.ln(), (1.0 - assume::NO_SPILL).ln());
        let heard = self.spill.heard(opening).into_iter();
        heard.map(|heard| log_sum([some + heard, none + opening.without].into_iter())).collect()
    }

    /// … that has the usual blow-by beside a leak at each level; `None` where there is none to be expected.
    fn usual_of(&self, at: usize, opening: &OpeningEvidence) -> Option<Vec<f64>> {
        self.crankcase[at].then(|| self.blow_by.heard(opening))
    }
}

/// How likely a leak at each level brings a hiss of each level to another opening, as logarithms.
struct LevelReach {
    /// Per level of the leak: per level of the hiss, the weight below the lowest level tried, the sum of all.
    by_leak: Vec<(Vec<f64>, f64, f64)>,
}

impl LevelReach {
    /// `log_weight`: by how far under the leak the hiss lies, dB.
    fn of(levels_db: &[f64], log_weight: impl Fn(f64) -> f64) -> Self {
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
fn second_of(opening: &OpeningEvidence, levels_db: &[f64]) -> Vec<f64> {
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
        part: log_sum((0..mixed.len()).map(|at| of_scale(at) - whole + mixed[at][o].part)),
    };
    (weights, (present, disturbances))
}
