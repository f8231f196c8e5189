//! What clips say about a hiss: log evidence of none and of each level tried, and how the evidence of several is joined.

use super::assumptions as assume;
use super::matrix::log_sum;

/// Log evidence of one opening at one scale: no hiss, and hiss at each level; levels with their variances.
#[derive(Clone)]
pub struct OpeningEvidence {
    pub without: f64,
    pub with: Vec<f64>,
    pub level_db: Vec<(f64, f64)>,
    /// Log odds that something else hisses, or that wind blows, against a clean clip with or without a leak.
    pub foreign: f64,
    pub wind: f64,
    /// Log evidence of the pulsed clips for a hiss as loud as the others show, against none; `None` where there are not both.
    pub follows: Option<f64>,
    /// How much more log evidence there is for a hiss in a part of the time than throughout, and how loud it is, dB FS.
    pub part: (f64, f64),
}

/// Evidence relative to no hiss, level by level, with the levels.
pub struct Curve {
    pub factor: Vec<f64>,
    pub level_db: Vec<(f64, f64)>,
}

impl Curve {
    /// The most that any level has.
    pub fn most(&self) -> f64 {
        self.factor.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    }

    /// Mean level by how likely each is, dB FS.
    pub fn likely_db(&self) -> f64 {
        let whole = log_sum(self.factor.iter().copied());
        self.factor.iter().zip(&self.level_db).map(|(factor, level)| (factor - whole).exp() * level.0).sum()
    }
}

/// No hiss in a part of the time.
pub const NO_PART: (f64, f64) = (f64::NEG_INFINITY, f64::NEG_INFINITY);

/// Clips of one opening that are weighed as one. Logarithms; but for `without` relative to no hiss at all.
pub struct Group {
    /// Log evidence of no hiss at all.
    pub without: f64,
    /// The share of such clips that hold nothing but the shop and the leak.
    pub clean: f64,
    /// Something else in them, without a leak …
    pub dirty: f64,
    /// … and beside a leak at each level.
    pub dirty_with: Vec<f64>,
    /// A leak with any spectrum, and nothing else.
    pub leak: Curve,
    pub foreign: f64,
    pub wind: f64,
    pub part: (f64, f64),
}

impl Group {
    /// The evidence where a leak is weighed by this curve.
    pub fn evidence(&self, leak: &Curve) -> OpeningEvidence {
        let with = leak.factor.iter().zip(&self.dirty_with);
        OpeningEvidence {
            without: self.without + log_sum([self.clean, self.dirty].into_iter()),
            with: with
                .map(|(factor, dirty)| self.without + log_sum([self.clean + factor, *dirty].into_iter()))
                .collect(),
            level_db: leak.level_db.clone(),
            foreign: self.foreign,
            wind: self.wind,
            follows: None,
            part: self.part,
        }
    }
}

/// Something else hisses in the clip, of any level: with a leak at each level beside it, and without one. Of two hisses the
/// louder counts.
pub fn foreign(factor: &[f64]) -> (Vec<f64>, f64) {
    let levels = factor.len() as f64;
    let flat = -levels.ln();
    let with = (0..factor.len()).map(|k| {
        let louder = factor[k + 1..].iter().copied();
        flat + log_sum(louder.chain([factor[k] + ((k + 1) as f64).ln()]))
    });
    (with.collect(), flat + log_sum(factor.iter().copied()))
}

/// Several groups of clips of one opening are independent looks at the same hiss level, but for where the microphone was.
pub fn together(all: &[OpeningEvidence]) -> Option<OpeningEvidence> {
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
        part: all.iter().map(|one| one.part).fold(NO_PART, |a, b| if b.0 > a.0 { b } else { a }),
    })
}

/// A curve over levels as it is where each clip's level scatters by a standard deviation about the common one. Below the
/// lowest level tried there is as good as no hiss; above the highest it is as at the highest.
pub fn placed(with: &[f64], without: f64, scatter_db: f64) -> Vec<f64> {
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

/// An opening whose hiss has the spectrum that another opening tells, or any other.
pub fn of_either(free: &OpeningEvidence, told: &OpeningEvidence) -> OpeningEvidence {
    let (same, other) = (assume::SAME_SPECTRUM.ln(), (1.0 - assume::SAME_SPECTRUM).ln());
    let either = |(free, told): (&f64, &f64)| log_sum([other + free, same + told].into_iter());
    let with = free.with.iter().zip(&told.with).map(either).collect();
    OpeningEvidence { without: either((&free.without, &told.without)), with, ..free.clone() }
}

/// Each opening's clips may be somewhat calmer or more restless than the shop on the whole.
pub fn mixed_with_neighbours(fits: &[Vec<OpeningEvidence>], at: usize) -> Vec<OpeningEvidence> {
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
