//! Quantities as types: a level is not a difference of levels, a gauge pressure is not an absolute one.
//!
//! Raw floats carry their unit in the name (`band_low_hz`, `held_kpa`); at public borders these types do it.

mod sound;

pub use sound::{Hertz, Level, LevelDiff, Seconds, power_to_db};
