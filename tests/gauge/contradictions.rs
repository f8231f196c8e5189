//! Where gauge, sound and cylinders do not agree, that is the finding.

use hissward::crank::Cycle;
use hissward::finding::{CylinderRow, Engine, Findings, Rules, Weight};
use hissward::gauge::{Conditions, MakersLimit, Reading, assess, assess_rig};
use hissward::ranking::{Call, Ranking};
use hissward::units::{GaugePressure, Percent};

use crate::engines::{Heard, heard, ranking, silent};

fn lost(percent: f64) -> Option<hissward::gauge::Assessment> {
    let rig = Reading::Pressures { supply: GaugePressure::from_psi(80.0), held: GaugePressure::from_psi(79.9) };
    let reading = Reading::Share { loss: Percent(percent), supply: Some(GaugePressure::from_psi(80.0)) };
    Some(assess(&reading, Some(&rig), &Conditions::default()).expect("a loss"))
}

fn engine(rows: Vec<(Option<f64>, Option<Ranking>)>) -> Engine {
    let rig = Reading::Pressures { supply: GaugePressure::from_psi(80.0), held: GaugePressure::from_psi(79.9) };
    let rows = rows.into_iter().zip(1..).map(|((loss, ranking), cylinder)| CylinderRow {
        cylinder,
        gauge: loss.and_then(lost),
        ranking,
        cold: false,
    });
    let rows: Vec<CylinderRow> = rows.collect();
    let rig = Some(assess_rig(&rig, &Conditions::default()).expect("a rig"));
    Engine { cylinders: rows.len() as u32, rig, rows, ..Engine::default() }
}

fn located(opening: &'static str, above_quiet_db: f64) -> Option<Ranking> {
    Some(ranking(1, Call::Located, 0.03, &[heard(opening, 0.97, -45.0, above_quiet_db)]))
}

fn shared(first: &'static str, second: &'static str) -> Option<Ranking> {
    let both: [Heard; 2] = [heard(first, 0.55, -44.0, 6.0), heard(second, 0.44, -45.0, 5.5)];
    Some(ranking(1, Call::Shared, 0.01, &both))
}

fn quiet(call: Call) -> Option<Ranking> {
    Some(ranking(1, call, 0.8, &[silent("exhaust", 0.1), silent("oil-filler", 0.1)]))
}

/// The finding of the first cylinder.
fn first(rows: Vec<(Option<f64>, Option<Ranking>)>) -> (String, Weight) {
    let findings = Findings::of(&engine(rows)).expect("findings");
    (findings.cylinders[0].code.clone(), findings.cylinders[0].weight)
}

#[test]
fn one_cylinder_by_itself() {
    let cases = [
        (Some(40.0), quiet(Call::NoneHeard), "lost-but-silent", Weight::Repeat),
        (Some(40.0), quiet(Call::CannotTell), "lost-undecided", Weight::Repeat),
        (Some(40.0), None, "lost-unheard", Weight::Repeat),
        (Some(40.0), located("rig", 8.0), "rig-is-the-leak", Weight::Repeat),
        (Some(90.0), shared("intake", "exhaust"), "nearly-all-lost", Weight::Repeat),
        (Some(40.0), shared("intake", "exhaust"), "both-valves", Weight::Repair),
        // The crankcase hisses on every engine: without another cylinder to compare, the valve is the finding.
        (Some(40.0), shared("exhaust", "oil-filler"), "exhaust-valve", Weight::Repair),
        (Some(40.0), located("exhaust", 8.0), "exhaust-valve", Weight::Repair),
        (Some(40.0), located("intake", 8.0), "intake-valve", Weight::Repair),
        (Some(40.0), located("oil-filler", 8.0), "rings-or-bore", Weight::Repair),
        (Some(40.0), located("coolant-filler", 8.0), "gasket-or-crack", Weight::Repeat),
        (Some(40.0), located("dipstick", 8.0), "rings-or-bore", Weight::Repair),
        (Some(40.0), located("water-pump", 8.0), "other-opening", Weight::Watch),
        (Some(18.0), located("exhaust", 8.0), "exhaust-valve", Weight::Watch),
        (Some(4.0), located("exhaust", 15.0), "exhaust-valve-small", Weight::Watch),
        (Some(4.0), located("exhaust", 5.0), "exhaust-valve-small", Weight::Watch),
        (Some(4.0), located("oil-filler", 15.0), "rings-normal", Weight::Fine),
        // Coolant is no place for air, however little.
        (Some(4.0), located("coolant-filler", 3.0), "gasket-or-crack", Weight::Repeat),
        (Some(4.0), quiet(Call::CannotTell), "healthy", Weight::Fine),
        (Some(4.0), None, "healthy", Weight::Fine),
        (None, located("exhaust", 8.0), "exhaust-valve", Weight::Watch),
        (None, quiet(Call::CannotTell), "undecided", Weight::Repeat),
        (None, quiet(Call::NoneHeard), "silent-unmeasured", Weight::Watch),
        (None, None, "not-tested", Weight::Repeat),
    ];
    for (loss, ranking, code, weight) in cases {
        let call = ranking.as_ref().map(|ranking| ranking.call);
        assert_eq!(first(vec![(loss, ranking)]), (code.to_owned(), weight), "{loss:?} % and {call:?}");
    }
}

