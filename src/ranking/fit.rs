//! How well a contrast is explained by no hiss, and by hiss of a given level.
//!
//! The floor with the air on is the quiet floor moved by the shop, plus the hiss:
//! `air = 10 lg(10^((quiet + m)/10) + 10^((h + s + g)/10))`, band by band. `m` (how the floor moved) and `g` (how the
//! hiss spectrum departs from equal power in all bands) are Gaussian with known covariances over bands; `s` is how far the
//! floor of steady noise lies under its mean. For each level `h` the likeliest `m` and `g` are found by Gauss–Newton steps
//! (an iterated extended Kalman update), and the evidence follows by Laplace's approximation.

use crate::hiss::{Contrast, FIRST_LEVEL_BAND, PerBand, band, level_bands};

use super::assumptions as assume;
use super::laplace::{Fitted, LANES, Model};
use super::matrix::{Matrix, dot};

/// Standard deviation of a hiss between two levels tried, re their distance.
const BETWEEN_LEVELS: f64 = 0.6;

/// Evidence of one contrast for all levels tried, at one scale of background variability.
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

/// How alike bands so many places apart are where something is smooth over `width` octaves.
struct GaussianKernel(PerBand);

impl GaussianKernel {
    fn of(width: f64) -> Self {
        Self(std::array::from_fn(|apart| (-0.5 * (octaves(apart, 0) / width).powi(2)).exp()))
    }

    fn at(&self, i: usize, j: usize) -> f64 {
        self.0[i.abs_diff(j)]
    }
}

/// The kernels of what all fits assume.
pub struct SmoothKernels {
    change: GaussianKernel,
    place: GaussianKernel,
}

impl SmoothKernels {
    /// By the assumptions.
    pub fn new() -> Self {
        Self {
            change: GaussianKernel::of(assume::SMOOTH_CHANGE_OCTAVES),
            place: GaussianKernel::of(assume::PLACE_OCTAVES),
        }
    }
}

/// What hiss spectra are thought of: how they depart from equal power in all bands.
pub struct Shape {
    covariance: Matrix,
    /// How its mean departs from equal power, dB; over the level bands a power of 1 on average.
    colour_db: PerBand,
}

impl Shape {
    /// Over the first `bands` bands of the grid.
    pub fn of(shape: &assume::HissShape, bands: usize) -> Self {
        // Tilts turn about the middle of the level bands, so that the level and the tilt are apart.
        let middle = (FIRST_LEVEL_BAND + level_bands(bands).end.max(FIRST_LEVEL_BAND + 1)) / 2;
        let bell = GaussianKernel::of(shape.hump_octaves);
        let from_middle: PerBand = std::array::from_fn(|b| octaves(b, middle));
        let free = Matrix::of(bands, |i, j| {
            let tilt = shape.tilt_db.powi(2) * from_middle[i] * from_middle[j];
            let hump = shape.hump_db.powi(2) * bell.at(i, j);
            tilt + hump + if i == j { shape.band_db.powi(2) } else { 0.0 }
        });
        // A shape that rises in all bands is a level: what is left of that is what lies between two levels tried.
        let level_bands = level_bands(bands);
        let count = level_bands.len().max(1) as f64;
        let mean: PerBand = std::array::from_fn(|i| {
            if i < bands { level_bands.clone().map(|j| free.at(i, j)).sum::<f64>() / count } else { 0.0 }
        });
        let whole = level_bands.clone().map(|j| mean[j]).sum::<f64>() / count;
        let between = (assume::LEVELS_DB.2 * BETWEEN_LEVELS).powi(2);
        let covariance = Matrix::of(bands, |i, j| free.at(i, j) - mean[i] - mean[j] + whole + between);
        Self { covariance, colour_db: [0.0; crate::hiss::BANDS] }
    }

    /// The same departures from the colour of wind on a capsule: density falling with f^(−5/3), steeper above a knee.
    pub fn of_wind(shape: &assume::HissShape, knee_hz: f64, bands: usize) -> Self {
        let raw: PerBand = std::array::from_fn(|b| {
            let hz = band(b).midband().0;
            // A band's power is its density times its width.
            10.0 * ((hz / 1000.0).powf(1.0 - 5.0 / 3.0) / (1.0 + (hz / knee_hz).powf(assume::WIND_STEEPER))).log10()
        });
        let range = level_bands(bands);
        let count = range.len().max(1) as f64;
        let mean = range.map(|b| 10f64.powf(raw[b] / 10.0)).sum::<f64>() / count;
        let mean_db = 10.0 * mean.max(f64::MIN_POSITIVE).log10();
        Self { colour_db: raw.map(|db| db - mean_db), ..Self::of(shape, bands) }
    }

