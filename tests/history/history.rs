//! A yard's jobs over time.

use std::fs;

use hissward::ranking::Call;

use crate::yard::{Planned, Yard, clip, ranked};

/// Four jobs on two engines in folders of their own, one of them without a date, and one broken.
fn yard() -> Yard {
    let yard = Yard::new();
    let held = |two: f64| vec![75.0, two, 76.0];
    yard.add(&Planned {
        job: "2024/gull",
        day: Some("2024-11-20"),
        held_psi: held(72.0),
        cold: true,
        ..Planned::default()
    });
    yard.add(&Planned { job: "2025/gull", day: Some("2025-11-24"), held_psi: held(66.0), ..Planned::default() });
    let last = yard.add(&Planned { job: "2026/gull", held_psi: held(54.0), ..Planned::default() });
    ranked(&last, 2, Call::Located, "oil-filler");
    let pilot =
        Planned { engine: "Pilot boat, single", held_psi: vec![70.0], rig_psi: None, day: None, ..Planned::default() };
    yard.add(&Planned { job: "pilot", ..pilot });
    fs::create_dir(yard.path().join("broken")).expect("a folder");
    fs::write(yard.path().join("broken/job.toml"), "format = 1\nengine = [\n").expect("a file");
    fs::create_dir(yard.path().join("letters")).expect("a folder");
    yard
}

#[test]
fn a_history_reads_as_people_expect() {
    let yard = yard();
    let out = yard.hissward(&["history", "."]).assert().success().get_output().clone();
    insta::assert_snapshot!("history-en", String::from_utf8(out.stdout).expect("UTF-8"));
    let talk = String::from_utf8(out.stderr).expect("UTF-8");
    assert!(talk.contains("broken was left out.") && talk.contains("line 2"), "{talk}");
    assert!(talk.contains("Jobs read in .: 4."), "{talk}");
}

#[test]
fn json_names_what_was_left_out() {
    let found = yard().json(&["history", ".", "--json", "-q"]);
    assert_eq!(found["format"], 1);
    assert_eq!(found["skipped"][0]["job"], "broken");
    let engines = found["engines"].as_array().expect("engines");
    assert_eq!(engines.len(), 2);
    assert_eq!(engines[0]["jobs"][0]["tested_on"], serde_json::Value::Null);
    let last = &engines[1]["jobs"][2];
    assert_eq!((&last["calls"], &last["tested_on"]), (&"known".into(), &"2026-11-25".into()));
    assert_eq!(last["cylinders"][1]["call"], "located");
    assert_eq!(last["cylinders"][1]["probability"], 0.98);
    assert_eq!(last["cylinders"][0]["call"], serde_json::Value::Null);
    // FAA AC 43.13-1B ch. 8 step (i), seen: 100·(80 − 54)/80.
    assert_eq!(last["cylinders"][1]["loss_percent"], 32.5);
}

#[test]
fn an_outdated_ranking_is_noticed() {
    let yard = yard();
    let file = yard.path().join("2026/gull/job.toml");
    let told =
        |yard: &Yard| yard.json(&["history", ".", "--engine", "gull", "--json"])["engines"][0]["jobs"][2].clone();
    assert_eq!(told(&yard)["calls"], "known");
    let text = fs::read_to_string(&file).expect("job.toml");
    fs::write(&file, text.clone() + &clip(2, "intake", 7)).expect("written");
    let job = told(&yard);
    assert_eq!((&job["calls"], &job["cylinders"][1]["call"]), (&"outdated".into(), &serde_json::Value::Null));
    let out = yard.hissward(&["history", "."]).assert().success().get_output().clone();
    assert!(String::from_utf8_lossy(&out.stderr).contains("1 ranked before their clips changed"));
    // A note changes no clip.
    fs::write(&file, text.clone() + "# a remark\n").expect("written");
    assert_eq!(told(&yard)["calls"], "known");
    // Left out on purpose is a change, too.
    fs::write(&file, text + "left_out = \"wind\"\n").expect("written");
    assert_eq!(told(&yard)["calls"], "nothing-recorded");
    fs::remove_dir_all(yard.path().join("2026/gull/results")).expect("results go");
    let text = fs::read_to_string(&file).expect("job.toml").replace("left_out = \"wind\"\n", "");
    fs::write(&file, text).expect("written");
    assert_eq!(told(&yard)["calls"], "not-ranked");
}

#[test]
fn a_ranking_that_is_none_is_told() {
    let yard = yard();
    let kept = yard.path().join("2026/gull/results/ranking.json");
    for text in ["", "{", "{\"format\": 7, \"results\": []}", "[1]"] {
        fs::write(&kept, text).expect("written");
        let skipped = yard.json(&["history", ".", "--json"])["skipped"].clone();
        let reason = skipped[0]["reason"].as_str().expect("a reason");
        assert!(reason.contains("the kept ranking cannot be read") && reason.contains("hissward rank"), "{reason}");
    }
}

#[test]
fn one_engine_alone_is_shown() {
    let found = yard().json(&["history", ".", "--engine", "WORKBOAT gull", "--json"]);
    assert_eq!(found["engines"].as_array().map(Vec::len), Some(1));
}

#[test]
fn a_job_itself_is_a_history_of_one() {
    let yard = yard();
    assert_eq!(yard.json(&["history", "pilot", "--json"])["engines"][0]["jobs"][0]["job"], "pilot");
}

#[test]
fn nothing_to_tell_is_an_error() {
    let yard = yard();
    let cases: [(&[&str], &str); 6] = [
        (&["letters"], "no job folder here or below"),
        (&["nowhere"], "no such job folder"),
        (&["broken"], "no job here can be read (found: 1)"),
        (&[".", "--engine", "Tern"], "no engine there is called 'Tern'"),
        (&[".", "--out", "losses.doc"], ".parquet"),
        (&[".", "--out", "no/where.csv"], "cannot be written"),
    ];
    for (arguments, words) in cases {
        let out = yard.hissward(&[&["history"], arguments].concat()).assert().code(2).get_output().clone();
        let told = String::from_utf8_lossy(&out.stderr).into_owned();
        assert!(out.stdout.is_empty() && told.contains(words), "{arguments:?}: {told}");
    }
    // A table that was begun is not left behind.
    yard.hissward(&["history", ".", "--engine", "Tern", "--out", "tern.csv"]).assert().code(2);
    let left: Vec<_> =
        fs::read_dir(yard.path()).expect("a folder").filter_map(Result::ok).map(|e| e.file_name()).collect();
    assert!(left.iter().all(|name| !name.to_string_lossy().starts_with(".tmp") && name != "tern.csv"), "{left:?}");
}
