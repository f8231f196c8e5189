//! A ranking in the words of the screen.

use hissward::caveat::Fact;
use hissward::finding::{Findings, Part, Reader, text_of};
use hissward::guide::Verdict;
use hissward::job::JobRecord;
use hissward::pipeline::engine;
use hissward::ranking::{Call, Ranking};
use hissward::words::Words;

/// The doubt that pulsed air settles: its remedy says so.
const SETTLED_BY_PULSED_AIR: &str = "foreign-hiss-alike";

/// What the guide goes by.
pub fn verdict(record: &JobRecord, ranking: &Ranking, words: &Words) -> Verdict {
    let decides = ranking.call != Call::CannotTell;
    let in_doubt = ranking.caveats.iter().any(|caveat| caveat.code == SETTLED_BY_PULSED_AIR);
    // Where no opening stands out, pulsed air at one of them helps little.
    let top = ranking.openings.first().filter(|_| ranking.call != Call::NoneHeard);
    Verdict {
        decides,
        lines: result_lines(record, ranking, words),
        likeliest: top.map(|top| top.opening.clone()),
        proposes_pulsed: in_doubt || !decides,
    }
}

/// Two big words, then what the ranking says.
fn result_lines(record: &JobRecord, ranking: &Ranking, words: &Words) -> Vec<String> {
    let top = ranking.openings.first().map_or_else(String::new, |top| words.short_opening(&top.opening));
    let chance =
        ranking.openings.first().map_or_else(String::new, |top| format!("{:.0} %", 100.0 * top.probability.min(0.99)));
    let big = match ranking.call {
        Call::Located => [top, chance],
        Call::Shared => [top, words.say("call-shared", &[])],
        Call::NoneHeard => [words.say("guide-big-nothing", &[]), String::new()],
        Call::CannotTell => [words.say("guide-big-unsure", &[]), String::new()],
    };
    let mut lines = Vec::from(big);
    let chances = ranking.openings.iter().map(|one| (words.opening(&one.opening), one.probability));
    let chances = chances.chain([(words.say("elsewhere", &[]), ranking.elsewhere_probability)]);
    lines.push(
        chances.map(|(place, chance)| format!("{place} {}", words.percent(chance))).collect::<Vec<_>>().join(" · "),
    );
    lines.extend(finding_of(record, ranking, words));
    lines
}

/// What gauge and sound together mean, and what to do next. A contradiction in the readings is told in its place.
fn finding_of(record: &JobRecord, ranking: &Ranking, words: &Words) -> Vec<String> {
    let Some(cylinder) = ranking.cylinder else { return Vec::new() };
    let engine = match engine(record, std::slice::from_ref(ranking)) {
        Ok(engine) => engine,
        Err(error) => return vec![error.to_string()],
    };
    let findings = match Findings::of(&engine) {
        Ok(findings) => findings,
        Err(error) => return vec![error.to_string()],
    };
    let Some(finding) = findings.finding_of(cylinder) else { return Vec::new() };
    let text = text_of(finding, Reader::Technician, words);
    let next = text.parts.into_iter().filter(|(part, _)| *part == Part::Next).flat_map(|(_, steps)| steps);
    std::iter::once(text.headline).chain(next.zip(1..).map(|(step, number)| format!("{number}. {step}"))).collect()
}

/// The ranking with what is there so far, in a line.
pub fn so_far(ranking: &Ranking, words: &Words) -> String {
    let (place, probability) = match ranking.openings.first() {
        Some(top) if top.probability >= ranking.elsewhere_probability => (words.opening(&top.opening), top.probability),
        _ => (words.say("elsewhere", &[]), ranking.elsewhere_probability),
    };
    let facts = [("place", Fact::Text(place)), ("percent", Fact::Text(words.percent(probability)))];
    words.say("guide-so-far", &facts)
}
