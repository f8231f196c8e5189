//! What holds for every finding, whatever the signs.

use hissward::crank::Cycle;
use hissward::finding::{CylinderRow, Engine, Findings, Reader, Rules, Weight, text_of};
use hissward::gauge::{Conditions, Reading, assess, assess_rig};
use hissward::opening::Opening;
use hissward::ranking::{Call, Ranking, SoundAlone};
use hissward::units::{GaugePressure, Percent};
use hissward::words::Words;

use crate::case::{Case, Table};

fn rankings() -> Vec<Ranking> {
    Table::read().case.iter().flat_map(Case::rankings).collect()
}

/// Every ranking of the worked cases, at losses from none to all, cold and hot, of an engine of either cycle.
fn engines(cycle: Cycle) -> impl Iterator<Item = Engine> {
    let psi = GaugePressure::from_psi;
    let rig = Reading::Pressures { supply: psi(80.0), held: psi(79.5) };
    let losses = [None, Some(2.0), Some(12.0), Some(35.0), Some(95.0)];
    let rankings: Vec<Option<Ranking>> = rankings().into_iter().map(Some).chain([None]).collect();
    losses.into_iter().flat_map(move |loss| {
        rankings.clone().into_iter().flat_map(move |ranking| {
            [false, true].map(|cold| {
                let conditions = Conditions::default();
                let share = |loss| Reading::Share { loss: Percent(loss), supply: None };
                let gauge = loss.map(|loss| assess(&share(loss), Some(&rig), &conditions).expect("a reading"));
                let ranking = ranking.clone().map(|ranking| Ranking { cylinder: Some(1), ..ranking });
                let rows = vec![CylinderRow { cylinder: 1, cold, gauge, ranking }];
                let rig = Some(assess_rig(&rig, &conditions).expect("a rig"));
                Engine { cylinders: 8, cycle, rig, rows, ..Engine::default() }
            })
        })
    })
}

#[test]
fn a_two_stroke_is_never_told_to_see_to_valves() {
    let mut seen = 0;
    for engine in engines(Cycle::TwoStroke) {
        let findings = Findings::of(&engine).expect("findings");
        for finding in &findings.cylinders {
            let of_valves = ["lash", "tap-valve", "turn-through", "valve-guides", "back-to-top"];
            let told = finding.next.iter().find(|step| of_valves.contains(&step.as_str()));
            assert_eq!(told, None, "{}", finding.code);
            assert!(!finding.code.contains("valve"), "{}", finding.code);
            seen += 1;
        }
    }
    assert!(seen > 300, "{seen} findings");
}

#[test]
fn no_repair_without_a_second_reading_after_the_engine_has_run() {
    // AC 43.13-1B ch. 8 (i): run at least three minutes and test again before any work.
    let rules = Rules::embedded().expect("the rule table");
    let repairs: Vec<_> =
        rules.cylinder.iter().chain(&rules.engine).filter(|rule| rule.weight == Weight::Repair).collect();
    assert!(repairs.len() >= 6, "{} rules", repairs.len());
    for rule in repairs {
        assert!(rule.next.iter().any(|step| step == "run-and-repeat"), "{}", rule.code);
    }
    // And coolant with air in it is no engine to run.
    let coolant = rules.cylinder.iter().filter(|rule| rule.code == "gasket-or-crack");
    assert!(coolant.flat_map(|rule| &rule.next).all(|step| step != "run-and-repeat" && step != "warm-engine"));
}

#[test]
fn taking_apart_and_looking_inside_come_after_everything_cheaper() {
    let rules = Rules::embedded().expect("the rule table");
    let cost = |step: &str| match step {
        "borescope" | "oil-in-cylinder" | "head-bolts" => 3,
        "tap-valve" => 2,
        "lash" | "valve-guides" | "turn-through" | "reeds" => 1,
        "read-again" | "read-again-hot" | "read-gauge-after-each" | "test-later" => 4,
        _ => 0,
    };
    for rule in rules.cylinder.iter().filter(|rule| rule.weight == Weight::Repair || rule.weight == Weight::Watch) {
        let costs: Vec<u32> = rule.next.iter().map(|step| cost(step)).collect();
        assert!(costs.is_sorted(), "{}: {:?}", rule.code, rule.next);
    }
}

