//! Holds the code against the map in DEVELOPERS.md, both ways.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

type Arrows = BTreeMap<String, BTreeSet<String>>;

struct Map {
    modules: Arrows,
    crates: Arrows,
}

/// Modules that must stay free of effects, from `units` to `report`.
const PURE: [&str; 16] = [
    "units", "caveat", "crank", "opening", "clip", "words", "spectrum", "gauge", "hiss", "meter", "guide", "ranking",
    "finding", "history", "plot", "report",
];

/// What an effect looks like in source.
const EFFECTS: [&str; 11] = [
    "std::fs",
    "std::net",
    "std::env",
    "std::thread",
    "std::process",
    "SystemTime",
    "Instant::now",
    "Timestamp::now",
    "Zoned::now",
    "println!",
    "std::io",
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn cell_names(cell: &str) -> BTreeSet<String> {
    cell.split(',').map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned).collect()
}

/// The table between the markers in DEVELOPERS.md.
fn map_of(text: &str) -> Map {
    let table = text.split("<!-- layers -->").nth(1).and_then(|rest| rest.split("<!-- /layers -->").next());
    let mut map = Map { modules: Arrows::new(), crates: Arrows::new() };
    for row in table.expect("DEVELOPERS.md holds the table of layers").lines().skip(3) {
        let cells: Vec<&str> = row.trim().trim_matches('|').split('|').collect();
        if let [module, _, uses, crates] = cells[..] {
            map.modules.insert(module.trim().to_owned(), cell_names(uses));
            map.crates.insert(module.trim().to_owned(), cell_names(crates));
        }
    }
    map
}

/// Source without comments and without test modules at a file's end.
fn code_of(text: &str) -> String {
    let body = text.split("#[cfg(test)]").next().unwrap_or("");
    body.lines().map(|line| line.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n")
}

fn sources(folder: &Path, endings: &[&str], found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a source folder can be listed") {
        let path = entry.expect("an entry can be read").path();
        if path.is_dir() {
            sources(&path, endings, found);
        } else if path.extension().is_some_and(|ending| endings.iter().any(|one| ending == *one)) {
            found.push(path);
        }
    }
}

/// Every library module with its code joined.
fn library() -> BTreeMap<String, String> {
    let src = root().join("src");
    let mut files = Vec::new();
    sources(&src, &["rs"], &mut files);
    files.sort();
    let mut code = BTreeMap::<String, String>::new();
    for file in files {
        let inside = file.strip_prefix(&src).expect("below src");
        let first = inside.components().next().expect("a name").as_os_str().to_string_lossy().into_owned();
        let module = first.trim_end_matches(".rs").to_owned();
        if module == "bin" || module == "lib" {
            continue;
        }
        let text = fs::read_to_string(&file).expect("source is UTF-8");
        code.entry(module).or_default().push_str(&code_of(&text));
    }
    code
}

/// Names that follow `prefix` in the code: `crate::NAME` or the members of `crate::{NAME, …}`.
fn names_after(code: &str, prefix: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for part in code.split(prefix).skip(1) {
        let list = part.strip_prefix('{').map_or(part, |list| list.split('}').next().unwrap_or(""));
        let heads = if list.len() == part.len() { vec![part] } else { list.split(',').collect() };
        for head in heads {
            let name: String = head.trim().chars().take_while(|c| c.is_ascii_alphanumeric() || *c == '_').collect();
            names.insert(name);
        }
    }
    names
}

fn outside_crates() -> BTreeSet<String> {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).expect("Cargo.toml");
    let table: toml::Table = manifest.parse().expect("Cargo.toml is TOML");
    let mut names: BTreeSet<String> =
        table["dependencies"].as_table().expect("dependencies").keys().map(|name| name.replace('-', "_")).collect();
    for target in table["target"].as_table().into_iter().flat_map(|targets| targets.values()) {
        names.extend(target["dependencies"].as_table().expect("a table").keys().map(|name| name.replace('-', "_")));
    }
    names
}

