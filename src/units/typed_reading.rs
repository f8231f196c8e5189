//! A tester's reading as people give it: `72/80`, `72 of 80 psi`, `80 62 psi`, `22 %`.

use std::str::FromStr;

use super::number::split;
use super::{GaugePressure, Percent, QuantityError};

/// A reading as typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TypedReading {
    /// Two gauges: before the restrictor, and after it.
    Pressures {
        /// Before the restrictor.
        supply: GaugePressure,
        /// After it.
        held: GaugePressure,
    },
    /// A gauge that shows the share lost.
    Loss {
        /// The share.
        loss: Percent,
        /// The supply, where it was given too.
        supply: Option<GaugePressure>,
    },
}

/// Why a text is no reading.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TypedReadingError {
    /// Not two pressures and not one share.
    #[error("'{got}' is not a reading: type held over supply, as in 72/80 psi, or the loss, as in 22 %")]
    Shape {
        /// What was typed.
        got: String,
    },
    /// A supply that fits no unit by itself.
    #[error("'{got}' can be psi, bar or kPa: type the unit too, as in 72/80 psi")]
    NoUnit {
        /// What was typed.
        got: String,
    },
    /// A number or a unit.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

/// Supplies of this test by their number alone, where no unit is given: tests are made with 20 to 200 psi, 1.4 to
/// 13.8 bar, 138 to 1380 kPa (up to [`super::HIGHEST_TEST_PRESSURE`]), and from 138 to 200 the number is left open.
const BARE: [(f64, f64, &str); 3] = [(1.4, 13.8, "bar"), (20.0, 137.0, "psi"), (201.0, 1380.0, "kPa")];

impl FromStr for TypedReading {
    type Err = TypedReadingError;

    /// Reads held over supply (`72/80`, `72 of 80 psi`, `5.0/5.5 bar`), supply before held with their unit
    /// (`80 62 psi`, `80psi 62psi`), or a loss (`22 %`, `22% at 80 psi`). Some write the supply first (`80/72`): no
    /// cylinder holds more than it gets, so the larger of two over each other is the supply.
    ///
    /// ```
    /// use hissward::units::{GaugePressure, Percent, TypedReading};
    /// let (supply, held) = (GaugePressure::from_psi(80.0), GaugePressure::from_psi(72.0));
    /// for text in ["72/80", "80/72", "72 of 80", "72 / 80 psi", "80 72 psi"] {
    ///     assert_eq!(text.parse(), Ok(TypedReading::Pressures { supply, held }));
    /// }
    /// assert_eq!("22 %".parse(), Ok(TypedReading::Loss { loss: Percent(22.0), supply: None }));
    /// ```
    fn from_str(text: &str) -> Result<Self, TypedReadingError> {
        let text = text.trim();
        let lower = text.to_lowercase();
        for between in ["/", " of ", " von "] {
            if let Some((held, supply)) = lower.split_once(between) {
                return over(held.trim(), supply.trim(), text);
            }
        }
        for at in ["% at ", "% bei ", "%at ", "% @ ", "%@"] {
            if let Some((loss, supply)) = lower.split_once(at) {
                return Ok(Self::Loss { loss: loss.parse()?, supply: Some(supply.parse()?) });
            }
        }
        let words: Vec<&str> = lower.split_whitespace().collect();
        let pressures = |supply: &str, held: &str| -> Result<Self, TypedReadingError> {
            Ok(Self::Pressures { supply: supply.parse()?, held: held.parse()? })
        };
        match words[..] {
            [share] if share.ends_with('%') => Ok(Self::Loss { loss: share.parse()?, supply: None }),
            [share, "%"] => Ok(Self::Loss { loss: share.parse()?, supply: None }),
            [supply, held] if has_unit(held) => pressures(supply, held),
            [supply, held, unit] => pressures(&format!("{supply}{unit}"), &format!("{held}{unit}")),
            [supply, one, held, other] => pressures(&format!("{supply}{one}"), &format!("{held}{other}")),
            _ => Err(TypedReadingError::Shape { got: text.chars().take(40).collect() }),
        }
    }
}

fn has_unit(text: &str) -> bool {
    text.ends_with(|last: char| last.is_alphabetic())
}

/// Held over supply; a unit given once stands for both.
fn over(held: &str, supply: &str, text: &str) -> Result<TypedReading, TypedReadingError> {
    let unit = match (has_unit(supply), has_unit(held)) {
        (true, true) => return Ok(larger_first(supply.parse()?, held.parse()?)),
        (true, false) => split(supply, "72/80 psi")?.1,
        (false, true) => split(held, "72/80 psi")?.1,
        (false, false) => {
            let number = split(supply, "72/80 psi")?.0.max(split(held, "72/80 psi")?.0);
            let unit = BARE.iter().find(|(low, high, _)| (*low..=*high).contains(&number)).map(|(.., unit)| *unit);
            unit.ok_or_else(|| TypedReadingError::NoUnit { got: text.chars().take(40).collect() })?.to_owned()
        }
    };
    let with = |number: &str| -> Result<GaugePressure, QuantityError> {
        if has_unit(number) { number.parse() } else { format!("{number}{unit}").parse() }
    };
    Ok(larger_first(with(supply)?, with(held)?))
}

fn larger_first(one: GaugePressure, other: GaugePressure) -> TypedReading {
    let (supply, held) = if other.0 > one.0 { (other, one) } else { (one, other) };
    TypedReading::Pressures { supply, held }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pressures(supply: GaugePressure, held: GaugePressure) -> TypedReading {
        TypedReading::Pressures { supply, held }
    }

    #[test]
    fn readings_as_people_give_them() {
        let psi = |supply, held| pressures(GaugePressure::from_psi(supply), GaugePressure::from_psi(held));
        for text in [
            "72/80",
            "80/72",
            "72 / 80",
            "72 of 80",
            "72 von 80",
            "72/80psi",
            "72 psi of 80 psi",
            "80 72 psi",
            "80psi 72psi",
            "72psi/80",
        ] {
            assert_eq!(text.parse(), Ok(psi(80.0, 72.0)), "{text}");
        }
        let bar = pressures(GaugePressure::from_bar(5.5), GaugePressure::from_bar(5.0));
        for text in ["5.0/5.5", "5,0/5,5 bar", "5.0 of 5.5 bar"] {
            assert_eq!(text.parse(), Ok(bar), "{text}");
        }
        let kpa = pressures(GaugePressure::from_kpa(550.0), GaugePressure::from_kpa(500.0));
        assert_eq!("500/550".parse(), Ok(kpa));
        for text in ["22%", "22 %", " 22 % "] {
            assert_eq!(text.parse(), Ok(TypedReading::Loss { loss: Percent(22.0), supply: None }), "{text}");
        }
        let at = TypedReading::Loss { loss: Percent(22.0), supply: Some(GaugePressure::from_psi(80.0)) };
        assert_eq!("22 % at 80 psi".parse(), Ok(at));
    }

    #[test]
    fn what_is_no_reading_is_told() {
        for text in [
            "",
            "72",
            "80 72",
            "72/",
            "/80",
            "72/80/90",
            "72 of",
            "x/y",
            "-5/80",
            "72/80 furlongs",
            "120 %",
            "100/150",
            "1/1",
        ] {
            assert!(text.parse::<TypedReading>().is_err(), "{text}");
        }
        let told = "100/150".parse::<TypedReading>().expect_err("two ways").to_string();
        assert_eq!(told, "'100/150' can be psi, bar or kPa: type the unit too, as in 72/80 psi");
    }
}
