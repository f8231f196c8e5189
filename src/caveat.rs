//! Everything that lowers trust in a result: a code and the facts behind it.
//!
//! A caveat holds no sentence. What was found and what to do about it is said by [`crate::words`],
//! in the user's language, from the code and the facts.

/// A number or a name that a caveat's sentence mentions.
#[derive(Debug, Clone, PartialEq)]
pub enum Fact {
    /// A number, and how many decimals of it are worth printing.
    Number {
        /// The value, in the unit that the sentence names.
        value: f64,
        /// Decimals to print.
        decimals: usize,
    },
    /// A name: a file, an opening, a device.
    Text(String),
}

/// How much a caveat weighs, from least to most. What follows from a caveat follows from this and from no sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Lowers trust; the clip counts.
    Doubt,
    /// The clip misleads: no place is named on the strength of it, and it is to be recorded again.
    Unfit,
    /// Nothing in the clip can be judged: it is left out of a ranking, and is to be recorded again.
    Empty,
}

/// What makes a clip unfit. Every other code only lowers trust.
const UNFIT: [(&str, Severity); 17] = [
    ("silent", Severity::Empty),
    ("digital-silence", Severity::Empty),
    ("too-short", Severity::Unfit),
    ("clipped", Severity::Unfit),
    ("whistle", Severity::Unfit),
    ("gain-step", Severity::Unfit),
    ("level-falling", Severity::Unfit),
    ("air-on-capsule", Severity::Unfit),
    ("suppressed", Severity::Unfit),
    ("suppression-shut-off", Severity::Unfit),
    ("same-recording", Severity::Unfit),
    ("risen-everywhere", Severity::Unfit),
    ("device-failed", Severity::Unfit),
    ("device-silent", Severity::Unfit),
    ("file-ended", Severity::Unfit),
    ("device-changed", Severity::Unfit),
    ("sound-gap", Severity::Unfit),
];

/// How much a code weighs.
///
/// ```
/// use hissward::caveat::{Severity, severity};
/// assert_eq!(severity("silent"), Severity::Empty);
/// assert_eq!(severity("dc"), Severity::Doubt);
/// ```
#[must_use]
pub fn severity(code: &str) -> Severity {
    UNFIT.iter().find(|(known, _)| *known == code).map_or(Severity::Doubt, |(_, severity)| *severity)
}

/// One reason to trust a result less.
#[derive(Debug, Clone, PartialEq)]
pub struct Caveat {
    /// Stable code, as written in JSON and the job's results; also the message's name in the catalogue.
    pub code: &'static str,
    /// What the sentence mentions, by name.
    pub facts: Vec<(&'static str, Fact)>,
}

impl Caveat {
    /// A caveat without facts.
    #[must_use]
    pub fn new(code: &'static str) -> Self {
        Self { code, facts: Vec::new() }
    }

    /// How much it weighs.
    #[must_use]
    pub fn severity(&self) -> Severity {
        severity(self.code)
    }

    /// The same with a number that its sentence mentions.
    #[must_use]
    pub fn number(mut self, name: &'static str, value: f64, decimals: usize) -> Self {
        self.facts.push((name, Fact::Number { value, decimals }));
        self
    }

    /// The same with a name that its sentence mentions.
    #[must_use]
    pub fn text(mut self, name: &'static str, value: impl Into<String>) -> Self {
        self.facts.push((name, Fact::Text(value.into())));
        self
    }
}
