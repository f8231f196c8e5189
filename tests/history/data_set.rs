//! The data set of many jobs: it grows, and the queries of its page run.

use std::fs;
use std::path::Path;

use crate::tables::asked;
use crate::yard::{Planned, Yard};

const PAGE: &str = include_str!("../../src/export/fleet/fleet.md");
const LATEST: &str = include_str!("../../src/export/fleet/latest.sql");
const QUERIES: [&str; 3] = [
    include_str!("../../src/export/fleet/worsening.sql"),
    include_str!("../../src/export/fleet/rigs.sql"),
    include_str!("../../src/export/fleet/agreement.sql"),
];

/// A query on the latest of a set.
fn latest(folder: &Path, query: &str) -> Vec<serde_json::Value> {
    let fleet = "(select * from read_parquet('fleet/*/*/*.parquet', hive_partitioning = true)) as fleet";
    let inner = LATEST.split_once("as\n").expect("a view").1.replace("from fleet", &format!("from {fleet}"));
    let whole = match query.strip_prefix("with course") {
        Some(rest) => format!("with latest as ({inner}), course{rest}"),
        None => format!("with latest as ({inner}) {query}"),
    };
    asked(folder, &whole)
}

#[test]
fn the_set_grows_and_the_latest_counts() {
    let yard = Yard::new();
    for (job, day, two) in [("a", "2024-11-20", 74.0), ("b", "2025-11-24", 66.0), ("c", "2026-11-25", 54.0)] {
        yard.add(&Planned { job, day: Some(day), held_psi: vec![75.0, two, 76.0], ..Planned::default() });
    }
    assert_eq!(yard.printed(&["history", ".", "--out", "fleet"]), "fleet\n");
    assert!(yard.path().join("fleet/year=2026/yard=__HIVE_DEFAULT_PARTITION__").is_dir());
    let count = "select count(*), max(revision) from latest";
    assert_eq!(latest(yard.path(), count), [serde_json::json!([9, 1])]);
    // Nothing new: nothing is written.
    let files = || walk(&yard.path().join("fleet"));
    let before = files();
    yard.printed(&["history", ".", "--out", "fleet"]);
    assert_eq!(files(), before);
    // A reading is put right: the job comes again, and the latest counts.
    let path = yard.path().join("c/job.toml");
    let text = fs::read_to_string(&path).expect("a record");
    fs::write(&path, text.replace("cylinders = 3", "cylinders = 3\nshop = \"Pier Yard\"")).expect("written");
    yard.printed(&["history", ".", "--out", "fleet"]);
    assert!(before.iter().all(|file| files().contains(file)), "nothing is rewritten");
    assert_eq!(latest(yard.path(), count), [serde_json::json!([9, 2])]);
    let yards = "select count(*) from latest where yard = 'Pier Yard' and year = 2026";
    assert_eq!(latest(yard.path(), yards), [serde_json::json!([3])]);
    fs::write(yard.path().join("other.txt"), "x").expect("written");
}

fn walk(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("listed") {
        let path = entry.expect("an entry").path();
        if path.is_dir() { found.extend(walk(&path)) } else { found.push(path.display().to_string()) }
    }
    found.sort();
    found.retain(|name| name.ends_with(".parquet"));
    found
}

#[test]
fn the_page_s_queries_are_those_that_run() {
    let yard = Yard::new();
    for (job, day, two) in [("a", "2024-11-20", 74.0), ("c", "2026-11-25", 54.0)] {
        yard.add(&Planned { job, day: Some(day), held_psi: vec![75.0, two, 76.0], ..Planned::default() });
    }
    yard.printed(&["history", ".", "--out", "fleet"]);
    for query in QUERIES.iter().chain([&LATEST]) {
        assert!(PAGE.contains(query.trim_end()), "the page shows {query}");
    }
    let worse = latest(yard.path(), QUERIES[0]);
    assert_eq!(worse.len(), 1, "{worse:?}");
    assert_eq!((&worse[0][1], &worse[0][2]), (&crate::yard::GULL.into(), &2.into()));
    // 2 of 80 psi is a rig that loses 2.5 %.
    let rigs = latest(yard.path(), QUERIES[1]);
    assert_eq!(rigs.len(), 2, "{rigs:?}");
    assert!(rigs.iter().all(|row| row[3] == 2.5), "{rigs:?}");
    assert_eq!(latest(yard.path(), QUERIES[2]), Vec::<serde_json::Value>::new(), "nobody listened");
}
