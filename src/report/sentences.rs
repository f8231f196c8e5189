//! What may be said of a ranking, in sentences: the terminal's text and the papers say the same.

use crate::caveat::{Caveat, Fact};
use crate::opening::{Air, EscapePath, Opening};
use crate::ranking::{Call, HissReading, Member, Next, NextStep, OpeningResult, Ranking};
use crate::units::LevelDiff;
use crate::words::Words;

/// The answer in one sentence: cylinder, call, opening and path, and how sure.
pub(super) fn answer(ranking: &Ranking, words: &Words) -> String {
    // "More than one leak" names where hiss was heard: elsewhere nobody listened.
    let said = |member: &&Member| ranking.call != Call::Shared || matches!(member, Member::Opening(_));
    // As it is said: openings, then elsewhere, then that nothing leaks.
    let mut ordered: Vec<&Member> = ranking.answer_set.iter().filter(said).collect();
    ordered.sort_by_key(|member| match member {
        Member::Opening(_) => 0,
        Member::Elsewhere => 1,
        Member::Tight => 2,
    });
    let named = |member: &&Member| match member {
        Member::Tight => words.say("tight.choice", &[]),
        member => place(member, words),
    };
    let members: Vec<String> = ordered.iter().map(named).collect();
    let sure = ranking.answer_set.iter().filter(said).map(|member| probability(ranking, member)).sum::<f64>();
    let first = ranking.answer_set.iter().find_map(|member| match member {
        Member::Opening(opening) => Some(opening),
        Member::Elsewhere | Member::Tight => None,
    });
    let own = first.is_none_or(|opening| opening.path() == EscapePath::Other);
    let name = match ranking.call {
        Call::Located if own => "rank-located-own",
        Call::Located => "rank-located",
        Call::Shared => "rank-shared",
        Call::NoneHeard => "rank-none-heard",
        Call::CannotTell if members.is_empty() => "rank-cannot-tell-unfit",
        Call::CannotTell if members.len() == 1 => "rank-cannot-tell.one",
        Call::CannotTell => "rank-cannot-tell",
    };
    let places = if ranking.call == Call::CannotTell { words.choice(&members) } else { words.list(&members) };
    let facts = [
        ("subject", Fact::Text(words.cylinder(ranking.cylinder))),
        ("opening", Fact::Text(first.map_or_else(String::new, |opening| words.opening(opening)))),
        ("path", Fact::Text(first.map_or_else(String::new, |opening| words.path(opening)))),
        ("places", Fact::Text(places)),
        ("percent", Fact::Text(words.percent(sure))),
        ("tight", Fact::Text(words.percent(ranking.tight_probability))),
        ("elsewhere", Fact::Text(words.percent(ranking.elsewhere_probability))),
    ];
    words.say(name, &facts)
}

/// The smallest set that holds 95 %, where it is more than the answer already says.
pub(super) fn answer_set(ranking: &Ranking, words: &Words) -> Option<String> {
    let members: Vec<String> = ranking
        .answer_set
        .iter()
        .map(|member| {
            let percent = words.percent(probability(ranking, member));
            words.say("rank-member", &[("place", Fact::Text(place(member, words))), ("percent", Fact::Text(percent))])
        })
        .collect();
    (members.len() > 1).then(|| words.say("rank-answer-set", &[("places", Fact::Text(members.join(", ")))]))
}

/// How loud a hiss would have been heard, where none was: the highest bound of the openings.
pub(super) fn would_be_heard(ranking: &Ranking, words: &Words) -> Option<String> {
    let highest = ranking.openings.iter().max_by(|a, b| a.at_most.0.total_cmp(&b.at_most.0))?;
    let facts = [
        ("level", Fact::Text(words.printed(highest.at_most.0, 1))),
        ("opening", Fact::Text(words.opening(&highest.opening))),
    ];
    (ranking.call == Call::NoneHeard).then(|| words.say("rank-would-be-heard", &facts))
}

/// What to do next: what the ranking wants, else what its call asks for.
pub(super) fn next_step(ranking: &Ranking, words: &Words) -> Option<String> {
    if let Some(next) = &ranking.next {
        return Some(next_line(next, words));
    }
    let open: Vec<String> = ranking
        .answer_set
        .iter()
        .filter_map(|member| match member {
            Member::Opening(opening) => Some(words.opening(opening)),
            Member::Elsewhere | Member::Tight => None,
        })
        .collect();
    let elsewhere = ranking.answer_set.iter().any(|member| matches!(member, Member::Elsewhere | Member::Tight));
    // Its caveat says what would help.
    let ends = ranking.caveats.iter().any(|caveat| caveat.code == "more-clips-tell-little");
    let name = match ranking.call {
        Call::Located | Call::Shared => return None,
        Call::CannotTell if ends => return None,
        Call::NoneHeard => "next-none-heard",
        Call::CannotTell if open.is_empty() => "next-cannot-tell-unfit",
        Call::CannotTell if elsewhere => "next-cannot-tell-elsewhere",
        Call::CannotTell => "next-cannot-tell",
    };
    Some(words.say(name, &[("places", Fact::Text(words.list(&open)))]))
}

/// What is to be recorded or read next, as a sentence.
pub(super) fn next_line(next: &Next, words: &Words) -> String {
    words.say("next-line", &[("step", Fact::Text(next_in_words(next, words)))])
}

/// A chance under this is told as a small one.
const SMALL_CHANCE: f64 = 0.05;

