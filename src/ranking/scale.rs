//! One scale of background variability: what each opening's clips say if the shop is that restless.

use rayon::prelude::*;

use crate::hiss::{Contrast, View, level_bands};

use super::assumptions as assume;
use super::contrasts::OpeningContrasts;
use super::evidence::{Curve, Group, NO_PART, OpeningEvidence, foreign, placed, together};
use super::fit::{Fit, FloorDifference, Shape, SmoothKernels};
use super::matrix::log_sum;

/// Shapes of hiss with the logarithm of how likely each is.
pub struct Shapes {
    pub leak: Vec<(Shape, f64)>,
    pub wind: Vec<(Shape, f64)>,
}

impl Shapes {
    pub fn of(bands: usize) -> Self {
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

/// An opening at one scale: its clips in groups, and what they say together.
pub struct Heard {
    pub groups: Vec<Group>,
    pub free: OpeningEvidence,
}

/// What one scale is weighed with.
pub struct AtScale<'a> {
    pub kernels: &'a SmoothKernels,
    pub shapes: &'a Shapes,
    pub levels_db: &'a [f64],
    pub scale: f64,
    pub bands: usize,
}

impl AtScale<'_> {
    /// What an opening's clips say: those with the air on as one, each pulsed one beside it, all of one hiss.
    pub fn opening(&self, evidence: &OpeningContrasts) -> Option<Heard> {
        let pulsed: Option<Vec<Group>> = evidence.pulsed.iter().map(|contrast| self.pulsed(contrast)).collect();
        let mut groups = pulsed?;
        let is_off_and_on = !evidence.views.is_empty();
        if is_off_and_on {
            groups.insert(0, self.off_and_on(evidence)?);
        }
        let all = self.of_one_spectrum(&evidence.contrasts().collect::<Vec<_>>(), &groups)?;
        let shown = groups.first().filter(|_| is_off_and_on);
        let follows = shown.and_then(|off_and_on| follows_valve(&off_and_on.leak.factor, &all[1..]));
        let free = together(&all).map(|opening| OpeningEvidence { follows, ..opening })?;
        Some(Heard { groups, free })
    }

    /// The evidence of each group of an opening's clips: the hiss has the spectrum that the clearest of them tells.
    fn of_one_spectrum(&self, contrasts: &[&Contrast], groups: &[Group]) -> Option<Vec<OpeningEvidence>> {
        let clearest = |at: &usize| groups[*at].leak.most();
        let best = (0..groups.len()).max_by(|a, b| clearest(a).total_cmp(&clearest(b)))?;
        let free = |group: &Group| group.evidence(&group.leak);
        if groups.len() < 2 || clearest(&best) < assume::TELLS_SPECTRUM {
            return Some(groups.iter().map(free).collect());
        }
        let told = [(self.told(contrasts[best])?, 0.0)];
        let each = groups.iter().enumerate().map(|(at, group)| {
            if at == best { Some(free(group)) } else { Some(group.evidence(&self.curve(contrasts[at], &told)?.1)) }
        });
        each.collect()
    }

    /// The same where all openings hear one source: each other's hiss has the spectrum of the one that tells it best. The
    /// evidence of that one is conditioned on by the others', so that together they are that of one spectrum.
    pub fn of_one_source(&self, openings: &[OpeningContrasts], heard: &[Heard]) -> Option<Vec<OpeningEvidence>> {
        let clearest = |at: &usize| heard[*at].groups.first().map_or(f64::NEG_INFINITY, |group| group.leak.most());
        let best = (0..heard.len()).max_by(|a, b| clearest(a).total_cmp(&clearest(b)))?;
        if heard.len() < 2 || clearest(&best) < assume::TELLS_SPECTRUM {
            return Some(heard.iter().map(|heard| heard.free.clone()).collect());
        }
        let told = [(self.told(openings[best].contrasts().next()?)?, 0.0)];
        let here = |at: usize| {
            if at == best {
                return Some(heard[at].free.clone());
            }
            let each = openings[at].contrasts().zip(&heard[at].groups);
            let all: Option<Vec<OpeningEvidence>> =
                each.map(|(contrast, group)| Some(group.evidence(&self.curve(contrast, &told)?.1))).collect();
            together(&all?)
        };
        (0..heard.len()).into_par_iter().map(here).collect()
    }

