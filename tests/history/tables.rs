//! Tables for other programs, read back by them.

use std::fs;
use std::path::PathBuf;
use std::process::Command;

use hissward::ranking::Call;

use crate::yard::{Planned, Yard, ranked};

/// The query of the README: cylinders whose own loss rises from year to year beyond what the gauges leave in doubt.
pub const RISING: &str = include_str!("rising.sql");

/// Python with DuckDB, as `make setup-tests` lays it.
fn python() -> PathBuf {
    let python = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/test-python/bin/python");
    assert!(python.exists(), "{}: run `make setup-tests` first", python.display());
    python
}

/// Runs a query in a folder; each row as a line of JSON.
pub fn asked(folder: &std::path::Path, query: &str) -> Vec<serde_json::Value> {
    let script = "import duckdb, json, sys\n\
                  for row in duckdb.sql(sys.argv[1]).fetchall(): print(json.dumps(row, default=str))";
    let out = Command::new(python()).current_dir(folder).args(["-c", script, query]).output().expect("python runs");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let lines = String::from_utf8(out.stdout).expect("UTF-8");
    lines.lines().map(|line| serde_json::from_str(line).expect("a row")).collect()
}

fn yard() -> Yard {
    let yard = Yard::new();
    for (job, day, two) in [("a", "2024-11-20", 74.0), ("b", "2025-11-24", 66.0), ("c", "2026-11-25", 54.0)] {
        let folder = yard.add(&Planned { job, day: Some(day), held_psi: vec![75.0, two, 76.0], ..Planned::default() });
        if job == "c" {
            ranked(&folder, 2, Call::Located, "oil-filler");
        }
    }
    let odd = "Pilot \"the grey one\", single\nold engine; äöü";
    yard.add(&Planned { job: "d", engine: odd, day: None, rig_psi: None, held_psi: vec![70.0], ..Planned::default() });
    yard
}

#[test]
fn both_tables_say_the_same_to_another_program() {
    let yard = yard();
    let told = yard.printed(&["history", ".", "--out", "losses.csv", "--out", "losses.parquet"]);
    assert_eq!(told, "losses.csv\nlosses.parquet\n");
    let described = asked(yard.path(), "describe select * from 'losses.parquet'");
    let kinds: Vec<(&str, &str)> =
        described.iter().filter_map(|row| Some((row[0].as_str()?, row[1].as_str()?))).collect();
    assert_eq!(
        kinds[..6],
        [
            ("job", "VARCHAR"),
            ("engine", "VARCHAR"),
            ("tested_at", "TIMESTAMP WITH TIME ZONE"),
            ("tested_on", "DATE"),
            ("cylinders", "INTEGER"),
            ("cylinder", "INTEGER"),
        ]
    );
    assert_eq!((kinds.len(), kinds[16]), (25, ("cold", "BOOLEAN")));
    // What is the same in both: all but how an instant and an unknown text are written.
    let same = "select * replace (epoch(tested_at)::bigint as tested_at) from 'losses.parquet'";
    let from_csv = "select * replace (nullif(heard_at, '') as heard_at, nullif(call, '') as call, \
                    nullif(said_path, '') as said_path, nullif(found_path::varchar, '') as found_path, \
                    nullif(shop::varchar, '') as shop) \
                    from read_csv('losses.csv', header = true, new_line = '\\r\\n')";
    for (one, other) in [(same, from_csv), (from_csv, same)] {
        assert_eq!(asked(yard.path(), &format!("({one}) except ({other})")), Vec::<serde_json::Value>::new());
    }
    let rows = asked(yard.path(), "select count(*), count(net_loss_percent), count(call) from 'losses.parquet'");
    assert_eq!(rows, [serde_json::json!([10, 9, 1])]);
    let row = "select engine, loss_percent, tested_on, heard_at from 'losses.parquet' where job = 'd'";
    let odd = "Pilot \"the grey one\", single\nold engine; äöü";
    // FAA AC 43.13-1B ch. 8 step (i), seen: 100·(80 − 70)/80.
    assert_eq!(asked(yard.path(), row), [serde_json::json!([odd, 12.5, null, null])]);
    let instant = "select epoch(tested_at), tested_on, heard_at from 'losses.parquet' where job = 'c' and cylinder = 2";
    // 2026-11-25 09:30 +01:00 is 08:30 UTC (calc: date -u -d '2026-11-25 08:30' +%s).
    assert_eq!(asked(yard.path(), instant), [serde_json::json!([1_795_595_400.0, "2026-11-25", "oil-filler"])]);
}

/// OWASP, "CSV Injection": what begins with =, +, -, @, tab or CR is run where such a file is opened.
#[test]
fn no_cell_of_a_table_is_a_formula() {
    let yard = Yard::new();
    let formulas = ["=cmd|' /C calc'!A0", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1"];
    for (place, engine) in formulas.into_iter().enumerate() {
        let job: &'static str = ["a", "b", "c", "d", "e", "f"][place];
        yard.add(&Planned { job, engine, held_psi: vec![70.0], ..Planned::default() });
    }
    yard.printed(&["history", ".", "--out", "all.csv"]);
    yard.printed(&["compare", "a", "b", "--out", "two.csv"]);
    for table in ["all.csv", "two.csv"] {
        let cells = "select engine, loss_percent from read_csv('TABLE', header = true, new_line = '\\r\\n')";
        let rows = asked(yard.path(), &cells.replace("TABLE", table));
        assert!(rows.len() >= 2, "{rows:?}");
        for row in rows {
            assert!(row[0].as_str().is_some_and(|engine| engine.starts_with('\'')), "{row}");
            // 100·(80 − 70)/80: a number as ever.
            assert_eq!(row[1], 12.5);
        }
    }
}

#[test]
fn the_worked_query_finds_the_cylinder_that_gets_worse() {
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).expect("the README");
    assert!(readme.contains(RISING.trim_end()), "the README shows the query that is tested");
    let yard = yard();
    yard.printed(&["history", ".", "--out", "losses.parquet"]);
    let found = asked(yard.path(), RISING);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((&found[0][0], &found[0][1]), (&crate::yard::GULL.into(), &2.into()));
}

#[test]
fn a_table_is_read_by_its_owner_and_the_like() {
    let yard = yard();
    yard.printed(&["compare", "a", "c", "--out", "two.csv", "--out", "two.json", "--out", "two.parquet"]);
    let text = fs::read_to_string(yard.path().join("two.csv")).expect("a table");
    assert_eq!(text.lines().count(), 7);
    assert!(text.starts_with("job,engine,tested_at,tested_on,"));
    assert_eq!(asked(yard.path(), "select count(*) from 'two.parquet'"), [serde_json::json!([6])]);
    let json: serde_json::Value =
        serde_json::from_slice(&fs::read(yard.path().join("two.json")).expect("JSON")).expect("JSON");
    assert_eq!(json["changes"][1]["direction"], "more");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let own = fs::metadata(yard.path().join("a/job.toml")).expect("a file").permissions().mode();
        let made = fs::metadata(yard.path().join("two.csv")).expect("a file").permissions().mode();
        assert_eq!(made, own, "as other files of the user");
    }
}
