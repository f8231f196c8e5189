//! What the report of a job says: values in, a [`Document`] out.

use super::document::{Block, Cell, Certainty, Document, Row, Section, Table};
use super::error::ReportError;
use super::sentences;
use crate::caveat::Fact;
use crate::plot::{self, PictureSize};
use crate::ranking::{Call, HissReading, Member, OpeningResult, Ranking};
use crate::words::Words;

/// The cautions, in the order in which they matter; each is a message of the catalogue.
const CAUTIONS: [&str; 7] = [
    "caution-maker",
    "caution-crank",
    "caution-face",
    "caution-pressure",
    "caution-hot",
    "caution-fuel",
    "caution-qualified",
];

/// What the report's head tells: as the job has it, nothing invented. What is `None` is left out.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ReportHead {
    /// The engine, in the user's words.
    pub engine: String,
    /// The day of the test, as it is to be printed.
    pub date: Option<String>,
    /// Who tested.
    pub tested_by: Option<String>,
    /// The user's notes.
    pub notes: Option<String>,
}

/// All that a report is made from.
#[derive(Clone, Copy)]
pub struct ReportInput<'a> {
    /// The head.
    pub head: &'a ReportHead,
    /// The rankings, by cylinder.
    pub rankings: &'a [Ranking],
    /// The language.
    pub words: &'a Words,
}

/// The report as a document: head, findings, pictures, figures, caveats, limits, cautions.
///
/// # Errors
/// [`ReportError::Picture`] where a picture cannot be laid out.
pub fn document(input: &ReportInput<'_>) -> Result<Document, ReportError> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let version = [("version", Fact::Text(env!("CARGO_PKG_VERSION").to_owned()))];
    let section = |name: &str, blocks: Vec<Block>| Section { title: Some(say(name)), blocks };
    let findings = input.rankings.iter().map(|ranking| finding(ranking, words)).collect();
    let points = |names: &[&str]| Block::Points(names.iter().map(|name| (None, say(name))).collect());
    let mut sections = vec![
        Section { title: None, blocks: vec![facts(input)] },
        section("report-findings", findings),
        section("report-comparison", figures(input)?),
        section("report-levels", input.rankings.iter().map(|ranking| levels(ranking, words)).collect()),
    ];
    let caveats = caveats(input);
    if !caveats.is_empty() {
        sections.push(section("report-caveats", vec![Block::Points(caveats)]));
    }
    sections.push(section("report-limits", vec![points(&["limit-severity", "limit-proof", "limit-places"])]));
    sections.push(section("report-cautions", vec![points(&CAUTIONS)]));
    Ok(Document {
        language: words.language().to_owned(),
        title: say("report-title"),
        subject: input.head.engine.clone(),
        sections,
        colophon: words.say("report-colophon", &version),
    })
}

fn facts(input: &ReportInput<'_>) -> Block {
    let head = input.head;
    let given = [("report-date", &head.date), ("report-tested-by", &head.tested_by), ("report-notes", &head.notes)];
    let known = given.into_iter().filter_map(|(name, value)| Some((input.words.say(name, &[]), value.clone()?)));
    Block::Facts(known.filter(|(_, value)| !value.trim().is_empty()).collect())
}

/// The answer for one cylinder, for a layman.
fn finding(ranking: &Ranking, words: &Words) -> Block {
    let (certainty, name) = match ranking.call {
        Call::Located => (Certainty::Firm, "report-located"),
        Call::Shared => (Certainty::Several, "report-shared"),
        Call::NoneHeard => (Certainty::Nothing, "report-none-heard"),
        Call::CannotTell => (Certainty::Open, "report-cannot-tell"),
    };
    let call = words.say(&format!("call-{}", ranking.call.name()), &[]);
    let title = [("subject", Fact::Text(words.cylinder(ranking.cylinder))), ("call", Fact::Text(call))];
    let mut said = vec![words.say(name, &answer_facts(ranking, words))];
    said.extend(sentences::would_be_heard(ranking, words));
    said.extend(sentences::answer_set(ranking, words).filter(|_| ranking.call == Call::CannotTell));
    said.extend(sentences::spill(ranking, words));
    said.extend(sentences::next_step(ranking, words));
    Block::Finding { certainty, title: words.say("report-finding-title", &title), sentences: said }
}

