//! A ranking in the words of the screen.

use hissward::caveat::Fact;
use hissward::finding::{Findings, Part, Reader, text_of};
use hissward::guide::{GaugeUnit, Guide, NextClip, RankedResult, ShownReading, Step};
use hissward::job::JobRecord;
use hissward::pipeline::engine;
use hissward::ranking::{Call, Next, NextStep, Ranking};
use hissward::report::next_in_words;
use hissward::units::{GaugePressure, TypedReading};
use hissward::words::Words;

/// A rig that loses more is to be mended first, percent. Common practice, no source.
const RIG_LOSES_MUCH: f64 = 10.0;
/// So much lost is no valve's wear, percent (common practice, no source).
const NEARLY_ALL: f64 = 60.0;
/// So many points over the other cylinders' middle stand out.
const FAR_MORE: f64 = 30.0;

/// A reading as it is shown before it is kept.
pub fn shown_reading(
    guide: &Guide,
    step: &Step,
    text: &str,
    typed: &TypedReading,
    loss: f64,
    words: &Words,
) -> ShownReading {
    let percent = [("loss", Fact::Text(words.printed(loss, 0)))];
    let typed = match typed {
        TypedReading::Loss { .. } => words.say("guide-reading-loss", &percent),
        TypedReading::Pressures { supply, held } => {
            let unit = GaugeUnit::of(text).unwrap_or(GaugeUnit::Psi);
            let pressure = |pressure: GaugePressure| Fact::Text(unit.shown(pressure, words));
            words.say("guide-reading-pressures", &[("supply", pressure(*supply)), ("held", pressure(*held))])
        }
    };
    let mut others: Vec<f64> = guide
        .losses
        .iter()
        .filter(|(cylinder, _)| Some(**cylinder) != step.cylinder())
        .map(|(_, loss)| *loss)
        .collect();
    others.sort_by(f64::total_cmp);
    let odd = match step {
        Step::Gauge(_) if loss > NEARLY_ALL => Some("guide-reading-odd-much"),
        Step::Gauge(_) if others.get(others.len() / 2).is_some_and(|middle| loss > middle + FAR_MORE) => {
            Some("guide-reading-odd-much-more")
        }
        Step::Rig if loss > RIG_LOSES_MUCH => Some("guide-reading-odd-rig"),
        _ => None,
    };
    let lines = std::iter::once(typed).chain(odd.map(|name| words.say(name, &[]))).collect();
    ShownReading { big: words.say("guide-big-lost", &percent), lines }
}

/// The doubt that pulsed air settles: its remedy says so.
const SETTLED_BY_PULSED_AIR: &str = "foreign-hiss-alike";

/// What the guide goes by.
pub fn verdict(record: &JobRecord, ranking: &Ranking, words: &Words) -> RankedResult {
    let decides = ranking.call != Call::CannotTell;
    let in_doubt = ranking.caveats.iter().any(|caveat| caveat.code == SETTLED_BY_PULSED_AIR);
    // Where no opening stands out, pulsed air at one of them helps little.
    let top = ranking.openings.first().filter(|_| ranking.call != Call::NoneHeard);
    RankedResult {
        decides,
        lines: result_lines(record, ranking, words),
        likeliest: top.map(|top| top.opening.clone()),
        proposes_pulsed: in_doubt || !decides,
        next: next_of(ranking, words),
        mistake: None,
        short: short(ranking, words),
        details: details(record, ranking, words),
    }
}

/// What the ranking wants recorded next.
fn next_of(ranking: &Ranking, words: &Words) -> NextClip {
    match &ranking.next {
        None => NextClip::Nothing,
        // A reading is asked for where readings are asked for; here the rounds go on.
        Some(Next { step: NextStep::Rig | NextStep::Gauge, .. }) => NextClip::Unknown,
        Some(next @ Next { step: NextStep::Clip(opening, air), .. }) => {
            let line = words.say("guide-next-clip", &[("step", Fact::Text(next_in_words(next, words)))]);
            NextClip::Clip { opening: opening.clone(), air: *air, line }
        }
    }
}

/// The call in a few words: what leaks, and how sure that is.
pub fn short(ranking: &Ranking, words: &Words) -> String {
    match (ranking.call, ranking.openings.first()) {
        (Call::Located, Some(top)) => {
            format!("{} {}", words.short_path(&top.opening), words.percent(top.probability))
        }
        (call, _) => words.say(&format!("call-{}", call.name()), &[]),
    }
}

/// All that is to be said of a cylinder, with its headings.
fn details(record: &JobRecord, ranking: &Ranking, words: &Words) -> Vec<String> {
    let Some(cylinder) = ranking.cylinder else { return Vec::new() };
    let Ok(engine) = engine(record, std::slice::from_ref(ranking)) else { return Vec::new() };
    let Ok(findings) = Findings::of(&engine) else { return Vec::new() };
    let Some(finding) = findings.finding_of(cylinder) else { return Vec::new() };
    let text = text_of(finding, Reader::Technician, words);
    let shown = text.parts.into_iter().filter(|(part, _)| !matches!(part, Part::Next));
    let caveats = ranking.caveats.iter().map(|caveat| {
        let (what, remedy) = words.caveat(caveat);
        format!("{what} {remedy}")
    });
    shown
        .map(|(part, texts)| format!("{}: {}", words.say(part.heading(), &[]), texts.join(" ")))
        .chain(caveats)
        .collect()
}

/// Two big words, then what the ranking says.
fn result_lines(record: &JobRecord, ranking: &Ranking, words: &Words) -> Vec<String> {
    // What leaks, not where it was heard: that stands in the line below.
    let top = ranking.openings.first().map_or_else(String::new, |top| words.short_path(&top.opening));
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
    let chances = chances.chain([
        (words.say("elsewhere", &[]), ranking.elsewhere_probability),
        (words.say("tight", &[]), ranking.tight_probability),
    ]);
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
    let (none, none_probability) = if ranking.tight_probability >= ranking.elsewhere_probability {
        ("tight", ranking.tight_probability)
    } else {
        ("elsewhere", ranking.elsewhere_probability)
    };
    let (place, probability) = match ranking.openings.first() {
        Some(top) if top.probability >= none_probability => (words.opening(&top.opening), top.probability),
        _ => (words.say(none, &[]), none_probability),
    };
    let facts = [("place", Fact::Text(place)), ("percent", Fact::Text(words.percent(probability)))];
    words.say("guide-so-far", &facts)
}
