//! A reading as somebody types it with one finger.

use crate::units::{GaugePressure, Percent, QuantityError};

/// What was typed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Entry {
    /// Two gauges: before the restrictor, and after it.
    Pressures {
        /// Before the restrictor.
        supply: GaugePressure,
        /// After it.
        held: GaugePressure,
    },
    /// A percent gauge.
    Loss(Percent),
}

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

/// Why that is no reading.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum EntryError {
    /// Not two pressures and not one share.
    #[error("type supply and held with their unit, as in 80 62 psi, or the loss, as in 22%")]
    Shape,
    /// A number or a unit.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}

/// Reads `80 62 psi`, `80psi 62psi`, `5.5bar 4.3bar` or `22%`.
///
/// ```
/// use hissward::guide::{Entry, read_entry};
/// use hissward::units::{GaugePressure, Percent};
/// let (supply, held) = (GaugePressure::from_psi(80.0), GaugePressure::from_psi(62.0));
/// assert_eq!(read_entry("80 62 psi"), Ok(Entry::Pressures { supply, held }));
/// assert_eq!(read_entry("22%"), Ok(Entry::Loss(Percent(22.0))));
/// assert!(read_entry("80 62").is_err());
/// ```
///
/// # Errors
/// [`EntryError`] where it is neither.
pub fn read_entry(text: &str) -> Result<Entry, EntryError> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let pressures = |supply: &str, held: &str| -> Result<Entry, EntryError> {
        Ok(Entry::Pressures { supply: supply.parse()?, held: held.parse()? })
    };
    match words[..] {
        [share] if share.ends_with('%') => Ok(Entry::Loss(share.parse()?)),
        [share, "%"] => Ok(Entry::Loss(share.parse()?)),
        [supply, held] => pressures(supply, held),
        [supply, held, unit] => pressures(&format!("{supply}{unit}"), &format!("{held}{unit}")),
        [supply, one, held, other] => pressures(&format!("{supply}{one}"), &format!("{held}{other}")),
        _ => Err(EntryError::Shape),
    }
}
