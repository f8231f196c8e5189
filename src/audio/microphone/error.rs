//! What can go wrong between a microphone and a file.

use crate::audio::writer::WriteError;

/// Why nothing could be recorded.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum MicError {
    /// No input at all.
    #[error(
        "no microphone was found: plug one in and see 'hissward mics'; recordings made elsewhere are taken in with 'hissward add'"
    )]
    NoInput,
    /// Only inputs that hear no hiss.
    #[error(
        "no useful microphone was found, only {there}: plug in another, or name one of these if you must (see 'hissward mics')"
    )]
    NoUseful {
        /// The names of those there are.
        there: String,
    },
    /// No input of that name.
    #[error("there is no microphone '{asked}': there are {there} (see 'hissward mics')")]
    Unknown {
        /// The name asked for.
        asked: String,
        /// The names of those there are.
        there: String,
    },
    /// The sound system does not answer.
    #[error(
        "the sound system of this machine does not answer ({detail}): restart it or the machine, and see 'hissward mics'"
    )]
    NoSystem {
        /// What it said.
        detail: String,
    },
    /// The device cannot be opened.
    #[error(
        "the microphone '{name}' cannot be opened ({detail}): close other programs that record, allow this one to, or choose another"
    )]
    Refused {
        /// Its name.
        name: String,
        /// What the system said.
        detail: String,
    },
    /// It opened, and nothing came.
    #[error(
        "the microphone '{name}' gave no sound ({detail}): plug it in again, or choose another (see 'hissward mics')"
    )]
    NoSound {
        /// Its name.
        name: String,
        /// What was seen.
        detail: String,
    },
    /// The file could not be written.
    #[error(transparent)]
    Write(#[from] WriteError),
}
