//! Microphone and recordings.
//!
//! [`open`] reads a recording of any known format block by block, [`read_clip`] reads it whole.
//! [`record`] records from a [`SoundCard`] to a file; [`Listening`] gives the sound itself, for live meters,
//! and a [`RecordingSession`] records from it when the time comes. A [`Speaker`] beeps.
//! [`WavRecorder`] writes while the sound comes in, [`recover`] makes a recording whole that a crash broke off.

mod channels;
mod decoded;
mod dropout;
mod error;
mod flac;
mod iso_media;
mod made_by;
mod microphone;
mod opus;
mod probing;
mod recorder;
mod recording;
mod recording_session;
mod resample;
mod sniff;
mod speaker;
mod wav;
mod wav_header;
mod writer;

pub use channels::ChannelChoice;
pub use error::AudioError;
pub use flac::{FlacError, flac};
pub use made_by::MadeBy;
pub use microphone::{
    Closed, FakeCard, FakeEnd, Input, Listening, MicError, NextBlock, OpenStream, RingProducer, Signals, SoundCard,
    StreamGuard, StreamLoss, SystemCard, Worth, ring_buffer, worth_of,
};
pub use recorder::{Ended, FinishedRecording, LevelReport, Order, record};
pub use recording::{Format, Recording, open, read_clip};
pub use recording_session::RecordingSession;
pub use resample::resampled;
pub use speaker::{Speaker, Tone};
pub use writer::{Recovered, SampleKind, StreamShape, WavRecorder, WriteError, recover};
