//! What was found when engines were opened, held against what was said.

use std::fs;

use assert_cmd::Command;
use hissward::ranking::Call;

use crate::yard::{Planned, Yard, ranked};

fn opened() -> Yard {
    let yard = Yard::new();
    for (job, day, call, opening) in [
        ("a", "2025-11-24", Call::Located, "oil-filler"),
        ("b", "2026-11-25", Call::Located, "intake"),
        ("c", "2026-11-26", Call::NoneHeard, "exhaust"),
    ] {
        let folder = yard.add(&Planned { job, day: Some(day), held_psi: vec![75.0, 54.0, 76.0], ..Planned::default() });
        ranked(&folder, 2, call, opening);
    }
    yard
}

fn run(yard: &Yard, arguments: &[&str]) -> (i32, String, String) {
    let output = Command::cargo_bin("hissward").expect("built").current_dir(yard.path()).args(arguments).output();
    let output = output.expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (output.status.code().expect("an end"), text(output.stdout), text(output.stderr))
}

#[test]
fn what_was_found_is_held_against_what_was_said() {
    let yard = opened();
    let (code, _, said) = run(&yard, &["history", ".", "--found"]);
    assert!(code == 2 && said.contains("hissward found JOB"), "{said}");
    for (job, path) in [("a", "rings-or-bore"), ("b", "exhaust-valve"), ("c", "exhaust-valve")] {
        let (code, _, said) = run(&yard, &["found", job, "--cylinder", "2", "--path", path, "--note", "seen"]);
        assert!(code == 0 && said.contains("written down as found"), "{said}");
    }
    // The same path again takes the place of what was noted of it.
    run(&yard, &["found", "a", "--cylinder", "2", "--path", "rings-or-bore", "--note", "two rings broken"]);
    let record = fs::read_to_string(yard.path().join("a/job.toml")).expect("a record");
    assert_eq!(record.matches("[[found]]").count(), 1, "{record}");
    assert!(record.contains("note = \"two rings broken\""), "{record}");
    // Said oil filler and found rings: right. Said intake and found the exhaust valve: wrong. None heard: missed.
    let (_, text, _) = run(&yard, &["history", ".", "--found"]);
    assert!(text.contains("Located: 1 of 2 right. None heard, yet found leaking: 1."), "{text}");
    assert!(text.contains("These are few (3)"), "{text}");
    let (_, json, _) = run(&yard, &["history", ".", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let record = &json["said_against_found"];
    assert_eq!((&record["opened"], &record["few"], &record["missed"]), (&3.into(), &true.into(), &1.into()));
    // Wilson's interval of 1 of 2: (0.5 + 0.9604 ± 1.96·√(0.125 + 0.2401)) / 2.9207, by hand 0.0945 to 0.9055.
    let low = record["located"]["share_low"].as_f64().expect("a number");
    assert!((low - 0.0945).abs() < 0.0002, "{low}");
    assert_eq!(record["cases"][0]["said"], "rings-or-bore");
    assert_eq!(record["cases"][1]["right"], false);
    let (_, compared, _) = run(&yard, &["compare", "a", "b"]);
    let compared = compared.replace('\n', " ");
    assert!(compared.contains("opened, piston rings or bore found"), "{compared}");
}

#[test]
fn a_path_or_cylinder_that_cannot_be_is_refused() {
    let yard = opened();
    let before = fs::read(yard.path().join("a/job.toml")).expect("a record");
    let (code, _, said) = run(&yard, &["found", "a", "--cylinder", "2", "--path", "piston"]);
    assert!(code == 2 && said.contains("exhaust-valve"), "{said}");
    let (code, _, said) = run(&yard, &["found", "a", "--cylinder", "7", "--path", "exhaust-valve"]);
    assert!(code == 2 && said.contains("3 cylinders"), "{said}");
    assert_eq!(fs::read(yard.path().join("a/job.toml")).expect("a record"), before);
}

#[test]
fn the_picture_shows_each_span_with_its_count() {
    let yard = opened();
    run(&yard, &["found", "a", "--cylinder", "2", "--path", "rings-or-bore"]);
    let (code, told, said) = run(&yard, &["history", ".", "--found", "--out", "found.svg", "--out", "found.png"]);
    assert!(code == 0 && told == "found.svg\nfound.png\n", "{said}");
    let svg = fs::read_to_string(yard.path().join("found.svg")).expect("a picture");
    assert!(svg.contains("1 of 1") && svg.contains("What was said and what was found"), "{svg}");
    if let Some(kept) = std::env::var_os("KEEP_PICTURES") {
        fs::copy(yard.path().join("found.png"), std::path::Path::new(&kept).join("found.png")).expect("kept");
    }
}
