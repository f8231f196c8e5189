//! A job from a stranger: whatever stands in it, no terminal takes orders from it.

use std::fs;
use std::path::Path;

use toml_edit::{DocumentMut, Item, Table, Value};

use crate::commands::{prepared, run};

/// Sets the title (OSC), clears the screen (8-bit CSI), goes back to the line's begin, turns the direction of writing.
const ORDERS: &str = "x\u{1b}]0;owned\u{7}\u{9b}2J\r\u{202e}y";

/// Keys that the prepared job lacks, so that every text of a record is there.
const MORE: &str = r#"
shop = "s"
customer = "c"
tested_by = "t"
temperature = "hot"
cautions_confirmed = "2026-11-25T09:15:00+01:00[Europe/Berlin]"
"#;

/// Further tables, likewise.
const TABLES: &str = r#"
[limits]
loss_percent = 20.0
source = "manual"
[microphone]
device = "d"
[[skipped]]
step = "gauge"
cylinder = 1
reason = "r"
[[pending]]
kind = "import"
file = "c1-intake-on-t9.wav"
opening = "intake"
air = "on"
cylinder = 1
take = 9
since = "2026-11-25T09:15:00+01:00[Europe/Berlin]"
device = "d"
"#;

/// Commands that read a job, and print or complain.
const READING: [&[&str]; 12] = [
    &["verify", "job"],
    &["rank", "job"],
    &["rank", "job", "--json"],
    &["check", "job"],
    &["pack", "job", "--unsigned", "--out", "made.zip"],
    &["history", "."],
    &["history", ".", "--json"],
    &["compare", "job", "other"],
    &["compare", "job", "other", "--json"],
    &["report", "job"],
    &["plot", "job", "--out", "picture.svg"],
    &["gauge", "job", "--cylinder", "1", "--loss", "12"],
];

/// Every value of a table, by its path; of a row of tables the first.
fn leaves(table: &Table, path: &mut Vec<String>, found: &mut Vec<Vec<String>>) {
    for (key, item) in table {
        path.push(key.to_owned());
        match item {
            Item::Table(inner) => leaves(inner, path, found),
            Item::ArrayOfTables(rows) => rows.get(0).into_iter().for_each(|first| leaves(first, path, found)),
            _ => found.push(path.clone()),
        }
        path.pop();
    }
}

fn set(table: &mut Table, path: &[String], value: Value) {
    let Some((first, rest)) = path.split_first() else { return };
    match table.get_mut(first) {
        Some(Item::Table(inner)) if !rest.is_empty() => set(inner, rest, value),
        Some(Item::ArrayOfTables(rows)) => set(rows.get_mut(0).expect("a row"), rest, value),
        Some(item) => *item = Item::Value(value),
        None => panic!("{path:?} is there"),
    }
}

/// Whether a terminal would do something at this character other than show it.
fn is_order(c: char) -> bool {
    c.is_control() && c != '\n' && c != '\t' || ('\u{202a}'..='\u{202e}').contains(&c)
}

/// Runs every command; says how many of them showed the text, written out.
fn shown(folder: &Path, what: &str) -> usize {
    let mut shown = 0;
    for command in READING {
        let output = run(folder, command);
        let mut written_out = false;
        for stream in [&output.stdout, &output.stderr] {
            let text = std::str::from_utf8(stream).unwrap_or_else(|_| panic!("{what}, {command:?}: no UTF-8"));
            assert!(!text.contains(is_order), "{what}, {command:?}: {text:?}");
            assert!(!text.contains("panicked"), "{what}, {command:?}: {text}");
            written_out |= text.contains("]0;owned");
        }
        shown += usize::from(written_out);
        let _made_or_not = fs::remove_file(folder.join("made.zip"));
    }
    shown
}

#[test]
fn no_field_of_a_job_gives_orders_to_a_terminal() {
    let folder = prepared();
    crate::commands::copy(&folder.path().join("job"), &folder.path().join("other"));
    let path = folder.path().join("job/job.toml");
    let text = fs::read_to_string(&path).expect("a record");
    let whole = format!("{}{text}{TABLES}", MORE.trim_start());
    fs::write(&path, &whole).expect("written");
    assert_eq!(
        run(folder.path(), &["verify", "job"]).status.code(),
        Some(0),
        "the job is one before it is made hostile"
    );
    let document: DocumentMut = whole.parse().expect("TOML");
    let mut fields = Vec::new();
    leaves(document.as_table(), &mut Vec::new(), &mut fields);
    assert!(fields.len() > 40, "{fields:?}");
    let mut seen = Vec::new();
    for field in &fields {
        let mut hostile = document.clone();
        set(hostile.as_table_mut(), field, Value::from(ORDERS));
        fs::write(&path, hostile.to_string()).expect("written");
        let name = field.join(".");
        if shown(folder.path(), &name) > 0 {
            seen.push(name);
        }
    }
    // The test sees something: these are shown, as what they are.
    for told in ["created", "clip.air", "clip.sha256", "clip.file", "clip.opening", "clip.recorded", "pending.kind"] {
        assert!(seen.iter().any(|name| name == told), "{told} is not among {seen:?}");
    }
}

#[test]
fn no_kept_ranking_key_or_folder_gives_orders_to_a_terminal() {
    let folder = prepared();
    let results = folder.path().join("job/results");
    fs::create_dir_all(&results).expect("a folder");
    fs::write(results.join("ranking.json"), format!("{{\"format\": \"{ORDERS}\"}}")).expect("written");
    fs::write(folder.path().join("job/clips").join(ORDERS.replace('/', "-")), "x").expect("written");
    crate::commands::copy(&folder.path().join("job"), &folder.path().join("other"));
    crate::commands::copy(&folder.path().join("job"), &folder.path().join(ORDERS));
    assert!(shown(folder.path(), "results") > 0);
    let output = run(folder.path(), &["verify", ORDERS, "--key", ORDERS]);
    let said = String::from_utf8(output.stderr).expect("UTF-8");
    assert!(!said.contains(is_order), "{said:?}");
}