    /// The spectrum of a contrast's hiss as another opening would hear it.
    fn told(&self, contrast: &Contrast) -> Option<Shape> {
        let ground = FloorDifference::of(contrast, self.kernels, self.scale, self.bands)?;
        let of_kind = |(shape, log): &'_ (Shape, f64)| {
            let fit = ground.fit(shape, self.levels_db);
            let best = (0..fit.with.len()).max_by(|a, b| fit.with[*a].total_cmp(&fit.with[*b]))?;
            Some((fit.with[best] + log, self.levels_db[best]))
        };
        let kinds = self.shapes.leak.iter().filter_map(|kind| Some((of_kind(kind)?, &kind.0)));
        let ((_, level_db), shape) = kinds.max_by(|a, b| a.0.0.total_cmp(&b.0.0))?;
        Some(ground.told_shape(shape, level_db, &assume::WAY))
    }

    /// The evidence of a contrast: without hiss, and the curve with it.
    fn curve(&self, contrast: &Contrast, shapes: &[(Shape, f64)]) -> Option<(f64, Curve)> {
        let ground = FloorDifference::of(contrast, self.kernels, self.scale, self.bands)?;
        let fit = fit_any(&ground, shapes, self.levels_db)?;
        let factor = fit.with.iter().map(|with| with - fit.without).collect();
        Some((fit.without, Curve { factor, level_db: fit.level_db }))
    }

    /// Clips with the air off and on, in each of which something else may hiss.
    fn off_and_on(&self, evidence: &OpeningContrasts) -> Option<Group> {
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
        let clean = (1.0 - dirty.iter().map(|(_, _, share)| share).sum::<f64>()).max(0.02).ln();
        let flat = -(levels as f64).ln();
        let calm = log_sum([clean + flat + log_sum(whole.factor.iter().copied()), clean].into_iter());
        let of_foreign = all_share.ln() + dirty[0].1 - calm;
        let of_wind = wind.map_or(f64::NEG_INFINITY, |(_, something)| assume::WIND.ln() + something - calm);
        let part = self.part(&of_view(&|view| matches!(view, View::Part | View::Median))?, &whole);
        Some(Group {
            without,
            clean,
            dirty: log_sum(dirty.iter().map(|(_, something, share)| share.ln() + something)),
            dirty_with: (0..levels)
                .map(|k| log_sum(dirty.iter().map(|(with, _, share)| share.ln() + with[k])))
                .collect(),
            leak: whole,
            foreign: of_foreign,
            wind: of_wind,
            part,
        })
    }

    /// How much more a stretch of the clips, or their median, says for a hiss than their floors do.
    fn part(&self, views: &[Curve], whole: &Curve) -> (f64, f64) {
        let mean = |curve: &Curve| log_sum(curve.factor.iter().copied()) - (self.levels_db.len() as f64).ln();
        let best = views.iter().max_by(|a, b| mean(a).total_cmp(&mean(b)));
        best.map_or(NO_PART, |part| (mean(part) - mean(whole).max(0.0), part.likely_db()))
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
    fn pulsed(&self, contrast: &Contrast) -> Option<Group> {
        let (without, leak) = self.curve(contrast, &self.shapes.leak)?;
        let (beside, something) = foreign(&leak.factor);
        let (of_foreign, no_air) = (assume::FOREIGN_PULSED.ln(), assume::PULSED_WITHOUT_AIR.ln());
        Some(Group {
            without,
            clean: (1.0 - assume::FOREIGN_PULSED - assume::PULSED_WITHOUT_AIR).ln(),
            dirty: log_sum([no_air, of_foreign + something].into_iter()),
            dirty_with: beside.iter().map(|beside| log_sum([no_air, of_foreign + beside].into_iter())).collect(),
            leak,
            foreign: f64::NEG_INFINITY,
            wind: f64::NEG_INFINITY,
            part: NO_PART,
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
