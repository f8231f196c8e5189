//! The order of things: where modules that do not know each other meet.

mod take_in;

pub use take_in::{Channels, TakeInError, TakenIn, take_in};
