//! What was built into a case, to be held against what is found.

use super::air::AirCourse;
use super::valve::Valve;
use crate::opening::{Air, Opening};
use crate::units::{Level, LevelDiff, Seconds};

/// The truth of a case. Levels are in dB FS as recorded, over the third-octave bands from 1 to 16 kHz.
#[derive(Debug, Clone, PartialEq)]
pub struct Truth {
    /// The seed of everything.
    pub seed: u64,
    /// Mean noise over the clips of the loudest leak's opening (of all openings where nothing leaks).
    pub noise: Level,
    /// The leaks, loudest first.
    pub leaks: Vec<LeakTruth>,
    /// Every opening, in the order given.
    pub openings: Vec<OpeningTruth>,
}

/// A leak.
#[derive(Debug, Clone, PartialEq)]
pub struct LeakTruth {
    /// Where it is heard first.
    pub opening: Opening,
    /// Its hiss there before placement scatter.
    pub hiss: Level,
    /// The same over [`Truth::noise`].
    pub hiss_to_noise: LevelDiff,
    /// Diameter of a hole with the same jet, millimetres.
    pub hole_mm: f64,
}

/// What is heard at an opening.
#[derive(Debug, Clone, PartialEq)]
pub struct OpeningTruth {
    /// The opening.
    pub opening: Opening,
    /// Whether a leak ends here; hiss at other openings is spill.
    pub leaks: bool,
    /// All hiss here, spill included, before placement scatter; `None` on a tight cylinder.
    pub hiss: Option<Level>,
}

/// What went into a clip.
#[derive(Debug, Clone, PartialEq)]
pub struct ClipTruth {
    /// Where the microphone was.
    pub opening: Opening,
    /// What the air was doing.
    pub air: Air,
    /// 1, 2, …
    pub take: u32,
    /// Place in the order of recording, from 0: quiet, air, air, quiet, … round the openings.
    pub visit: usize,
    /// All hiss in this clip while the air is open, placement included; `None` where there is none.
    pub hiss: Option<Level>,
    /// The noise in this clip, drift included.
    pub noise: Level,
    /// How far this clip's placement lifted the hiss.
    pub placement: LevelDiff,
    /// How far the noise was lifted.
    pub drift: LevelDiff,
    /// The valve's edges in a pulsed clip.
    pub valve: Option<Valve>,
    /// How the air ran where the clip has no valve's edges.
    pub course: AirCourse,
    /// What is heard in this clip besides the shop and the leaks, as loud as it is while it is heard.
    pub extra: Option<Level>,
    /// Length.
    pub length: Seconds,
}
