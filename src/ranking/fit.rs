//! How well a contrast is explained by no hiss, and by hiss of a given level.
//!
//! The floor with the air on is the quiet floor moved by the shop, plus the hiss:
//! `air = 10 lg(10^((quiet + m)/10) + 10^((h + s + g)/10))`, band by band. `m` (how the floor moved) and `g` (how the
//! hiss spectrum departs from equal power in all bands) are Gaussian with known covariances over bands; `s` is how far the
//! floor of steady noise lies under its mean. For each level `h` the likeliest `m` and `g` are found by Gauss–Newton steps
//! (an iterated extended Kalman update), and the evidence follows by Laplace's approximation.

use crate::hiss::{BANDS, Contrast, FIRST_LEVEL_BAND, PerBand, band};

use super::assumptions as assume;
use super::matrix::{Matrix, dot};

/// Gauss–Newton steps at each level. Every level starts from a floor that did not move and a hiss of equal power in all
/// bands: started from the level below, the floor would go on explaining what the hiss explains better.
const STEPS: usize = 5;
/// A step that changes no band by more than this is the last, dB.
const SETTLED_DB: f64 = 0.02;
/// Standard deviation of a hiss between two levels tried, re their distance.
const BETWEEN_LEVELS: f64 = 0.6;
/// No band departs further, dB: keeps a step from running away.
const LARGEST_DB: f64 = 40.0;

/// Evidence of one contrast for all levels tried, at one scale of restlessness.
#[derive(Debug, Clone)]
pub struct Fit {
    /// Log evidence of no hiss.
    pub without: f64,
    /// Log evidence of hiss at each level.
    pub with: Vec<f64>,
    /// Hiss level (mean power over the level bands, dB FS) that goes with each, and its variance, dB².
    pub level_db: Vec<(f64, f64)>,
}

/// The octaves between two bands of the grid.
fn octaves(i: usize, j: usize) -> f64 {
    (band(i).midband().0 / band(j).midband().0).log2()
}

fn bell(octaves: f64, width: f64) -> f64 {
    (-0.5 * (octaves / width).powi(2)).exp()
}

/// What hiss spectra are thought of: how they depart from equal power in all bands.
pub struct Shape {
    covariance: Matrix,
}

impl Shape {
    /// Over the first `bands` bands of the grid.
    pub fn of(shape: &assume::HissShape, bands: usize) -> Self {
        // Tilts turn about the middle of the level bands, so that the level and the tilt are apart.
        let middle = (FIRST_LEVEL_BAND + bands.max(FIRST_LEVEL_BAND + 1)) / 2;
        let free = Matrix::of(bands, |i, j| {
            let tilt = shape.tilt_db.powi(2) * octaves(i, middle) * octaves(j, middle);
            let hump = shape.hump_db.powi(2) * bell(octaves(i, j), shape.hump_octaves);
            tilt + hump + if i == j { shape.band_db.powi(2) } else { 0.0 }
        });
        // A shape that rises in all bands is a level: what is left of that is what lies between two levels tried.
        let level_bands = FIRST_LEVEL_BAND.min(bands.saturating_sub(1))..bands;
        let count = level_bands.len().max(1) as f64;
        let mean: PerBand = std::array::from_fn(|i| {
            if i < bands { level_bands.clone().map(|j| free.at(i, j)).sum::<f64>() / count } else { 0.0 }
        });
        let whole = level_bands.clone().map(|j| mean[j]).sum::<f64>() / count;
        let between = (assume::LEVELS_DB.2 * BETWEEN_LEVELS).powi(2);
        Self { covariance: Matrix::of(bands, |i, j| free.at(i, j) - mean[i] - mean[j] + whole + between) }
    }
}

/// The quiet floor a contrast is held against at one scale, and the covariance of air over it.
struct Reference {
    floor_db: PerBand,
    covariance: Matrix,
}

