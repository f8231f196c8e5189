//! The order of things: where modules that do not know each other meet.

mod sounds;
mod take_in;

pub use sounds::{SoundSource, report_sounds};
pub use take_in::{Channels, TakeInError, TakenIn, take_in};
