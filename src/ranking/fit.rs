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
    let mut found = Fit { without, with: Vec::new(), level_db: Vec::new() };
    for level in levels_db {
        let model =
            Model { difference: &difference, over: &over, level: *level, moved, shape: &shape.covariance, bands };
        let (evidence, of_level) = model.settle();
        found.with.push(evidence);
        found.level_db.push(of_level);
    }
    Some(found)
}

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

impl Model<'_> {
    /// Noise and hiss in a band re the quiet floor, as powers.
    fn powers(&self, state: &State, b: usize) -> (f64, f64) {
        let of = |db: f64| (db * std::f64::consts::LN_10 / 10.0).exp();
        (of(state.moved[b]), of(self.level + self.over[b] + state.shape[b]))
    }

    fn settle(&self) -> (f64, (f64, f64)) {
        let n = self.bands;
        let state = &mut State { moved: [0.0; BANDS], shape: [0.0; BANDS] };
        let residue = assume::RESIDUE_DB.powi(2);
        let mut evidence = f64::NEG_INFINITY;
        let mut level = (self.level, 0.0);
        for step in 0..STEPS {
            let (mut of_noise, mut of_hiss, mut error) = ([0.0; BANDS], [0.0; BANDS], [0.0; BANDS]);
            for b in 0..n {
                let (noise, hiss) = self.powers(state, b);
                of_noise[b] = noise / (noise + hiss);
                of_hiss[b] = hiss / (noise + hiss);
                error[b] = self.difference[b] - 10.0 * (noise + hiss).log10()
                    + of_noise[b] * state.moved[b]
                    + of_hiss[b] * state.shape[b];
            }
            let covariance = Matrix::of(n, |i, j| {
                of_noise[i] * self.moved.at(i, j) * of_noise[j]
                    + of_hiss[i] * self.shape.at(i, j) * of_hiss[j]
                    + if i == j { residue } else { 0.0 }
            });
            let factor = covariance.factor();
            let pull = factor.solve(&error);
            let on_noise: PerBand = std::array::from_fn(|b| of_noise[b] * pull[b]);
            let on_hiss: PerBand = std::array::from_fn(|b| of_hiss[b] * pull[b]);
            state.moved = self.moved.times(&on_noise);
            state.shape = self.shape.times(&on_hiss);
            if step + 1 == STEPS {
                let cost = dot(&on_noise, &state.moved, n) + dot(&on_hiss, &state.shape, n);
                evidence = -0.5 * (cost + self.misfit(state) + factor.log_determinant);
                level = self.level_of(state, &of_hiss, &factor);
            }
            for value in state.moved.iter_mut().chain(&mut state.shape) {
                *value = value.clamp(-LARGEST_DB, LARGEST_DB);
            }
        }
        (evidence, level)
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
