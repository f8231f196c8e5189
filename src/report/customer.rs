//! The first part of a report, for the engine's owner: what was found, how sure it is, what follows, what to do.

use super::content::section;
use super::document::{Block, Cell, Certainty, Figure, Row, Section, Table};
use super::error::ReportError;
use super::input::ReportInput;
use crate::caveat::Fact;
use crate::finding::{About, Finding, Loss, Part, Reader, Weight, heard_at, text_of};
use crate::plot::{self, PictureSize};
use crate::ranking::{Call, Ranking};
use crate::words::Words;

/// The sections for the customer.
///
/// # Errors
/// [`ReportError::Picture`] where a picture cannot be laid out.
pub(super) fn sections(input: &ReportInput<'_>) -> Result<Vec<Section>, ReportError> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let told = told(input);
    let mut found: Vec<Block> = told.iter().map(|finding| answer(finding, words)).collect();
    found.extend(sound_cylinders(input).map(Block::Paragraph));
    found.extend(picture(input)?);
    found.extend(cylinders(input));
    let silent = parts(&told, Part::Silent, words);
    let silent = if silent.is_empty() { vec![say("silent-loudness"), say("silent-not-proof")] } else { silent };
    let limits = silent.into_iter().chain([say("limit-places")]).map(|text| (None, text)).collect();
    // A finding that only gathers others points to their steps.
    let with_steps: Vec<&Finding> =
        told.iter().copied().filter(|finding| finding.weight == Weight::Fine || !finding.next.is_empty()).collect();
    let steps = parts(&with_steps, Part::Next, words);
    let steps = if steps.is_empty() { vec![say("report-nothing-to-do")] } else { steps };
    let cautions = input.findings.cautions.iter().map(|name| (None, say(&format!("mind-{name}")))).collect();
    let means = meaning(&told, words);
    let means = if means.is_empty() { Vec::new() } else { vec![Block::Points(means)] };
    Ok(vec![
        section(Some(say("section-found")), found),
        section(Some(say("section-means")), means),
        section(Some(say("section-silent")), vec![Block::Points(limits)]),
        section(Some(say("section-next")), vec![Block::Steps(steps)]),
        section(Some(say("report-cautions")), vec![Block::Points(cautions)]),
    ]
    .into_iter()
    .filter(|section| !section.blocks.is_empty())
    .collect())
}

/// The findings that are told in full: what asks for something, first to last; what is only good news where there is
/// nothing else.
fn told<'a>(input: &ReportInput<'a>) -> Vec<&'a Finding> {
    let all = || input.findings.engine.iter().chain(&input.findings.cylinders);
    let mut told: Vec<&Finding> = input.findings.in_order_of_repair();
    let others: Vec<&Finding> = all()
        .filter(|finding| finding.weight != Weight::Fine && !told.iter().any(|other| std::ptr::eq(*other, *finding)))
        .collect();
    // A leaking rig is named once, and not again for every cylinder.
    told.extend(others.into_iter().filter(|finding| finding.rank != Some(crate::finding::Rank::Rig)));
    if told.is_empty() {
        told.extend(all().filter(|finding| matches!(finding.about, About::Engine(_))));
    }
    if told.is_empty() {
        told.extend(all());
    }
    told
}

/// One finding in its headline and two sentences: what was found, and how sure that is.
fn answer(finding: &Finding, words: &Words) -> Block {
    let text = text_of(finding, Reader::Customer, words);
    let first = |wanted: Part| {
        text.parts.iter().find(|(part, _)| *part == wanted).and_then(|(_, sentences)| sentences.first()).cloned()
    };
    let certainty = match finding.sound.as_ref().map(|sound| sound.call) {
        Some(Call::Located) => Certainty::Firm,
        Some(Call::Shared) => Certainty::Several,
        Some(Call::NoneHeard) => Certainty::Nothing,
        Some(Call::CannotTell) => Certainty::Open,
        None if finding.weight == Weight::Fine || matches!(finding.about, About::Engine(_)) => Certainty::Nothing,
        None => Certainty::Open,
    };
    let sentences = [first(Part::Found), first(Part::Sure)].into_iter().flatten().collect();
    Block::Finding { certainty, title: text.headline, sentences }
}

/// The cylinders with which nothing is wrong, in a line.
fn sound_cylinders(input: &ReportInput<'_>) -> Option<String> {
    let told = told(input);
    let fine: Vec<String> = input
        .findings
        .cylinders
        .iter()
        .filter(|finding| finding.weight == Weight::Fine && !told.iter().any(|other| std::ptr::eq(*other, *finding)))
        .filter_map(|finding| match finding.about {
            About::Cylinder(cylinder) => Some(input.words.cylinder(Some(cylinder))),
            About::Engine(_) => None,
        })
        .collect();
    let facts = [
        ("cylinders", Fact::Text(input.words.list(&fine))),
        ("count", Fact::Number { value: fine.len() as f64, decimals: 0 }),
    ];
    let name = if fine.len() == 1 { "report-holds-well.one" } else { "report-holds-well" };
    (!fine.is_empty()).then(|| input.words.say(name, &facts))
}

/// Sentences of one part of all findings, each said once.
fn parts(told: &[&Finding], wanted: Part, words: &Words) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for finding in told {
        let text = text_of(finding, Reader::Customer, words);
        for sentence in text.parts.into_iter().filter(|(part, _)| *part == wanted).flat_map(|(_, list)| list) {
            if !said.contains(&sentence) {
                said.push(sentence);
            }
        }
    }
    said
}

