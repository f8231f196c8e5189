//! Known leaks in known noise: seeded, the same bytes on every machine.
//!
//! A [`Case`] is a cylinder under test whose truth is known: which openings hiss, how loud, in what noise.
//! Everything comes from one seed through [`Dice`], in arithmetic that IEEE 754 specifies exactly, and is rounded to
//! 16 bit at the end. Shapes of jets are published ones, with their source beside them; shapes of engines, shops and
//! hands are common practice, no source.

mod air;
mod case;
mod curve;
mod demo;
mod dice;
mod engine;
mod exact;
mod extra;
mod far;
mod filter;
mod jet;
mod level;
mod microphone;
mod noise;
mod path;
mod plan;
mod shop;
mod truth;
mod valve;
mod wind;

pub use air::AirCourse;
pub use case::{Case, CaseClip, CaseOptions, Leak, Practice, SimulateError, cylinder_seed};
pub use demo::{
    DEMO_CYLINDERS, DEMO_ENGINE, DEMO_FIRING_ORDER, DEMO_RIG_PSI, DEMO_SEED, DemoCylinder, DemoReading, demo_noise,
};
pub use dice::Dice;
pub use extra::{ExtraKind, ExtraSound};
pub use far::SecondMicrophone;
pub use jet::Jet;
pub use microphone::Microphone;
pub use noise::{NoiseKind, NoiseKindError, NoiseMix, NoiseSource, Recording, RecordingError};
pub use path::Path;
pub use truth::{ClipTruth, LeakTruth, OpeningTruth, Truth};
pub use valve::Valve;
