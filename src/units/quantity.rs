//! Quantities as people type them: `100psi`, `6,9 bar`, `0.040in`, `68F`, `12 %`.
//!
//! A number without a unit is refused: 100 may be psi or kPa, and only the person at the gauge knows.

use std::str::FromStr;

use super::number::{shown, split};
use super::{
    AbsolutePressure, GaugePressure, HIGHEST_TEST_PRESSURE, Length, PASCALS_PER_BAR, PASCALS_PER_PSI, Percent,
    Temperature,
};

const PRESSURE_UNITS: &str = "psi, bar or kPa";
const PRESSURE_EXAMPLE: &str = "80psi, 5.5bar or 550kPa";
const AMBIENT_UNITS: &str = "hPa, mbar, kPa, psi or inHg";
const AMBIENT_EXAMPLE: &str = "1013hPa or 29.92inHg";
const LENGTH_UNITS: &str = "mm or in";
const LENGTH_EXAMPLE: &str = "1mm or 0.040in";
const TEMPERATURE_UNITS: &str = "C or F";
const TEMPERATURE_EXAMPLE: &str = "20C or 68F";
const PERCENT_EXAMPLE: &str = "12 or 12%";

/// Pascals in a kilogram-force per square centimetre, still found on older gauges.
const PASCALS_PER_KGF_CM2: f64 = 98_066.5;
/// Pascals in an inch of mercury at 0 °C (conventional, NIST SP 811 App. B.8; memory).
const PASCALS_PER_INHG: f64 = 3_386.389;
/// Pascals in a millimetre of mercury (conventional, NIST SP 811 App. B.8; memory).
const PASCALS_PER_MMHG: f64 = 133.3224;

/// Ambient pressures taken for real: from a mountain road at 5,500 m to the deepest depression's opposite.
const AMBIENT_HPA: (f64, f64) = (500.0, 1100.0);
/// Diameters taken for a restrictor or a hole, in millimetres.
const LENGTH_MM: (f64, f64) = (0.1, 100.0);
/// Temperatures of air taken for real, in °C.
const TEMPERATURE_CELSIUS: (f64, f64) = (-60.0, 150.0);

/// Why a text is no quantity of the kind asked for.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum QuantityError {
    /// No number at its beginning.
    #[error("'{got}' does not begin with a number: type {example}")]
    NoNumber {
        /// What was typed.
        got: String,
        /// What could be typed.
        example: &'static str,
    },
    /// Two decimal marks, or one at the end.
    #[error("'{got}' has a decimal mark too many: type {example}")]
    OddNumber {
        /// What was typed.
        got: String,
        /// What could be typed.
        example: &'static str,
    },
    /// A comma that may part thousands or decimals.
    #[error("'{got}' can be read in two ways: type {as_thousands} or {as_decimals}")]
    Thousands {
        /// What was typed.
        got: String,
        /// The number if the comma parts thousands.
        as_thousands: String,
        /// The number if the comma is a decimal mark.
        as_decimals: String,
    },
    /// A bare number.
    #[error("'{got}' has no unit: add {units}, as in {example}")]
    NoUnit {
        /// What was typed.
        got: String,
        /// Units that are understood.
        units: &'static str,
        /// What could be typed.
        example: &'static str,
    },
    /// A unit of another kind, or of none.
    #[error("'{got}' has an unknown unit '{unit}': use {units}, as in {example}")]
    UnknownUnit {
        /// What was typed.
        got: String,
        /// The unit found in it.
        unit: String,
        /// Units that are understood.
        units: &'static str,
        /// What could be typed.
        example: &'static str,
    },
    /// Below zero where that cannot be.
    #[error("'{got}' is below zero, and {what} cannot be: type {example}")]
    Negative {
        /// What was typed.
        got: String,
        /// What was asked for.
        what: &'static str,
        /// What could be typed.
        example: &'static str,
    },
    /// A vacuum where air is to be held.
    #[error(
        "'{got}' is below ambient pressure, a vacuum, and this test holds air above it: \
         type what the pressure gauge shows, as in {example}"
    )]
    Vacuum {
        /// What was typed.
        got: String,
        /// What could be typed.
        example: &'static str,
    },
    /// An absolute pressure where a gauge reading is asked for.
    #[error("'{got}' is an absolute pressure: type what the gauge shows above ambient, as in {example}")]
    Absolute {
        /// What was typed.
        got: String,
        /// What could be typed.
        example: &'static str,
    },
    /// Outside what this test can meet.
    #[error("'{got}' is outside {low} to {high}, which {what} stays within: is the unit right? type {example}")]
    OutOfRange {
        /// What was typed.
        got: String,
        /// What was asked for.
        what: &'static str,
        /// The lowest value taken.
        low: String,
        /// The highest value taken.
        high: String,
        /// What could be typed.
        example: &'static str,
    },
}

