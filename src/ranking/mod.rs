//! From evidence to an answer: a probability per opening, a call, the smallest answer set.
//!
//! Every hypothesis of where the air gets away (nowhere, at one opening, at two, elsewhere) predicts how the floors with the
//! air on lie over the quiet ones; the hypotheses are weighed by how well they predict, over all hiss levels, hiss spectra
//! and all plausible changes of the floor. See the crate's documentation for the whole chain.

pub mod assumptions;
mod beside;
mod call;
mod contrasts;
mod evidence;
mod expected;
mod fit;
mod laplace;
mod level;
mod matrix;
mod next;
mod prior;
mod rank;
mod reach;
mod recorder;
mod result;
mod scale;
mod two_microphones;
mod weigh;

pub use beside::{Beside, hold_beside};
pub use next::Asked;
pub use rank::{
    Beforehand, ISO_3744_CLEAR, ISO_3744_MARGIN, OpeningClips, background_correction, rank, rank_with, tight_prior,
};
pub use result::{BandResult, Call, HissReading, Member, Next, NextStep, OpeningResult, Ranking, SoundAlone};
pub use two_microphones::rank_by_two_microphones;
