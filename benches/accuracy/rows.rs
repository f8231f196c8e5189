//! The rows of the table: what is built into their cases.

use super::chains::Chain;

/// What is built into a case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Scenario {
    /// One leak, this far over the noise, dB.
    Leak(f64),
    /// No leak.
    Tight,
    /// Two leaks 2 dB apart, the louder one 3 dB over the noise.
    Two,
    /// One leak with pulsed air alone, dB over the noise.
    Pulsed(f64),
    /// No leak; a steady hiss of the shop's own begins before one opening's air clip.
    ForeignTight,
    /// The same, and pulsed clips of all openings besides.
    ForeignTightPulsed,
    /// A leak at one opening, the foreign hiss at another, and pulsed clips of all.
    LeakForeignPulsed,
    /// No leak; air streams past the microphone at one opening.
    WindTight,
    /// No leak at an opening; the rig hisses and is heard everywhere, evenly within ± this many dB.
    Rig(f64),
    /// The air is on for this share of the clips called "on".
    AirPart(f64),
    /// A hiss that comes and goes, 5 dB over the noise.
    ComesAndGoes,
    /// One leak, clips of another rate than 48 kHz, from 8 to 192 kHz.
    OtherRate(f64),
    /// One leak, with a second microphone a step away.
    SecondMicrophone(f64),
    /// A clear leak; one quiet clip, named for one opening.
    QuietNamed,
    /// The leaking opening was not listened at; its hiss is 12 dB over the noise there.
    NotListenedAt,
    /// A loud hiss from 1.5 to 9 kHz and nothing above, nothing elsewhere.
    SharpEnd,
    /// The usual blow-by at the oil filler, and a leak at a valve.
    BlowByLeak,
    /// The usual blow-by at the oil filler, and no leak.
    BlowByTight,
    /// One leak; bangs overdrive the input.
    Bangs,
    /// One leak, read from WAV files as they were recorded.
    Raw(f64),
    /// One leak, through what a recorder does.
    Through(Chain, f64),
    /// No leak, through one or another of them.
    TightThrough,
    /// One leak, both channels of a phone in one file, nobody says which is near.
    Stereo(f64),
    /// No leak, the foreign hiss, both channels of a phone.
    StereoForeign,
    /// One leak with a microphone of 96 kHz.
    Ultrasonic(f64),
}

/// A row.
#[derive(Debug, Clone)]
pub struct Row {
    /// Its number, which its cases' seeds are made of: never changed, so that a row's cases stay what they are.
    pub number: usize,
    /// What is built in.
    pub scenario: Scenario,
}

/// Every row, in the order shown. New ones come at the end of their kind with a number that was never used.
const ROWS: [(usize, Scenario); 44] = [
    (0, Scenario::Leak(-20.0)),
    (1, Scenario::Leak(-15.0)),
    (2, Scenario::Leak(-10.0)),
    (3, Scenario::Leak(-5.0)),
    (4, Scenario::Leak(0.0)),
    (5, Scenario::Tight),
    (6, Scenario::Two),
    (7, Scenario::Pulsed(-10.0)),
    (8, Scenario::Pulsed(-15.0)),
    (9, Scenario::Pulsed(-20.0)),
    (10, Scenario::ForeignTight),
    (11, Scenario::ForeignTightPulsed),
    (12, Scenario::LeakForeignPulsed),
    (13, Scenario::WindTight),
    (14, Scenario::Rig(0.0)),
    (15, Scenario::Rig(4.0)),
    (16, Scenario::AirPart(0.9)),
    (17, Scenario::AirPart(0.75)),
    (18, Scenario::AirPart(0.5)),
    (19, Scenario::ComesAndGoes),
    (20, Scenario::OtherRate(0.0)),
    (21, Scenario::SecondMicrophone(0.0)),
    (22, Scenario::SecondMicrophone(-10.0)),
    (23, Scenario::QuietNamed),
    (24, Scenario::NotListenedAt),
    (25, Scenario::SharpEnd),
    (26, Scenario::BlowByLeak),
    (27, Scenario::BlowByTight),
    (28, Scenario::Bangs),
    (29, Scenario::Raw(0.0)),
    (30, Scenario::Through(Chain::Mp3, 0.0)),
    (31, Scenario::Through(Chain::Aac, 0.0)),
    (32, Scenario::Through(Chain::Opus, 0.0)),
    (33, Scenario::Through(Chain::Suppression, 0.0)),
    (34, Scenario::Through(Chain::Gain, 0.0)),
    (35, Scenario::Through(Chain::SuppressionAndGain, 0.0)),
    (36, Scenario::Through(Chain::RnNoise, 0.0)),
    (37, Scenario::TightThrough),
    (38, Scenario::Stereo(0.0)),
    (39, Scenario::Stereo(-10.0)),
    (40, Scenario::Stereo(-15.0)),
    (41, Scenario::StereoForeign),
    (42, Scenario::Ultrasonic(-15.0)),
    (43, Scenario::Ultrasonic(0.0)),
];

