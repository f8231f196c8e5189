//! Welch's estimate of a power spectral density, with its degrees of freedom and interval.

use statrs::distribution::{ChiSquared, ContinuousCDF};

use super::frames::FrameSpectra;
use super::independence::{cell_freedom, quantile_over_mean};

/// How the frames' spectra are put together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Average {
    /// The mean: least scatter in steady noise.
    Mean,
    /// The median over its bias [`median_bias`]: bangs and talk hardly move it.
    Median,
    /// A quantile (0 to 1, exclusive) over its bias for exponential bin powers.
    Quantile(f64),
}

/// A one-sided power spectral density.
#[derive(Debug, Clone, PartialEq)]
pub struct Spectrum {
    /// Mean square per hertz (full scale 1), from 0 Hz to half the rate: dB FS²/Hz as `10 lg`.
    pub density: Vec<f64>,
    /// Distance between bins, hertz.
    pub bin_hz: f64,
    /// Frames averaged.
    pub frames: usize,
}

/// A two-sided interval as factors on the estimate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Factor for the lower end.
    pub low: f64,
    /// Factor for the upper end.
    pub high: f64,
}

/// Why no spectrum was made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SpectrumError {
    /// Not one frame fits.
    #[error("{got} samples are too few for a frame of {needed}: record for longer")]
    TooShort {
        /// Samples needed.
        needed: usize,
        /// Samples given.
        got: usize,
    },
    /// A quantile outside 0 to 1.
    #[error("a quantile lies between 0 and 1, not at {got}")]
    Quantile {
        /// What was given.
        got: f64,
    },
}

/// Welch's estimate: Hann window, 50 % overlap, no detrending.
///
/// `samples`: any length of at least `frame` (an even number of samples); `rate_hz` in hertz. Gives `frame/2 + 1`
/// densities in mean square per hertz. `S(f) = ⟨|X(f)|²⟩ · 2 / (rate · Σw²)`, one-sided.
///
/// Source: Welch 1967; equals `scipy.signal.welch(x, rate, 'hann', frame, detrend=False)` and, with
/// [`Average::Median`], its `average='median'`.
///
/// # Errors
/// [`SpectrumError`] where not one frame fits or a quantile is out of range.
///
/// ```
/// use hissward::spectrum::{Average, welch};
/// // A sine of amplitude 0.5 on a bin holds 0.5²/2 = 0.125.
/// let tone: Vec<f32> = (0..48_000).map(|n| 0.5 * (std::f32::consts::TAU * 0.125 * n as f32).sin()).collect();
/// let spectrum = welch(&tone, 48_000.0, 2048, Average::Mean)?;
/// let power: f64 = spectrum.density.iter().sum::<f64>() * spectrum.bin_hz;
/// assert!((power - 0.125).abs() < 1e-5);
/// # Ok::<(), hissward::spectrum::SpectrumError>(())
/// ```
pub fn welch(samples: &[f32], rate_hz: f64, frame: usize, average: Average) -> Result<Spectrum, SpectrumError> {
    let mut spectra = FrameSpectra::new(frame);
    let (length, bins) = (spectra.length(), spectra.length() / 2 + 1);
    if samples.len() < length {
        return Err(SpectrumError::TooShort { needed: length, got: samples.len() });
    }
    let quantile = match average {
        Average::Mean => None,
        Average::Median => Some(0.5),
        Average::Quantile(q) if q > 0.0 && q < 1.0 => Some(q),
        Average::Quantile(got) => return Err(SpectrumError::Quantile { got }),
    };
    let bin_hz = rate_hz / length as f64;
    let mut sum = vec![0.0f64; bins];
    let mut all: Vec<Vec<f32>> = vec![Vec::new(); if quantile.is_some() { bins } else { 0 }];
    let mut frames = 0;
    spectra.push(samples, |power| {
        frames += 1;
        if quantile.is_some() {
            all.iter_mut().zip(power).for_each(|(column, p)| column.push(*p));
        } else {
            sum.iter_mut().zip(power).for_each(|(total, p)| *total += f64::from(*p));
        }
    });
    let density = match (quantile, average) {
        (None, _) => sum.iter().map(|total| total / frames as f64 / bin_hz).collect(),
        (Some(q), Average::Median) => columns(&mut all, q, median_bias(frames), bin_hz),
        (Some(q), _) => columns(&mut all, q, quantile_over_mean(&[2.0], q), bin_hz),
    };
    Ok(Spectrum { density, bin_hz, frames })
}

fn columns(all: &mut [Vec<f32>], quantile: f64, bias: f64, bin_hz: f64) -> Vec<f64> {
    all.iter_mut().map(|column| quantile_of(column, quantile) / bias / bin_hz).collect()
}

/// The quantile of powers, linear between neighbours (as numpy's default). They come back in another order.
pub(crate) fn quantile_of(values: &mut [f32], quantile: f64) -> f64 {
    let last = values.len().saturating_sub(1);
    let place = quantile.clamp(0.0, 1.0) * last as f64;
    let under = place as usize;
    if values.is_empty() {
        return 0.0;
    }
    // Of numbers that are not negative the larger has the larger bits, and whole numbers are compared faster.
    let (_, at, above) = values.select_nth_unstable_by_key(under, |power| power.to_bits());
    let at = f64::from(*at);
    let next = above.iter().map(|power| power.to_bits()).min().map_or(at, |bits| f64::from(f32::from_bits(bits)));
    at + (next - at) * (place - under as f64)
}

/// The median of `frames` exponential values over their mean: `1 + Σ_{i=1}^{⌊(n−1)/2⌋} [1/(2i+1) − 1/(2i)]`,
/// towards ln 2.
///
/// Source: Allen et al. 2012, App. B, as used by scipy 1.17.1 `welch`.
///
/// ```
/// use hissward::spectrum::median_bias;
/// assert!((median_bias(9) - 0.745635).abs() < 1e-6);
/// ```
#[must_use]
pub fn median_bias(frames: usize) -> f64 {
    1.0 + (1..=frames.saturating_sub(1) / 2).map(|i| 1.0 / (2 * i + 1) as f64 - 1.0 / (2 * i) as f64).sum::<f64>()
}

impl Spectrum {
    /// Equivalent degrees of freedom of one bin: `36K²/(19K−1)` for K frames (Welch 1967, Eq. 12).
    #[must_use]
    pub fn freedom(&self) -> f64 {
        cell_freedom(&[1.0], self.frames)
    }

    /// The interval that holds the true density with `confidence` (0.95 for 95 %), by chi-square, for the mean.
    #[must_use]
    pub fn interval(&self, confidence: f64) -> Interval {
        let freedom = self.freedom();
        let tail = (1.0 - confidence) / 2.0;
        match ChiSquared::new(freedom) {
            Ok(chi) => Interval { low: freedom / chi.inverse_cdf(1.0 - tail), high: freedom / chi.inverse_cdf(tail) },
            // Freedom is positive by construction; without it nothing is known.
            Err(_) => Interval { low: 0.0, high: f64::INFINITY },
        }
    }
}
