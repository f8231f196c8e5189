//! The history picture.

use std::fs;

use hissward::ranking::Call;

use crate::yard::{Planned, Yard, ranked};

fn yard() -> Yard {
    let yard = Yard::new();
    let held = |two: f64| vec![75.0, two, 76.0];
    yard.add(&Planned { job: "a", day: Some("2024-11-20"), held_psi: held(72.0), cold: true, ..Planned::default() });
    yard.add(&Planned { job: "b", day: Some("2025-11-24"), held_psi: held(66.0), rig_psi: None, ..Planned::default() });
    yard.add(&Planned { job: "c", held_psi: held(54.0), ..Planned::default() });
    yard.add(&Planned { job: "d", held_psi: held(74.0), ..Planned::default() });
    yard.add(&Planned { job: "e", day: None, ..Planned::default() });
    yard
}

#[test]
fn every_reading_is_drawn_and_said() {
    let yard = yard();
    let told = yard.printed(&["history", ".", "--out", "gull.svg", "--out", "gull.png", "-q"]);
    assert_eq!(told, "gull.svg\ngull.png\n");
    let svg = fs::read_to_string(yard.path().join("gull.svg")).expect("a picture");
    let alt = svg.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next()).expect("a title");
    // Three cylinders on four dated days; the job without a date is named, not drawn.
    assert_eq!(alt.matches("2024-11-20 ").count(), 3, "{alt}");
    assert_eq!(alt.matches("2026-11-25 ").count(), 6, "{alt}");
    for text in [
        "Cylinder 2",
        "2024-11-20 to 2026-11-25",
        "without a date, not drawn: e",
        "at most: rig not taken off",
        "read cold",
    ] {
        assert!(svg.contains(text), "'{text}' is not in the picture");
    }
    let png = fs::read(yard.path().join("gull.png")).expect("a picture");
    // PNG signature, and the width in the header (PNG 3rd ed., 5.2 and 11.2.1).
    assert_eq!(png[..8], [0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a]);
    assert_eq!(u32::from_be_bytes(png[16..20].try_into().expect("four bytes")), 1200);
}

#[test]
fn what_is_not_shown_is_not_in_the_legend() {
    let yard = Yard::new();
    let (_, after) = yard.gull();
    ranked(&after, 2, Call::NoneHeard, "oil-filler");
    yard.printed(&["history", ".", "--out", "gull.svg", "-q"]);
    let svg = fs::read_to_string(yard.path().join("gull.svg")).expect("a picture");
    assert!(svg.contains("cylinder alone, 95 % interval"));
    assert!(svg.contains("none heard (2026-12-02)"), "what was heard last stands over its panel");
    assert!(!svg.contains("at most: rig not taken off") && !svg.contains("read cold"));
}

#[test]
fn the_picture_of_a_repair_lays_both_times_side_by_side() {
    let yard = Yard::new();
    let (_, after) = yard.gull();
    ranked(&after, 2, Call::NoneHeard, "oil-filler");
    yard.printed(&["compare", "before", "after", "--out", "repair.svg", "-q"]);
    let svg = fs::read_to_string(yard.path().join("repair.svg")).expect("a picture");
    let alt = svg.split("<title>").nth(1).and_then(|rest| rest.split("</title>").next()).expect("a title");
    assert!(alt.starts_with("Before and after. Cylinder 1: ") && alt.contains("Cylinder 2: "), "{alt}");
    assert_eq!(alt.matches(" → ").count(), 3, "{alt}");
    assert!(alt.contains(", none heard."), "the call after: {alt}");
    // The words of the picture itself, not those of its title.
    let words: Vec<&str> =
        svg.split("<text").skip(1).filter_map(|part| Some(part.split_once('>')?.1.split_once('<')?.0.trim())).collect();
    for label in ["before", "after"] {
        let count = words.iter().filter(|word| **word == label).count();
        assert_eq!(count, 3, "{label}: once for each cylinder: {words:?}");
    }
}

#[test]
fn the_page_of_a_repair_says_what_was_done() {
    let yard = Yard::new();
    yard.gull();
    yard.printed(&["compare", "before", "after", "--report", "--done", "New rings <in> cylinder 2", "-q"]);
    let results = yard.path().join("after/results");
    let page = fs::read_to_string(results.join("before-and-after.html")).expect("a page");
    for text in ["What was done</h2>", "New rings &lt;in&gt; cylinder 2", "Cylinder 2 loses", "better", "lost before"] {
        assert!(page.contains(text), "'{text}' is not on the page");
    }
    assert!(!page.contains("<details"), "it has no appendix");
    let paper = fs::read(results.join("before-and-after.pdf")).expect("a paper");
    assert!(paper.starts_with(b"%PDF-"));
}

#[test]
fn a_picture_of_too_many_engines_is_refused() {
    let yard = Yard::new();
    let names = ["A", "B", "C", "D", "E", "F", "G", "H", "I", "J", "K", "L", "M"];
    for engine in names {
        yard.add(&Planned { job: engine, engine, ..Planned::default() });
    }
    let out = yard.hissward(&["history", ".", "--out", "all.png"]).assert().code(2).get_output().clone();
    assert!(String::from_utf8_lossy(&out.stderr).contains("--engine"));
    assert!(!yard.path().join("all.png").exists());
}
