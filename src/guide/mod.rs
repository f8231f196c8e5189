//! The guided test: what comes next, what the person is asked, what is to be done. No terminal, no clock, no file.
//!
//! A [`Plan`] with its [`Progress`] says the next [`Step`]; the [`Guide`] takes [`Event`]s and gives [`Effect`]s, and
//! [`screen`] shows where it is. Whoever drives it owns microphone, job and time.

mod entry;
mod machine;
mod plan;
mod screen;
mod signals;

pub use entry::{GaugeUnit, lacks_unit};
pub use machine::Guide;
pub use plan::{CylinderTurn, Plan, Progress, Step};
pub use screen::{CAUTIONS, Screen, screen};
pub use signals::{Beep, Effect, Event, Key, Live, NextClip, Phase, RankedResult, ShownReading};
