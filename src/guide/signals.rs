//! What goes in and out of the machine.

use super::plan::Step;
use crate::caveat::Caveat;
use crate::hiss::PlannedClip;
use crate::meter;
use crate::opening::{Air, Opening};
use crate::units::{Level, LevelDiff, Seconds};

/// What a person does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Key {
    /// Space, Enter, a double tap on the microphone: go on.
    Go,
    /// A letter or a digit.
    Letter(char),
    /// Takes a letter back.
    Back,
    /// Escape: out of what is being typed.
    Out,
}

/// What comes to the machine.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// A key.
    Key(Key),
    /// A double tap on the microphone.
    Tap,
    /// Time passed, in milliseconds.
    Passed(u64),
    /// Recording, so and so much of it.
    Heard(Live),
    /// A recording is in the job, with what is to be said of it.
    Kept(Vec<Caveat>),
    /// What a typed reading comes to, before it is kept.
    Read(ShownReading),
    /// What was asked for is done.
    Saved,
    /// What was asked for cannot be: why.
    Refused(String),
    /// The microphone gave out, or there is none: what was said.
    MicrophoneLost(String),
    /// The microphone is there (again): its name.
    Microphone(String),
    /// A cylinder's ranking.
    Ranked(RankedResult),
    /// The ranking with what is recorded so far, in a line.
    SoFar(String),
}

/// A reading as typed, with its loss, so that a slip stands out before it is kept.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShownReading {
    /// The loss, in big letters.
    pub big: String,
    /// What was typed, and what is unusual about it, line by line.
    pub lines: Vec<String>,
}

/// What the ranking wants recorded next.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum NextClip {
    /// It does not say: the rounds go on as planned.
    #[default]
    Unknown,
    /// Nothing more would tell.
    Nothing,
    /// This clip, with what it is good for in a line.
    Clip {
        /// Where.
        opening: Opening,
        /// With the air how.
        air: Air,
        /// Why, for the person.
        line: String,
    },
}

/// A cylinder's ranking as the guide goes by it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RankedResult {
    /// Whether it decides.
    pub decides: bool,
    /// Its lines, the first two in a word.
    pub lines: Vec<String>,
    /// The likeliest opening, where there is one.
    pub likeliest: Option<Opening>,
    /// Whether it proposes pulsed air there.
    pub proposes_pulsed: bool,
    /// What is to be recorded next.
    pub next: NextClip,
    /// What was probably done wrong; one key puts it right.
    pub mistake: Option<String>,
    /// The call in a few words, for the table of cylinders.
    pub short: String,
    /// All there is to say of it, heading and text in turn, where the screen has room.
    pub details: Vec<String>,
}

/// How a recording stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Live {
    /// How long it is.
    pub length: Seconds,
    /// The hiss bands now.
    pub level: Option<Level>,
    /// Over the quiet clip of the same opening, where there is one.
    pub above_quiet: Option<LevelDiff>,
    /// Samples at full scale.
    pub clipped: u64,
    /// Whether air streams over the microphone.
    pub in_the_stream: bool,
    /// How well its level is known.
    pub estimate: Option<meter::LevelEstimate>,
}

/// A beep.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Beep {
    /// Get ready.
    Count,
    /// Open the air.
    Open,
    /// Shut the air.
    Shut,
    /// Good.
    Good,
    /// Look at the screen.
    Look,
}

/// What is to be done.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Sound it.
    Beep(Beep),
    /// Keep that the cautions were confirmed.
    Confirm,
    /// Keep whether the engine is hot.
    SaveTemperature(bool),
    /// Say what a reading as typed comes to.
    Assess(Step, String),
    /// Keep the rig's reading as typed.
    SaveRig(String),
    /// Keep a cylinder's reading as typed.
    SaveGauge(u32, String),
    /// Begin to record.
    Record(u32, PlannedClip),
    /// End the recording and keep it.
    Stop,
    /// End the recording and drop it.
    Drop,
    /// Leave the latest clip of this out of every ranking.
    LeaveOut(u32, PlannedClip),
    /// Keep that a step is left out, and why.
    Skip(Step, String),
    /// Rank a cylinder.
    Rank(u32),
    /// Put right what was probably done wrong on a cylinder, then rank it anew.
    PutRight(u32),
    /// Open the microphone.
    OpenMicrophone,
    /// Write the report: the test is done.
    Finish,
    /// End.
    Quit,
}

/// Where in a step it is.
#[derive(Debug, Clone, PartialEq)]
pub enum Phase {
    /// Waits for the person.
    Ask,
    /// Waits for the job, the ranking or the microphone.
    Busy,
    /// Counts down to a recording, milliseconds left.
    Count(u64),
    /// Records.
    Recording(Option<Live>),
    /// Says that the clip is good, milliseconds left.
    Good(u64),
    /// Says why it is not, milliseconds left until it is recorded again.
    Bad(u64, Caveat),
    /// Shows a reading before it is kept.
    Confirm(ShownReading),
    /// Asks in which unit the gauges show.
    Unit,
    /// Asks why a step is to be skipped.
    Skipping,
    /// Has no microphone.
    Lost(String),
}
