//! The customer's page of a repair: what was found, what was done, what it is now.

use super::content::{known, section};
use super::document::{Block, Card, Certainty, Document, Figure, PaperWords};
use super::error::ReportError;
use super::letterhead::Letterhead;
use crate::caveat::Fact;
use crate::history::{Comparison, ComparisonRow, CylinderCall, CylinderVisit, Direction};
use crate::opening::{EscapePath, Opening};
use crate::plot::{self, BeforeAfterRow, PictureSize};
use crate::ranking::{Call, Ranking};
use crate::words::Words;

/// All that the page is made from.
#[derive(Clone, Copy)]
pub struct BeforeAfterInput<'a> {
    /// The shop's letterhead.
    pub letterhead: Option<&'a Letterhead>,
    /// The two jobs side by side.
    pub comparison: &'a Comparison,
    /// The rankings before and after, where clips were ranked: for the spectra.
    pub rankings: (&'a [Ranking], &'a [Ranking]),
    /// What was done, in the technician's words.
    pub done: Option<&'a str>,
    /// Whose engine it is.
    pub customer: Option<&'a str>,
    /// Who tested.
    pub tested_by: Option<&'a str>,
    /// The language.
    pub words: &'a Words,
}

/// The page as a document: one sheet, no appendix.
///
/// # Errors
/// [`ReportError::Picture`] where the picture cannot be laid out.
pub fn before_after_document(input: &BeforeAfterInput<'_>) -> Result<Document, ReportError> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let found = input.comparison;
    let owned = |text: Option<&str>| text.map(str::to_owned);
    let facts = known([
        (say("report-customer"), owned(input.customer)),
        (say("report-tested-by"), owned(input.tested_by)),
        (say("compare-day-before"), found.before.moment.as_ref().map(|moment| moment.day.clone())),
        (say("compare-day-after"), found.after.moment.as_ref().map(|moment| moment.day.clone())),
    ]);
    let done = input.done.map_or_else(|| say("compare-done-open"), str::to_owned);
    let figure = Block::Figure(Figure {
        wide: before_after_picture(input, false, PictureSize::Page)?,
        narrow: before_after_picture(input, false, PictureSize::Phone)?,
        caption: say("compare-figure"),
    });
    let reservations = found.caveats.iter().map(|caveat| {
        let (what, remedy) = words.caveat(caveat);
        (None, format!("{what} {remedy}"))
    });
    let reservations: Vec<(Option<String>, String)> = reservations.collect();
    let mut sections = vec![
        section(None, vec![Block::Facts(facts)]),
        section(Some(say("compare-done")), vec![Block::Paragraph(done)]),
        section(Some(say("compare-now")), vec![Block::Cards(cards(&found.rows, words)), figure]),
    ];
    if !reservations.is_empty() {
        sections.push(section(Some(say("report-caveats")), vec![Block::Points(reservations)]));
    }
    let signature = Block::Signature(vec![say("report-signature-tested"), say("report-signature-customer")]);
    sections.push(section(None, vec![Block::Paragraph(say("silent-not-proof")), signature]));
    let version = [("version", Fact::Text(env!("CARGO_PKG_VERSION").to_owned()))];
    Ok(Document {
        language: words.language().to_owned(),
        letterhead: input.letterhead.cloned(),
        title: say("compare-page-title"),
        subject: found.after.engine.clone(),
        sections,
        appendix: say("report-appendix"),
        colophon: words.say("report-colophon", &version),
        paper: PaperWords { page_of: say("report-page-of"), signs_missing: say("report-signs-missing") },
    })
}

/// Engine, both days, and what was done: for a picture that stands alone.
fn title(input: &BeforeAfterInput<'_>) -> Vec<String> {
    let found = input.comparison;
    let day = |visit: &crate::history::Visit| visit.moment.as_ref().map(|moment| moment.day.clone());
    let days: Vec<String> = [day(&found.before), day(&found.after)].into_iter().flatten().collect();
    let done = input.done.map(str::to_owned);
    let lines = [Some(found.after.engine.clone()), (!days.is_empty()).then(|| days.join(" → ")), done];
    lines.into_iter().flatten().collect()
}

/// The picture of both: losses side by side, calls, and the hiss at the opening in question; titled where it is to stand
/// alone.
///
/// # Errors
/// [`ReportError::Picture`] where it cannot be laid out.
pub fn before_after_picture(
    input: &BeforeAfterInput<'_>,
    titled: bool,
    size: PictureSize,
) -> Result<plot::Picture, ReportError> {
    let words = input.words;
    let rows: Vec<BeforeAfterRow> = input.comparison.rows.iter().map(|row| picture_row(row, input)).collect();
    let title = if titled { title(input) } else { Vec::new() };
    Ok(plot::before_after(&title, &rows, words, size)?)
}

