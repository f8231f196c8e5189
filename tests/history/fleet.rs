//! A yard with 2,000 job folders.

use std::fs;
use std::time::{Duration, Instant};

use crate::tables::asked;
use crate::yard::{Planned, Yard, clip};

/// Jobs in the yard.
const JOBS: usize = 2_000;

/// What "in seconds" means for an unoptimised test on a busy machine; released, it takes a fraction of one.
const PATIENCE: Duration = Duration::from_secs(30);

/// Copies of one job folder under other names and days, with nine clips each; every hundredth is broken.
fn fleet() -> Yard {
    let yard = Yard::new();
    let first = yard.add(&Planned { job: "template", held_psi: vec![75.0, 66.0, 76.0], ..Planned::default() });
    let clips: String = (1..=3).flat_map(|cylinder| (1..=3).map(move |take| clip(cylinder, "intake", take))).collect();
    let text = fs::read_to_string(first.join("job.toml")).expect("job.toml") + &clips;
    fs::remove_dir_all(&first).expect("the template goes");
    for number in 0..JOBS {
        let folder = yard.path().join(format!("{}/job-{number:04}", 2000 + number % 25));
        fs::create_dir_all(&folder).expect("a folder");
        let engine = format!("boat {}", number % 200);
        let text =
            text.replace("workboat Gull", &engine).replace("2026-11-25", &format!("{}-11-25", 2000 + number % 25));
        let text = if number % 100 == 99 { text.replace("cylinders = 3", "cylinders = \"three\"") } else { text };
        fs::write(folder.join("job.toml"), text).expect("a job");
    }
    yard
}

#[test]
fn two_thousand_jobs_take_seconds() {
    let yard = fleet();
    let begin = Instant::now();
    let out = yard.hissward(&["history", ".", "--out", "losses.parquet", "--out", "losses.csv"]).assert().success();
    let took = begin.elapsed();
    assert!(took < PATIENCE, "{took:?}");
    let talk = String::from_utf8_lossy(&out.get_output().stderr).into_owned();
    assert_eq!(talk.matches("was left out.").count(), JOBS / 100, "{talk}");
    assert!(talk.contains("Jobs read in .: 1980."), "{talk}");
    let counted =
        asked(yard.path(), "select count(*), count(distinct job), count(distinct engine) from 'losses.parquet'");
    // Every hundredth is broken: boats 99 and 199 have only broken ones.
    assert_eq!(counted, [serde_json::json!([3 * 1980, 1980, 198])]);
}
