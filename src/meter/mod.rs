//! Sound as it comes in: a live level of the hiss, how steady it is, and a double tap on the microphone.
//!
//! [`HissMeter`] gives a [`MeterReading`] every 20 ms through filters, not spectra: a spectrum's frame would be late.
//! What is measured here is shown and steers; what counts is measured again by [`crate::hiss`].

mod capsule;
mod filter;
mod hiss_meter;
mod settling;
mod steadiness;
mod taps;
mod trail;

pub use capsule::{CapsuleWatch, Colour};
pub use hiss_meter::{HissMeter, MeterReading, OCTAVES, STEP};
pub use settling::{LevelEstimate, Settling};
pub use steadiness::{RecorderFault, STEADY_NOISE, Steadiness};
pub use taps::DoubleTap;
pub use trail::Trail;
