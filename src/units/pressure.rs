//! Pressures: over ambient, absolute, and their differences.

use std::fmt;
use std::ops::{Add, Sub};

/// Pascals in one pound-force per square inch, from the pound (0.45359237 kg), standard gravity and the inch.
///
/// ```
/// use hissward::units::PASCALS_PER_PSI;
/// assert!((PASCALS_PER_PSI - 6894.757293168361).abs() < 1e-9);
/// ```
pub const PASCALS_PER_PSI: f64 = 0.453_592_37 * 9.806_65 / (0.0254 * 0.0254);

/// Pascals in one bar.
pub const PASCALS_PER_BAR: f64 = 1e5;

/// The standard atmosphere, 101 325 Pa: taken as ambient pressure where none is given.
pub const STANDARD_ATMOSPHERE: AbsolutePressure = AbsolutePressure(101_325.0);

/// The highest gauge pressure taken as a reading of this test: 200 psi (13.8 bar).
///
/// Workshop compressors end near 12 bar and tests are made at 5.5 or 6.9 bar, so a higher figure is a slip
/// of the finger or of the unit. Common practice, no source.
pub const HIGHEST_TEST_PRESSURE: GaugePressure = GaugePressure(200.0 * PASCALS_PER_PSI);

/// A pressure over ambient, in pascals: what a gauge shows.
///
/// A gauge pressure is not an absolute one:
///
/// ```compile_fail
/// use hissward::units::{AbsolutePressure, GaugePressure};
/// let wrong: AbsolutePressure = GaugePressure::from_psi(80.0);
/// ```
///
/// nor can the two be subtracted without saying what the ambient pressure is:
///
/// ```compile_fail
/// use hissward::units::{AbsolutePressure, GaugePressure};
/// let _ = GaugePressure::from_psi(80.0) - AbsolutePressure::from_psi(14.7);
/// ```
///
/// ```
/// use hissward::units::{GaugePressure, PressureDifference, STANDARD_ATMOSPHERE};
/// let supply = GaugePressure::from_psi(80.0);
/// let held = GaugePressure::from_psi(60.0);
/// assert!(((supply - held).as_psi() - 20.0).abs() < 1e-12);
/// assert!((supply.absolute(STANDARD_ATMOSPHERE).as_psi() - 94.696).abs() < 1e-3);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct GaugePressure(pub f64);

/// A pressure over vacuum, in pascals: what gas flow is computed with.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct AbsolutePressure(pub f64);

/// A difference of two pressures of the same kind, in pascals.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct PressureDifference(pub f64);

/// The same ways in and out for all three kinds.
macro_rules! in_people_units {
    ($($kind:ident),+) => {$(
        impl $kind {
            /// From pounds-force per square inch.
            #[must_use]
            pub const fn from_psi(psi: f64) -> Self {
                Self(psi * PASCALS_PER_PSI)
            }

            /// From bar.
            #[must_use]
            pub const fn from_bar(bar: f64) -> Self {
                Self(bar * PASCALS_PER_BAR)
            }

            /// From kilopascals.
            #[must_use]
            pub const fn from_kpa(kilopascals: f64) -> Self {
                Self(kilopascals * 1e3)
            }

            /// In pounds-force per square inch.
            #[must_use]
            pub const fn as_psi(self) -> f64 {
                self.0 / PASCALS_PER_PSI
            }

            /// In bar.
            #[must_use]
            pub const fn as_bar(self) -> f64 {
                self.0 / PASCALS_PER_BAR
            }

            /// In kilopascals.
            #[must_use]
            pub const fn as_kpa(self) -> f64 {
                self.0 / 1e3
            }
        }

        impl fmt::Display for $kind {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(out, "{:.2} bar ({:.1} psi)", self.as_bar(), self.as_psi())
            }
        }
    )+};
}

in_people_units!(GaugePressure, AbsolutePressure, PressureDifference);

impl GaugePressure {
    /// The absolute pressure, given the ambient one.
    #[must_use]
    pub fn absolute(self, ambient: AbsolutePressure) -> AbsolutePressure {
        AbsolutePressure(self.0 + ambient.0)
    }
}

impl AbsolutePressure {
    /// What a gauge would show, given the ambient pressure.
    #[must_use]
    pub fn gauge(self, ambient: AbsolutePressure) -> GaugePressure {
        GaugePressure(self.0 - ambient.0)
    }
}

impl Sub for GaugePressure {
    type Output = PressureDifference;
    fn sub(self, other: Self) -> PressureDifference {
        PressureDifference(self.0 - other.0)
    }
}

impl Sub for AbsolutePressure {
    type Output = PressureDifference;
    fn sub(self, other: Self) -> PressureDifference {
        PressureDifference(self.0 - other.0)
    }
}

impl Add<PressureDifference> for GaugePressure {
    type Output = Self;
    fn add(self, step: PressureDifference) -> Self {
        Self(self.0 + step.0)
    }
}
