//! What makes a reading unusable.

use crate::units::{GaugePressure, Percent};

/// Why readings give no loss.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum GaugeError {
    /// The supply is zero, negative or no number.
    #[error("the supply is {supply}: it must be above zero; read the regulator's gauge with the air on")]
    NoSupply {
        /// The supply read.
        supply: GaugePressure,
    },
    /// The supply is higher than this test is ever made with.
    #[error(
        "the supply is {supply}, more than this test is made with (200 psi, 13.8 bar): is the unit right? \
         never exceed the maker's test pressure"
    )]
    SupplyTooHigh {
        /// The supply read.
        supply: GaugePressure,
    },
    /// The cylinder would hold more than it is given.
    #[error(
        "{held} held is above {supply} supplied, which cannot be: are the two gauges swapped? \
         with the cylinder valve shut both gauges must show the same"
    )]
    HeldAboveSupply {
        /// The supply read.
        supply: GaugePressure,
        /// The pressure held.
        held: GaugePressure,
    },
    /// The gauge shows less than nothing.
    #[error("{held} held cannot be: let the pressure off, see that the gauge stands at zero, and read again")]
    HeldBelowZero {
        /// The pressure held.
        held: GaugePressure,
    },
    /// A share below 0 or over 100 %.
    #[error("a loss of {loss} cannot be: type a percentage between 0 and 100, as the gauge shows it")]
    NoShare {
        /// The loss given.
        loss: Percent,
    },
}