/// What the answers left out: how much is lost and what that is called, what else makes it more or less sure, and
/// what follows elsewhere in the engine.
fn meaning(told: &[&Finding], words: &Words) -> Vec<(Option<String>, String)> {
    let mut points = Vec::new();
    for finding in told {
        let lead = match &finding.about {
            About::Cylinder(cylinder) => Some(words.cylinder(Some(*cylinder))),
            About::Engine(_) => None,
        };
        let text = text_of(finding, Reader::Customer, words);
        let of = |wanted: Part, skip: usize| {
            let list = text.parts.iter().find(|(part, _)| *part == wanted).map(|(_, list)| list.as_slice());
            list.unwrap_or_default().iter().skip(skip).cloned().collect::<Vec<_>>()
        };
        let said = [of(Part::Found, 1), of(Part::Sure, 1), of(Part::Follows, 0)].concat();
        if !said.is_empty() {
            points.push((lead, said.join(" ")));
        }
    }
    points
}

/// The overview of all cylinders that were listened at.
fn picture(input: &ReportInput<'_>) -> Result<Option<Block>, ReportError> {
    let rankings: Vec<Ranking> = input.engine.rows.iter().filter_map(|row| row.ranking.clone()).collect();
    if rankings.is_empty() {
        return Ok(None);
    }
    Ok(Some(Block::Figure(Figure {
        wide: plot::overview(&rankings, input.words, PictureSize::Page)?,
        narrow: plot::overview(&rankings, input.words, PictureSize::Phone)?,
        caption: input.words.say("report-overview", &[]),
    })))
}

/// Every cylinder: how much is lost, what that is called, what the sound says.
fn cylinders(input: &ReportInput<'_>) -> Option<Block> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let rows: Vec<Row> = input
        .findings
        .cylinders
        .iter()
        .filter_map(|finding| match finding.about {
            About::Cylinder(cylinder) => Some((cylinder, finding)),
            About::Engine(_) => None,
        })
        .map(|(cylinder, finding)| Row {
            strong: finding.weight == Weight::Repair,
            cells: vec![
                Cell::of(words.cylinder(Some(cylinder))),
                read_cell(finding.loss.as_ref(), words),
                judged_cell(finding, words),
                sound_cell(finding, words),
            ],
        })
        .collect();
    let head = ["report-column-cylinder", "report-column-loss", "report-column-called", "report-column-sound"];
    let table = Table { caption: say("report-cylinders"), head: head.map(say).to_vec(), figures: false, rows };
    (!table.rows.is_empty()).then_some(Block::Table(table))
}

/// The loss as read, which is what it is called by, and the cylinder's own beside it where the rig was taken off.
fn read_cell(loss: Option<&Loss>, words: &Words) -> Cell {
    let Some(loss) = loss else { return Cell::of(words.say("report-not-read", &[])) };
    if !loss.net {
        return loss_cell(Some(loss), words);
    }
    let shown = words.printed(loss.shown_percent.value, loss.shown_percent.decimals());
    let decimals = loss.percent.decimals();
    let number = |value: f64| Fact::Text(words.printed(value, decimals));
    let own = number(loss.percent.value);
    let interval =
        words.say("level-interval", &[("low", number(loss.percent.low)), ("high", number(loss.percent.high))]);
    Cell::with(
        words.say("percent", &[("percent", Fact::Text(shown))]),
        words.say("report-loss-beside", &[("percent", own), ("interval", Fact::Text(interval))]),
    )
}

/// A loss with its interval, and whether the rig was taken off.
pub(super) fn loss_cell(loss: Option<&Loss>, words: &Words) -> Cell {
    let Some(loss) = loss else { return Cell::of(words.say("report-not-read", &[])) };
    let decimals = loss.percent.decimals();
    let number = |value: f64| Fact::Text(words.printed(value, decimals));
    let interval = [("low", number(loss.percent.low)), ("high", number(loss.percent.high))];
    let interval = words.say("level-interval", &interval);
    let name = if loss.net { "report-loss-net" } else { "report-loss-gross" };
    Cell::with(
        words.say("percent", &[("percent", number(loss.percent.value))]),
        words.say(name, &[("interval", Fact::Text(interval))]),
    )
}

fn judged_cell(finding: &Finding, words: &Words) -> Cell {
    let Some(loss) = finding.loss.as_ref() else { return Cell::default() };
    if !finding.judged {
        return Cell::of(words.say("report-not-judged", &[]));
    }
    let judgement = &loss.judgement;
    let band = words.say(&format!("band-{}.short", judgement.band), &[]);
    let called = if judgement.at_the_limit {
        words.say("report-at-the-limit", &[])
    } else {
        words.say(&format!("verdict-{}", judgement.verdict.name()), &[])
    };
    Cell::with(called, words.say("report-by", &[("band", Fact::Text(band))]))
}

fn sound_cell(finding: &Finding, words: &Words) -> Cell {
    let Some(sound) = finding.sound.as_ref() else { return Cell::of(words.say("report-not-listened", &[])) };
    let call = words.say(&format!("call-{}", sound.call.name()), &[]);
    let places: Vec<String> = sound.openings.iter().map(|opening| heard_at(opening, words)).collect();
    let place = words.list(&places);
    match (sound.call, sound.probability) {
        (Call::Located, Some(probability)) => {
            let percent = [("place", Fact::Text(place)), ("percent", Fact::Text(words.percent(probability)))];
            Cell::with(call, words.say("report-likely", &percent))
        }
        (Call::Shared | Call::Located, _) => Cell::with(call, place),
        (Call::NoneHeard | Call::CannotTell, _) => Cell::of(call),
    }
}
