//! Two and more programs at one job.

use std::fs;
use std::process::{Child, Stdio};

use hissward::job::Job;

use crate::commands::{done, failed_well, prepared, program, said};
use crate::whole::{assert_whole, leftovers};

const ROUNDS: usize = 12;

fn start(folder: &std::path::Path, arguments: &[&str]) -> Child {
    let mut command = program(folder);
    command.args(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it starts")
}

/// Readings from two sides: each is kept, or its writer is told that the other is at it.
#[test]
fn of_two_writers_each_is_done_or_told() {
    let folder = prepared();
    let readings = || Job::open(&folder.path().join("job")).expect("it opens").record().gauge.len();
    let before = readings();
    let mut kept = 0;
    for _ in 0..ROUNDS {
        let gauge = ["gauge", "job", "--cylinder", "1", "--supply", "80psi", "--held", "60psi"];
        let both = [start(folder.path(), &gauge), start(folder.path(), &gauge)];
        for child in both {
            let output = child.wait_with_output().expect("it ends");
            if output.status.success() {
                kept += 1;
            } else {
                failed_well(&output, "gauge beside gauge");
                assert!(said(&output).contains("let it finish"), "{}", said(&output));
            }
        }
    }
    assert_eq!(readings(), before + kept);
    assert!(kept > ROUNDS, "{kept}");
    assert_whole(folder.path(), "two writers");
}

/// Results are made by readers, who take no lock: each run puts a whole file in place, whoever is last.
#[test]
fn results_made_at_once_are_whole() {
    let folder = prepared();
    for round in 0..ROUNDS {
        let runs: Vec<Child> = [["rank", "job"], ["report", "job"], ["rank", "job"], ["report", "job"]]
            .iter()
            .map(|arguments| start(folder.path(), arguments))
            .collect();
        for child in runs {
            let output = child.wait_with_output().expect("it ends");
            done(&output, &format!("round {round}"));
            assert!(!said(&output).contains("ranking.json"), "not kept: {}", said(&output));
        }
        assert_whole(folder.path(), "results made at once");
    }
    assert!(leftovers(folder.path()).is_empty(), "{:?}", leftovers(folder.path()));
    assert!(fs::metadata(folder.path().join("job/results/report.html")).expect("a report").len() > 10_000);
}
