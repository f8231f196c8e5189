//! What a person reads off a tester, and the conditions it was read under.

use super::error::GaugeError;
use crate::units::{
    AbsolutePressure, GaugePressure, HIGHEST_TEST_PRESSURE, Length, Percent, PressureDifference, REFERENCE_TEMPERATURE,
    STANDARD_ATMOSPHERE, Temperature,
};

/// Supply taken where only a percentage is known: 80 psi, the test pressure of FAA AC 43.13-1B ch. 8, step (f).
pub const ASSUMED_SUPPLY: GaugePressure = GaugePressure::from_psi(80.0);

/// To what a pressure is read where nothing is said: 1 psi, so ±0.5 psi. Common practice, no source.
///
/// Where the two gauges were not read with the cylinder's valve shut they are taken to agree then, as FAA
/// AC 43.13-1B ch. 8 step (e) has it checked at 20 psi; what is left is how finely they are read.
pub const PRESSURE_RESOLUTION: GaugePressure = GaugePressure::from_psi(1.0);

/// By which share of the supply gauges may disagree before two figures are taken for swapped or mistyped.
/// Own figure: a gauge of class 4 (EN 837-1) is off by at most 4 % of its range.
const MOST_DISAGREEMENT: f64 = 0.1;

/// To what a percentage is read where nothing is said: one point, so ±0.5 points. Common practice, no source.
pub const PERCENT_RESOLUTION: Percent = Percent(1.0);

/// One reading of a tester.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reading {
    /// Two gauges: before and behind the restrictor.
    Pressures {
        /// The regulated supply.
        supply: GaugePressure,
        /// What the cylinder holds.
        held: GaugePressure,
    },
    /// A gauge that shows the share lost.
    Share {
        /// The loss.
        loss: Percent,
        /// The regulated supply, where it is known.
        supply: Option<GaugePressure>,
    },
}

/// What the readings were taken with and in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Ambient pressure.
    pub ambient: AbsolutePressure,
    /// Temperature of the air in the tester.
    pub air: Temperature,
    /// Diameter of the tester's restrictor, where it is known.
    pub restrictor: Option<Length>,
    /// To what pressures are read; a reading may be off by half of it.
    pub pressure_resolution: GaugePressure,
    /// To what percentages are read; a reading may be off by half of it.
    pub percent_resolution: Percent,
    /// What the gauge after the restrictor shows more than the one before it while nothing flows, where the pair was
    /// read with the cylinder's valve shut. It is taken off.
    pub held_offset: Option<PressureDifference>,
    /// The greatest error of each gauge by its accuracy class (EN 837-1: percent of the range), where that is known.
    pub gauge_class: Option<PressureDifference>,
}

impl Default for Conditions {
    /// Standard atmosphere, 20 °C, restrictor unknown, read to 1 psi and to one percentage point.
    fn default() -> Self {
        Self {
            ambient: STANDARD_ATMOSPHERE,
            air: REFERENCE_TEMPERATURE,
            restrictor: None,
            pressure_resolution: PRESSURE_RESOLUTION,
            percent_resolution: PERCENT_RESOLUTION,
            held_offset: None,
            gauge_class: None,
        }
    }
}

impl Reading {
    /// Checks the reading. Somewhat more held than supplied is no error: gauges disagree, and the assessment says so.
    ///
    /// # Errors
    /// [`GaugeError`] where the supply is not above zero or too high, far more is held than supplied, or a percentage
    /// is outside 0 to 100.
    pub fn check(&self) -> Result<(), GaugeError> {
        if let Some(supply) = self.supply() {
            if !(supply.0 > 0.0 && supply.0.is_finite()) {
                return Err(GaugeError::NoSupply { supply });
            }
            if supply > HIGHEST_TEST_PRESSURE {
                return Err(GaugeError::SupplyTooHigh { supply });
            }
        }
        match *self {
            Self::Pressures { supply, held } if held.0 > supply.0 * (1.0 + MOST_DISAGREEMENT) => {
                Err(GaugeError::HeldAboveSupply { supply, held })
            }
            Self::Pressures { held, .. } if held.0 < 0.0 || held.0.is_nan() => Err(GaugeError::HeldBelowZero { held }),
            Self::Share { loss, .. } if !(0.0..=100.0).contains(&loss.0) => Err(GaugeError::NoShare { loss }),
            _ => Ok(()),
        }
    }

    /// The supply, where it is known.
    #[must_use]
    pub fn supply(&self) -> Option<GaugePressure> {
        match *self {
            Self::Pressures { supply, .. } => Some(supply),
            Self::Share { supply, .. } => supply,
        }
    }

    /// The pressure held, where the supply is known.
    #[must_use]
    pub fn held(&self) -> Option<GaugePressure> {
        match *self {
            Self::Pressures { held, .. } => Some(held),
            Self::Share { loss, supply } => supply.map(|supply| GaugePressure(supply.0 * (1.0 - loss.0 / 100.0))),
        }
    }

    /// The loss in percent of the supply.
    #[must_use]
    pub fn loss(&self) -> Percent {
        match *self {
            Self::Pressures { supply, held } => Percent(super::tester::loss_percent(supply, held)),
            Self::Share { loss, .. } => loss,
        }
    }
}