    /// A spectrum that other clips tell, heard here by another way.
    fn told(colour_db: PerBand, spread: &Matrix, way: &assume::HissShape, bands: usize) -> Self {
        let Self { covariance, .. } = Self::of(way, bands);
        // As every shape: a rise in all bands is a level.
        let range = level_bands(bands);
        let mean_db = range.clone().map(|b| colour_db[b]).sum::<f64>() / range.len().max(1) as f64;
        Self {
            covariance: Matrix::of(bands, |i, j| covariance.at(i, j) + spread.at(i, j)),
            colour_db: colour_db.map(|db| db - mean_db),
        }
    }
}

/// The quiet floor a contrast is held against at one scale, and the covariance of air over it.
struct Reference {
    floor_db: PerBand,
    covariance: Matrix,
}

/// Covariance of how one clip's floor moves about its long-term value, at one scale.
fn movement(contrast: &Contrast, kernels: &SmoothKernels, scale: f64, bands: usize) -> Matrix {
    let rest = contrast.background_variability * contrast.background_variability / 2.0;
    Matrix::of(bands, |i, j| {
        let smooth = assume::SMOOTH_CHANGE_DB.powi(2) * kernels.change.at(i, j);
        let own = if i == j { assume::BAND_CHANGE_DB.powi(2) } else { 0.0 };
        let beyond = rest * (assume::COMMON_CHANGE_DB.powi(2) + smooth + own);
        contrast.drift_db.powi(2) / 2.0 + scale * scale * (contrast.movement[(i, j)] + beyond)
    })
}

/// How floors move as this shop's quiet clips show it: machines that come and go have their own colour, and it is the same
/// in the clips with the air on. The mean of a covariance whose prior is conjugate (inverse Wishart), worth so many clips.
fn learnt(contrast: &Contrast, expected: Matrix, bands: usize) -> Matrix {
    let Some(seen) = &contrast.quiet_scatter else { return expected };
    let freedom = assume::CHANGE_FREEDOM;
    Matrix::of(bands, |i, j| (freedom * expected.at(i, j) + seen.sums[(i, j)]) / (freedom + seen.freedom))
}

/// Where clips differ little, an opening's own quiet clip is the best reference; where the shop is another one in each
/// clip, the mean of all quiet clips is. The share of each minimises the variance of the prediction.
fn reference(contrast: &Contrast, kernels: &SmoothKernels, scale: f64, bands: usize) -> Option<Reference> {
    let moved = learnt(contrast, movement(contrast, kernels, scale, bands), bands);
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
        let colour = place * others_squared * kernels.place.at(i, j);
        factor * moved.at(i, j) + colour
    });
    Some(Reference { floor_db, covariance })
}

/// Log density of a difference of two quiet floors: tells how restless the shop is, whatever leaks.
pub fn quiet_against_quiet(contrast: &Contrast, kernels: &SmoothKernels, scale: f64, bands: usize) -> f64 {
    let (Some(own), Some(others)) = (&contrast.own, &contrast.others) else {
        return 0.0;
    };
    let moved = movement(contrast, kernels, scale, bands);
    let factor = 1.0 / own.takes as f64 + 1.0 / others.takes as f64;
    let place = assume::PLACE_DB.powi(2) * (1.0 + 1.0 / contrast.other_openings.max(1) as f64);
    let covariance = Matrix::of(bands, |i, j| {
        let residue = if i == j { assume::RESIDUE_DB.powi(2) } else { 0.0 };
        factor * moved.at(i, j) + place * kernels.place.at(i, j) + residue
    });
    let difference: PerBand = std::array::from_fn(|b| own.floor_db[b] - others.floor_db[b]);
    log_density(&difference, covariance, bands)
}

fn log_density(difference: &PerBand, covariance: Matrix, bands: usize) -> f64 {
    let factor = covariance.factor();
    -0.5 * (dot(&factor.solve(difference), difference, bands) + factor.log_determinant)
}

/// A contrast at one scale of background variability, ready to be fitted by hiss of any kind of spectrum.
pub struct FloorDifference {
    reference: Reference,
    difference: PerBand,
    /// Hiss of level 0 with equal power in all level bands, over the quiet floor, dB.
    over: PerBand,
    without: f64,
    bands: usize,
}

impl FloorDifference {
    /// `scale`: background variability; `bands`: how many bands of the grid all clips reach. `None` without a quiet floor.
    pub fn of(contrast: &Contrast, kernels: &SmoothKernels, scale: f64, bands: usize) -> Option<Self> {
        let reference = reference(contrast, kernels, scale, bands)?;
        let difference: PerBand = std::array::from_fn(|b| contrast.air_db[b] - reference.floor_db[b]);
        let residue = assume::RESIDUE_DB.powi(2);
        let moved = &reference.covariance;
        let bare = Matrix::of(bands, |i, j| moved.at(i, j) + if i == j { residue } else { 0.0 });
        let without = log_density(&difference, bare, bands);
        let level_bands = level_bands(bands).len().max(1) as f64;
        let over =
            std::array::from_fn(|b| contrast.quantile_bias_db[b] - 10.0 * level_bands.log10() - reference.floor_db[b]);
        Some(Self { reference, difference, over, without, bands })
    }

