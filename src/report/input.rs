//! All that a report is made from, as values.

use super::letterhead::Letterhead;
use crate::finding::{Engine, Findings};
use crate::opening::{Air, Opening};
use crate::plot::Stretch;
use crate::units::{AbsolutePressure, Length, LevelDiff, Seconds, UnitSystem};
use crate::words::Words;

/// What the report's head tells: as the job has it, nothing invented. What is `None` is left out.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ReportHead {
    /// The engine, in the user's words.
    pub engine: String,
    /// The day of the test, as it is to be printed.
    pub date: Option<String>,
    /// Whose engine it is.
    pub customer: Option<String>,
    /// Who tested.
    pub tested_by: Option<String>,
    /// The user's notes.
    pub notes: Option<String>,
}

/// In what circumstances was tested. What is `None` is left out.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Circumstances {
    /// Whether the engine was warm.
    pub hot: Option<bool>,
    /// Diameter of the tester's restrictor.
    pub restrictor: Option<Length>,
    /// Air pressure of the place.
    pub ambient: Option<AbsolutePressure>,
    /// The microphone.
    pub microphone: Option<String>,
    /// When the cautions were confirmed, as it is to be printed.
    pub cautions_confirmed: Option<String>,
    /// The program that started the job.
    pub made_with: Option<String>,
    /// The recordings.
    pub clips: Vec<ClipNote>,
    /// What was put right in the job afterwards.
    pub amended: Vec<AmendedNote>,
}

/// A value that was put right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AmendedNote {
    /// When, to the minute.
    pub when: String,
    /// What it belongs to: a clip's file, `gauge 2`, `rig`, `job`.
    pub of: String,
    /// The value's key in `job.toml`.
    pub key: String,
    /// What stood there; `None` where nothing did.
    pub from: Option<String>,
    /// What stands there now; `None` where nothing does.
    pub to: Option<String>,
}

/// One recording as evidence.
#[derive(Debug, Clone, PartialEq)]
pub struct ClipNote {
    /// Its file.
    pub file: String,
    /// When it was recorded, with the zone.
    pub recorded: Option<String>,
    /// Its length.
    pub length: Seconds,
    /// Its rate, hertz.
    pub sample_rate_hz: u32,
    /// The microphone, where it is known.
    pub device: Option<String>,
    /// SHA-256 of the file.
    pub sha256: String,
    /// Why it does not count, where somebody said so.
    pub left_out: Option<String>,
}

/// A player's sound: a quiet stretch and one with air, one after the other.
#[derive(Debug, Clone, PartialEq)]
pub struct ReportSound {
    /// The cylinder; `None` for the rig alone.
    pub cylinder: Option<u32>,
    /// Where it was recorded.
    pub opening: Opening,
    /// Which repeat.
    pub take: u32,
    /// What the air does in each stretch, and the stretch; names are the report's.
    pub stretches: Vec<(Air, Stretch)>,
    /// The sound's type.
    pub kind: &'static str,
    /// The sound's file.
    pub file: Vec<u8>,
}

/// The sounds of a report.
#[derive(Debug, Clone, PartialEq)]
pub struct ReportSounds {
    /// Each with its player.
    pub sounds: Vec<ReportSound>,
    /// By how much all are louder than recorded.
    pub gain: LevelDiff,
    /// How much of each recording is played, at most.
    pub excerpt: Seconds,
}

/// All that a report is made from.
#[derive(Clone, Copy)]
pub struct ReportInput<'a> {
    /// The shop's head.
    pub letterhead: Option<&'a Letterhead>,
    /// The head.
    pub head: &'a ReportHead,
    /// Readings and rankings.
    pub engine: &'a Engine,
    /// What follows from them.
    pub findings: &'a Findings,
    /// Circumstances.
    pub circumstances: &'a Circumstances,
    /// The sounds, where there are any.
    pub sounds: Option<&'a ReportSounds>,
    /// The language.
    pub words: &'a Words,
    /// The units.
    pub units: UnitSystem,
}
