//! Openings of the engine, the escape path each points at, and what the air was doing.

mod understood;

use std::fmt;
use std::str::FromStr;

pub use understood::{NamingError, Understood, UnknownOpening};

/// The longest name an opening may have; it becomes part of a file name.
pub const LONGEST_NAME: usize = 40;

/// A place where the microphone is held: `intake`, `exhaust`, `oil-filler`, `dipstick`, `breather`, `coolant-filler`,
/// `plug-hole-N`, `rig`, or any other lower-case name.
///
/// The name is checked while it is read: lower-case letters, digits and single hyphens,
/// beginning with a letter. So it is safe as part of a file name.
///
/// ```
/// use hissward::opening::{EscapePath, Opening};
/// let opening: Opening = "oil-filler".parse()?;
/// assert_eq!(opening.path(), EscapePath::RingsOrBore);
/// assert!("../etc".parse::<Opening>().is_err());
/// # Ok::<(), hissward::opening::OpeningError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Opening(String);

/// Why a text is no opening's name.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{got}' is not a valid name for an opening: use intake, exhaust, oil-filler, coolant-filler, plug-hole-N, rig, \
     or a name of lower-case letters, digits and single hyphens (at most {LONGEST_NAME} characters)"
)]
pub struct OpeningError {
    got: String,
}

impl Opening {
    /// The name as written in files and on the command line.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0
    }

    /// The escape path that air heard here points at.
    ///
    /// Dipstick tube and breather open into the crankcase as the oil filler does.
    ///
    /// Sources: intake, oil filler, coolant: NAVEDTRA 14264A §2.4.0; exhaust, neighbour and rig: common practice.
    #[must_use]
    pub fn path(&self) -> EscapePath {
        match self.0.as_str() {
            "intake" => EscapePath::IntakeValve,
            "exhaust" => EscapePath::ExhaustValve,
            // All four are the crankcase (common practice, no source).
            "oil-filler" | "dipstick" | "breather" | "crankcase" => EscapePath::RingsOrBore,
            "coolant-filler" => EscapePath::GasketOrCrack,
            "rig" => EscapePath::TestRig,
            _ if self.neighbour().is_some() => EscapePath::GasketToNeighbour,
            _ => EscapePath::Other,
        }
    }

    /// The neighbour cylinder's number, where this is a `plug-hole-N`.
    #[must_use]
    pub fn neighbour(&self) -> Option<u32> {
        let number = self.0.strip_prefix("plug-hole-")?;
        let digits = !number.is_empty() && number.chars().all(|c| c.is_ascii_digit());
        // A number beyond all counting is still one, so that it is held against the engine's cylinders.
        digits.then(|| number.parse().unwrap_or(u32::MAX))
    }
}

impl FromStr for Opening {
    type Err = OpeningError;

    fn from_str(text: &str) -> Result<Self, OpeningError> {
        let fits = !text.is_empty()
            && text.len() <= LONGEST_NAME
            && text.starts_with(|first: char| first.is_ascii_lowercase())
            && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
            && !text.contains("--")
            && !text.ends_with('-');
        if fits { Ok(Self(text.to_owned())) } else { Err(OpeningError { got: text.chars().take(80).collect() }) }
    }
}

impl fmt::Display for Opening {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

/// Where the air gets away inside the engine or the rig.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EscapePath {
    /// Past the intake valve.
    IntakeValve,
    /// Past the exhaust valve.
    ExhaustValve,
    /// Past the piston rings or through a worn or scored bore.
    RingsOrBore,
    /// Through the head gasket or a crack into the coolant.
    GasketOrCrack,
    /// Through the head gasket into the neighbour cylinder.
    GasketToNeighbour,
    /// At the hose, the adapter or the plug seat.
    TestRig,
    /// An opening of the user's own naming.
    Other,
}

impl EscapePath {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::IntakeValve,
        Self::ExhaustValve,
        Self::RingsOrBore,
        Self::GasketOrCrack,
        Self::GasketToNeighbour,
        Self::TestRig,
        Self::Other,
    ];

    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::IntakeValve => "intake-valve",
            Self::ExhaustValve => "exhaust-valve",
            Self::RingsOrBore => "rings-or-bore",
            Self::GasketOrCrack => "gasket-or-crack",
            Self::GasketToNeighbour => "gasket-to-neighbour",
            Self::TestRig => "test-rig",
            Self::Other => "other",
        }
    }
}

impl FromStr for EscapePath {
    type Err = EscapePathError;

    fn from_str(text: &str) -> Result<Self, EscapePathError> {
        let found = Self::ALL.into_iter().find(|path| path.name() == text);
        found.ok_or_else(|| EscapePathError { got: text.chars().take(80).collect() })
    }
}

/// Why a text is no escape path.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{got}' is not a path that air takes: use intake-valve, exhaust-valve, rings-or-bore, gasket-or-crack, \
     gasket-to-neighbour, test-rig or other"
)]
pub struct EscapePathError {
    got: String,
}

/// What the air was doing while a clip was recorded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Air {
    /// Shut: the quiet baseline.
    Off,
    /// Open.
    On,
    /// Opened and shut after the program's beep: 1 s shut, 1 s open, beginning shut.
    Pulsed,
}

impl Air {
    /// The name as written in files and on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Off => "off",
            Self::On => "on",
            Self::Pulsed => "pulsed",
        }
    }
}

impl FromStr for Air {
    type Err = AirError;

    fn from_str(text: &str) -> Result<Self, AirError> {
        match text {
            "off" => Ok(Self::Off),
            "on" => Ok(Self::On),
            // Jobs from before 2026-12 say `keyed`.
            "pulsed" | "keyed" => Ok(Self::Pulsed),
            _ => Err(AirError { got: text.chars().take(80).collect() }),
        }
    }
}

/// Why a text is not a valid state of the air.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{got}' is not a valid state of the air: use off (quiet baseline), on, or pulsed (opened and shut after the beep)"
)]
pub struct AirError {
    got: String,
}
