//! Quantities in the units that the user thinks in.

use std::fmt;
use std::str::FromStr;

use super::{GaugePressure, Length, Temperature};

/// The units that a user reads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum UnitSystem {
    /// bar, mm, °C.
    #[default]
    Metric,
    /// psi, in, °F.
    Psi,
}

/// A value in a user's unit, with the decimals worth printing.
///
/// Its `Display` has a decimal point; where a language writes a comma, print `value` by the catalogue.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shown {
    /// The value in the unit.
    pub value: f64,
    /// Decimals worth printing: about a tenth of what such a gauge resolves.
    pub decimals: usize,
    /// The unit's sign.
    pub unit: &'static str,
}

impl UnitSystem {
    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Psi => "psi",
        }
    }

    /// A gauge pressure in bar or psi.
    ///
    /// ```
    /// use hissward::units::{GaugePressure, UnitSystem};
    /// let supply = GaugePressure::from_psi(80.0);
    /// assert_eq!(UnitSystem::Metric.pressure(supply).to_string(), "5.52 bar");
    /// assert_eq!(UnitSystem::Psi.pressure(supply).to_string(), "80.0 psi");
    /// ```
    #[must_use]
    pub fn pressure(self, pressure: GaugePressure) -> Shown {
        match self {
            Self::Metric => Shown { value: pressure.as_bar(), decimals: 2, unit: "bar" },
            Self::Psi => Shown { value: pressure.as_psi(), decimals: 1, unit: "psi" },
        }
    }

    /// A diameter in mm or inches.
    #[must_use]
    pub fn length(self, length: Length) -> Shown {
        match self {
            Self::Metric => Shown { value: length.as_mm(), decimals: 2, unit: "mm" },
            Self::Psi => Shown { value: length.as_inches(), decimals: 3, unit: "in" },
        }
    }

    /// A temperature in °C or °F.
    #[must_use]
    pub fn temperature(self, temperature: Temperature) -> Shown {
        match self {
            Self::Metric => Shown { value: temperature.as_celsius(), decimals: 0, unit: "°C" },
            Self::Psi => Shown { value: temperature.as_fahrenheit(), decimals: 0, unit: "°F" },
        }
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:.*} {}", self.decimals, self.value, self.unit)
    }
}

/// Why a text names no system of units.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{got}' is not a valid system of units: use metric (bar, mm, °C) or psi (psi, in, °F)")]
pub struct UnitSystemError {
    got: String,
}

impl FromStr for UnitSystem {
    type Err = UnitSystemError;

    fn from_str(text: &str) -> Result<Self, UnitSystemError> {
        match text {
            "metric" => Ok(Self::Metric),
            "psi" => Ok(Self::Psi),
            _ => Err(UnitSystemError { got: text.chars().take(40).collect() }),
        }
    }
}
