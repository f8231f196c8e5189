//! Frequency, time, and levels in decibels.

use std::fmt;
use std::ops::{Add, Neg, Sub};

/// A frequency in hertz.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Hertz(pub f64);

/// A time span in seconds.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Seconds(pub f64);

/// A level in dB FS: ten times the decimal logarithm of a mean square, re full scale.
///
/// Full scale is a mean square of 1 (a square wave between −1 and 1), so a sine that just
/// reaches full scale has a level of −3.01 dB FS.
///
/// A level and a difference of levels are two types. Two levels cannot be added:
///
/// ```compile_fail
/// use hissward::units::Level;
/// let _ = Level(-20.0) + Level(-30.0);
/// ```
///
/// and their difference is not a level:
///
/// ```compile_fail
/// use hissward::units::Level;
/// let wrong: Level = Level(-20.0) - Level(-30.0);
/// ```
///
/// ```
/// use hissward::units::{Level, LevelDiff};
/// assert_eq!(Level(-20.0) - Level(-30.0), LevelDiff(10.0));
/// assert_eq!(Level(-20.0) + LevelDiff(3.0), Level(-17.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Level(pub f64);

/// A difference of two levels, in dB.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct LevelDiff(pub f64);

impl Level {
    /// The level of a mean square; `None` for zero, negative or non-finite power (silence has no level).
    ///
    /// ```
    /// use hissward::units::Level;
    /// assert_eq!(Level::of_power(0.01), Some(Level(-20.0)));
    /// assert_eq!(Level::of_power(0.0), None);
    /// ```
    #[must_use]
    pub fn of_power(mean_square: f64) -> Option<Self> {
        (mean_square > 0.0 && mean_square.is_finite()).then(|| Self(power_to_db(mean_square)))
    }

    /// The mean square behind the level.
    #[must_use]
    pub fn power(self) -> f64 {
        10f64.powf(self.0 / 10.0)
    }
}

/// Ten times the decimal logarithm: a power ratio in dB. Zero gives −∞, as the logarithm does.
#[must_use]
pub fn power_to_db(ratio: f64) -> f64 {
    10.0 * ratio.log10()
}

impl LevelDiff {
    /// The power ratio behind the difference.
    #[must_use]
    pub fn ratio(self) -> f64 {
        10f64.powf(self.0 / 10.0)
    }
}

impl Sub for Level {
    type Output = LevelDiff;
    fn sub(self, other: Self) -> LevelDiff {
        LevelDiff(self.0 - other.0)
    }
}

impl Add<LevelDiff> for Level {
    type Output = Self;
    fn add(self, step: LevelDiff) -> Self {
        Self(self.0 + step.0)
    }
}

impl Sub<LevelDiff> for Level {
    type Output = Self;
    fn sub(self, step: LevelDiff) -> Self {
        Self(self.0 - step.0)
    }
}

impl Add for LevelDiff {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Neg for LevelDiff {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl fmt::Display for Level {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:.1} dB FS", self.0)
    }
}

impl fmt::Display for LevelDiff {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:.1} dB", self.0)
    }
}

impl fmt::Display for Hertz {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0 < 1000.0 { write!(out, "{:.0} Hz", self.0) } else { write!(out, "{:.1} kHz", self.0 / 1000.0) }
    }
}

impl fmt::Display for Seconds {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:.1} s", self.0)
    }
}
