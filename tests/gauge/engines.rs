//! Five engines, each with readings and sound as a technician would bring them, and the findings in full.

use hissward::finding::{CylinderRow, Engine, Findings, Reader, order_of_repair, text_of};
use hissward::gauge::{Assessment, Conditions, Reading, assess, assess_rig};
use hissward::opening::Opening;
use hissward::ranking::{Call, HissReading, Member, OpeningResult, Ranking};
use hissward::units::{GaugePressure, Length, Level, LevelDiff};
use hissward::words::Words;

fn psi(supply: f64, held: f64) -> Reading {
    Reading::Pressures { supply: GaugePressure::from_psi(supply), held: GaugePressure::from_psi(held) }
}

fn conditions() -> Conditions {
    Conditions { restrictor: Some(Length::from_inches(0.040)), ..Conditions::default() }
}

/// What was heard at one opening: its probability, and level and height above quiet where a hiss stood out.
pub struct Heard {
    opening: &'static str,
    probability: f64,
    level_db: Option<f64>,
    above_quiet_db: f64,
    spill: bool,
}

pub fn heard(opening: &'static str, probability: f64, level_db: f64, above_quiet_db: f64) -> Heard {
    Heard { opening, probability, level_db: Some(level_db), above_quiet_db, spill: false }
}

fn spill(opening: &'static str, probability: f64, level_db: f64) -> Heard {
    Heard { opening, probability, level_db: Some(level_db), above_quiet_db: 1.5, spill: true }
}

pub fn silent(opening: &'static str, probability: f64) -> Heard {
    Heard { opening, probability, level_db: None, above_quiet_db: 0.2, spill: false }
}

pub fn ranking(cylinder: u32, call: Call, elsewhere: f64, heard: &[Heard]) -> Ranking {
    let opening = |name: &str| name.parse::<Opening>().expect("an opening");
    let openings: Vec<OpeningResult> = heard
        .iter()
        .map(|heard| OpeningResult {
            opening: opening(heard.opening),
            probability: heard.probability,
            hiss: heard.level_db.map_or(HissReading::Bound, |level| HissReading::Heard {
                level: Level(level),
                low: Level(level - 1.5),
                high: Level(level + 1.5),
            }),
            above_quiet: Some(LevelDiff(heard.above_quiet_db)),
            at_most: Level(heard.level_db.map_or(-68.0, |level| level + 1.5)),
            spill: heard.spill,
            takes: 1,
            bands: Vec::new(),
            caveats: Vec::new(),
        })
        .collect();
    let sum: f64 = openings.iter().map(|opening| opening.probability).sum::<f64>() + elsewhere;
    assert!((sum - 1.0).abs() < 1e-9, "probabilities sum to {sum}");
    let answer_set = vec![openings.first().map_or(Member::Elsewhere, |first| Member::Opening(first.opening.clone()))];
    Ranking {
        cylinder: Some(cylinder),
        call,
        answer_set,
        openings,
        elsewhere_probability: elsewhere,
        caveats: Vec::new(),
        ..Ranking::default()
    }
}

fn row(cylinder: u32, gauge: Option<Assessment>, ranking: Option<Ranking>) -> CylinderRow {
    CylinderRow { cylinder, cold: false, gauge, ranking }
}

/// Everything that is said of an engine, to both readers, in one language.
fn in_full(engine: &Engine, language: &str) -> String {
    let words = Words::of(language).expect("a language");
    let findings = Findings::of(engine).expect("findings");
    let mut page = String::new();
    for reader in [Reader::Technician, Reader::Customer] {
        page.push_str(&format!("===== {reader:?} =====\n"));
        for finding in findings.engine.iter().chain(&findings.cylinders) {
            let text = text_of(finding, reader, &words);
            page.push_str(&format!("\n* {}\n", text.headline));
            for (part, sentences) in text.parts {
                page.push_str(&format!("  {}:\n", words.say(part.heading(), &[])));
                if part.is_list() {
                    for sentence in sentences {
                        page.push_str(&format!("    - {sentence}\n"));
                    }
                } else {
                    page.push_str(&format!("    {}\n", sentences.join(" ")));
                }
            }
        }
        page.push('\n');
    }
    page.push_str("===== first =====\n");
    for (line, at) in order_of_repair(&findings, &words).into_iter().zip(1..) {
        page.push_str(&format!("{at}. {line}\n"));
    }
    page
}

