//! Microphones: what there is, and listening to one of them, guarded against all that devices do.
//!
//! [`SoundCard`] is the seam: [`SystemCard`] is the machine's own, [`FakeCard`] one that plays a script.

mod card;
mod error;
mod fake;
mod hardware;
mod input;
mod listening;
mod native;
#[cfg(target_os = "linux")]
mod server;
mod system;

pub use card::{OpenStream, RingProducer, Signals, SoundCard, StreamGuard, ring_buffer};
pub use error::MicError;
pub use fake::{FakeCard, FakeEnd};
pub(super) use hardware::quiet_library;
pub use input::{Input, Worth, worth_of};
pub use listening::{Closed, Listening, NextBlock, StreamLoss};
pub use system::SystemCard;
