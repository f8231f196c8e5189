//! The ranking of one cylinder's openings: what everything after it reads.

use super::beside::Beside;
use crate::caveat::Caveat;
use crate::opening::{Air, Opening};
use crate::units::{Hertz, Level, LevelDiff, Seconds};

/// The ranking of one cylinder's openings (or of loose clips).
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ranking {
    /// The cylinder, counted from 1; `None` for loose clips.
    pub cylinder: Option<u32>,
    /// What may be said.
    pub call: Call,
    /// The smallest set that holds 95 % of the probability, likeliest first.
    pub answer_set: Vec<Member>,
    /// Every opening heard at, sorted by probability, then hiss level, then name.
    pub openings: Vec<OpeningResult>,
    /// The probability that nothing leaks.
    pub tight_probability: f64,
    /// The probability that it leaks where nobody listened: at none of these openings.
    pub elsewhere_probability: f64,
    /// The answer without the gauge; `None` where no reading was weighed in.
    pub sound_alone: Option<SoundAlone>,
    /// What to record next, where it would tell something.
    pub next: Option<Next>,
    /// What lowers trust in the whole.
    pub caveats: Vec<Caveat>,
    /// The likeliest opening beside the engine's other cylinders, where there are any.
    pub beside: Option<Beside>,
}

/// What may be said of a cylinder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Call {
    /// One opening holds at least 95 %.
    Located,
    /// Two or more truly hiss, and neither is the spill of the other.
    Shared,
    /// Nothing above the bound at any opening.
    NoneHeard,
    /// The evidence is unfit or undecided.
    #[default]
    CannotTell,
}

/// The answer from sound alone, where the gauge has a say in the whole one.
#[derive(Debug, Clone, PartialEq)]
pub struct SoundAlone {
    /// What may be said.
    pub call: Call,
    /// The smallest set that holds 95 %, likeliest first.
    pub answer_set: Vec<Member>,
    /// The probability of the likeliest member.
    pub probability: f64,
    /// The probability that nothing leaks.
    pub tight_probability: f64,
    /// The probability that it leaks where nobody listened.
    pub elsewhere_probability: f64,
}

/// What is expected to tell most per second of a person's time.
#[derive(Debug, Clone, PartialEq)]
pub struct Next {
    /// What to do.
    pub step: NextStep,
    /// The chance that it settles the matter.
    pub settles: f64,
    /// The person's time, moving and valve included.
    pub seconds: Seconds,
    /// It is one of the three usual openings, and nobody has listened there.
    pub missing: bool,
}

/// A recording or a reading.
#[derive(Debug, Clone, PartialEq)]
pub enum NextStep {
    /// A clip at an opening with the air in this state.
    Clip(Opening, Air),
    /// What the rig alone loses.
    Rig,
    /// What the cylinder loses.
    Gauge,
}

impl Call {
    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Located => "located",
            Self::Shared => "shared",
            Self::NoneHeard => "none-heard",
            Self::CannotTell => "cannot-tell",
        }
    }
}

/// A member of the answer set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Member {
    /// One of the openings heard at.
    Opening(Opening),
    /// Where nobody listened.
    Elsewhere,
    /// Nothing leaks.
    Tight,
}

impl Member {
    /// The name as written in files.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Opening(opening) => opening.name(),
            Self::Elsewhere => "elsewhere",
            Self::Tight => "tight",
        }
    }
}

/// What was found at one opening.
#[derive(Debug, Clone, PartialEq)]
pub struct OpeningResult {
    /// The opening.
    pub opening: Opening,
    /// The probability that the leak (the louder, where there are two) escapes here.
    pub probability: f64,
    /// The level of the hiss alone over the bands used, or only its bound.
    pub hiss: HissReading,
    /// Air clip over quiet clip in the same bands; `None` where there is no quiet clip (pulsed air).
    pub above_quiet: Option<LevelDiff>,
    /// The true hiss level lies under this with 95 %.
    pub at_most: Level,
    /// Heard, but as the spill of a louder opening.
    pub spill: bool,
    /// Air clips that speak for it (the larger of repeats with air on and pulsed).
    pub takes: u32,
    /// Third-octave bands, from low to high.
    pub bands: Vec<BandResult>,
    /// What lowers trust in this opening.
    pub caveats: Vec<Caveat>,
}

/// The hiss level at an opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HissReading {
    /// Heard: the level and its 95 % interval.
    Heard {
        /// The level.
        level: Level,
        /// Lower end of the interval.
        low: Level,
        /// Upper end of the interval.
        high: Level,
    },
    /// Not heard above the noise: only [`OpeningResult::at_most`] is known.
    Bound,
}

/// One third-octave band at one opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BandResult {
    /// Exact midband frequency (IEC 61260-1).
    pub midband: Hertz,
    /// Level with the air off; `None` where there is no quiet clip.
    pub quiet: Option<Level>,
    /// Level with the air on.
    pub air: Level,
    /// Level of the hiss alone, background taken off (K1), or its bound; `None` where air is below quiet and no bound holds.
    pub hiss: Option<Level>,
    /// The hiss level is only an upper bound (margin under that of ISO 3744).
    pub upper_bound: bool,
    /// Whether the band counts in the hiss level (1–16 kHz, as far as the clips reach).
    pub used: bool,
}
