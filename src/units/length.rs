//! Lengths: diameters of restrictors and holes.

/// Millimetres in one inch.
const MILLIMETRES_PER_INCH: f64 = 25.4;

/// A length in metres.
///
/// ```
/// use hissward::units::Length;
/// assert!((Length::from_inches(0.040).as_mm() - 1.016).abs() < 1e-12);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Length(pub f64);

impl Length {
    /// From millimetres.
    #[must_use]
    pub const fn from_mm(millimetres: f64) -> Self {
        Self(millimetres / 1e3)
    }

    /// From inches.
    #[must_use]
    pub const fn from_inches(inches: f64) -> Self {
        Self(inches * MILLIMETRES_PER_INCH / 1e3)
    }

    /// In millimetres.
    #[must_use]
    pub const fn as_mm(self) -> f64 {
        self.0 * 1e3
    }

    /// In inches.
    #[must_use]
    pub const fn as_inches(self) -> f64 {
        self.as_mm() / MILLIMETRES_PER_INCH
    }

    /// The area of a round hole of this diameter, in square metres.
    #[must_use]
    pub fn hole_area_m2(self) -> f64 {
        std::f64::consts::FRAC_PI_4 * self.0 * self.0
    }
}
