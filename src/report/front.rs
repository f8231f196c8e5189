//! Page one: the whole answer, for who has two minutes.

use std::cmp::Ordering;

use super::content::{known, section};
use super::document::{Block, Card, Certainty, Figure, Section};
use super::error::ReportError;
use super::input::ReportInput;
use super::sentences;
use crate::caveat::Fact;
use crate::finding::{About, Finding, Loss, Part, Reader, Weight, over_as_read, text_of};
use crate::plot::{self, GlanceMark, GlanceRow, PictureSize};
use crate::ranking::Call;
use crate::words::Words;

/// The sections of page one.
///
/// # Errors
/// [`ReportError::Picture`] where a picture cannot be laid out.
pub(super) fn sections(input: &ReportInput<'_>) -> Result<Vec<Section>, ReportError> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let due = in_order(input);
    let cards: Vec<Card> = due.iter().filter_map(|finding| card(finding, input)).collect();
    let mut found: Vec<Block> = answer(input).map(Block::Answer).into_iter().collect();
    if !cards.is_empty() {
        found.push(Block::Cards(cards));
    }
    found.extend(picture(input)?);
    let mut last = vec![Block::Paragraph(say("silent-not-proof"))];
    if input.sounds.is_some_and(|sounds| !sounds.sounds.is_empty()) {
        last.push(Block::Paragraph(say("report-how-to-listen")));
    }
    last.push(Block::Signature(vec![say("report-signature-tested"), say("report-signature-customer")]));
    let mut next = steps(input, &due);
    // A single step is not counted.
    let next = if next.len() == 1 { Block::Paragraph(next.remove(0)) } else { Block::Steps(next) };
    Ok(vec![
        section(None, vec![facts(input)]),
        section(Some(say("section-found")), found),
        section(Some(say("section-next")), vec![next]),
        section(None, last),
    ])
}

fn facts(input: &ReportInput<'_>) -> Block {
    let head = input.head;
    let given = [
        ("report-date", &head.date),
        ("report-customer", &head.customer),
        ("report-tested-by", &head.tested_by),
        ("report-notes", &head.notes),
    ];
    Block::Facts(known(given.into_iter().map(|(name, value)| (input.words.say(name, &[]), value.clone()))))
}

/// How much a finding asks for: what asks for most comes first.
fn urgency(weight: Weight) -> u8 {
    match weight {
        Weight::Repair => 0,
        Weight::Repeat => 1,
        Weight::Watch => 2,
        Weight::Fine => 3,
    }
}

/// All findings, what needs doing first first: by what they ask for, then by the order of repair, then by loss.
pub(super) fn in_order<'a>(input: &ReportInput<'a>) -> Vec<&'a Finding> {
    let findings = input.findings;
    let repair = findings.in_order_of_repair();
    let place =
        |finding: &Finding| repair.iter().position(|other| std::ptr::eq(*other, finding)).unwrap_or(repair.len());
    let lost = |finding: &Finding| finding.loss.as_ref().map_or(0.0, |loss| loss.percent.value);
    let mut all: Vec<&Finding> = findings.engine.iter().chain(&findings.cylinders).collect();
    all.sort_by(|one, other| {
        let key = |finding: &Finding| (urgency(finding.weight), place(finding));
        // Where nothing is to be done the order is that of the engine.
        let by_loss = if one.weight == Weight::Fine { Ordering::Equal } else { lost(other).total_cmp(&lost(one)) };
        key(one).cmp(&key(other)).then(by_loss)
    });
    all
}

/// The engine in a sentence, and what holds of the whole test.
fn answer(input: &ReportInput<'_>) -> Option<String> {
    let words = input.words;
    let groups = [
        (Weight::Repair, "report-answer-repair"),
        (Weight::Repeat, "report-answer-repeat"),
        (Weight::Watch, "report-answer-watch"),
        (Weight::Fine, "report-answer-fine"),
    ];
    let said: Vec<String> = groups
        .iter()
        .filter_map(|(weight, name)| {
            let numbers: Vec<String> = input
                .findings
                .cylinders
                .iter()
                .filter(|finding| finding.weight == *weight)
                .filter_map(|finding| match finding.about {
                    About::Cylinder(cylinder) => Some(cylinder.to_string()),
                    About::Engine(_) => None,
                })
                .collect();
            let one = numbers.len() == 1;
            let list = [("list", Fact::Text(words.list(&numbers)))];
            let who = words.say(if one { "cylinder-one" } else { "cylinders-many" }, &list);
            let name = if one { format!("{name}.one") } else { (*name).to_owned() };
            (!numbers.is_empty()).then(|| words.say(&name, &[("cylinders", Fact::Text(who))]))
        })
        .collect();
    if said.is_empty() {
        return None;
    }
    let whole = input.findings.engine.iter().filter(|finding| finding.weight != Weight::Fine);
    let whole = whole.map(|finding| text_of(finding, Reader::Customer, words).headline);
    let sentence = format!("{}.", capitalised(&said.join("; ")));
    Some(std::iter::once(sentence).chain(whole).collect::<Vec<_>>().join(" "))
}

