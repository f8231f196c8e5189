//! How many independent values hide in overlapping frames and neighbouring bins, and what a low quantile
//! of noise power then is beside its mean.

use statrs::function::gamma::{gamma_lr, ln_gamma};

/// Squared correlation of the Hann-windowed spectrum between bins 0, 1, 2 apart, for white noise: the window's
/// own spectrum correlated with itself: 1, (2/3)², (1/6)².
const BIN_CORRELATION: [f64; 3] = [1.0, 4.0 / 9.0, 1.0 / 36.0];
/// Squared correlation of neighbouring frames at 50 % overlap: (1/6)² (Welch 1967, Eq. 12, for the Hann window).
const FRAME_CORRELATION: f64 = 1.0 / 36.0;

/// Equivalent degrees of freedom of the power in a cell: bins with these weights, averaged over `frames`
/// neighbouring frames of a Hann-windowed spectrum with 50 % overlap.
///
/// `ν = 2 (Σw)² / Σᵢⱼ wᵢ wⱼ ρ²(i−j)`, times the same for the frames: two for one bin of one frame.
///
/// ```
/// use hissward::spectrum::cell_freedom;
/// assert!((cell_freedom(&[1.0], 1) - 2.0).abs() < 1e-12);
/// // Eight frames at 50 % overlap: Welch's 36K²/(19K−1).
/// assert!((cell_freedom(&[1.0], 8) - 36.0 * 64.0 / 151.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn cell_freedom(weights: &[f32], frames: usize) -> f64 {
    let sum: f64 = weights.iter().map(|w| f64::from(*w)).sum();
    let mut spread = 0.0;
    for (i, a) in weights.iter().enumerate() {
        let reach = BIN_CORRELATION.len() - 1;
        let near = i.saturating_sub(reach)..(i + reach + 1).min(weights.len());
        for (j, b) in near.clone().zip(&weights[near]) {
            spread += f64::from(*a) * f64::from(*b) * BIN_CORRELATION[i.abs_diff(j)];
        }
    }
    let frames = frames as f64;
    let in_time = frames * frames / (frames + 2.0 * (frames - 1.0) * FRAME_CORRELATION);
    2.0 * sum * sum / spread.max(f64::MIN_POSITIVE) * in_time
}

/// The `quantile` of steady Gaussian noise's cell powers over their mean, where cells of several kinds are pooled.
///
/// `freedoms` are the kinds' degrees of freedom (as many cells of each); a cell of freedom ν is a chi-square
/// variable over ν. Solves `mean of P(ν/2, ν x/2) = quantile` for `x`. Kinds without any freedom hold no power and do not
/// count; 1 where no kind is left.
///
/// ```
/// use hissward::spectrum::quantile_over_mean;
/// // Two degrees of freedom: the exponential distribution, whose median is ln 2 of its mean.
/// assert!((quantile_over_mean(&[2.0], 0.5) - 2f64.ln()).abs() < 1e-9);
/// ```
#[must_use]
pub fn quantile_over_mean(freedoms: &[f64], quantile: f64) -> f64 {
    // The distribution of one kind at x, and its derivative by ln x.
    let kinds: Vec<(f64, f64)> =
        freedoms.iter().filter(|nu| nu.is_finite() && **nu > 0.0).map(|nu| (nu / 2.0, ln_gamma(nu / 2.0))).collect();
    if kinds.is_empty() {
        return 1.0;
    }
    let at = |x: f64| {
        let (mut below, mut slope) = (0.0, 0.0);
        for (a, ln_gamma_a) in &kinds {
            let y = a * x;
            below += gamma_lr(*a, y);
            slope += (a * y.ln() - y - ln_gamma_a).exp();
        }
        let count = kinds.len() as f64;
        (below / count, slope / count)
    };
    let (mut low, mut high) = (1e-9, 50.0);
    let mut x: f64 = 1.0;
    // Newton's steps on the logarithms, which bend one way only: six or so; a bracket keeps them from running away.
    for _ in 0..60 {
        let (below, slope) = at(x);
        if below < quantile {
            low = x;
        } else {
            high = x;
        }
        let step = (quantile / below).ln() * below / slope;
        let next = x * step.exp();
        if step.abs() < 1e-12 {
            return next;
        }
        x = if next > low && next < high { next } else { f64::sqrt(low * high) };
    }
    x
}