fn answer_facts(ranking: &Ranking, words: &Words) -> Vec<(&'static str, Fact)> {
    let openings = || {
        ranking.answer_set.iter().filter_map(|member| match member {
            Member::Opening(opening) => Some(opening),
            Member::Elsewhere => None,
        })
    };
    let names: Vec<String> = openings().map(|opening| words.opening(opening)).collect();
    let paths: Vec<String> = openings().map(|opening| words.path(opening)).collect();
    let first = ranking.openings.first().map_or(0.0, |first| first.probability);
    vec![
        ("places", Fact::Text(words.list(&names))),
        ("paths", Fact::Text(words.list(&paths))),
        ("percent", Fact::Text(words.percent(first))),
    ]
}

/// A picture for each cylinder: one stays on its page, and all have the same axes.
fn figures(input: &ReportInput<'_>) -> Result<Vec<Block>, ReportError> {
    let words = input.words;
    let wide = plot::comparison_of_each(input.rankings, words, PictureSize::Page)?;
    let narrow = plot::comparison_of_each(input.rankings, words, PictureSize::Phone)?;
    let figure = |((ranking, wide), narrow): ((&Ranking, _), _)| {
        let facts = [("subject", Fact::Text(words.cylinder(ranking.cylinder)))];
        Block::Figure { wide, narrow, caption: words.say("report-figure", &facts) }
    };
    Ok(input.rankings.iter().zip(wide).zip(narrow).map(figure).collect())
}

/// The figures of one cylinder.
fn levels(ranking: &Ranking, words: &Words) -> Block {
    let say = |name: &str| words.say(name, &[]);
    let subject = [("subject", Fact::Text(words.cylinder(ranking.cylinder)))];
    let head = ["report-column-opening", "report-column-probability", "report-column-hiss", "report-column-above"];
    let mut rows: Vec<Row> = ranking.openings.iter().map(|result| level_row(ranking, result, words)).collect();
    rows.push(Row {
        strong: ranking.answer_set.contains(&Member::Elsewhere),
        cells: vec![
            Cell { text: say("elsewhere"), under: None },
            Cell { text: words.percent(ranking.elsewhere_probability), under: None },
            Cell::default(),
            Cell::default(),
        ],
    });
    Block::Table(Table { caption: words.say("report-levels-of", &subject), head: head.map(say).to_vec(), rows })
}

fn level_row(ranking: &Ranking, result: &OpeningResult, words: &Words) -> Row {
    let printed = |db: f64| Fact::Text(words.printed(db, 1));
    let (level, under) = match result.hiss {
        HissReading::Heard { level, low, high } => {
            let interval = [("low", printed(low.0)), ("high", printed(high.0))];
            (words.printed(level.0, 1), words.say("level-interval", &interval))
        }
        HissReading::Bound => {
            (words.say("level-at-most", &[("level", printed(result.at_most.0))]), words.say("level-not-heard", &[]))
        }
    };
    let under = if result.spill { format!("{under}, {}", words.say("level-spill", &[])) } else { under };
    let opening = words.opening(&result.opening);
    let path = words.path(&result.opening);
    Row {
        strong: ranking.answer_set.contains(&Member::Opening(result.opening.clone())),
        cells: vec![
            Cell { under: (path != opening).then_some(path), text: opening },
            Cell { text: words.percent(result.probability), under: None },
            Cell { text: level, under: Some(under) },
            Cell { text: sentences::above_quiet(result, words), under: None },
        ],
    }
}

/// Every caveat: where it holds, what was found, what to do.
fn caveats(input: &ReportInput<'_>) -> Vec<(Option<String>, String)> {
    let mut points = Vec::new();
    for ranking in input.rankings {
        let subject = input.words.cylinder(ranking.cylinder);
        for (place, found, remedy) in sentences::caveats(ranking, input.words) {
            let lead = place.map_or_else(|| subject.clone(), |place| format!("{subject}, {place}"));
            let facts = [("found", Fact::Text(found)), ("remedy", Fact::Text(remedy))];
            points.push((Some(lead), input.words.say("report-caveat", &facts)));
        }
    }
    points
}
