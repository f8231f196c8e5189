//! The ranking of one cylinder's openings: what everything after it reads.

use super::beside::Beside;
use crate::caveat::Caveat;
use crate::opening::Opening;
use crate::units::{Hertz, Level, LevelDiff};

/// The ranking of one cylinder's openings (or of loose clips).
#[derive(Debug, Clone, PartialEq)]
pub struct Ranking {
    /// The cylinder, counted from 1; `None` for loose clips.
    pub cylinder: Option<u32>,
    /// What may be said.
    pub call: Call,
    /// The smallest set that holds 95 % of the probability, likeliest first.
    pub answer_set: Vec<Member>,
    /// Every opening heard at, sorted by probability, then hiss level, then name.
    pub openings: Vec<OpeningResult>,
    /// The probability that the air gets away at none of these openings.
    pub elsewhere_probability: f64,
    /// What lowers trust in the whole.
    pub caveats: Vec<Caveat>,
    /// The likeliest opening beside the engine's other cylinders, where there are any.
    pub beside: Option<Beside>,
}

/// What may be said of a cylinder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Call {
    /// One opening holds at least 95 %.
    Located,
    /// Two or more truly hiss, and neither is the spill of the other.
    Shared,
    /// Nothing above the bound at any opening.
    NoneHeard,
    /// The evidence is unfit or undecided.
    CannotTell,
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
    /// None of them.
    Elsewhere,
}

impl Member {
    /// The name as written in files.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Opening(opening) => opening.name(),
            Self::Elsewhere => "elsewhere",
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