    /// Fits no hiss and hiss at each of `levels_db` (mean power over the level bands, dB FS).
    pub fn fit(&self, shape: &Shape, levels_db: &[f64]) -> Fit {
        let Self { difference, without, bands, .. } = self;
        let over = &self.over_with(shape);
        let bands = *bands;
        let model = self.model(over, shape);
        // The level that would explain all of the air's floor as hiss.
        let whole_db = level_bands(bands).map(|b| difference[b] - over[b]).fold(f64::NEG_INFINITY, f64::max);
        let (with, level_db) = coarse_to_fine(levels_db, whole_db, &model).into_iter().unzip();
        Fit { without: *without, with, level_db }
    }

    /// The spectrum that a hiss of this level has here, as it may be heard in other clips, `way` apart.
    pub fn told_shape(&self, shape: &Shape, level_db: f64, way: &assume::HissShape) -> Shape {
        let over = self.over_with(shape);
        let (departs, spread) = self.model(&over, shape).shape_at(level_db);
        let colour_db = std::array::from_fn(|b| shape.colour_db[b] + departs[b]);
        Shape::told(colour_db, &spread, way, self.bands)
    }

    fn over_with(&self, shape: &Shape) -> PerBand {
        std::array::from_fn(|b| self.over[b] + shape.colour_db[b])
    }

    fn model<'a>(&'a self, over: &'a PerBand, shape: &'a Shape) -> Model<'a> {
        let moved = &self.reference.covariance;
        Model { difference: &self.difference, over, moved, shape: &shape.covariance, bands: self.bands }
    }
}

/// Evidence and level at every level tried. Every second level is fitted; those between only where they matter and
/// their neighbours disagree, else they lie halfway. Above `whole_db`, levels out of all reach are not tried.
fn coarse_to_fine(levels_db: &[f64], whole_db: f64, model: &Model<'_>) -> Vec<Fitted> {
    let mut fitted: Vec<Option<Fitted>> = vec![None; levels_db.len()];
    let (mut most, mut reach) = (f64::NEG_INFINITY, levels_db.len());
    let every_second: Vec<usize> = (0..levels_db.len()).step_by(2).collect();
    'coarse: for places in every_second.chunks(LANES) {
        for (k, found) in laplace_at(places, levels_db, model) {
            fitted[k] = Some(found);
            most = most.max(found.0);
            if found.0 < most - OUT_OF_REACH && levels_db[k] > whole_db {
                reach = k;
                break 'coarse;
            }
        }
    }
    let neighbours = |k: usize| {
        let below = fitted[k - 1].unwrap_or((f64::NEG_INFINITY, (0.0, 0.0)));
        (below, fitted.get(k + 1).copied().flatten().unwrap_or(below))
    };
    let matters = |k: &usize| {
        let (below, above) = neighbours(*k);
        below.0.max(above.0) > most - OF_NO_WEIGHT && (below.0 - above.0).abs() > ALIKE
    };
    let between = (1..reach).step_by(2);
    let (fine, halved): (Vec<usize>, Vec<usize>) = between.partition(matters);
    let half = |a: f64, b: f64| 0.5 * (a + b);
    let mut rest: Vec<(usize, Fitted)> = halved
        .into_iter()
        .map(|k| {
            let (below, above) = neighbours(k);
            (k, (half(below.0, above.0), (half(below.1.0, above.1.0), half(below.1.1, above.1.1))))
        })
        .collect();
    rest.extend(fine.chunks(LANES).flat_map(|places| laplace_at(places, levels_db, model)));
    for (k, found) in rest {
        fitted[k] = Some(found);
    }
    let last = fitted.get(reach).copied().flatten().unwrap_or((f64::NEG_INFINITY, (0.0, 0.0)));
    fitted.iter().zip(levels_db).map(|(found, level)| found.unwrap_or((last.0, (*level, last.1.1)))).collect()
}

/// Settles the levels at these places (no more than there are lanes).
fn laplace_at(places: &[usize], levels_db: &[f64], model: &Model<'_>) -> impl Iterator<Item = (usize, Fitted)> {
    let levels: Vec<f64> = places.iter().map(|k| levels_db[*k]).collect();
    places.iter().copied().zip(model.laplace(&levels))
}

/// Log evidences that differ by no more than this are alike; by more than the second, the lesser has no weight; by more
/// than the third, nothing above can have any.
const ALIKE: f64 = 0.05;
const OF_NO_WEIGHT: f64 = 14.0;
const OUT_OF_REACH: f64 = 40.0;