#[test]
fn a_valve_is_tapped_only_with_the_piston_away() {
    let rules = Rules::embedded().expect("the rule table");
    let tapping: Vec<_> =
        rules.cylinder.iter().filter(|rule| rule.next.iter().any(|step| step == "tap-valve")).collect();
    assert!(tapping.len() >= 5, "{} rules", tapping.len());
    for rule in tapping {
        assert!(rules.cautions(&rule.next).iter().any(|caution| caution == "piston-away"), "{}", rule.code);
    }
    let words = hissward::words::Words::of("en").expect("English").say("step-tap-valve", &[]);
    let (turned, tapped) = (words.find("well away from the top"), words.find("Then tap"));
    assert!(turned.is_some() && turned < tapped, "{words}");
}

#[test]
fn a_large_loss_is_never_taken_up_after_a_smaller_one() {
    let psi = GaugePressure::from_psi;
    let rig = Reading::Pressures { supply: psi(80.0), held: psi(79.5) };
    let table = rankings();
    let ranking = |cylinder, opening: &str| {
        let of = |ranking: &&Ranking| ranking.openings[0].opening.name() == opening && ranking.answer_set.len() == 1;
        table.iter().find(of).map(|ranking| Ranking { cylinder: Some(cylinder), ..ranking.clone() })
    };
    let row = |cylinder, held, opening| {
        let reading = Reading::Pressures { supply: psi(80.0), held: psi(held) };
        let gauge = Some(assess(&reading, Some(&rig), &Conditions::default()).expect("a reading"));
        CylinderRow { cylinder, cold: false, gauge, ranking: ranking(cylinder, opening) }
    };
    // 22 % past the exhaust valve, 45 % past the rings.
    let rows = vec![row(1, 62.0, "exhaust"), row(2, 44.0, "oil-filler")];
    let rig = Some(assess_rig(&rig, &Conditions::default()).expect("a rig"));
    let findings = Findings::of(&Engine { cylinders: 2, rig, rows, ..Engine::default() }).expect("findings");
    let order: Vec<&str> = findings.in_order_of_repair().iter().map(|finding| finding.code.as_str()).collect();
    assert_eq!(order, ["rings-or-bore", "exhaust-valve"]);
}

#[test]
fn all_three_openings_of_the_crankcase_point_at_the_rings() {
    for name in ["oil-filler", "dipstick", "breather"] {
        let opening: Opening = name.parse().expect("an opening");
        assert_eq!(opening.path().name(), "rings-or-bore");
    }
}

#[test]
fn the_answer_from_sound_alone_stands_beside_the_joint_one() {
    let Some(joint) = rankings().into_iter().find(|ranking| ranking.call == Call::Located) else {
        panic!("a worked case is located");
    };
    let alone = SoundAlone {
        call: Call::CannotTell,
        answer_set: joint.answer_set.clone(),
        probability: 0.71,
        tight_probability: 0.2,
        elsewhere_probability: 0.09,
    };
    for language in ["en", "de"] {
        let words = Words::of(language).expect("a language");
        let said = |sound_alone| {
            let ranking = Some(Ranking { cylinder: Some(1), sound_alone, ..joint.clone() });
            let rows = vec![CylinderRow { cylinder: 1, ranking, ..CylinderRow::default() }];
            let findings = Findings::of(&Engine { cylinders: 1, rows, ..Engine::default() }).expect("findings");
            let text = text_of(&findings.cylinders[0], Reader::Customer, &words);
            let said: Vec<String> = text.parts.into_iter().flat_map(|(_, said)| said).collect();
            said.join(" ").replace('\u{a0}', " ")
        };
        let with = said(Some(alone.clone()));
        assert!(with.contains("71 %") && with.contains(&words.say("call-cannot-tell", &[])), "{with}");
        assert!(!said(None).contains("71 %"));
    }
}