/// What is to be recorded or read next, with its time and its chance to settle the matter: a clause that goes on from
/// "Next:".
#[must_use]
pub fn next_in_words(next: &Next, words: &Words) -> String {
    let (name, opening) = match &next.step {
        NextStep::Clip(opening, Air::Pulsed) if next.missing => ("next-listen-pulsed", Some(opening)),
        NextStep::Clip(opening, _) if next.missing => ("next-listen-on", Some(opening)),
        NextStep::Clip(opening, _) if opening.path() == EscapePath::GasketOrCrack => {
            ("next-record-cold", Some(opening))
        }
        NextStep::Clip(opening, Air::Off) => ("next-record-off", Some(opening)),
        NextStep::Clip(opening, Air::On) => ("next-record-on", Some(opening)),
        NextStep::Clip(opening, Air::Pulsed) => ("next-record-pulsed", Some(opening)),
        NextStep::Rig => ("next-read-rig", None),
        NextStep::Gauge => ("next-read-gauge", None),
    };
    let chance = if next.settles < SMALL_CHANCE { "next-chance-small" } else { "next-chance" };
    let percent = [("percent", Fact::Text(words.percent(next.settles)))];
    let name_of = |of: &dyn Fn(&Opening) -> String| Fact::Text(opening.map(of).unwrap_or_default());
    let facts = [
        ("place", name_of(&|opening| words.at(opening))),
        ("opening", name_of(&|opening| words.opening(opening))),
        ("chance", Fact::Text(words.say(chance, &percent))),
        ("seconds", Fact::Number { value: next.seconds.0, decimals: 0 }),
    ];
    words.say(name, &facts)
}

/// That an opening's hiss is spill, by name.
pub(super) fn spill(ranking: &Ranking, words: &Words) -> Option<String> {
    let spilt: Vec<String> =
        ranking.openings.iter().filter(|result| result.spill).map(|result| words.opening(&result.opening)).collect();
    (!spilt.is_empty()).then(|| words.say("rank-spill", &[("places", Fact::Text(words.list(&spilt)))]))
}

/// How far the likeliest opening stands out of the same opening at the other cylinders.
pub(super) fn beside(ranking: &Ranking, words: &Words) -> Option<String> {
    let beside = ranking.beside.as_ref()?;
    let signed = |difference: LevelDiff| Fact::Text(signed(difference, words));
    let facts = [
        ("opening", Fact::Text(words.opening(&beside.opening))),
        ("level", signed(beside.stands_out)),
        ("low", signed(beside.low)),
        ("high", signed(beside.high)),
    ];
    // Where the interval holds zero, nothing stands out.
    let alike = beside.low.0 <= 0.0 && beside.high.0 >= 0.0;
    Some(words.say(if alike { "rank-beside.alike" } else { "rank-beside" }, &facts))
}

/// Every caveat with the opening it concerns, those of the whole first; the same one at several openings once.
pub(super) fn caveats(ranking: &Ranking, words: &Words) -> Vec<(Option<String>, String, String)> {
    let whole = ranking.caveats.iter().map(|caveat| (None, caveat));
    let of_openings = ranking
        .openings
        .iter()
        .flat_map(|result| result.caveats.iter().map(move |caveat| (Some(&result.opening), caveat)));
    let mut said: Vec<(Vec<String>, &Caveat)> = Vec::new();
    for (opening, caveat) in whole.chain(of_openings) {
        let name = opening.map(|opening| words.opening(opening));
        match said.iter_mut().find(|(names, known)| *known == caveat && !names.is_empty() && name.is_some()) {
            Some((names, _)) => names.extend(name),
            None => said.push((name.into_iter().collect(), caveat)),
        }
    }
    let line = |(names, caveat): (Vec<String>, &Caveat)| {
        let (text, remedy) = words.caveat(caveat);
        ((!names.is_empty()).then(|| words.list(&names)), text, remedy)
    };
    said.into_iter().map(line).collect()
}

/// The hiss level of an opening: with its interval, or as "at most".
pub(super) fn hiss(result: &OpeningResult, words: &Words) -> String {
    let level = |db: f64| Fact::Text(words.printed(db, 1));
    match result.hiss {
        HissReading::Heard { level: found, low, high } => {
            let facts = [("level", level(found.0)), ("low", level(low.0)), ("high", level(high.0))];
            words.say("rank-hiss", &facts)
        }
        HissReading::Bound => words.say("level-at-most", &[("level", level(result.at_most.0))]),
    }
}

/// How much louder the air clip is than the quiet one, with its sign.
pub(super) fn above_quiet(result: &OpeningResult, words: &Words) -> String {
    result.above_quiet.map_or_else(|| words.say("rank-no-quiet", &[]), |above| signed(above, words))
}

/// A difference with its sign; what rounds to nothing has none.
fn signed(difference: LevelDiff, words: &Words) -> String {
    let printed = words.printed(difference.0, 1);
    if difference.0 >= 0.05 { format!("+{printed}") } else { printed }
}

fn place(member: &Member, words: &Words) -> String {
    match member {
        Member::Opening(opening) => words.opening(opening),
        Member::Elsewhere => words.say("elsewhere", &[]),
        Member::Tight => words.say("tight", &[]),
    }
}

fn probability(ranking: &Ranking, member: &Member) -> f64 {
    match member {
        Member::Elsewhere => ranking.elsewhere_probability,
        Member::Tight => ranking.tight_probability,
        Member::Opening(opening) => {
            ranking.openings.iter().find(|result| result.opening == *opening).map_or(0.0, |result| result.probability)
        }
    }
}