fn capitalised(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The answer for one cylinder.
fn card(finding: &Finding, input: &ReportInput<'_>) -> Option<Card> {
    let words = input.words;
    let About::Cylinder(cylinder) = finding.about else { return None };
    let text = text_of(finding, Reader::Customer, words);
    let title = words.cylinder(Some(cylinder));
    // Headlines name their cylinder, and here it stands over them.
    let answer = text.headline.strip_prefix(&format!("{title}: ")).unwrap_or(&text.headline);
    let sure = text.parts.iter().find(|(part, _)| *part == Part::Sure).map(|(_, sentences)| sentences.clone());
    let mut lines: Vec<String> = match finding.weight {
        // Where all is well the call needs no defence.
        Weight::Fine if finding.sound.as_ref().is_some_and(|sound| sound.call == Call::CannotTell) => {
            vec![words.say("report-card-fine-open", &[])]
        }
        Weight::Fine => Vec::new(),
        _ => sure.unwrap_or_default(),
    };
    // Nobody is to take the cylinder's own loss for the figure that the limit is meant for.
    if let Some(over) = finding.loss.as_ref().filter(|_| finding.judged).and_then(|loss| over_as_read(loss, words)) {
        lines.insert(0, over);
    }
    lines.truncate(2);
    Some(Card {
        certainty: certainty(finding),
        action: words.say(action(finding.weight), &[]),
        loss: loss_in_words(finding.loss.as_ref(), words),
        answer: capitalised(answer),
        title,
        lines,
    })
}

fn action(weight: Weight) -> &'static str {
    match weight {
        Weight::Repair => "report-action-repair",
        Weight::Repeat => "report-action-repeat",
        Weight::Watch => "report-action-watch",
        Weight::Fine => "report-action-fine",
    }
}

/// Only a leak that was found and asks for something speaks firmly: a healthy engine's hiss does not.
fn certainty(finding: &Finding) -> Certainty {
    match finding.sound.as_ref().map(|sound| sound.call) {
        _ if finding.weight == Weight::Fine => Certainty::Nothing,
        Some(Call::Located) => Certainty::Firm,
        Some(Call::Shared) => Certainty::Several,
        Some(Call::NoneHeard) => Certainty::Nothing,
        Some(Call::CannotTell) | None => Certainty::Open,
    }
}

/// A loss with its interval, in a few words.
#[must_use]
pub fn loss_in_words(loss: Option<&Loss>, words: &Words) -> String {
    let Some(loss) = loss else { return words.say("report-card-unread", &[]) };
    let number = |value: f64| Fact::Text(words.printed(value, loss.percent.decimals()));
    let facts =
        [("loss", number(loss.percent.value)), ("low", number(loss.percent.low)), ("high", number(loss.percent.high))];
    words.say("report-card-loss", &facts)
}

/// What to do next, each once, with the cylinders it is for.
fn steps(input: &ReportInput<'_>, due: &[&Finding]) -> Vec<String> {
    let words = input.words;
    let mut said: Vec<(Vec<u32>, String)> = Vec::new();
    for finding in due.iter().filter(|finding| finding.weight != Weight::Fine) {
        if only_gathers(finding, due) {
            continue;
        }
        let text = text_of(finding, Reader::Customer, words);
        for step in text.parts.into_iter().filter(|(part, _)| *part == Part::Next).flat_map(|(_, steps)| steps) {
            let cylinder = match finding.about {
                About::Cylinder(cylinder) => Some(cylinder),
                About::Engine(_) => None,
            };
            // A step that names its cylinder needs no other to name it.
            let named = |number: &u32| step.to_lowercase().contains(&words.cylinder(Some(*number)).to_lowercase());
            let cylinder = cylinder.filter(|number| !named(number));
            match said.iter_mut().find(|(_, other)| *other == step) {
                Some((cylinders, _)) => cylinders.extend(cylinder),
                None => said.push((cylinder.into_iter().collect(), step)),
            }
        }
    }
    if said.is_empty() {
        return vec![words.say("report-nothing-to-do", &[])];
    }
    let recordings = next_recordings(input, due);
    said.into_iter().map(|(cylinders, step)| led(cylinders, step, words)).chain(recordings).collect()
}

