//! The unit in which somebody types readings with one finger.

use crate::units::GaugePressure;
use crate::words::Words;

/// The unit of a tester's gauges: asked once, and then known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GaugeUnit {
    /// Pounds per square inch.
    Psi,
    /// Bar.
    Bar,
    /// Kilopascal.
    Kpa,
}

impl GaugeUnit {
    /// As it is typed.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Psi => "psi",
            Self::Bar => "bar",
            Self::Kpa => "kPa",
        }
    }

    /// The unit that stands in an entry, if one does.
    #[must_use]
    pub fn of(text: &str) -> Option<Self> {
        let text = text.to_lowercase();
        [Self::Psi, Self::Bar, Self::Kpa].into_iter().find(|unit| text.contains(&unit.name().to_lowercase()))
    }

    /// A pressure in this unit, as finely as a gauge is read.
    #[must_use]
    pub fn shown(self, pressure: GaugePressure, words: &Words) -> String {
        let (value, decimals) = match self {
            Self::Psi => (pressure.as_psi(), 0),
            Self::Bar => (pressure.as_bar(), 2),
            Self::Kpa => (pressure.as_kpa(), 0),
        };
        format!("{} {}", words.printed(value, decimals), self.name())
    }
}

/// Whether an entry is two bare numbers: all it lacks is the unit.
///
/// ```
/// assert!(hissward::guide::lacks_unit("80 62") && !hissward::guide::lacks_unit("80 62 psi"));
/// ```
#[must_use]
pub fn lacks_unit(text: &str) -> bool {
    let bare = |word: &str| word.chars().all(|c| c.is_ascii_digit() || c == '.' || c == ',');
    let words: Vec<&str> = text.split_whitespace().collect();
    words.len() == 2 && words.iter().all(|word| bare(word))
}
