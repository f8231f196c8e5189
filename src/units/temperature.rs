//! Temperatures.

/// The zero of the Celsius scale, in kelvin.
const ZERO_CELSIUS_KELVIN: f64 = 273.15;

/// 20 °C: the reference state of ISO 6358, and the temperature taken where none is given.
pub const REFERENCE_TEMPERATURE: Temperature = Temperature::from_celsius(20.0);

/// A temperature in kelvin.
///
/// ```
/// use hissward::units::Temperature;
/// assert_eq!(Temperature::from_celsius(20.0).0, 293.15);
/// assert!((Temperature::from_fahrenheit(68.0).as_celsius() - 20.0).abs() < 1e-12);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Temperature(pub f64);

impl Temperature {
    /// From degrees Celsius.
    #[must_use]
    pub const fn from_celsius(celsius: f64) -> Self {
        Self(celsius + ZERO_CELSIUS_KELVIN)
    }

    /// From degrees Fahrenheit.
    #[must_use]
    pub const fn from_fahrenheit(fahrenheit: f64) -> Self {
        Self::from_celsius((fahrenheit - 32.0) / 1.8)
    }

    /// In degrees Celsius.
    #[must_use]
    pub const fn as_celsius(self) -> f64 {
        self.0 - ZERO_CELSIUS_KELVIN
    }

    /// In degrees Fahrenheit.
    #[must_use]
    pub const fn as_fahrenheit(self) -> f64 {
        self.as_celsius() * 1.8 + 32.0
    }
}
