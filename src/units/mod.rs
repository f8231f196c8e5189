//! Quantities as types: a level is not a difference of levels, a gauge pressure is not an absolute one.
//!
//! Raw floats carry their unit in the name (`band_low_hz`, `held_kpa`); at public borders these types do it.
//! Texts as people type them (`100psi`, `6,9 bar`, `0.040in`, `68F`) are read by `parse`.

mod length;
mod loss;
mod number;
mod percent;
mod pressure;
mod quantity;
mod sound;
mod system;
mod temperature;
mod typed_reading;

pub use length::Length;
pub use loss::NetLoss;
pub use percent::Percent;
pub use pressure::{
    AbsolutePressure, GaugePressure, HIGHEST_TEST_PRESSURE, PASCALS_PER_BAR, PASCALS_PER_PSI, PressureDifference,
    STANDARD_ATMOSPHERE,
};
pub use quantity::QuantityError;
pub use sound::{Hertz, Level, LevelDiff, Seconds, power_to_db};
pub use system::{Shown, UnitSystem, UnitSystemError};
pub use temperature::{REFERENCE_TEMPERATURE, Temperature};
pub use typed_reading::{TypedReading, TypedReadingError};
