//! The report as a page.

use hissward::report::{self, ReportHead, ReportInput};
use hissward::words::Words;

use crate::cases;

fn page(head: &ReportHead, language: &str) -> String {
    let words = Words::of(language).expect("a language there is");
    let rankings = cases::boat();
    let input = ReportInput { head, rankings: &rankings, words: &words };
    report::html(&report::document(&input).expect("a document")).expect("a page")
}

fn boat_head() -> ReportHead {
    ReportHead {
        engine: "Workboat Tern, three-cylinder petrol engine".into(),
        date: Some("14 March 2026".into()),
        tested_by: Some("The yard at Sandhaven Pier".into()),
        notes: Some("Warm. Compressor running, slipway winch in use now and then.".into()),
    }
}

fn keep(name: &str, text: &str) {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("pages");
    std::fs::create_dir_all(&folder).expect("a folder for pages");
    std::fs::write(folder.join(name), text).expect("a page written");
}

#[test]
fn look() {
    for language in ["en", "de"] {
        keep(&format!("boat-{language}.html"), &page(&boat_head(), language));
    }
}
