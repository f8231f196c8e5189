//! What an error or a doubt may look like when it is told.

use std::sync::LazyLock;

use hissward::caveat::Caveat;
use hissward::words::Words;

/// The longest sentence told of an input: what stands in it from outside is to be cut.
const LONGEST: usize = 2_000;

/// Holds that an error is told in one readable piece.
pub fn told(error: &dyn std::error::Error) {
    let text = error.to_string();
    assert!(!text.is_empty() && text.len() <= LONGEST, "{} bytes: {text}", text.len());
}

/// What came of it, where it is no error; an error is held to be told well.
pub fn tell<T, E: std::error::Error>(outcome: Result<T, E>) -> Option<T> {
    outcome.map_err(|error| told(&error)).ok()
}

/// Holds that every doubt has its sentence and its remedy in every language.
pub fn worded(caveats: &[Caveat]) {
    static LANGUAGES: LazyLock<Vec<Words>> =
        LazyLock::new(|| Words::languages().iter().map(|language| Words::of(language).expect("a language")).collect());
    for caveat in caveats {
        for words in LANGUAGES.iter() {
            let (text, remedy) = words.caveat(caveat);
            assert!(!text.contains("NaN") && !text.is_empty() && !remedy.is_empty(), "{text} → {remedy}");
        }
    }
}