/// The rows whose names hold one of the patterns (all for no pattern).
pub fn rows(patterns: &[String]) -> Vec<Row> {
    ROWS.iter()
        .map(|&(number, scenario)| Row { number, scenario })
        .filter(|row| patterns.is_empty() || patterns.iter().any(|pattern| row.scenario.matches(pattern)))
        .collect()
}

impl Scenario {
    /// A short name.
    pub fn name(self) -> String {
        match self {
            Self::Leak(db) => format!("leak {db:+}"),
            Self::Tight => "tight".to_owned(),
            Self::Two => "two leaks".to_owned(),
            Self::Pulsed(db) => format!("pulsed {db:+}"),
            Self::ForeignTight => "tight, foreign hiss".to_owned(),
            Self::ForeignTightPulsed => "tight, foreign hiss, with pulsed".to_owned(),
            Self::LeakForeignPulsed => "leak and foreign hiss, with pulsed".to_owned(),
            Self::WindTight => "tight, wind on the microphone".to_owned(),
            Self::Rig(0.0) => "rig hisses, alike everywhere".to_owned(),
            Self::Rig(db) => format!("rig hisses, ±{db} dB"),
            Self::AirPart(share) => format!("air on for {:.0} %", 100.0 * share),
            Self::ComesAndGoes => "hiss comes and goes, +5".to_owned(),
            Self::OtherRate(db) => format!("rates 8–192 kHz, {db:+}"),
            Self::SecondMicrophone(db) => format!("second microphone, {db:+}"),
            Self::QuietNamed => "one quiet clip, named for one opening, +6".to_owned(),
            Self::NotListenedAt => "leak not listened at, +12".to_owned(),
            Self::SharpEnd => "sharp end at 9 kHz, +15 to +25".to_owned(),
            Self::BlowByLeak => "usual blow-by and a valve leak".to_owned(),
            Self::BlowByTight => "usual blow-by, tight".to_owned(),
            Self::Bangs => "bangs overdrive, +0".to_owned(),
            Self::Raw(db) => format!("raw file, {db:+}"),
            Self::Through(chain, db) => format!("through {}, {db:+}", chain.name()),
            Self::TightThrough => "through any chain, tight".to_owned(),
            Self::Stereo(db) => format!("stereo phone, {db:+}"),
            Self::StereoForeign => "stereo phone, tight, foreign hiss".to_owned(),
            Self::Ultrasonic(db) => format!("96 kHz microphone, {db:+}"),
        }
    }

    /// A group of rows that belong together: `--rows plain` has all plain ones.
    pub fn family(self) -> &'static str {
        match self {
            Self::Leak(_) | Self::Tight | Self::Two | Self::Pulsed(_) => "plain",
            Self::Raw(_) | Self::Through(..) | Self::TightThrough => "chains",
            Self::Stereo(_) | Self::StereoForeign => "stereo",
            Self::Ultrasonic(_) => "ultrasonic",
            _ => "beyond",
        }
    }

    /// Whether it is asked for by a pattern: its family, or a part of its name.
    fn matches(self, pattern: &str) -> bool {
        self.family() == pattern || self.name().contains(pattern)
    }

    /// Codes of which one names what the clips went through; for clips that went through nothing, all that would be
    /// false. `None` where that is not asked.
    pub fn chain_codes(self) -> Option<Vec<&'static str>> {
        match self {
            Self::Through(chain, _) => Some(chain.codes().to_vec()),
            Self::Raw(_) => Some(Chain::ALL.iter().flat_map(|chain| chain.codes()).copied().collect()),
            _ => None,
        }
    }

    /// Whether its truth can be held against levels: one steady hiss, and nothing else.
    pub fn has_plain_levels(self) -> bool {
        self.family() == "plain"
    }

    /// Nothing in the clips can tell here what is true: one on/off pair cannot tell a foreign hiss from a leak, nor one
    /// cylinder the usual blow-by from a little more. Probabilities are not judged by such rows.
    pub fn is_undecidable(self) -> bool {
        matches!(self, Self::ForeignTight | Self::BlowByTight)
    }
}
