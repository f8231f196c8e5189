//! A ranking as text for a terminal: at most 80 columns, plain, or with bold where that is asked for.

use super::sentences;
use crate::ranking::Ranking;
use crate::words::Words;

/// The widest line, in characters.
const COLUMNS: usize = 80;

/// The longest name of an opening in the table; over that it is said in short.
const LONGEST_NAME: usize = 24;

/// Whether a text may hold escape codes. The caller knows its stream, and `NO_COLOR`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TextStyle {
    /// Characters only.
    Plain,
    /// The answer in bold (ANSI). No colours: bold alone carries nothing that the words do not say.
    Bold,
}

/// The text of one or more rankings. The first line of each says the answer in plain words.
#[must_use]
pub fn text(rankings: &[Ranking], words: &Words, style: TextStyle) -> String {
    let parts: Vec<String> = rankings.iter().map(|ranking| one(ranking, words, style)).collect();
    // Blanks that do not break did their work in the wrapping; a terminal and its `grep` want plain ones.
    parts.join("\n").replace('\u{a0}', " ").replace('\u{2212}', "-")
}

/// The answer in one sentence, unwrapped: what the text's first line says.
#[must_use]
pub fn headline(ranking: &Ranking, words: &Words) -> String {
    sentences::answer(ranking, words)
}

fn one(ranking: &Ranking, words: &Words, style: TextStyle) -> String {
    let answer = wrapped(&sentences::answer(ranking, words), "", "  ");
    let mut out = match style {
        TextStyle::Plain => format!("{answer}\n"),
        TextStyle::Bold => format!("\u{1b}[1m{answer}\u{1b}[0m\n"),
    };
    if let Some(line) = sentences::would_be_heard(ranking, words) {
        paragraph(&mut out, &line);
    }
    out.push('\n');
    out.push_str(&table(ranking, words));
    let remarks =
        [sentences::answer_set(ranking, words), sentences::spill(ranking, words), sentences::beside(ranking, words)];
    if remarks.iter().any(Option::is_some) {
        out.push('\n');
    }
    for line in remarks.into_iter().flatten() {
        paragraph(&mut out, &line);
    }
    let caveats = sentences::caveats(ranking, words);
    if !caveats.is_empty() {
        out.push_str(&format!("\n  {}\n", words.say("rank-caveats", &[])));
    }
    for (place, found, remedy) in caveats {
        let found = place.map_or_else(|| found.clone(), |place| format!("{place}: {found}"));
        out.push_str(&wrapped(&found, "  - ", "    "));
        out.push('\n');
        out.push_str(&wrapped(&remedy, "    → ", "      "));
        out.push('\n');
    }
    if let Some(step) = sentences::next_step(ranking, words) {
        out.push('\n');
        paragraph(&mut out, &step);
    }
    out
}

fn paragraph(out: &mut String, line: &str) {
    out.push_str(&wrapped(line, "  ", "  "));
    out.push('\n');
}

/// Opening, probability, hiss level, above quiet; columns as wide as their texts.
fn table(ranking: &Ranking, words: &Words) -> String {
    let head = ["rank-column-opening", "rank-column-probability", "rank-column-hiss", "rank-column-above"];
    let mut rows = vec![head.map(|name| words.say(name, &[]))];
    for result in &ranking.openings {
        let name = words.opening(&result.opening);
        rows.push([
            if length(&name) > LONGEST_NAME { words.short_opening(&result.opening) } else { name },
            words.percent(result.probability),
            sentences::hiss(result, words),
            sentences::above_quiet(result, words),
        ]);
    }
    for (name, probability) in [("elsewhere", ranking.elsewhere_probability), ("tight", ranking.tight_probability)] {
        rows.push([words.say(name, &[]), words.percent(probability), String::new(), String::new()]);
    }
    let mut widths = [0, 1, 2, 3].map(|column| rows.iter().map(|row| length(&row[column])).max().unwrap_or(0));
    // Two blanks before each column; the opening's name gives way where the line would be too long.
    let others = widths[1..].iter().map(|width| width + 2).sum::<usize>();
    widths[0] = widths[0].min(COLUMNS.saturating_sub(others + 2));
    let mut out = String::new();
    for row in rows {
        let [opening, percent, hiss, above] = row;
        let opening = shortened(&opening, widths[0]);
        let line = format!(
            "  {}  {}  {}  {}",
            padded(&opening, widths[0], Side::Right),
            padded(&percent, widths[1], Side::Left),
            padded(&hiss, widths[2], Side::Left),
            padded(&above, widths[3], Side::Left)
        );
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

#[derive(Clone, Copy)]
enum Side {
    Left,
    Right,
}

fn padded(text: &str, width: usize, side: Side) -> String {
    let blanks = " ".repeat(width.saturating_sub(length(text)));
    match side {
        Side::Left => format!("{blanks}{text}"),
        Side::Right => format!("{text}{blanks}"),
    }
}

fn shortened(text: &str, width: usize) -> String {
    if length(text) <= width {
        return text.to_owned();
    }
    text.chars().take(width.saturating_sub(1)).chain(['…']).collect()
}

fn length(text: &str) -> usize {
    text.chars().count()
}

/// The text in lines of at most [`COLUMNS`] characters, the first after `first`, the others after `rest`.
pub(super) fn wrapped(text: &str, first: &str, rest: &str) -> String {
    let mut lines = Vec::new();
    let mut line = first.to_owned();
    let mut empty = true;
    for word in text.split([' ', '\n']).filter(|word| !word.is_empty()) {
        if !empty && length(&line) + 1 + length(word) > COLUMNS {
            lines.push(std::mem::replace(&mut line, rest.to_owned()));
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    lines.push(line);
    lines.join("\n")
}