/// Pascals per unit, for the units of pressure that gauges carry (lower case, no blanks).
fn pascals_per(unit: &str) -> Option<f64> {
    let unit = unit.strip_suffix("(g)").unwrap_or(unit);
    Some(match unit {
        "psi" | "psig" | "lb/in2" | "lb/in²" | "lbf/in2" | "lbf/in²" => PASCALS_PER_PSI,
        "bar" | "barg" => PASCALS_PER_BAR,
        "mbar" | "hpa" => 100.0,
        "kpa" | "kpag" => 1e3,
        "mpa" => 1e6,
        "pa" => 1.0,
        "kgf/cm2" | "kgf/cm²" | "kg/cm2" | "kg/cm²" | "kp/cm2" | "kp/cm²" => PASCALS_PER_KGF_CM2,
        _ => return None,
    })
}

fn mercury(unit: &str) -> Option<f64> {
    match unit {
        "inhg" | "\"hg" | "in.hg" => Some(PASCALS_PER_INHG),
        "mmhg" | "torr" => Some(PASCALS_PER_MMHG),
        _ => None,
    }
}

/// Whether the unit says "absolute": `psia`, `bara`, `kpa(a)`, `kpaabs`.
fn stem_of_absolute(unit: &str) -> Option<&str> {
    let stem = ["(abs)", "(a)", "abs", "a"].iter().find_map(|ending| unit.strip_suffix(ending))?;
    pascals_per(stem).map(|_| stem)
}

fn unit_error(text: &str, unit: &str, units: &'static str, example: &'static str) -> QuantityError {
    if unit.is_empty() {
        QuantityError::NoUnit { got: shown(text), units, example }
    } else {
        QuantityError::UnknownUnit { got: shown(text), unit: shown(unit), units, example }
    }
}

impl FromStr for GaugePressure {
    type Err = QuantityError;

    /// Reads a gauge pressure: `100psi`, `6.9 bar`, `6,9 bar`, `690 kPa`, `0.69 MPa`, `7 kgf/cm2`.
    ///
    /// Zero is a reading (what it means is said by [`crate::units`]' users); below zero and above
    /// [`HIGHEST_TEST_PRESSURE`] are errors.
    ///
    /// ```
    /// use hissward::units::GaugePressure;
    /// assert_eq!("6,9 bar".parse(), Ok(GaugePressure::from_bar(6.9)));
    /// assert!("100".parse::<GaugePressure>().is_err());
    /// ```
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let example = PRESSURE_EXAMPLE;
        let (number, unit) = split(text, example)?;
        if mercury(&unit).is_some() || unit.contains("vac") {
            return Err(QuantityError::Vacuum { got: shown(text), example });
        }
        let Some(factor) = pascals_per(&unit) else {
            return Err(match stem_of_absolute(&unit) {
                Some(_) => QuantityError::Absolute { got: shown(text), example },
                None => unit_error(text, &unit, PRESSURE_UNITS, example),
            });
        };
        if number < 0.0 {
            return Err(QuantityError::Vacuum { got: shown(text), example });
        }
        let pressure = Self(number * factor);
        if pressure > HIGHEST_TEST_PRESSURE {
            return Err(QuantityError::OutOfRange {
                got: shown(text),
                what: "the air of this test",
                low: "0 psi".to_owned(),
                high: format!("{:.0} psi ({:.1} bar)", HIGHEST_TEST_PRESSURE.as_psi(), HIGHEST_TEST_PRESSURE.as_bar()),
                example,
            });
        }
        Ok(pressure)
    }
}

