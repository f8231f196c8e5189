//! What a picture says in words: the call over a block, and the whole for those who cannot see it.

use super::comparison::PictureTitle;
use crate::caveat::{Caveat, Fact};
use crate::ranking::{Call, HissReading, Member, OpeningResult, Ranking};
use crate::words::Words;

/// Openings first, then elsewhere, then that nothing leaks: as it is said, not by probability.
fn in_speaking_order(members: &[Member]) -> Vec<&Member> {
    let place = |member: &&Member| match member {
        Member::Opening(_) => 0,
        Member::Elsewhere => 1,
        Member::Tight => 2,
    };
    let mut ordered: Vec<&Member> = members.iter().collect();
    ordered.sort_by_key(place);
    ordered
}

/// What may be said, in a few words.
pub(super) fn called(ranking: &Ranking, title: &PictureTitle, words: &Words) -> String {
    let members: Vec<String> = in_speaking_order(&ranking.answer_set)
        .into_iter()
        // "More than one leak" names where hiss was heard: elsewhere nobody listened.
        .filter(|member| ranking.call != Call::Shared || matches!(member, Member::Opening(_)))
        .map(|member| match member {
            Member::Opening(opening) => words.at(opening),
            Member::Elsewhere => words.say("elsewhere", &[]),
            Member::Tight => words.say("tight.choice", &[]),
        })
        .collect();
    let probability = ranking.openings.first().map_or(0.0, |first| first.probability);
    let bound = ranking.openings.iter().map(|result| result.at_most.0).fold(f64::NEG_INFINITY, f64::max);
    let (name, place) = match ranking.call {
        Call::Located | Call::Shared if !title.is_leak(ranking) => ("plot-normal", words.list(&members)),
        Call::Located => ("plot-located", words.list(&members)),
        Call::Shared => ("plot-shared", words.list(&members)),
        Call::NoneHeard => ("plot-none-heard", String::new()),
        Call::CannotTell => ("plot-cannot-tell", words.choice(&members)),
    };
    let facts = [
        ("where", Fact::Text(place)),
        ("percent", Fact::Text(words.percent(probability))),
        ("level", Fact::Text(words.printed(bound, 0))),
    ];
    words.say(name, &facts)
}

/// The first reservation in a few words, and how many more there are.
pub(super) fn reservation(ranking: &Ranking, words: &Words) -> Option<String> {
    let of_openings = ranking.openings.iter().flat_map(|result| &result.caveats);
    let mut all: Vec<&Caveat> = Vec::new();
    for caveat in ranking.caveats.iter().chain(of_openings) {
        if !all.contains(&caveat) {
            all.push(caveat);
        }
    }
    let first = all.first()?;
    // Where there is no short form the whole sentence says it.
    let text = words.caveat_in_short(first).unwrap_or_else(|| words.caveat(first).0);
    let name = match all.len() {
        1 => "plot-reservation",
        2 => "plot-reservations.one",
        _ => "plot-reservations",
    };
    let more = Fact::Number { value: all.len() as f64 - 1.0, decimals: 0 };
    Some(words.say(name, &[("text", Fact::Text(text)), ("more", more)]))
}

/// The picture in words.
pub(super) fn alternative(shown: &[Ranking], title: &PictureTitle, words: &Words) -> String {
    let rows: Vec<String> = shown
        .iter()
        .map(|ranking| {
            let openings: Vec<String> = ranking.openings.iter().map(|result| opening_in_words(result, words)).collect();
            let facts = [
                ("subject", Fact::Text(words.cylinder(ranking.cylinder))),
                ("call", Fact::Text(called(ranking, title, words))),
                ("openings", Fact::Text(openings.join("; "))),
            ];
            words.say("plot-alt-row", &facts)
        })
        .collect();
    words.say("plot-alt", &[("rows", Fact::Text(rows.join(" ")))])
}

fn opening_in_words(result: &OpeningResult, words: &Words) -> String {
    let (name, level) = match result.hiss {
        HissReading::Heard { level, .. } => ("plot-alt-heard", level),
        HissReading::Bound => ("plot-alt-bound", result.at_most),
    };
    let facts = [
        ("opening", Fact::Text(words.opening(&result.opening))),
        ("percent", Fact::Text(words.percent(result.probability))),
        ("level", Fact::Text(words.printed(level.0, 1))),
    ];
    words.say(name, &facts)
}
