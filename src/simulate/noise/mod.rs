//! Shop noises, each with the spectrum and the time structure of the real thing; one file a kind.
//!
//! Each kind's level is set so that where it works it has about 0 dB between 1 and 16 kHz; mixing sets the rest.
//! Figures of machines (speeds, numbers of blades and blows) are common practice, no source.

mod blow_gun;
mod canvas;
mod compressor;
mod envelope;
mod fan;
mod forklift;
mod grinder;
mod hammering;
mod impact_wrench;
mod radio;
mod rain;
mod recording;
mod room;
mod source;
mod talk;
mod timeline;
mod traffic;

pub use recording::{Recording, RecordingError};
pub use source::{NoiseKind, NoiseKindError, NoiseMix, NoiseSource};
