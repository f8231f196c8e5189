//! `rig` and `gauge` as typed: what they print, what they keep, and what they refuse.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

struct Bench {
    folder: TempDir,
}

impl Bench {
    /// A job on a three-cylinder engine in a folder of its own.
    fn new(more: &[&str]) -> Self {
        let bench = Self { folder: TempDir::new().expect("a folder") };
        let engine = ["new", "job", "--engine", "Three-cylinder petrol, workboat Gull", "--cylinders", "3"];
        bench.hissward(&[&engine, more].concat()).assert().success();
        bench
    }

    fn hissward(&self, arguments: &[&str]) -> Command {
        let mut command = Command::cargo_bin("hissward").expect("the program");
        command.current_dir(self.folder.path()).env("NO_COLOR", "1").args(arguments);
        command
    }

    fn json(&self, arguments: &[&str]) -> Value {
        let out = self.hissward(arguments).assert().success().get_output().stdout.clone();
        serde_json::from_slice(&out).expect("JSON on stdout, and nothing else")
    }

    fn told(&self, arguments: &[&str]) -> String {
        let out = self.hissward(arguments).assert().code(2).get_output().clone();
        assert!(out.stdout.is_empty(), "an error leaves stdout empty");
        String::from_utf8(out.stderr).expect("UTF-8")
    }

    fn job_file(&self) -> PathBuf {
        self.folder.path().join("job/job.toml")
    }
}

fn text(path: &Path) -> String {
    fs::read_to_string(path).expect("job.toml")
}

#[test]
fn the_rig_is_taken_off_the_reading() {
    let bench = Bench::new(&["--restrictor", "0.040in"]);
    let rig = bench.json(&["rig", "job", "--supply", "80psi", "--held", "75psi", "--json"]);
    assert_eq!(rig["cylinder"], Value::Null);
    // FAA AC 43.13-1B ch. 8 step (i), seen: 100·(80 − 75)/80.
    assert_eq!((&rig["loss_percent"], &rig["rig_loss_percent"]), (&6.25.into(), &6.25.into()));
    assert_eq!(rig["net_loss_percent"], Value::Null);
    let gauge = bench.json(&["gauge", "job", "--cylinder", "2", "--supply", "80 psi", "--held", "60 psi", "--json"]);
    let keys: Vec<&String> = gauge.as_object().expect("an object").keys().collect();
    let promised = [
        "format",
        "cylinder",
        "supply_kpa",
        "held_kpa",
        "loss_percent",
        "rig_loss_percent",
        "net_loss_percent",
        "net_area_ratio",
        "equivalent_hole_mm",
        "loss_low_percent",
        "loss_high_percent",
        "net_loss_low_percent",
        "net_loss_high_percent",
        "tells",
        "verdict",
        "verdict_by",
        "at_the_limit",
        "net_verdict",
        "earlier_loss_percent",
        "caveats",
    ];
    assert_eq!(keys.len(), promised.len());
    assert!(promised.iter().all(|key| gauge.get(*key).is_some()), "{keys:?}");
    assert_eq!((&gauge["format"], &gauge["cylinder"]), (&1.into(), &2.into()));
    assert_eq!((&gauge["supply_kpa"], &gauge["held_kpa"]), (&551.581.into(), &413.685.into()));
    assert_eq!((&gauge["loss_percent"], &gauge["rig_loss_percent"]), (&25.0.into(), &6.25.into()));
    // calc, isentropic nozzles: 1.0586 − 0.4867, solved back; the hole is 1.016 mm times the root.
    let ratio = gauge["net_area_ratio"].as_f64().expect("a ratio");
    assert!((ratio - 0.5719).abs() < 1e-4, "{ratio}");
    let hole = gauge["equivalent_hole_mm"].as_f64().expect("a hole");
    assert!((hole - 1.016 * ratio.sqrt()).abs() < 1e-4, "{hole}");
    let net = gauge["net_loss_percent"].as_f64().expect("a loss");
    assert!((net - 8.47).abs() < 0.01, "{net}");
    insta::assert_snapshot!(
        "gauge-printed",
        printed(&bench, &["gauge", "job", "--cylinder", "2", "--supply", "80psi", "--held", "60psi"])
    );
    insta::assert_snapshot!("rig-printed", printed(&bench, &["rig", "job", "--supply", "80psi", "--held", "75psi"]));
}

fn printed(bench: &Bench, arguments: &[&str]) -> String {
    let out = bench.hissward(&[arguments, &["--quiet"]].concat()).assert().success().get_output().clone();
    assert!(out.stderr.is_empty(), "quiet is quiet");
    String::from_utf8(out.stdout).expect("UTF-8")
}

#[test]
fn without_the_rig_or_the_restrictor_what_is_unknown_is_null() {
    let bench = Bench::new(&[]);
    let gauge = bench.json(&["gauge", "job", "--cylinder", "1", "--supply", "6,9 bar", "--held", "6.2bar", "--json"]);
    assert_eq!((&gauge["net_loss_percent"], &gauge["equivalent_hole_mm"]), (&Value::Null, &Value::Null));
    assert_eq!(gauge["caveats"][0]["code"], "rig-not-measured");
    let share = bench.json(&["gauge", "job", "--cylinder", "1", "--loss", "12,5 %", "--cold", "--json"]);
    assert_eq!((&share["supply_kpa"], &share["loss_percent"]), (&Value::Null, &12.5.into()));
    let codes: Vec<&str> =
        share["caveats"].as_array().expect("caveats").iter().filter_map(|caveat| caveat["code"].as_str()).collect();
    assert_eq!(codes, ["percent-gauge", "rig-not-measured", "read-cold"]);
}