fn codes(engine: &Engine) -> Vec<(u32, String)> {
    let findings = Findings::of(engine).expect("findings");
    engine.rows.iter().map(|row| row.cylinder).zip(findings.cylinders.into_iter().map(|finding| finding.code)).collect()
}

fn code(engine: &Engine, cylinder: u32) -> String {
    codes(engine).into_iter().find(|(number, _)| *number == cylinder).expect("a finding").1
}

/// A three-cylinder workboat engine, warm: the second cylinder's rings are worn, heard at the oil filler and, as
/// spill, at the exhaust; the rig holds well.
fn worn_rings() -> Engine {
    let rig = psi(80.0, 79.0);
    let net = |held| Some(assess(&psi(80.0, held), Some(&rig), &conditions()).expect("a loss"));
    Engine {
        cylinders: 3,
        rig: Some(assess_rig(&rig, &conditions()).expect("a rig")),
        rows: vec![
            row(
                1,
                net(76.0),
                Some(ranking(
                    1,
                    Call::NoneHeard,
                    0.62,
                    &[silent("oil-filler", 0.20), silent("exhaust", 0.10), silent("intake", 0.08)],
                )),
            ),
            row(
                2,
                net(55.0),
                Some(ranking(
                    2,
                    Call::Located,
                    0.01,
                    &[heard("oil-filler", 0.97, -47.2, 6.4), spill("exhaust", 0.015, -58.0), silent("intake", 0.005)],
                )),
            ),
            row(
                3,
                net(75.0),
                Some(ranking(
                    3,
                    Call::Located,
                    0.02,
                    &[heard("oil-filler", 0.96, -55.0, 2.5), silent("exhaust", 0.01), silent("intake", 0.01)],
                )),
            ),
        ],
        ..Engine::default()
    }
}

/// A four-cylinder engine, warm: the third cylinder's exhaust valve is burnt.
fn burnt_exhaust_valve() -> Engine {
    let rig = psi(100.0, 98.0);
    let net = |held| Some(assess(&psi(100.0, held), Some(&rig), &conditions()).expect("a loss"));
    let tight = |cylinder| {
        ranking(
            cylinder,
            Call::NoneHeard,
            0.7,
            &[silent("oil-filler", 0.1), silent("exhaust", 0.1), silent("intake", 0.1)],
        )
    };
    Engine {
        cylinders: 4,
        rig: Some(assess_rig(&rig, &conditions()).expect("a rig")),
        rows: vec![
            row(1, net(93.0), Some(tight(1))),
            row(2, net(92.0), Some(tight(2))),
            row(
                3,
                net(58.0),
                Some(ranking(
                    3,
                    Call::Located,
                    0.002,
                    &[heard("exhaust", 0.995, -41.0, 12.0), spill("intake", 0.002, -60.0), silent("oil-filler", 0.001)],
                )),
            ),
            row(4, net(94.0), Some(tight(4))),
        ],
        ..Engine::default()
    }
}

/// A twin whose rig leaks at a coupler: both readings look bad, and both cylinders are tight.
fn rig_leak_only() -> Engine {
    let rig = psi(80.0, 66.0);
    let net = |held| Some(assess(&psi(80.0, held), Some(&rig), &conditions()).expect("a loss"));
    let at_rig = |cylinder| {
        ranking(
            cylinder,
            Call::Located,
            0.01,
            &[heard("rig", 0.98, -44.0, 9.0), silent("exhaust", 0.005), silent("oil-filler", 0.005)],
        )
    };
    Engine {
        cylinders: 2,
        rig: Some(assess_rig(&rig, &conditions()).expect("a rig")),
        rows: vec![row(1, net(65.0), Some(at_rig(1))), row(2, net(64.0), Some(at_rig(2)))],
        ..Engine::default()
    }
}

