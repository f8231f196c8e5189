//! All cylinders side by side: a table, and what it means in the customer's words.

use super::document::{Block, Cell, Row, Table};
use super::front;
use super::input::ReportInput;
use crate::caveat::Fact;
use crate::finding::{About, Finding, Loss, Part, Reader, Weight, heard_at, text_of};
use crate::ranking::Call;
use crate::words::Words;

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

/// The findings that ask for something, what needs doing first first; where nothing does, all of them.
fn telling<'a>(input: &ReportInput<'a>) -> Vec<&'a Finding> {
    let all = front::in_order(input);
    let due: Vec<&Finding> = all.iter().copied().filter(|finding| finding.weight != Weight::Fine).collect();
    if due.is_empty() { all } else { due }
}

/// What the findings do not say, and what holds of every test of this kind.
pub(super) fn limits(input: &ReportInput<'_>) -> Vec<(Option<String>, String)> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let silent = parts(&telling(input), Part::Silent, words);
    let silent = if silent.is_empty() { vec![say("silent-loudness"), say("silent-not-proof")] } else { silent };
    silent.into_iter().chain([say("limit-places")]).map(|text| (None, text)).collect()
}

/// What the findings mean, in the customer's words: what was found, how much is lost and what that is called, and what
/// follows elsewhere in the engine.
pub(super) fn meaning(input: &ReportInput<'_>) -> Vec<(Option<String>, String)> {
    let words = input.words;
    let told = telling(input);
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
        let mut said = [of(Part::Found, 0), of(Part::Follows, 0)].concat();
        if finding.weight == Weight::Fine {
            // Where all is well the table's figures say the rest.
            said.truncate(1);
        }
        let said = said.join(" ");
        // A text that begins with its cylinder is not led by it again.
        let lead = lead.filter(|name| !said.starts_with(name.as_str()));
        if !said.is_empty() {
            points.push((lead, said));
        }
    }
    points
}

/// Every cylinder: how much is lost, what that is called, what the sound says.
pub(super) fn cylinders(input: &ReportInput<'_>) -> Option<Block> {
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
    let band = words.say(&format!("band-{}.short", judgement.scale), &[]);
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
