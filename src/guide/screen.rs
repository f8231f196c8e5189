//! What the screen says: one big thing at a time, one instruction, and always what is missing.

use super::machine::Guide;
use super::plan::Step;
use super::signals::{Live, NextClip, Phase};
use crate::caveat::Fact;
use crate::hiss::PlannedClip;
use crate::opening::Air;
use crate::units::Seconds;
use crate::words::Words;

/// One screen, in words. Whoever shows it chooses letters and lines.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Screen {
    /// Engine, cylinder, step: one line.
    pub head: String,
    /// The big words, two at the most.
    pub big: Vec<String>,
    /// What to do, line by line.
    pub tell: Vec<String>,
    /// What is being typed; `None` where nothing can be.
    pub entry: Option<String>,
    /// The level while it records.
    pub live: Option<Live>,
    /// Levels, certainty, seconds: one line.
    pub measured: String,
    /// What is missing: one line.
    pub missing: String,
    /// What the keys do: one line.
    pub keys: String,
    /// The cylinders with what is known of them, one a line, where there is room.
    pub table: Vec<String>,
    /// What may be said besides, where there is room.
    pub more: Vec<String>,
}

fn number(value: f64, decimals: usize) -> Fact {
    Fact::Number { value, decimals }
}

/// The screen of a guide as it stands.
#[must_use]
pub fn screen(guide: &Guide, words: &Words) -> Screen {
    let say = |name: &str| words.say(name, &[]);
    let mut shown = Screen {
        head: head(guide, words),
        missing: missing(guide, words),
        table: table(guide, words),
        ..Screen::default()
    };
    match (&guide.step, &guide.phase) {
        (_, Phase::Lost(said)) => {
            shown.big = vec![say("guide-big-no-microphone")];
            shown.tell = vec![said.clone(), say("guide-lost")];
            shown.keys = say("guide-keys-go");
        }
        (step, Phase::Skipping) => {
            shown.big = vec![say("guide-big-skip"), big_of(step, words)];
            shown.tell = vec![say("guide-skip")];
            shown.entry = Some(guide.entry.clone());
            shown.keys = say("guide-keys-skipping");
        }
        (step, Phase::Confirm(reading)) => {
            shown.big = vec![big_of(step, words), reading.big.clone()];
            shown.tell = reading.lines.clone();
            shown.keys = say("guide-keys-confirm");
        }
        (step, Phase::Unit) => {
            shown.big = vec![big_of(step, words)];
            shown.tell = vec![say("guide-unit")];
            shown.entry = Some(guide.entry.clone());
            shown.keys = say("guide-keys-unit");
        }
        (Step::Cautions, _) => {
            shown.big = vec![say("guide-big-cautions")];
            shown.tell = CAUTIONS.iter().map(|name| say(name)).collect();
            shown.keys = say("guide-keys-cautions");
        }
        (Step::Temperature, _) => {
            shown.big = vec![say("guide-big-temperature")];
            shown.tell = (1..=3).map(|line| say(&format!("guide-temperature-{line}"))).collect();
            shown.keys = say("guide-keys-temperature");
        }
        (Step::Rig, _) => reading(&mut shown, guide, words, "rig"),
        (Step::Gauge(_), _) => reading(&mut shown, guide, words, "gauge"),
        (Step::Turn(cylinder), _) => turn(&mut shown, guide, *cylinder, words),
        (Step::Clip(_, visit), _) => clip(&mut shown, guide, visit, words),
        (Step::Result(_), Phase::Busy) => shown.big = vec![say("guide-big-ranking")],
        (Step::Result(cylinder), _) => {
            result(&mut shown, guide, *cylinder, words);
        }
        (Step::End, _) => {
            shown.big = vec![say("guide-big-end")];
            shown.tell = vec![say("guide-end")];
            shown.keys = say("guide-keys-end");
        }
    }
    if let Some(notice) = &guide.notice {
        shown.tell.push(notice.clone());
    }
    shown
}

/// Cautions by their names in the catalogue, in order.
pub const CAUTIONS: [&str; 9] = [
    "mind-maker-first",
    "mind-crank-turns",
    "mind-ears",
    "mind-eyes",
    "mind-relieve",
    "mind-pressure",
    "mind-hot",
    "mind-ignition",
    "mind-fumes",
];

fn head(guide: &Guide, words: &Words) -> String {
    match guide.step.cylinder() {
        None => words.say("guide-head", &[]),
        Some(cylinder) => {
            let all = guide.plan.visits_of(&guide.progress, cylinder).len();
            let done = all - guide.plan.open_visits(&guide.progress, cylinder).len();
            words.say(
                "guide-head-cylinder",
                &[
                    ("cylinder", number(cylinder.into(), 0)),
                    ("done", number(done as f64, 0)),
                    ("all", number(all as f64, 0)),
                ],
            )
        }
    }
}

