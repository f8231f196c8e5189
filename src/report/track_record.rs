//! What was said against what was found, for people and for other programs.

use serde::Serialize;

use super::gauge::rounded;
use super::grid::{Side, grid};
use crate::caveat::Fact;
use crate::history::{OpenedCase, ProbabilityBin, Share, TrackRecord};
use crate::words::Words;

/// The record as text: by said probability, then what was located, missed, not told. Nothing where nothing was opened.
#[must_use]
pub fn track_record_text(record: &TrackRecord, words: &Words) -> String {
    if record.cases.is_empty() {
        return String::new();
    }
    let count = |value: usize| Fact::Number { value: value as f64, decimals: 0 };
    let title = words.say("found-title", &[("opened", count(record.cases.len()))]);
    let head = ["found-said", "found-opened", "found-right", "found-share"];
    let mut rows = vec![head.map(|name| words.say(name, &[])).to_vec()];
    for bin in &record.bins {
        let (from, to) = (100.0 * bin.from, 100.0 * bin.to);
        let span =
            [("from", Fact::Number { value: from, decimals: 0 }), ("to", Fact::Number { value: to, decimals: 0 })];
        rows.push(vec![
            words.say("found-span", &span),
            bin.share.of.to_string(),
            bin.share.right.to_string(),
            share_text(bin.share, words),
        ]);
    }
    let table = grid(&rows, &[Side::Right, Side::Right, Side::Right, Side::Left]);
    let facts = [
        ("right", count(record.located.right)),
        ("located", count(record.located.of)),
        ("missed", count(record.missed)),
        ("not_told", count(record.not_told)),
    ];
    let mut text = format!("{title}\n\n{table}\n{}\n", words.say("found-calls", &facts));
    if record.is_few() {
        text.push_str(&words.say("found-few", &[("opened", count(record.cases.len()))]));
        text.push('\n');
    }
    text.replace('\u{a0}', " ")
}

/// "75 % (30 to 95)"; nothing of none.
pub(super) fn share_text(share: Share, words: &Words) -> String {
    let whole = |value: f64| Fact::Number { value: 100.0 * value, decimals: 0 };
    let facts =
        share.value().map(|value| [("share", whole(value)), ("low", whole(share.low)), ("high", whole(share.high))]);
    facts.map_or_else(String::new, |facts| words.say("found-share-value", &facts))
}

/// The record in the JSON of a history.
#[derive(Serialize)]
pub(super) struct Said<'a> {
    opened: usize,
    few: bool,
    located: Counted,
    missed: usize,
    not_told: usize,
    by_probability: Vec<Bin>,
    cases: Vec<Case<'a>>,
}

#[derive(Serialize)]
struct Counted {
    right: usize,
    of: usize,
    share: Option<f64>,
    share_low: Option<f64>,
    share_high: Option<f64>,
}

#[derive(Serialize)]
struct Bin {
    from: f64,
    to: f64,
    said: Option<f64>,
    #[serde(flatten)]
    counted: Counted,
}

#[derive(Serialize)]
struct Case<'a> {
    job: &'a str,
    cylinder: u32,
    call: &'static str,
    said: Option<&'static str>,
    probability: Option<f64>,
    found: Vec<&'static str>,
    right: Option<bool>,
}

impl<'a> Said<'a> {
    pub(super) fn of(record: &'a TrackRecord) -> Self {
        Self {
            opened: record.cases.len(),
            few: record.is_few(),
            located: counted(record.located),
            missed: record.missed,
            not_told: record.not_told,
            by_probability: record.bins.iter().map(bin).collect(),
            cases: record.cases.iter().map(case).collect(),
        }
    }
}

fn counted(share: Share) -> Counted {
    let known = |value: f64| rounded(value, 4).filter(|_| share.of > 0);
    Counted {
        right: share.right,
        of: share.of,
        share: share.value().and_then(|value| rounded(value, 4)),
        share_low: known(share.low),
        share_high: known(share.high),
    }
}

fn bin(bin: &ProbabilityBin) -> Bin {
    Bin { from: bin.from, to: bin.to, said: bin.said.and_then(|said| rounded(said, 4)), counted: counted(bin.share) }
}

fn case(case: &OpenedCase) -> Case<'_> {
    Case {
        job: &case.job,
        cylinder: case.cylinder,
        call: case.call.name(),
        said: case.said.map(|(path, _)| path.name()),
        probability: case.said.and_then(|(_, probability)| rounded(probability, 4)),
        found: case.found.iter().map(|path| path.name()).collect(),
        right: case.is_right(),
    }
}
