//! Every fixture has a record of where it came from, and every record its fixture.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

/// What every record says.
const FIELDS: [&str; 6] = ["file", "sha256", "made", "date", "licence", "guards"];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures")
}

fn records() -> Vec<toml::Table> {
    let text = fs::read_to_string(folder().join("MANIFEST.toml")).expect("fixtures/MANIFEST.toml");
    let table: toml::Table = text.parse().expect("the manifest is TOML");
    let records = table["fixture"].as_array().expect("a list of fixtures");
    records.iter().map(|record| record.as_table().expect("a record").clone()).collect()
}

fn field<'a>(record: &'a toml::Table, name: &str) -> &'a str {
    record
        .get(name)
        .and_then(|value| value.as_str())
        .filter(|text| !text.is_empty())
        .unwrap_or_else(|| panic!("{record}: no {name}"))
}

fn files(folder: &Path, top: &Path, found: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).expect("a folder can be listed") {
        let path = entry.expect("an entry can be read").path();
        if path.is_dir() {
            files(&path, top, found);
        } else {
            let name = path.strip_prefix(top).expect("below the top").to_string_lossy().replace('\\', "/");
            found.insert(name);
        }
    }
}

#[test]
fn every_fixture_has_a_record_and_every_record_its_fixture() {
    let mut there = BTreeSet::new();
    files(&folder(), &folder(), &mut there);
    // The manifest itself, and the scripts and notes that tell how fixtures are made, are no fixtures.
    there.retain(|name| {
        !["MANIFEST.toml"].contains(&name.as_str()) && ![".sh", ".py", ".md"].iter().any(|end| name.ends_with(end))
    });
    let recorded: Vec<String> = records().iter().map(|record| field(record, "file").to_owned()).collect();
    let listed: BTreeSet<String> = recorded.iter().cloned().collect();
    assert_eq!(listed.len(), recorded.len(), "no file is recorded twice");
    assert_eq!(listed, there, "recorded (left) and there (right)");
}

#[test]
fn every_fixture_is_what_its_record_says() {
    for record in records() {
        for name in FIELDS {
            field(&record, name);
        }
        let name = field(&record, "file");
        let bytes = fs::read(folder().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        let hash: String = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hash, field(&record, "sha256"), "{name} was altered");
    }
}