/// What is known of each cylinder, in the order of work.
fn table(guide: &Guide, words: &Words) -> Vec<String> {
    let (plan, progress) = (&guide.plan, &guide.progress);
    if !progress.rig {
        return Vec::new();
    }
    let row = |cylinder: u32| {
        let loss = guide.losses.get(&cylinder).map_or_else(
            || words.say("guide-table-unread", &[]),
            |loss| words.say("guide-table-loss", &[("loss", Fact::Text(words.printed(*loss, 0)))]),
        );
        let all = plan.visits_of(progress, cylinder).len();
        let done = all - plan.open_visits(progress, cylinder).len();
        let clips = words.say("guide-table-clips", &[("done", number(done as f64, 0)), ("all", number(all as f64, 0))]);
        let call = guide.calls.get(&cylinder).map_or("", String::as_str);
        let mark = if guide.step.cylinder() == Some(cylinder) { '>' } else { ' ' };
        format!("{mark} {:<12} {loss:<14} {clips:<20} {call}", words.cylinder(Some(cylinder))).trim_end().to_owned()
    };
    plan.places.iter().map(|place| row(place.cylinder)).collect()
}

/// Entries in the line of what is missing.
const MOST_MISSING: usize = 3;

fn missing(guide: &Guide, words: &Words) -> String {
    let (plan, progress) = (&guide.plan, &guide.progress);
    let mut parts = Vec::new();
    if !progress.rig {
        parts.push(words.say("guide-missing-rig", &[]));
    }
    for place in plan.places.iter().map(|place| place.cylinder).filter(|one| !progress.seen.contains(one)) {
        let clips = plan.open_visits(progress, place).len();
        let name = if progress.gauge.contains(&place) { "guide-missing-clips" } else { "guide-missing-cylinder" };
        if clips > 0 || !progress.gauge.contains(&place) {
            parts.push(words.say(name, &[("cylinder", number(place.into(), 0)), ("clips", number(clips as f64, 0))]));
        }
    }
    // A line has room for three; the others are counted.
    if parts.len() > MOST_MISSING {
        let more = parts.split_off(MOST_MISSING).len();
        parts.push(words.say("guide-missing-more", &[("count", number(more as f64, 0))]));
    }
    if parts.is_empty() {
        return words.say("guide-missing-nothing", &[]);
    }
    words.say("guide-missing", &[("what", Fact::Text(parts.join(" · ")))])
}

fn big_of(step: &Step, words: &Words) -> String {
    match step {
        Step::Rig => words.say("guide-big-rig", &[]),
        Step::Gauge(_) => words.say("guide-big-gauge", &[]),
        Step::Clip(_, visit) => words.short_opening(&visit.opening),
        _ => String::new(),
    }
}

fn reading(shown: &mut Screen, guide: &Guide, words: &Words, what: &str) {
    shown.big = vec![big_of(&guide.step, words)];
    if let Step::Gauge(cylinder) = guide.step {
        shown.big.push(words.say("guide-big-cylinder", &[("cylinder", number(cylinder.into(), 0))]));
    }
    shown.tell = (1..=2).map(|line| words.say(&format!("guide-{what}-{line}"), &[])).collect();
    shown
        .tell
        .extend(guide.unit.map(|unit| words.say("guide-unit-known", &[("unit", Fact::Text(unit.name().to_owned()))])));
    shown.entry = Some(guide.entry.clone());
    shown.keys = words.say("guide-keys-entry", &[]);
}

fn turn(shown: &mut Screen, guide: &Guide, cylinder: u32, words: &Words) {
    let place = guide.plan.places.iter().position(|place| place.cylinder == cylinder);
    let turn = place.and_then(|at| guide.plan.places[at].turn_deg);
    let before = place.and_then(|at| at.checked_sub(1)).map(|at| guide.plan.places[at].cylinder);
    shown.big = vec![words.say("guide-big-cylinder", &[("cylinder", number(cylinder.into(), 0))])];
    // After a break nobody knows where the crank stands: then the turn would mislead.
    let known = guide.progress.at.is_some() && guide.progress.at == before;
    if let (Some(degrees), Some(before), true) = (turn, before, known) {
        shown.big.push(words.say("guide-big-turn", &[("degrees", number(degrees, 0))]));
        let facts = [("degrees", number(degrees, 0)), ("before", number(before.into(), 0))];
        shown.tell.push(words.say("guide-turn-by", &facts));
    } else {
        shown.big.push(words.say("guide-big-top", &[]));
    }
    shown.tell.extend((1..=3).map(|line| words.say(&format!("guide-turn-{line}"), &[])));
    if !guide.plan.order_known && guide.plan.places.len() > 2 {
        shown.tell.push(words.say("guide-turn-guess", &[]));
    }
    shown.keys = words.say("guide-keys-turn", &[]);
}