#[test]
fn two_neighbours_low_raise_the_gasket() {
    let rows = vec![(Some(40.0), quiet(Call::NoneHeard)), (Some(42.0), None), (Some(5.0), None), (Some(5.0), None)];
    let findings = Findings::of(&engine(rows)).expect("findings");
    assert_eq!([0, 1].map(|at| findings.cylinders[at].code.as_str()), ["gasket-suspected", "gasket-suspected"]);
    assert!(findings.engine.iter().any(|finding| finding.code == "neighbours-low"));
    // The same losses on cylinders that do not stand side by side raise nothing of the kind.
    let rows = vec![(Some(40.0), quiet(Call::NoneHeard)), (Some(5.0), None), (Some(42.0), None), (Some(5.0), None)];
    let findings = Findings::of(&engine(rows)).expect("findings");
    assert_eq!(findings.cylinders[0].code, "lost-but-silent");
    assert!(!findings.engine.iter().any(|finding| finding.code == "neighbours-low"));
}

#[test]
fn the_spread_weighs_more_than_one_value() {
    // 19 % is fair by itself, and calls for work where the others lose 4 %.
    let alone = first(vec![(Some(19.0), located("exhaust", 6.0))]);
    let among = first(vec![(Some(19.0), located("exhaust", 6.0)), (Some(4.0), None), (Some(4.0), None)]);
    assert_eq!((alone.1, among.1), (Weight::Watch, Weight::Repair));
    let alike = first(vec![(Some(19.0), located("exhaust", 6.0)), (Some(18.0), None), (Some(19.0), None)]);
    assert_eq!(alike.1, Weight::Watch);
}

#[test]
fn the_makers_limit_decides() {
    let mut given = engine(vec![(Some(30.0), located("exhaust", 6.0))]);
    given.maker = Some(MakersLimit { loss_percent: Some(35.0), ..MakersLimit::default() });
    let finding = &Findings::of(&given).expect("findings").cylinders[0];
    assert_eq!(finding.weight, Weight::Watch);
    assert_eq!(finding.loss.as_ref().expect("a loss").judgement.scale, "maker");
}

#[test]
fn a_two_strokes_ports_are_no_valves() {
    let mut two = engine(vec![(Some(40.0), located("exhaust", 8.0))]);
    two.cycle = Cycle::TwoStroke;
    assert_eq!(Findings::of(&two).expect("findings").cylinders[0].code, "past-the-piston");
}

#[test]
fn what_may_turn_the_crank_is_never_without_its_caution() {
    let rules = Rules::embedded().expect("the rule table");
    for rule in rules.cylinder.iter().chain(&rules.engine).filter(|rule| !rule.next.is_empty()) {
        let cautions = rules.cautions(&rule.next);
        for always in ["maker-first", "eyes", "ears"] {
            assert!(cautions.iter().any(|caution| caution == always), "{} lacks {always}", rule.code);
        }
        if rule.next.iter().any(|step| step.starts_with("read-again") || step == "oil-in-cylinder") {
            assert!(cautions.iter().any(|caution| caution == "crank-turns"), "{}", rule.code);
        }
    }
}

#[test]
fn a_row_of_no_cylinder_is_told() {
    let mut wrong = engine(vec![(Some(4.0), None)]);
    wrong.rows[0].cylinder = 4;
    let error = Findings::of(&wrong).expect_err("refused").to_string();
    assert_eq!(error, "cylinder 4 cannot be: this engine has 1, each with one row");
}
