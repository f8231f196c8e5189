//! Elementary functions that give the same bits on every machine.
//!
//! `f64::sin` and its kin come from each system's own mathematics library and differ in the last bit.
//! Sums, products, quotients and square roots are exact by IEEE 754, and the `libm` crate is made of them alone.

use std::f64::consts::LN_10;

/// Sine of an angle in radians.
pub fn sin(angle: f64) -> f64 {
    libm::sin(angle)
}

/// Cosine of an angle in radians.
pub fn cos(angle: f64) -> f64 {
    libm::cos(angle)
}

/// Tangent of an angle in radians.
pub fn tan(angle: f64) -> f64 {
    libm::tan(angle)
}

/// e to the power of `x`.
pub fn exp(x: f64) -> f64 {
    libm::exp(x)
}

/// Natural logarithm.
pub fn ln(x: f64) -> f64 {
    libm::log(x)
}

/// `base` to the power of `exponent`.
pub fn power(base: f64, exponent: f64) -> f64 {
    libm::pow(base, exponent)
}

/// A power ratio in dB.
pub fn db_of_power(ratio: f64) -> f64 {
    10.0 * libm::log10(ratio)
}

/// The power ratio behind a level difference in dB.
pub fn power_of_db(db: f64) -> f64 {
    libm::exp(db * (LN_10 / 10.0))
}

/// The amplitude ratio behind a level difference in dB.
pub fn amplitude_of_db(db: f64) -> f64 {
    libm::exp(db * (LN_10 / 20.0))
}

/// Per-sample factor of a decay that falls to 1/e within `seconds`.
pub fn decay_per_sample(seconds: f64, rate_hz: f64) -> f64 {
    exp(-1.0 / (seconds * rate_hz))
}
