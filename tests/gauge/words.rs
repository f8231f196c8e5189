//! Every code has its sentences, in every language.

use hissward::finding::{Part, Rank, Rules, WayRound};
use hissward::gauge::GaugeScales;
use hissward::words::Words;

/// What each finding says besides its headline.
const ATTRIBUTES: [&str; 3] = ["technician", "customer", "customer-next"];

const GAUGE_CAVEATS: [&str; 9] = [
    "rig-not-measured",
    "rig-is-all",
    "rig-dominates",
    "rig-worse",
    "rig-leaks",
    "percent-gauge",
    "gauges-disagree",
    "still-falling",
    "still-rising",
];

#[test]
fn every_code_speaks_every_language() {
    let rules = Rules::embedded().expect("the rule table");
    let scales = GaugeScales::embedded().expect("the scales");
    let mut names: Vec<String> = rules.messages().into_iter().collect();
    for finding in rules.messages().iter().filter(|name| name.starts_with("finding-")) {
        names.extend(ATTRIBUTES.map(|attribute| format!("{finding}.{attribute}")));
    }
    names.extend(scales.scales.iter().map(|band| format!("band-{}", band.id)));
    names.push("band-maker".to_owned());
    names.extend(
        [WayRound::Exhaust, WayRound::Intake, WayRound::Either, WayRound::Shut].map(|way| way.message().to_owned()),
    );
    names.extend(["excellent", "good", "fair", "suspect"].map(|verdict| format!("verdict-{verdict}")));
    names.extend(GAUGE_CAVEATS.iter().flat_map(|code| [format!("caveat-{code}"), format!("caveat-{code}.remedy")]));
    let parts = [Part::Found, Part::Sure, Part::Means, Part::Follows, Part::Silent, Part::Next, Part::Cautions];
    names.extend(parts.map(|part| part.heading().to_owned()));
    names.extend([Rank::Rig, Rank::Other].map(|rank| format!("order-{}", rank.name())));
    for language in Words::languages() {
        let words = Words::of(&language).expect("a language");
        for name in &names {
            let said = words.say(name, &[]);
            assert_ne!(said, format!("[{name}]"), "'{name}' has no words in {language}");
        }
    }
    assert!(names.len() > 150, "the rule table names {} messages", names.len());
}

#[test]
fn a_missing_message_is_seen() {
    let words = Words::of("en").expect("English");
    assert_eq!(words.say("finding-none-such", &[]), "[finding-none-such]");
}

#[test]
fn faults_in_a_rule_table_are_told() {
    let head = "[cautions]\norder = ['a']\nalways = ['a']\n[steps]\nlook = ['a']\n";
    let rule = |line: &str| format!("engine-rule = []\n[[rule]]\ncode = 'x'\nweight = 'fine'\n{line}\n{head}");
    assert!(Rules::read(&rule("next = ['look']")).is_ok());
    for wrong in ["next = ['jump']", "when = ['no-such-sign']", "weigth = 'fine'", "rank = 'first'"] {
        let error = Rules::read(&rule(wrong)).expect_err(wrong).to_string();
        assert!(error.contains("rules.toml"), "{error}");
    }
    assert!(Rules::read(&rule("").replace("look = ['a']", "look = ['b']")).is_err());
}