/// The recording or reading that the ranking asks for, where a cylinder cannot be judged without it.
fn next_recordings(input: &ReportInput<'_>, due: &[&Finding]) -> Vec<String> {
    let words = input.words;
    let of =
        |finding: &&Finding| {
            let About::Cylinder(cylinder) = finding.about else { return None };
            let row = input.engine.rows.iter().find(|row| row.cylinder == cylinder)?;
            let next = row.ranking.as_ref()?.next.as_ref().filter(|_| finding.weight != Weight::Fine)?;
            let step = Fact::Text(sentences::next_in_words(next, words));
            Some(words.say(
                "report-next-recording",
                &[("subject", Fact::Text(words.cylinder(Some(cylinder)))), ("step", step)],
            ))
        };
    due.iter().filter_map(of).collect()
}

/// A step behind the cylinders it is for.
fn led(mut cylinders: Vec<u32>, step: String, words: &Words) -> String {
    cylinders.sort_unstable();
    cylinders.dedup();
    let numbers: Vec<String> = cylinders.iter().map(u32::to_string).collect();
    match &cylinders[..] {
        [] => step,
        [one] => format!("{}: {step}", words.cylinder(Some(*one))),
        _ => {
            let list = [("list", Fact::Text(words.list(&numbers)))];
            format!("{}: {step}", capitalised(&words.say("cylinders-many", &list)))
        }
    }
}

/// Whether a finding about the engine asks for nothing that the cylinders it names do not ask for themselves.
fn only_gathers(finding: &Finding, due: &[&Finding]) -> bool {
    let About::Engine(cylinders) = &finding.about else { return false };
    let asks_itself = |cylinder: &u32| {
        let own = due.iter().find(|other| other.about == About::Cylinder(*cylinder));
        own.is_some_and(|own| own.weight != Weight::Fine && finding.next.iter().all(|step| own.next.contains(step)))
    };
    finding.next.is_empty() || !cylinders.is_empty() && cylinders.iter().all(asks_itself)
}

/// Every cylinder's loss, and where the air goes, at a glance.
fn picture(input: &ReportInput<'_>) -> Result<Option<Block>, ReportError> {
    let words = input.words;
    let rows: Vec<GlanceRow> =
        input.findings.cylinders.iter().filter_map(|finding| glance_row(finding, words)).collect();
    if rows.iter().all(|row| row.loss.is_none()) {
        return Ok(None);
    }
    Ok(Some(Block::Figure(Figure {
        wide: plot::glance(&rows, words, PictureSize::Page)?,
        narrow: plot::glance(&rows, words, PictureSize::Phone)?,
        caption: words.say("report-glance", &[]),
    })))
}

fn glance_row(finding: &Finding, words: &Words) -> Option<GlanceRow> {
    let About::Cylinder(cylinder) = finding.about else { return None };
    let sound = finding.sound.as_ref();
    let mark = match sound.map(|sound| sound.call) {
        Some(Call::Located | Call::Shared) if finding.weight != Weight::Fine => GlanceMark::Leak,
        Some(Call::Located | Call::Shared) => GlanceMark::Normal,
        Some(Call::CannotTell) => GlanceMark::NotSettled,
        Some(_) => GlanceMark::Nothing,
        None => GlanceMark::Unheard,
    };
    let places = sound.filter(|_| mark == GlanceMark::Leak).map(|sound| {
        words.list(&sound.openings.iter().map(|opening| words.short_opening(opening)).collect::<Vec<_>>())
    });
    Some(GlanceRow {
        name: words.cylinder(Some(cylinder)),
        loss: finding.loss.as_ref().map(|loss| (loss.percent.value, loss.percent.low, loss.percent.high)),
        place: places,
        mark,
    })
}
