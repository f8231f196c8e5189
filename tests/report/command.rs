//! `hissward report` as it is called, and its table for other programs.

use std::fs;
use std::path::Path;

use assert_cmd::cargo::cargo_bin_cmd;
use hissward::report;

use crate::{cases, evidence};

/// Runs the program in a folder that is also its user's home, and gives what it printed.
fn run(folder: &Path, arguments: &[&str], code: i32) -> (String, String) {
    let mut command = cargo_bin_cmd!("hissward");
    command.env("XDG_CONFIG_HOME", folder.join("config")).current_dir(folder).args(arguments);
    let done = command.assert().code(code);
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
    (text(&done.get_output().stdout), text(&done.get_output().stderr))
}

#[test]
fn a_job_with_readings_alone_has_its_report() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    run(at, &["new", "gull", "--engine", "Workboat <Gull>", "--cylinders", "3", "--shop", "Pier Yard"], 0);
    run(at, &["gauge", "gull", "--cylinder", "2", "--supply", "80psi", "--held", "60psi"], 0);
    run(at, &["settings", "--name", "Pier Yard", "--address", "2 Quay Street", "--paper", "letter"], 0);
    let (files, _) = run(at, &["report", "gull", "--language", "de", "--csv"], 0);
    let files: Vec<&str> = files.lines().collect();
    assert_eq!(files, ["gull/results/report.html", "gull/results/report.pdf", "gull/results/results.csv"]);
    let page = fs::read_to_string(at.join(files[0])).expect("a page");
    for wanted in
        ["<html lang=\"de\">", "Workboat &lt;Gull&gt;", "Pier Yard", "2 Quay Street", "25,0\u{a0}%", "nicht abgehört"]
    {
        assert!(page.contains(wanted), "{wanted}");
    }
    let paper = fs::read(at.join(files[1])).expect("a paper");
    assert!(paper.starts_with(b"%PDF-1.7"));
    let table = fs::read_to_string(at.join(files[2])).expect("a table");
    // FAA AC 43.13-1B, step (i): 60 of 80 psi is 25 %.
    let row = table.lines().nth(1).expect("a row");
    assert!(row.starts_with("2,25.00,25.00,") && row.ends_with(",,,,,,,,,,,"), "{row}");
    // Another shop's address does not stand under this one's name.
    run(at, &["settings", "--name", "Other Yard"], 0);
    run(at, &["report", "gull"], 0);
    let page = fs::read_to_string(at.join(files[0])).expect("a page");
    assert!(page.contains("Pier Yard") && !page.contains("Quay Street") && !page.contains("Other Yard"));
}

#[test]
fn what_cannot_be_reported_leaves_nothing_behind() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    run(at, &["new", "gull", "--engine", "Workboat Gull", "--cylinders", "3"], 0);
    let (_, said) = run(at, &["report", "gull"], 2);
    assert!(said.contains("gull"), "{said}");
    run(at, &["gauge", "gull", "--cylinder", "2", "--loss", "12"], 0);
    for wrong in
        [&["report", "gull", "--language", "xx"][..], &["report", "gull", "--paper", "a5"], &["report", "nowhere"]]
    {
        run(at, wrong, 2);
    }
    assert!(!at.join("gull/results").exists());
}

#[test]
fn the_table_has_a_row_for_each_opening() {
    let table = report::csv(&evidence::engine(cases::boat()));
    let rows: Vec<Vec<&str>> = table.lines().map(|line| line.split(',').collect()).collect();
    assert_eq!(rows.len(), 10, "a head, and three openings of three cylinders");
    assert!(rows.iter().all(|row| row.len() == 17), "{table}");
    let oil = rows.iter().find(|row| row[0] == "2" && row[8] == "oil-filler").expect("a row");
    // 100·(80 − 55)/80 = 31.25.
    assert_eq!((oil[1], oil[5], oil[10], oil[11], oil[12]), ("31.25", "located", "0.9812", "true", "-47.21"));
    let exhaust = rows.iter().find(|row| row[0] == "2" && row[8] == "exhaust").expect("a row");
    assert_eq!((exhaust[11], exhaust[12], exhaust[15]), ("false", "", "-64.30"));
}