/// A four-cylinder engine whose head gasket is blown between the second and third cylinder.
fn gasket_to_neighbour() -> Engine {
    let rig = psi(80.0, 79.0);
    let net = |held| Some(assess(&psi(80.0, held), Some(&rig), &conditions()).expect("a loss"));
    Engine {
        cylinders: 4,
        rig: Some(assess_rig(&rig, &conditions()).expect("a rig")),
        rows: vec![
            row(1, net(74.0), None),
            row(
                2,
                net(48.0),
                Some(ranking(
                    2,
                    Call::Located,
                    0.01,
                    &[heard("plug-hole-3", 0.96, -45.0, 8.0), silent("oil-filler", 0.02), silent("plug-hole-1", 0.01)],
                )),
            ),
            row(3, net(46.0), {
                Some(ranking(
                    3,
                    Call::CannotTell,
                    0.2,
                    &[heard("plug-hole-2", 0.45, -50.0, 2.0), heard("oil-filler", 0.35, -51.0, 1.8)],
                ))
            }),
            row(4, net(75.0), None),
        ],
        ..Engine::default()
    }
}

/// A sound three-cylinder engine, read cold in the morning: somewhat high everywhere, alike, rings heard.
fn healthy_but_cold() -> Engine {
    let rig = psi(80.0, 79.5);
    let net = |held| Some(assess(&psi(80.0, held), Some(&rig), &conditions()).expect("a loss"));
    let rings = |cylinder| {
        ranking(
            cylinder,
            Call::Located,
            0.02,
            &[heard("oil-filler", 0.96, -54.0, 3.0), silent("exhaust", 0.01), silent("intake", 0.01)],
        )
    };
    let silent =
        ranking(3, Call::NoneHeard, 0.55, &[silent("oil-filler", 0.25), silent("exhaust", 0.1), silent("intake", 0.1)]);
    let cold = |cylinder, held, ranking| CylinderRow { cold: true, ..row(cylinder, net(held), Some(ranking)) };
    Engine {
        cylinders: 3,
        rig: Some(assess_rig(&rig, &conditions()).expect("a rig")),
        rows: vec![cold(1, 66.0, rings(1)), cold(2, 65.0, rings(2)), cold(3, 67.0, silent)],
        ..Engine::default()
    }
}

#[test]
fn worn_rings_in_full() {
    let engine = worn_rings();
    assert_eq!([code(&engine, 1), code(&engine, 2), code(&engine, 3)], ["healthy", "rings-or-bore", "rings-normal"]);
    for language in ["en", "de"] {
        insta::assert_snapshot!(format!("rings-{language}"), in_full(&engine, language));
    }
}

#[test]
fn burnt_exhaust_valve_in_full() {
    let engine = burnt_exhaust_valve();
    assert_eq!(code(&engine, 3), "exhaust-valve");
    for language in ["en", "de"] {
        insta::assert_snapshot!(format!("exhaust-{language}"), in_full(&engine, language));
    }
}

#[test]
fn rig_leak_only_in_full() {
    let engine = rig_leak_only();
    assert_eq!([code(&engine, 1), code(&engine, 2)], ["rig-is-the-leak", "rig-is-the-leak"]);
    for language in ["en", "de"] {
        insta::assert_snapshot!(format!("rig-{language}"), in_full(&engine, language));
    }
}

#[test]
fn gasket_to_neighbour_in_full() {
    let engine = gasket_to_neighbour();
    assert_eq!([code(&engine, 2), code(&engine, 3)], ["across-or-round", "gasket-from-neighbour"]);
    for language in ["en", "de"] {
        insta::assert_snapshot!(format!("gasket-{language}"), in_full(&engine, language));
    }
}

#[test]
fn healthy_but_cold_in_full() {
    let engine = healthy_but_cold();
    assert_eq!([code(&engine, 1), code(&engine, 2), code(&engine, 3)], ["cold-rings", "cold-rings", "cold-and-silent"]);
    for language in ["en", "de"] {
        insta::assert_snapshot!(format!("cold-{language}"), in_full(&engine, language));
    }
}