fn says_name(code: &str, name: &str) -> bool {
    code.match_indices(name).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        let after = &code[at + name.len()..];
        let starts = !before.is_some_and(|c| c.is_ascii_alphanumeric() || c == '_' || c == ':');
        starts && (after.starts_with("::") || after.starts_with("!("))
    })
}

#[test]
fn arrows_are_those_of_the_map() {
    let map = map_of(&fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md"));
    let library = library();
    let listed: BTreeSet<&String> = map.modules.keys().collect();
    assert_eq!(listed, library.keys().collect(), "the map's modules are those of src");
    for (module, code) in &library {
        let mut uses: BTreeSet<String> =
            names_after(code, "crate::").into_iter().filter(|name| library.contains_key(name)).collect();
        uses.remove(module);
        assert_eq!(map.modules[module], uses, "what `{module}` uses: map (left) and code (right)");
    }
}

#[test]
fn arrows_go_down_only() {
    let map = map_of(&fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md"));
    let lib = code_of(&fs::read_to_string(root().join("src/lib.rs")).expect("lib.rs"));
    let order: Vec<String> = names_after(&lib, "pub mod ").into_iter().collect();
    let place = |name: &str| lib.find(&format!("pub mod {name};"));
    assert_eq!(order.len(), map.modules.len());
    for (module, uses) in &map.modules {
        for used in uses {
            assert!(place(used) < place(module), "{module} uses {used}, which stands below it in lib.rs");
        }
    }
}

#[test]
fn outside_crates_are_where_the_map_puts_them() {
    let map = map_of(&fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md"));
    let outside = outside_crates();
    for (module, code) in &library() {
        let named: BTreeSet<String> = outside.iter().filter(|name| says_name(code, name)).cloned().collect();
        assert_eq!(map.crates[module], named, "outside crates of `{module}`: map (left) and code (right)");
    }
}

#[test]
fn the_core_has_no_effects() {
    let library = library();
    for module in PURE {
        for effect in EFFECTS {
            assert!(!library[module].contains(effect), "`{module}` must not touch {effect}");
        }
    }
}

#[test]
fn the_reader_of_arrows_sees_them() {
    let code =
        code_of("use crate::units::Hertz; // crate::job\nuse crate::{clip, caveat::Caveat};\nlet x = hound::open();");
    let seen: Vec<String> = names_after(&code, "crate::").into_iter().collect();
    assert_eq!(seen, ["caveat", "clip", "units"]);
    assert!(says_name(&code, "hound") && !says_name(&code, "cpal"));
}

/// Beginnings of names that only messages have.
const SAID: [&str; 14] = [
    "guide", "page", "mind", "caution", "report", "hunt", "mics", "listen", "method", "step", "finding", "follows",
    "loss", "section",
];

/// Text between quotes or backticks that has the form of a message's name.
fn named_in(source: &str) -> BTreeSet<String> {
    let is_name = |text: &&str| {
        let parts: Vec<&str> = text.split('-').collect();
        let plain =
            |part: &&str| !part.is_empty() && part.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit());
        parts.len() > 1 && SAID.contains(&parts[0]) && parts.iter().all(plain)
    };
    source.split(['"', '`']).skip(1).step_by(2).filter(is_name).map(str::to_owned).collect()
}

#[test]
fn every_message_that_is_said_stands_in_every_catalogue() {
    let mut files = Vec::new();
    sources(&root().join("src"), &["rs", "js"], &mut files);
    let mut said = BTreeSet::new();
    for path in files {
        // Line by line: a lone quote leads no further than its line.
        let text = fs::read_to_string(path).expect("source");
        said.extend(text.lines().flat_map(named_in));
    }
    assert!(said.len() > 200 && said.contains("mind-hot"), "{}", said.len());
    for language in ["en", "de"] {
        let text = fs::read_to_string(root().join(format!("src/words/languages/{language}.ftl"))).expect("a catalogue");
        let there: BTreeSet<&str> = text.lines().filter_map(|line| Some(line.split_once(" =")?.0)).collect();
        let lacking: Vec<&String> = said.iter().filter(|name| !there.contains(name.as_str())).collect();
        assert!(lacking.is_empty(), "said, and not in {language}.ftl: {lacking:?}");
    }
}