fn picture_row(row: &ComparisonRow, input: &BeforeAfterInput<'_>) -> BeforeAfterRow {
    let at = |visit: Option<&CylinderVisit>, rankings: &[Ranking]| plot::TimePoint {
        loss: visit.and_then(|visit| visit.gauge.as_ref()).map(|gauge| {
            let loss = gauge.own_loss_percent();
            (loss.value, loss.low, loss.high)
        }),
        called: heard(visit).map(|heard| called(heard, input.words)),
        leak: heard(visit).is_some_and(|heard| matches!(heard.call, Call::Located | Call::Shared))
            && !is_blow_by(visit),
        ranking: rankings.iter().find(|ranking| ranking.cylinder == Some(row.cylinder)).cloned(),
    };
    BeforeAfterRow {
        name: input.words.cylinder(Some(row.cylinder)),
        opening: in_question(row),
        before: at(row.before.as_ref(), input.rankings.0),
        after: at(row.after.as_ref(), input.rankings.1),
    }
}

/// The opening whose hiss is compared: where the leak was before, else where it is now.
fn in_question(row: &ComparisonRow) -> Option<Opening> {
    let found = |visit: Option<&CylinderVisit>| heard(visit).and_then(|heard| heard.found_at().first().cloned());
    found(row.before.as_ref()).or_else(|| found(row.after.as_ref()))
}

fn heard(visit: Option<&CylinderVisit>) -> Option<&CylinderCall> {
    visit.and_then(|visit| visit.heard.as_ref())
}

fn called(heard: &CylinderCall, words: &Words) -> String {
    words.call_at(heard.call.name(), heard.found_at())
}

/// Readings under this are good by common practice (`gauge/scales.toml`), and rings may then be heard: a sliding seal.
const GOOD_PERCENT: f64 = 10.0;

/// Rings heard at a good reading are no leak to speak of.
fn is_blow_by(visit: Option<&CylinderVisit>) -> bool {
    let good =
        visit.and_then(|visit| visit.gauge.as_ref()).is_some_and(|gauge| gauge.loss_percent.value < GOOD_PERCENT);
    let places = heard(visit).map(CylinderCall::found_at).unwrap_or_default();
    good && !places.is_empty() && places.iter().all(|opening| opening.path() == EscapePath::RingsOrBore)
}

/// The cards, what still leaks first, and of those what loses most.
fn cards(rows: &[ComparisonRow], words: &Words) -> Vec<Card> {
    let place = |card: &Card| match card.certainty {
        Certainty::Firm | Certainty::Several => 0,
        Certainty::Open => 1,
        Certainty::Nothing => 2,
    };
    let lost = |row: &ComparisonRow| {
        let gauge = row.after.as_ref().and_then(|visit| visit.gauge.as_ref());
        gauge.map_or(0.0, |gauge| gauge.own_loss_percent().value)
    };
    let mut all: Vec<(Card, f64)> = rows.iter().map(|row| (card(row, words), lost(row))).collect();
    all.sort_by(|(one, loss), (other, other_loss)| place(one).cmp(&place(other)).then(other_loss.total_cmp(loss)));
    all.into_iter().map(|(card, _)| card).collect()
}

fn card(row: &ComparisonRow, words: &Words) -> Card {
    let direction = row.change.map(crate::history::Change::direction);
    let action = match direction {
        Some(Direction::Less) => "compare-better",
        Some(Direction::More) => "compare-worse",
        Some(Direction::Same) => "compare-unchanged",
        None => "compare-unknown",
    };
    let loss = |visit: Option<&CylinderVisit>| {
        let gauge = visit.and_then(|visit| visit.gauge.as_ref());
        gauge.map_or_else(
            || words.say("report-not-read", &[]),
            |gauge| {
                let loss = gauge.own_loss_percent();
                let number = |value: f64| Fact::Text(words.printed(value, loss.decimals()));
                let interval = words.say("level-interval", &[("low", number(loss.low)), ("high", number(loss.high))]);
                format!("{} ({interval})", words.say("percent", &[("percent", number(loss.value))]))
            },
        )
    };
    let both = |name: &str, one: String, other: String| {
        words.say(name, &[("before", Fact::Text(one)), ("after", Fact::Text(other))])
    };
    let heard_or = |visit: Option<&CylinderVisit>| {
        heard(visit).map_or_else(|| words.say("report-not-listened", &[]), |heard| called(heard, words))
    };
    let now = heard(row.after.as_ref()).map(|heard| heard.call);
    Card {
        certainty: match now {
            _ if is_blow_by(row.after.as_ref()) => Certainty::Nothing,
            Some(Call::Located) if direction != Some(Direction::Less) => Certainty::Firm,
            Some(Call::Shared) if direction != Some(Direction::Less) => Certainty::Several,
            Some(Call::CannotTell) | None => Certainty::Open,
            _ => Certainty::Nothing,
        },
        title: words.cylinder(Some(row.cylinder)),
        action: words.say(action, &[]),
        loss: both("compare-loss-both", loss(row.before.as_ref()), loss(row.after.as_ref())),
        answer: both("compare-heard-both", heard_or(row.before.as_ref()), heard_or(row.after.as_ref())),
        lines: vec![super::compare::sentence(row, words)],
    }
}