/// Covariance of how one clip's floor moves about its long-term value, at one scale.
fn movement(contrast: &Contrast, scale: f64, bands: usize) -> Matrix {
    let rest = contrast.restlessness * contrast.restlessness / 2.0;
    Matrix::of(bands, |i, j| {
        let smooth = assume::SMOOTH_CHANGE_DB.powi(2) * bell(octaves(i, j), assume::SMOOTH_CHANGE_OCTAVES);
        let own = if i == j { assume::BAND_CHANGE_DB.powi(2) } else { 0.0 };
        let beyond = rest * (assume::COMMON_CHANGE_DB.powi(2) + smooth + own);
        contrast.drift_db.powi(2) / 2.0 + scale * scale * (contrast.movement[i][j] + beyond)
    })
}

/// Where clips differ little, an opening's own quiet clip is the best reference; where the shop is another one in each
/// clip, the mean of all quiet clips is. The share of each minimises the variance of the prediction.
fn reference(contrast: &Contrast, scale: f64, bands: usize) -> Option<Reference> {
    let moved = movement(contrast, scale, bands);
    let mean_variance = (0..bands).map(|b| moved.at(b, b)).sum::<f64>() / bands.max(1) as f64;
    let place_share = 1.0 + 1.0 / contrast.other_openings.max(1) as f64;
    let place = assume::PLACE_DB.powi(2) * place_share;
    let (floor_db, own, others) = match (&contrast.own, &contrast.others) {
        (None, None) => return None,
        (Some(own), None) => (own.floor_db, 1.0 / own.takes as f64, 0.0),
        (None, Some(others)) => (others.floor_db, 0.0, 1.0 / others.takes as f64),
        (Some(own), Some(others)) => {
            let of_own = mean_variance / own.takes as f64;
            let of_others = mean_variance / others.takes as f64 + place;
            let share = of_others / (of_own + of_others);
            let floor = std::array::from_fn(|b| share * own.floor_db[b] + (1.0 - share) * others.floor_db[b]);
            (floor, share * share / own.takes as f64, (1.0 - share).powi(2) / others.takes as f64)
        }
    };
    // The square of the others' share is what is left of their takes' mean.
    let others_squared = contrast.others.as_ref().map_or(0.0, |quiet| others * quiet.takes as f64);
    let factor = 1.0 / contrast.air_takes.max(1) as f64 + own + others;
    let covariance = Matrix::of(bands, |i, j| {
        let colour = place * others_squared * bell(octaves(i, j), assume::PLACE_OCTAVES);
        factor * moved.at(i, j) + colour
    });
    Some(Reference { floor_db, covariance })
}

/// Log density of a difference of two quiet floors: tells how restless the shop is, whatever leaks.
pub fn quiet_against_quiet(contrast: &Contrast, scale: f64, bands: usize) -> f64 {
    let (Some(own), Some(others)) = (&contrast.own, &contrast.others) else {
        return 0.0;
    };
    let moved = movement(contrast, scale, bands);
    let factor = 1.0 / own.takes as f64 + 1.0 / others.takes as f64;
    let place = assume::PLACE_DB.powi(2) * (1.0 + 1.0 / contrast.other_openings.max(1) as f64);
    let covariance = Matrix::of(bands, |i, j| {
        let residue = if i == j { assume::RESIDUE_DB.powi(2) } else { 0.0 };
        factor * moved.at(i, j) + place * bell(octaves(i, j), assume::PLACE_OCTAVES) + residue
    });
    let difference: PerBand = std::array::from_fn(|b| own.floor_db[b] - others.floor_db[b]);
    log_density(&difference, covariance, bands)
}

fn log_density(difference: &PerBand, covariance: Matrix, bands: usize) -> f64 {
    let factor = covariance.factor();
    -0.5 * (dot(&factor.solve(difference), difference, bands) + factor.log_determinant)
}