fn result(shown: &mut Screen, guide: &Guide, cylinder: u32, words: &Words) {
    let mut lines = guide.result.lines.iter();
    shown.big = lines.by_ref().take(2).cloned().collect();
    shown.tell = lines.cloned().collect();
    if let Some(mistake) = &guide.result.mistake {
        let line = format!("{mistake} {}", words.say("guide-put-right", &[]));
        shown.tell.insert(shown.tell.len().min(1), line);
    }
    let pulsed = guide.result.likeliest.as_ref().filter(|_| !guide.plan.pulsed);
    if let Some(opening) = pulsed.filter(|_| guide.result.proposes_pulsed) {
        // After the chances, where it is not pushed off the screen.
        let facts = [("opening", Fact::Text(words.opening(opening)))];
        shown.tell.insert(shown.tell.len().min(1), words.say("guide-propose-pulsed", &facts));
    }
    if let NextClip::Clip { line, .. } = &guide.result.next {
        shown.tell.insert(shown.tell.len().min(1), line.clone());
        shown.keys = words.say("guide-keys-result-next", &[]);
        shown.more.clone_from(&guide.result.details);
        return;
    }
    shown.more.clone_from(&guide.result.details);
    let more = guide.plan.may_go_on(&guide.progress, cylinder);
    shown.keys = words.say(
        match (more, pulsed.is_some()) {
            (true, true) => "guide-keys-result-pulsed",
            (true, false) => "guide-keys-result",
            (false, true) => "guide-keys-result-last-pulsed",
            (false, false) => "guide-keys-result-last",
        },
        &[],
    );
}

fn clip(shown: &mut Screen, guide: &Guide, visit: &PlannedClip, words: &Words) {
    let say = |name: &str| words.say(name, &[]);
    let place = words.short_opening(&visit.opening);
    let air = say(&format!("guide-big-air-{}", visit.air.name()));
    // Where the microphone stands already it stays: only the air is turned.
    let again = if guide.is_same_place() && visit.air != Air::Pulsed { "-again" } else { "" };
    let name = format!("guide-clip-{}{again}", visit.air.name());
    let tell = words.say(&name, &[("opening", Fact::Text(words.opening(&visit.opening)))]);
    shown.big = vec![place.clone(), air];
    shown.keys = say("guide-keys-clip");
    match &guide.phase {
        Phase::Count(left) => {
            let seconds = [("seconds", number(left.div_ceil(1000) as f64, 0))];
            shown.tell = vec![words.say("guide-count", &seconds), tell];
            shown.big[1] = format!("{} {}", shown.big[1], left.div_ceil(1000));
            shown.keys = say("guide-keys-running");
        }
        Phase::Recording(live) => {
            shown.live = *live;
            let length_s = live.map_or(0.0, |live| live.length.0);
            let state = if length_s as u64 % 2 == 1 { "guide-big-open" } else { "guide-big-shut" };
            if visit.air == Air::Pulsed {
                shown.big = vec![place, say(state)];
            }
            shown.tell = vec![words.say("guide-recording", &[("seconds", number(length_s, 0))])];
            shown.tell.extend(guide.so_far.clone());
            shown.measured = measured(live.as_ref(), guide.time_left(), words);
            shown.keys = say("guide-keys-running");
        }
        Phase::Good(_) => {
            shown.big = vec![place, say("guide-big-good")];
            shown.tell = guide.so_far.iter().cloned().collect();
            shown.keys = say("guide-keys-running");
        }
        Phase::Bad(_, why) => {
            let (what, remedy) = words.caveat(why);
            shown.big = vec![place, say("guide-big-again")];
            shown.tell = vec![what, remedy];
            shown.keys = say("guide-keys-running");
        }
        _ => {
            shown.tell = vec![tell, say("guide-clip-hands-free")];
            if guide.paused {
                shown.big = vec![say("guide-big-paused"), place];
            }
            if let Some(why) = &guide.refused {
                let (what, remedy) = words.caveat(why);
                shown.big = vec![place_of(visit, words), say("guide-big-again")];
                shown.tell.splice(0..0, [what, remedy]);
            }
        }
    }
}

fn place_of(visit: &PlannedClip, words: &Words) -> String {
    words.short_opening(&visit.opening)
}

fn measured(live: Option<&Live>, left: Option<Seconds>, words: &Words) -> String {
    let Some(live) = live else { return String::new() };
    let mut parts = Vec::new();
    if live.clipped > 0 {
        parts.push(words.say("guide-too-loud", &[]));
    }
    if live.in_the_stream {
        parts.push(words.say("guide-in-the-stream", &[]));
    }
    if let Some(level) = live.level {
        parts.push(words.say("guide-level", &[("level", Fact::Text(words.printed(level.0, 0)))]));
    }
    if let Some(above) = live.above_quiet {
        parts.push(words.say("guide-above", &[("above", Fact::Text(words.printed(above.0, 1)))]));
    }
    // A level of 0 dB of doubt is none that a person believes: it is known to a tenth at best.
    if let Some(estimate) = live.estimate {
        parts.push(words.say("guide-known", &[("error", number(estimate.error.0.max(0.1), 1))]));
    }
    if let Some(left) = left {
        parts.push(words.say("guide-left", &[("more", number(left.0.ceil(), 0))]));
    }
    parts.join(" · ")
}
