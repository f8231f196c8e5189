//! Before and after.

use hissward::ranking::Call;
use serde_json::Value;

use crate::yard::{Planned, Yard, ranked};

fn codes(found: &Value) -> Vec<&str> {
    found["caveats"].as_array().expect("caveats").iter().filter_map(|caveat| caveat["code"].as_str()).collect()
}

#[test]
fn the_repair_shows_in_its_cylinder() {
    let yard = Yard::new();
    let (before, after) = yard.gull();
    ranked(&before, 2, Call::Located, "oil-filler");
    ranked(&after, 2, Call::NoneHeard, "oil-filler");
    let found = yard.json(&["compare", "before", "after", "--json"]);
    let directions: Vec<&str> =
        found["changes"].as_array().expect("changes").iter().filter_map(|row| row["direction"].as_str()).collect();
    assert_eq!(directions, ["same", "less", "same"]);
    // calc, isentropic nozzles (as in tests/gauge/tables.rs): the rig (78 of 80) taken off 54 and 74 of 80.
    let row = &found["changes"][1];
    assert_eq!(row["basis"], "own");
    let points = row["change_points"].as_f64().expect("points");
    let net = |job: &str| found[job]["cylinders"][1]["net_loss_percent"].as_f64().expect("net");
    assert!((points - (net("after") - net("before"))).abs() < 0.011, "{points}");
    assert!(row["change_points_high"].as_f64().expect("a bound") < -10.0);
    assert_eq!(found["before"]["cylinders"][1]["heard_at"], serde_json::json!(["oil-filler"]));
    assert_eq!(found["after"]["cylinders"][1]["call"], "none-heard");
    assert_eq!(codes(&found), Vec::<&str>::new());
    insta::assert_snapshot!("compare-en", yard.printed(&["compare", "before", "after", "-q"]));
}

#[test]
fn the_language_is_that_of_the_job() {
    let yard = Yard::new();
    let (_, after) = yard.gull();
    let text = std::fs::read_to_string(after.join("job.toml")).expect("job.toml");
    std::fs::write(after.join("job.toml"), text.replace("format = 1", "format = 1\nlanguage = \"de\""))
        .expect("written");
    insta::assert_snapshot!("compare-de", yard.printed(&["compare", "before", "after", "-q"]));
}

#[test]
fn what_makes_two_jobs_hard_to_compare_is_said() {
    let yard = Yard::new();
    yard.gull();
    let other = Planned {
        engine: "Gull, the grey one",
        cold: true,
        rig_psi: None,
        day: Some("2026-12-03"),
        ..Planned::default()
    };
    yard.add(&Planned { job: "other", ..other });
    let found = yard.json(&["compare", "other", "before", "--json"]);
    assert_eq!(codes(&found), ["compare-other-name", "compare-order", "compare-one-cold", "compare-rig"]);
    assert_eq!(found["changes"][0]["basis"], "reading");
    let file = yard.path().join("other/job.toml");
    let text =
        std::fs::read_to_string(&file).expect("job.toml").replace("restrictor_mm = 1.016", "restrictor_mm = 1.524");
    std::fs::write(&file, text).expect("written");
    assert!(codes(&yard.json(&["compare", "other", "before", "--json"])).contains(&"compare-restrictors"));
}

#[test]
fn jobs_that_cannot_be_compared_are_told() {
    let yard = Yard::new();
    yard.gull();
    yard.add(&Planned { job: "four", held_psi: vec![75.0; 4], ..Planned::default() });
    for (other, words) in [("four", "4"), ("before", "given twice"), ("nowhere", "no such job folder")] {
        let out = yard.hissward(&["compare", "before", other]).assert().code(2).get_output().clone();
        let told = String::from_utf8_lossy(&out.stderr).into_owned();
        assert!(out.stdout.is_empty() && told.contains(words), "{other}: {told}");
    }
}
