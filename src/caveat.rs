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
