//! Rankings for a terminal and for programs.

use hissward::report::{self, TextStyle};
use hissward::words::Words;

use crate::cases;

#[test]
fn look() {
    for language in ["en", "de"] {
        let words = Words::of(language).expect("a language there is");
        let rankings = [cases::located(), cases::shared(), cases::tight(), cases::undecided(), cases::keyed(), cases::eight()];
        println!("{}", report::text(&rankings, &words, TextStyle::Plain));
    }
}
