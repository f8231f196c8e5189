//! The best that plain power can do in a perfectly steady, white floor.

use statrs::distribution::{Continuous, ContinuousCDF, Normal};

/// Bandwidth from 1 to 16 kHz (edges of the bands), hertz.
const BANDWIDTH_HZ: f64 = 17_782.794 - 891.251;
/// False alarms allowed where a hiss is to be called.
const FALSE_ALARMS: f64 = 0.01;
/// Steps of the integral over ±8 standard deviations.
const STEPS: usize = 4000;

/// Hiss power over the standard deviation of an on/off difference, each lasting `seconds`: noise power 1, relative
/// standard deviation of each 1/√(BT) (values.md "Spectral statistics", calc).
fn lead(hiss_to_noise_db: f64, seconds: f64) -> f64 {
    let bt = BANDWIDTH_HZ * seconds;
    10f64.powf(hiss_to_noise_db / 10.0) / (2.0 / bt).sqrt()
}

/// How often the loudest of `openings` is on top: ∫ φ(x)·Φ(x + δ/σ)^(k−1) dx (Bechhofer; values.md, calc).
pub fn right_on_top(hiss_to_noise_db: f64, seconds: f64, openings: i32) -> f64 {
    let normal = Normal::standard();
    let lead = lead(hiss_to_noise_db, seconds);
    let step = 16.0 / STEPS as f64;
    (0..STEPS)
        .map(|k| {
            let x = -8.0 + step * (k as f64 + 0.5);
            normal.pdf(x) * normal.cdf(x + lead).powi(openings - 1) * step
        })
        .sum()
}

/// How often a hiss stands out, at 1 % false alarms: Φ(δ/σ − 2.326).
pub fn detected(hiss_to_noise_db: f64, seconds: f64) -> f64 {
    let normal = Normal::standard();
    normal.cdf(lead(hiss_to_noise_db, seconds) - normal.inverse_cdf(1.0 - FALSE_ALARMS))
}