/// Fits no hiss and hiss at each of `levels_db` (mean power over the level bands, dB FS) to a contrast.
///
/// `scale`: restlessness; `bands`: how many bands of the grid all clips reach. `None` without a quiet floor.
pub fn fit(contrast: &Contrast, scale: f64, shape: &Shape, levels_db: &[f64], bands: usize) -> Option<Fit> {
    let reference = reference(contrast, scale, bands)?;
    let difference: PerBand = std::array::from_fn(|b| contrast.air_db[b] - reference.floor_db[b]);
    let residue = assume::RESIDUE_DB.powi(2);
    let moved = &reference.covariance;
    let bare = Matrix::of(bands, |i, j| moved.at(i, j) + if i == j { residue } else { 0.0 });
    let without = log_density(&difference, bare, bands);
    let level_bands = bands.saturating_sub(FIRST_LEVEL_BAND).max(1) as f64;
    // Hiss of level h with equal power in all level bands, over the quiet floor, dB.
    let over: PerBand =
        std::array::from_fn(|b| contrast.steady_db[b] - 10.0 * level_bands.log10() - reference.floor_db[b]);
    let at_level = |level: &f64| {
        let model =
            Model { difference: &difference, over: &over, level: *level, moved, shape: &shape.covariance, bands };
        model.settle()
    };
    // The level that would explain all of the air's floor as hiss.
    let whole_db = (FIRST_LEVEL_BAND.min(bands.saturating_sub(1))..bands)
        .map(|b| difference[b] - over[b])
        .fold(f64::NEG_INFINITY, f64::max);
    let settled = coarse_to_fine(levels_db, whole_db, at_level);
    let (with, level_db) = settled.into_iter().unzip();
    Some(Fit { without, with, level_db })
}

/// Evidence and level at every level tried. Every second level is settled; those between only where they matter and
/// their neighbours disagree, else they lie halfway. Above `whole_db`, levels out of all reach are not tried.
fn coarse_to_fine(levels_db: &[f64], whole_db: f64, settle: impl Fn(&f64) -> Settled) -> Vec<Settled> {
    let mut settled: Vec<Option<Settled>> = vec![None; levels_db.len()];
    let (mut most, mut reach) = (f64::NEG_INFINITY, levels_db.len());
    for k in (0..levels_db.len()).step_by(2) {
        let found = settle(&levels_db[k]);
        settled[k] = Some(found);
        most = most.max(found.0);
        if found.0 < most - OUT_OF_REACH && levels_db[k] > whole_db {
            reach = k;
            break;
        }
    }
    let mut below = settled.first().copied().flatten().unwrap_or((f64::NEG_INFINITY, (0.0, 0.0)));
    (0..levels_db.len())
        .map(|k| {
            let found = settled[k].unwrap_or_else(|| {
                let above = settled.get(k + 1).copied().flatten().unwrap_or(below);
                if k >= reach {
                    (below.0, (levels_db[k], below.1.1))
                } else if below.0.max(above.0) > most - OF_NO_WEIGHT && (below.0 - above.0).abs() > ALIKE {
                    settle(&levels_db[k])
                } else {
                    let half = |a: f64, b: f64| 0.5 * (a + b);
                    (half(below.0, above.0), (half(below.1.0, above.1.0), half(below.1.1, above.1.1)))
                }
            });
            below = found;
            found
        })
        .collect()
}

/// Log evidence of a level, and the hiss level that goes with it with its variance.
type Settled = (f64, (f64, f64));

/// Log evidences that differ by no more than this are alike; by more than the second, the lesser has no weight; by more
/// than the third, nothing above can have any.
const ALIKE: f64 = 0.05;
const OF_NO_WEIGHT: f64 = 14.0;
const OUT_OF_REACH: f64 = 40.0;

struct Model<'a> {
    difference: &'a PerBand,
    over: &'a PerBand,
    level: f64,
    moved: &'a Matrix,
    shape: &'a Matrix,
    bands: usize,
}

/// How the floor moved and how the hiss spectrum departs, dB per band.
struct State {
    moved: PerBand,
    shape: PerBand,
}