impl FromStr for AbsolutePressure {
    type Err = QuantityError;

    /// Reads an ambient pressure: `1013hPa`, `1013 mbar`, `101.3 kPa`, `14.7psi`, `29.92inHg`.
    ///
    /// ```
    /// use hissward::units::AbsolutePressure;
    /// assert_eq!("1013 hPa".parse(), Ok(AbsolutePressure(101_300.0)));
    /// ```
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let example = AMBIENT_EXAMPLE;
        let (number, unit) = split(text, example)?;
        let stem = stem_of_absolute(&unit).unwrap_or(&unit);
        let Some(factor) = pascals_per(stem).or_else(|| mercury(stem)) else {
            return Err(unit_error(text, &unit, AMBIENT_UNITS, example));
        };
        let what = "ambient pressure";
        let hectopascals = number * factor / 100.0;
        within(hectopascals, AMBIENT_HPA, "hPa", text, what, example).map(|value| Self(value * 100.0))
    }
}

impl FromStr for Length {
    type Err = QuantityError;

    /// Reads a diameter: `0.040in`, `1 mm`, `1,0 mm`, `0.040"`.
    ///
    /// ```
    /// use hissward::units::Length;
    /// assert_eq!("0.040in".parse(), Ok(Length::from_inches(0.040)));
    /// ```
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let example = LENGTH_EXAMPLE;
        let (number, unit) = split(text, example)?;
        let millimetres = match unit.as_str() {
            "mm" => number,
            "cm" => number * 10.0,
            "in" | "in." | "inch" | "inches" | "\"" | "″" | "zoll" => number * 25.4,
            _ => return Err(unit_error(text, &unit, LENGTH_UNITS, example)),
        };
        within(millimetres, LENGTH_MM, "mm", text, "a diameter", example)?;
        Ok(if unit.starts_with("mm") || unit == "cm" { Self::from_mm(millimetres) } else { Self::from_inches(number) })
    }
}

impl FromStr for Temperature {
    type Err = QuantityError;

    /// Reads the temperature of the air: `20 °C`, `20C`, `68F`, `293 K`.
    ///
    /// ```
    /// use hissward::units::Temperature;
    /// assert_eq!("20 °C".parse(), Ok(Temperature::from_celsius(20.0)));
    /// ```
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let example = TEMPERATURE_EXAMPLE;
        let (number, unit) = split(text, example)?;
        let read = match unit.trim_start_matches(['°', 'º']) {
            "c" | "degc" | "celsius" => Self::from_celsius(number),
            "f" | "degf" | "fahrenheit" => Self::from_fahrenheit(number),
            "k" | "kelvin" => Self(number),
            _ => return Err(unit_error(text, &unit, TEMPERATURE_UNITS, example)),
        };
        within(read.as_celsius(), TEMPERATURE_CELSIUS, "°C", text, "air temperature", example)?;
        Ok(read)
    }
}

impl FromStr for Percent {
    type Err = QuantityError;

    /// Reads a percentage between 0 and 100: `12`, `12%`, `12,5 %`.
    ///
    /// ```
    /// use hissward::units::Percent;
    /// assert_eq!("12,5 %".parse(), Ok(Percent(12.5)));
    /// assert!("120%".parse::<Percent>().is_err());
    /// ```
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let example = PERCENT_EXAMPLE;
        let (number, unit) = split(text, example)?;
        if !matches!(unit.as_str(), "" | "%" | "percent" | "pct" | "prozent") {
            return Err(unit_error(text, &unit, "%", example));
        }
        within(number, (0.0, 100.0), "%", text, "a percentage", example).map(Self)
    }
}

fn within(
    value: f64,
    (low, high): (f64, f64),
    unit: &str,
    text: &str,
    what: &'static str,
    example: &'static str,
) -> Result<f64, QuantityError> {
    if value < 0.0 && low >= 0.0 {
        return Err(QuantityError::Negative { got: shown(text), what, example });
    }
    if value < low || value > high {
        let (low, high) = (format!("{low} {unit}"), format!("{high} {unit}"));
        return Err(QuantityError::OutOfRange { got: shown(text), what, low, high, example });
    }
    Ok(value)
}
