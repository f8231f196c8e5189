//! How the catalogues speak: no turns that no technician would say, one minus sign, whole sentences as caveats.

use std::fs;
use std::path::Path;

use hissward::words::Words;

/// Turns that a native speaker would not use, or that promise or suggest the wrong thing; lower case.
const BANNED: [(&str, &[&str]); 2] = [
    (
        "en",
        &[
            "the shop's head",
            "fits the spill of",
            "is very likely, and",
            "all changes that are",
            "is said was",
            "said was:",
            "reservations besides",
            "would be a guess",
            "by the sound alone",
            "jobs read below",
            "against nothing",
            "1 jobs",
            "doubts besides",
            "etc/utc",
            "read, and so done",
            "work by it",
            "work by this",
            "true hisses",
            "together at least",
            "for none of them)",
            "fits the spill",
            "counts for no leak",
            "still no certainty",
            "cause for work",
            "may show in nothing",
            "sound engine",
            "does not part them",
            "lowers trust",
            "signs of the text",
            "every account",
            "thinkable",
            "do not subtract",
            "needle stands",
            "quiet anew",
            "peak anew",
            " anew",
            "looking on",
            "as the system",
            "take in",
            "no talk on",
            "accidents show",
            "forger",
            "are put to their",
            "' is no ",
            "percent points",
            "by itself",
            "by themselves",
            "keyed air",
            "key the air",
            "keyed clip",
            "honest",
            "must not be there",
            "manual for new engines",
            "is thought of",
            "; likeliest",
            "see the steps",
            "is said above",
            "there is no ranking",
            "`",
        ],
    ),
    (
        "de",
        &[
            "gehorcht",
            "gesagt war:",
            "nach dem klang allein",
            "wäre geraten",
            "gesagt gegen gefunden",
            "horchen",
            "warmgefahren",
            "warmfahren",
            "warm fahren",
            "anlass zur arbeit",
            "das vertrauen mindert",
            "einige zeichen des angegebenen",
            "denkbaren",
            "lassen sich nicht abziehen",
            "der zeiger stand",
            "zeiger steht.",
            "still neu",
            "spitze neu",
            "wie das system",
            "hier wird nur zugesehen",
            "gelesen und so gemacht",
            "getaktete clip",
            "der klang trennt",
            "der klang lässt es offen",
            "übersprechen, kein",
            "bleibt draußen",
            "punkte weniger als vorher (ohne",
            "ehrliche antwort",
            "kopf gedacht wird",
            "steht oben, soweit",
            "schritte stehen unten",
            "`",
        ],
    ),
];

/// A message or an attribute of one: its name and what it says.
fn messages(language: &str) -> Vec<(String, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("src/words/languages/{language}.ftl"));
    let text = fs::read_to_string(path).expect("a catalogue");
    let mut found = Vec::new();
    let mut message = String::new();
    for line in text.lines().filter(|line| !line.starts_with('#')) {
        let Some((name, said)) = line.split_once(" =") else { continue };
        let name = match name.trim_start().strip_prefix('.') {
            Some(attribute) => format!("{message}.{attribute}"),
            None => {
                message = name.to_owned();
                name.to_owned()
            }
        };
        found.push((name, said.trim_start().to_owned()));
    }
    assert!(found.len() > 500, "{language}: only {} messages were found", found.len());
    found
}

/// Which banned turns a text holds. What is typed into a terminal may stand in back-ticks, where only a terminal
/// shows it.
fn banned(language: &str, name: &str, said: &str) -> Vec<&'static str> {
    let terminal = ["new-started", "history-calls", "found-kept"].contains(&name);
    let lower = said.to_lowercase();
    let of_language = BANNED.iter().filter(|(of, _)| *of == language).flat_map(|(_, turns)| turns.iter().copied());
    of_language.filter(|turn| lower.contains(turn) && !(terminal && *turn == "`")).collect()
}

#[test]
fn no_catalogue_holds_a_banned_turn() {
    let mut found = Vec::new();
    for language in Words::languages() {
        assert!(BANNED.iter().any(|(of, _)| *of == language), "{language} has no list of banned turns");
        for (name, said) in messages(&language) {
            found.extend(banned(&language, &name, &said).iter().map(|turn| format!("{language} {name}: “{turn}”")));
        }
    }
    assert!(found.is_empty(), "{found:#?}");
}

#[test]
fn a_banned_turn_is_seen() {
    assert_eq!(banned("en", "some-message", "It is likely, and still no certainty."), ["still no certainty"]);
    assert_eq!(banned("de", "some-message", "Dort wurde nicht gehorcht."), ["gehorcht"]);
    assert_eq!(banned("en", "history-calls", "`hissward rank` ranks them."), Vec::<&str>::new());
}

#[test]
fn caveats_and_their_remedies_are_whole_sentences() {
    let is_whole = |said: &str| {
        let begins = said.chars().next().is_some_and(|first| first.is_uppercase() || first == '{');
        begins && said.ends_with('.')
    };
    assert!(!is_whole("the clips reach only to 8 kHz") && is_whole("The clips reach only to 8 kHz."));
    for language in Words::languages() {
        for (name, said) in
            messages(&language).into_iter().filter(|(name, _)| name.starts_with("caveat-") && !name.ends_with(".short"))
        {
            assert!(is_whole(&said), "{language} {name}: {said}");
        }
    }
}

#[test]
fn numbers_carry_a_true_minus_and_percent_signs_their_space() {
    let hyphen_minus = |said: &str| {
        let letters: Vec<char> = said.chars().collect();
        letters.windows(3).any(|three| matches!(three, [' ' | '(', '-', digit] if digit.is_ascii_digit()))
    };
    assert!(hyphen_minus("at most -59 dB") && !hyphen_minus("at most \u{2212}59 dB, as in 1-3-2"));
    for language in Words::languages() {
        for (name, said) in messages(&language) {
            assert!(!hyphen_minus(&said), "{language} {name}: {said}");
            assert!(!said.contains("}%"), "{language} {name}: no space before the percent sign: {said}");
        }
    }
}