impl State {
    /// The largest change of a band to another state, dB.
    fn change(&self, other: &Self, bands: usize) -> f64 {
        let most =
            |a: &PerBand, b: &PerBand| a.iter().zip(b).take(bands).map(|(x, y)| (x - y).abs()).fold(0.0, f64::max);
        most(&self.moved, &other.moved).max(most(&self.shape, &other.shape))
    }
}

impl Model<'_> {
    /// Noise and hiss in a band re the quiet floor, as powers.
    fn powers(&self, state: &State, b: usize) -> (f64, f64) {
        let of = |db: f64| (db * std::f64::consts::LN_10 / 10.0).exp();
        (of(state.moved[b]), of(self.level + self.over[b] + state.shape[b]))
    }

    fn settle(&self) -> Settled {
        let n = self.bands;
        let state = &mut State { moved: [0.0; BANDS], shape: [0.0; BANDS] };
        let residue = assume::RESIDUE_DB.powi(2);
        let (mut of_noise, mut of_hiss, mut error) = ([0.0; BANDS], [0.0; BANDS], [0.0; BANDS]);
        let mut step = 0;
        loop {
            step += 1;
            for b in 0..n {
                let (noise, hiss) = self.powers(state, b);
                let whole = noise + hiss;
                of_noise[b] = noise / whole;
                of_hiss[b] = hiss / whole;
                error[b] = self.difference[b] - 10.0 * whole.log10()
                    + of_noise[b] * state.moved[b]
                    + of_hiss[b] * state.shape[b];
            }
            let factor = self.moved.scaled_sum(&of_noise, self.shape, &of_hiss, residue).factor();
            let pull = factor.solve(&error);
            let on_noise: PerBand = std::array::from_fn(|b| of_noise[b] * pull[b]);
            let on_hiss: PerBand = std::array::from_fn(|b| of_hiss[b] * pull[b]);
            let next = State { moved: self.moved.times(&on_noise), shape: self.shape.times(&on_hiss) };
            let change = state.change(&next, n);
            *state = next;
            if step == STEPS || change < SETTLED_DB {
                let cost = dot(&on_noise, &state.moved, n) + dot(&on_hiss, &state.shape, n);
                let evidence = -0.5 * (cost + self.misfit(state) + factor.log_determinant);
                return (evidence, self.level_of(state, &of_hiss, &factor));
            }
            for value in state.moved.iter_mut().chain(&mut state.shape) {
                *value = value.clamp(-LARGEST_DB, LARGEST_DB);
            }
        }
    }

    /// What the state leaves unexplained, re the residue's variance.
    fn misfit(&self, state: &State) -> f64 {
        let off = |b: usize| {
            let (noise, hiss) = self.powers(state, b);
            self.difference[b] - 10.0 * (noise + hiss).log10()
        };
        (0..self.bands).map(|b| (off(b) / assume::RESIDUE_DB).powi(2)).sum()
    }

    /// Hiss level over the level bands, and its variance by the linear model.
    fn level_of(&self, state: &State, of_hiss: &PerBand, factor: &super::matrix::Factor) -> (f64, f64) {
        let level_bands = FIRST_LEVEL_BAND..self.bands;
        let count = level_bands.len().max(1) as f64;
        let powers: PerBand = std::array::from_fn(|b| 10f64.powf(state.shape[b] / 10.0));
        let sum: f64 = level_bands.clone().map(|b| powers[b]).sum::<f64>().max(f64::MIN_POSITIVE);
        let mut gradient = [0.0; BANDS];
        level_bands.for_each(|b| gradient[b] = powers[b] / sum);
        let spread = self.shape.times(&gradient);
        let seen: PerBand = std::array::from_fn(|b| of_hiss[b] * spread[b]);
        let known = dot(&factor.solve(&seen), &seen, self.bands);
        let variance = (dot(&gradient, &spread, self.bands) - known).max(0.0);
        (self.level + 10.0 * (sum / count).log10(), variance)
    }
}