#[test]
fn bad_input_is_told_and_nothing_changes() {
    let bench = Bench::new(&[]);
    bench.hissward(&["rig", "job", "--supply", "80psi", "--held", "70psi"]).assert().success();
    let before = text(&bench.job_file());
    let gauge = |more: &[&str]| bench.told(&[&["gauge", "job"], more].concat());
    let told = [
        gauge(&["--cylinder", "2", "--supply", "80psi", "--held", "95psi"]),
        gauge(&["--cylinder", "2", "--supply", "0psi", "--held", "0psi"]),
        gauge(&["--cylinder", "2", "--supply", "-80psi", "--held", "60psi"]),
        gauge(&["--cylinder", "2", "--supply", "80", "--held", "60psi"]),
        gauge(&["--cylinder", "2", "--supply", "80furlongs", "--held", "60psi"]),
        gauge(&["--cylinder", "2", "--supply", "20inHg", "--held", "60psi"]),
        gauge(&["--cylinder", "2", "--supply", "1000psi", "--held", "60psi"]),
        gauge(&["--cylinder", "2", "--loss", "120"]),
        gauge(&["--cylinder", "2", "--loss", "-5"]),
        gauge(&["--cylinder", "4", "--supply", "80psi", "--held", "60psi"]),
        gauge(&["--cylinder", "0", "--loss", "5"]),
        bench.told(&["rig", "job", "--supply", "80psi", "--held", "95psi"]),
        bench.told(&["rig", "nowhere", "--supply", "80psi", "--held", "70psi"]),
    ];
    assert_eq!(text(&bench.job_file()), before, "an error changes nothing");
    insta::assert_snapshot!("refused", told.join("\n"));
}

#[test]
fn readings_as_people_give_them() {
    let bench = Bench::new(&[]);
    bench.hissward(&["rig", "job", "--loss", "2.5", "--supply", "80psi"]).assert().success();
    for words in [&["72/80psi"][..], &["72", "of", "80", "psi"], &["72/80"], &["10 %", "--cold"], &["80 72 psi"]] {
        let gauge = bench.json(&[&["gauge", "job", "--cylinder", "1", "--json"], words].concat());
        assert_eq!(gauge["loss_percent"], 10.0, "{words:?}");
    }
    let share = bench.json(&["gauge", "job", "--cylinder", "1", "--loss", "22", "--supply", "80psi", "--json"]);
    assert_eq!(share["supply_kpa"], 551.581);
    assert_eq!(share["earlier_loss_percent"].as_array().map(Vec::len), Some(5), "earlier readings stay to be seen");
}

#[test]
fn a_reading_that_contradicts_the_rig_is_kept() {
    let bench = Bench::new(&[]);
    bench.hissward(&["rig", "job", "60/80psi"]).assert().success();
    let gauge = bench.json(&["gauge", "job", "--cylinder", "1", "75/80psi", "--json"]);
    assert_eq!(
        (&gauge["tells"], &gauge["verdict"], &gauge["net_loss_percent"]),
        (&false.into(), &Value::Null, &Value::Null)
    );
    assert_eq!(gauge["caveats"][0]["code"], "rig-worse");
    let said = printed(&bench, &["gauge", "job", "--cylinder", "2", "58/80psi"]);
    assert!(said.contains("Not judged") && !said.contains("excellent"), "{said}");
}

#[test]
fn a_series_is_shown_as_a_trend_and_its_last_reading_counts() {
    let bench = Bench::new(&[]);
    let gauge = bench.json(&["gauge", "job", "--cylinder", "1", "60/80psi", "63/80psi", "65/80psi", "--json"]);
    assert_eq!(gauge["loss_percent"], 18.75);
    assert_eq!(gauge["earlier_loss_percent"], serde_json::json!([25.0, 21.25]));
    let caveats = gauge["caveats"].as_array().expect("caveats");
    assert!(caveats.iter().any(|caveat| caveat["code"] == "still-falling"), "{caveats:?}");
    // A slip and its correction are no trend.
    let corrected = bench.json(&["gauge", "job", "--cylinder", "2", "60/80psi", "70/80psi", "--json"]);
    assert!(!corrected["caveats"].to_string().contains("still-"), "{corrected}");
}

#[test]
fn a_supply_over_the_jobs_limit_is_refused_before_anything_is_kept() {
    let bench = Bench::new(&["--limit-pressure", "60psi"]);
    let before = text(&bench.job_file());
    for arguments in [
        &["gauge", "job", "--cylinder", "1", "72/80psi"][..],
        &["gauge", "job", "--cylinder", "1", "55/60psi", "72/80psi"],
        &["gauge", "job", "--cylinder", "1", "--loss", "10", "--supply", "80psi"],
        &["rig", "job", "79/80psi"],
        &["rig", "job", "--gauges", "79/80psi"],
    ] {
        let told = bench.told(arguments);
        assert!(
            told.contains("5.52 bar (80.0 psi) is above this job's test pressure of 4.14 bar (60.0 psi)"),
            "{told}"
        );
    }
    assert_eq!(text(&bench.job_file()), before);
    bench.hissward(&["gauge", "job", "--cylinder", "1", "55/60psi"]).assert().success();
}

#[test]
fn gauges_read_with_the_valve_shut_are_set_right() {
    let bench = Bench::new(&[]);
    bench.hissward(&["rig", "job", "--gauges", "78/80psi", "--class", "1.6", "--range", "10bar"]).assert().success();
    let gauge = bench.json(&["gauge", "job", "--cylinder", "1", "78/80psi", "--json"]);
    assert_eq!((&gauge["loss_percent"], &gauge["tells"]), (&0.0.into(), &true.into()));
    assert!(bench.told(&["rig", "job", "--gauges", "50/80psi"]).contains("no difference of gauges"));
}
