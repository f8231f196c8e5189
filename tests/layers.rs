//! Holds the code against the map in DEVELOPERS.md, both ways.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

type Arrows = BTreeMap<String, BTreeSet<String>>;

struct Map {
    modules: Arrows,
    crates: Arrows,
}

/// Modules that must stay free of effects, from `units` to `guide`; `csv_rows` writes into what it is given.
const PURE: [&str; 17] = [
    "units", "caveat", "crank", "opening", "clip", "words", "simd", "spectrum", "gauge", "hiss", "meter", "ranking",
    "finding", "history", "plot", "report", "guide",
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

/// What threads and state between calls look like in source.
const SHARED_STATE: [&str; 8] =
    ["rayon", " static ", "thread_local", "Mutex", "RwLock", "Atomic", "OnceLock", "LazyLock"];
/// Where they may be, as DEVELOPERS.md says under "Invariants"; `words` has the catalogues, built in.
const MAY_SHARE: [(&str, &str); 6] = [
    ("ranking", "rayon"),
    ("spectrum", " static "),
    ("spectrum", "Mutex"),
    ("hiss", " static "),
    ("hiss", "OnceLock"),
    ("words", " static "),
];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn cell_names(cell: &str) -> BTreeSet<String> {
    cell.split(',').map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned).collect()
}

fn developers() -> String {
    fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md")
}

/// The table between the markers of this name in DEVELOPERS.md.
fn table_of<'a>(text: &'a str, name: &str) -> &'a str {
    let table = text.split(&format!("<!-- {name} -->")).nth(1);
    table.and_then(|rest| rest.split(&format!("<!-- /{name} -->")).next()).expect("DEVELOPERS.md holds the table")
}

fn map_of(table: &str) -> Map {
    let mut map = Map { modules: Arrows::new(), crates: Arrows::new() };
    for row in table.lines().skip(3) {
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
    modules_in("src", &["bin", "lib"])
}

/// Every module of the program with its code joined.
fn program() -> BTreeMap<String, String> {
    modules_in("src/bin/hissward", &["main"])
}

fn modules_in(folder: &str, without: &[&str]) -> BTreeMap<String, String> {
    let src = root().join(folder);
    let mut files = Vec::new();
    sources(&src, &["rs"], &mut files);
    files.sort();
    let mut code = BTreeMap::<String, String>::new();
    for file in files {
        let inside = file.strip_prefix(&src).expect("below src");
        let first = inside.components().next().expect("a name").as_os_str().to_string_lossy().into_owned();
        let module = first.trim_end_matches(".rs").to_owned();
        if without.contains(&module.as_str()) {
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

/// Holds the modules' arrows and outside crates against a map, both ways.
fn assert_mapped(map: &Map, modules: &BTreeMap<String, String>) {
    let listed: BTreeSet<&String> = map.modules.keys().collect();
    assert_eq!(listed, modules.keys().collect(), "the map's modules are those of the folder");
    let outside = outside_crates();
    for (module, code) in modules {
        let mut uses: BTreeSet<String> =
            names_after(code, "crate::").into_iter().filter(|name| modules.contains_key(name)).collect();
        uses.remove(module);
        assert_eq!(map.modules[module], uses, "what `{module}` uses: map (left) and code (right)");
        let named: BTreeSet<String> = outside.iter().filter(|name| says_name(code, name)).cloned().collect();
        assert_eq!(map.crates[module], named, "outside crates of `{module}`: map (left) and code (right)");
    }
}

#[test]
fn the_library_is_as_the_map_has_it() {
    assert_mapped(&map_of(table_of(&developers(), "layers")), &library());
}

#[test]
fn the_program_is_as_its_map_has_it() {
    let text = developers();
    let table = table_of(&text, "program");
    let map = map_of(table);
    assert_mapped(&map, &program());
    let place = |name: &str| table.find(&format!("\n| {name} |"));
    for (module, uses) in &map.modules {
        for used in uses {
            assert!(place(used) < place(module), "{module} uses {used}, which stands below it");
        }
    }
}

#[test]
fn arrows_go_down_only() {
    let map = map_of(table_of(&developers(), "layers"));
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
fn the_core_has_no_effects() {
    let library = library();
    for module in PURE {
        for effect in EFFECTS {
            assert!(!library[module].contains(effect), "`{module}` must not touch {effect}");
        }
        let code = library[module].replace('\n', " ");
        for state in SHARED_STATE {
            let may = MAY_SHARE.contains(&(module, state));
            assert_eq!(code.contains(state), may, "`{module}` and {state}: code (left) and the rule (right)");
        }
    }
}

/// Paths in a text's back-ticks: what has a slash or a known ending, without patterns.
fn paths_in(text: &str) -> BTreeSet<&str> {
    let is_path = |quoted: &&str| {
        let plain = quoted.chars().all(|c| c.is_ascii_alphanumeric() || "._-/".contains(c));
        let ending = [".rs", ".toml", ".md", ".ftl", ".py", ".sh"].iter().any(|ending| quoted.ends_with(ending));
        plain && quoted.len() > 4 && (quoted.contains('/') || ending)
    };
    text.lines().flat_map(|line| line.split('`').skip(1).step_by(2)).filter(is_path).collect()
}

/// Whether a path of DEVELOPERS.md is there; one without a folder is that of the path before it, or stands in the page's.
fn is_there(path: &str, folders: &BTreeSet<PathBuf>) -> bool {
    // What a job's folder and the user's settings hold is no file of ours.
    path == "job.toml" || root().join(path).exists() || folders.iter().any(|folder| folder.join(path).exists())
}

#[test]
fn every_file_that_is_named_for_contributors_is_there() {
    let text = developers();
    let paths = paths_in(&text);
    let mut folders: BTreeSet<PathBuf> =
        paths.iter().filter_map(|path| Some(root().join(path).parent()?.to_owned())).collect();
    folders.insert(root().join("src/bin/hissward"));
    let lacking: Vec<&&str> = paths.iter().filter(|path| !is_there(path, &folders)).collect();
    assert!(paths.len() > 60 && lacking.is_empty(), "DEVELOPERS.md names, and nothing is there: {lacking:?}");
    assert!(!is_there("src/values.md", &folders) && !is_there("settling_down.rs", &folders));
    let some = "`src/lib.rs` and `make bench`, `job.toml`, `a::b`, `path-*`, `src/**`, `.short`";
    assert_eq!(paths_in(some), BTreeSet::from(["src/lib.rs", "job.toml"]));
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
