//! Before and after, for people and for other programs.

use serde::Serialize;

use super::error::ReportError;
use super::gauge::rounded;
use super::grid::{Side, grid};
use super::history::{CHANGE_DECIMALS, Job, change, day, loss, pretty};
use super::json::{Doubt, doubts};
use super::text::wrapped;
use crate::caveat::Fact;
use crate::history::{Basis, Comparison, ComparisonRow, CylinderCall, CylinderVisit, Direction};
use crate::words::Words;

/// The version of this format.
const FORMAT: u32 = 1;

/// A comparison as text: a table of the cylinders, a sentence for each, and what makes the two hard to compare.
#[must_use]
pub fn comparison_text(found: &Comparison, words: &Words) -> String {
    let title = [
        ("engine", Fact::Text(found.after.engine.clone())),
        ("before", Fact::Text(day(&found.before, words))),
        ("after", Fact::Text(day(&found.after, words))),
    ];
    let head = ["history-cylinder", "compare-before", "compare-after", "history-change", "compare-heard"];
    let mut rows = vec![head.map(|name| words.say(name, &[])).to_vec()];
    for row in &found.rows {
        rows.push(vec![
            row.cylinder.to_string(),
            loss(row.before.as_ref(), words),
            loss(row.after.as_ref(), words),
            row.change.map_or_else(String::new, |found| change(found, words)),
            heard_both(row, words),
        ]);
    }
    let sides = [Side::Left, Side::Right, Side::Right, Side::Right, Side::Left];
    let mut out = format!("{}\n\n{}\n", words.say("compare-title", &title), grid(&rows, &sides));
    let line = |text: &str| format!("{}\n", wrapped(text, "", "  "));
    for row in &found.rows {
        out.push_str(&line(&sentence(row, words)));
    }
    for row in &found.rows {
        for (visit, of) in [(&found.before, &row.before), (&found.after, &row.after)] {
            if let Some(of) = of.as_ref().filter(|of| of.found.is_some()) {
                out.push_str(&line(&opened(day(visit, words), of, words)));
            }
        }
    }
    for caveat in &found.caveats {
        let (what, remedy) = words.caveat(caveat);
        out.push_str(&line(&format!("{what} {remedy}")));
    }
    out.replace('\u{a0}', " ").replace('\u{2212}', "-")
}

fn heard_of(row: Option<&CylinderVisit>) -> Option<&CylinderCall> {
    row.and_then(|row| row.heard.as_ref())
}

/// What was heard, then and now; a dash where that is not known.
fn heard_both(row: &ComparisonRow, words: &Words) -> String {
    let phrase = |heard: Option<&CylinderCall>| {
        heard.map_or_else(|| "–".to_owned(), |heard| words.call_at(heard.call.name(), heard.found_at()))
    };
    match (heard_of(row.before.as_ref()), heard_of(row.after.as_ref())) {
        (None, None) => String::new(),
        (before, after) => format!("{} → {}", phrase(before), phrase(after)),
    }
}

/// What became of one cylinder.
pub(super) fn sentence(row: &ComparisonRow, words: &Words) -> String {
    let who = Fact::Text(words.cylinder(Some(row.cylinder)));
    let Some(change) = row.change else {
        return words.say("compare-not-both", &[("who", who)]);
    };
    let number = |value: f64| Fact::Number { value, decimals: CHANGE_DECIMALS };
    let (low, high) = (change.points.low.abs(), change.points.high.abs());
    let facts = [
        ("who", who),
        ("points", number(change.points.value.abs())),
        ("low", number(low.min(high))),
        ("high", number(low.max(high))),
        ("within", number(low.max(high))),
    ];
    let said = words.say(&format!("compare-{}", change.direction().name()), &facts);
    match change.basis {
        Basis::Own => said,
        Basis::Reading => format!("{said} {}", words.say("compare-basis-reading", &[])),
    }
}

/// What was found in a cylinder, beside what had been said of it.
fn opened(day: String, row: &CylinderVisit, words: &Words) -> String {
    let paths: Vec<String> = row.found.iter().flatten().map(|path| words.found_path(*path)).collect();
    let said =
        row.heard.as_ref().map_or_else(|| "–".to_owned(), |heard| words.call_at(heard.call.name(), heard.found_at()));
    let facts = [
        ("who", Fact::Text(words.cylinder(Some(row.cylinder)))),
        ("day", Fact::Text(day)),
        ("found", Fact::Text(words.list(&paths))),
        ("said", Fact::Text(said)),
    ];
    words.say("compare-opened", &facts)
}

#[derive(Serialize)]
struct Whole<'a> {
    format: u32,
    tool: &'static str,
    before: Job<'a>,
    after: Job<'a>,
    changes: Vec<Changed>,
    caveats: Vec<Doubt>,
}

#[derive(Serialize)]
struct Changed {
    cylinder: u32,
    basis: Option<&'static str>,
    change_points: Option<f64>,
    change_points_low: Option<f64>,
    change_points_high: Option<f64>,
    direction: Option<&'static str>,
}

/// A comparison as one JSON object: both jobs as in the history's, and the changes later minus earlier.
///
/// # Errors
/// [`ReportError::Json`] where the encoder refuses, which these values give it no reason to.
pub fn comparison_json(found: &Comparison, words: &Words) -> Result<String, ReportError> {
    let changed = |row: &ComparisonRow| {
        let points = row.change.map(|change| change.points);
        Changed {
            cylinder: row.cylinder,
            basis: row.change.map(|change| change.basis.name()),
            change_points: points.and_then(|points| rounded(points.value, 2)),
            change_points_low: points.and_then(|points| rounded(points.low, 2)),
            change_points_high: points.and_then(|points| rounded(points.high, 2)),
            direction: row.change.map(|change| Direction::name(change.direction())),
        }
    };
    pretty(&Whole {
        format: FORMAT,
        tool: concat!("hissward ", env!("CARGO_PKG_VERSION")),
        before: Job::of(&found.before),
        after: Job::of(&found.after),
        changes: found.rows.iter().map(changed).collect(),
        caveats: doubts(&found.caveats, words),
    })
}
