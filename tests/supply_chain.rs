//! What the program is made of, held against .deny.toml with nothing but cargo: licences, sources, doubles, build scripts.
//!
//! Licences and build scripts are those of this platform's crates (the others' are not on this disk); sources and
//! doubles are those of the lock file, for every platform.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn table(file: &str) -> toml::Table {
    fs::read_to_string(root().join(file)).expect(file).parse().unwrap_or_else(|error| panic!("{file}: {error}"))
}

fn texts(value: &toml::Value) -> BTreeSet<String> {
    let list = value.as_array().expect("a list");
    list.iter().map(|text| text.as_str().expect("a text").to_owned()).collect()
}

/// Every crate that is built here, as cargo knows it.
fn packages() -> Vec<Value> {
    let version = Command::new(env!("CARGO")).arg("-vV").output().expect("cargo runs");
    let version = String::from_utf8(version.stdout).expect("UTF-8");
    let host = version.lines().find_map(|line| line.strip_prefix("host: ")).expect("the host's name");
    let found = Command::new(env!("CARGO"))
        .args(["metadata", "--locked", "--offline", "--format-version", "1", "--filter-platform", host])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(found.status.success(), "{}", String::from_utf8_lossy(&found.stderr));
    let found: Value = serde_json::from_slice(&found.stdout).expect("JSON");
    found["packages"].as_array().expect("packages").clone()
}

/// Whether a licence expression (SPDX, or the older `A/B`) is met by what is allowed.
fn allowed(expression: &str, licences: &dyn Fn(&str) -> bool) -> bool {
    let spaced = expression.replace('(', " ( ").replace(')', " ) ").replace('/', " OR ").replace(" WITH ", "+WITH+");
    let words: Vec<&str> = spaced.split_whitespace().collect();
    let mut at = 0;
    let met = any(&words, &mut at, licences);
    assert_eq!(at, words.len(), "'{expression}' is no licence expression");
    met
}

/// `A OR B`: one suffices. `AND` binds closer.
fn any(words: &[&str], at: &mut usize, licences: &dyn Fn(&str) -> bool) -> bool {
    let mut met = all(words, at, licences);
    while words.get(*at) == Some(&"OR") {
        *at += 1;
        met |= all(words, at, licences);
    }
    met
}

fn all(words: &[&str], at: &mut usize, licences: &dyn Fn(&str) -> bool) -> bool {
    let mut met = one(words, at, licences);
    while words.get(*at) == Some(&"AND") {
        *at += 1;
        met &= one(words, at, licences);
    }
    met
}

fn one(words: &[&str], at: &mut usize, licences: &dyn Fn(&str) -> bool) -> bool {
    let word = words.get(*at).copied().unwrap_or_default();
    *at += 1;
    if word != "(" {
        return licences(&word.replace("+WITH+", " WITH "));
    }
    let met = any(words, at, licences);
    assert_eq!(words.get(*at), Some(&")"), "a bracket is not closed");
    *at += 1;
    met
}

#[test]
fn licence_expressions_are_understood() {
    let ours = |licence: &str| ["MIT", "Apache-2.0", "Apache-2.0 WITH LLVM-exception"].contains(&licence);
    for met in [
        "MIT",
        "GPL-2.0-only OR Apache-2.0",
        "MIT/GPL-3.0",
        "(GPL-3.0 OR MIT) AND Apache-2.0",
        "MIT OR GPL-3.0 AND X",
        "Apache-2.0 WITH LLVM-exception",
    ] {
        assert!(allowed(met, &ours), "{met}");
    }
    for not_met in ["GPL-3.0", "MIT AND GPL-3.0", "(MIT OR Apache-2.0) AND X", "X AND MIT OR Y", "GPL-2.0 WITH MIT"] {
        assert!(!allowed(not_met, &ours), "{not_met}");
    }
}

#[test]
fn every_licence_is_one_that_is_allowed() {
    let deny = table(".deny.toml");
    let licences = deny["licenses"].as_table().expect("licenses");
    let usual = texts(&licences["allow"]);
    let mut exceptions: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for exception in licences["exceptions"].as_array().expect("a list") {
        let name = exception["crate"].as_str().expect("a crate").to_owned();
        exceptions.insert(name, texts(&exception["allow"]));
    }
    let packages = packages();
    assert!(packages.len() > 200, "{} crates", packages.len());
    for package in packages {
        let name = package["name"].as_str().expect("a name");
        let licence = package["license"].as_str().unwrap_or_else(|| panic!("{name} names no licence"));
        let of_its_own = exceptions.get(name);
        let fits = |one: &str| usual.contains(one) || of_its_own.is_some_and(|own| own.contains(one));
        assert!(allowed(licence, &fits), "{name}: {licence} is not among the licences in .deny.toml");
    }
}

#[test]
fn every_crate_comes_from_the_registry_and_doubles_are_known() {
    let lock = table("Cargo.lock");
    let mut versions: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for package in lock["package"].as_array().expect("packages") {
        let name = package["name"].as_str().expect("a name");
        versions.entry(name).or_default().push(package["version"].as_str().expect("a version"));
        let source = package.get("source").and_then(|source| source.as_str());
        if name == env!("CARGO_PKG_NAME") {
            assert_eq!(source, None);
        } else {
            assert_eq!(source, Some("registry+https://github.com/rust-lang/crates.io-index"), "{name}");
            assert!(package.get("checksum").is_some(), "{name} has no checksum");
        }
    }
    let deny = table(".deny.toml");
    let mut skipped = BTreeSet::new();
    for skip in deny["bans"]["skip"].as_array().expect("a list") {
        assert!(skip["reason"].as_str().is_some_and(|reason| reason.len() > 10), "{skip} has no reason");
        skipped.insert(skip["crate"].as_str().expect("a crate").to_owned());
    }
    let order = |version: &&str| version.split('.').map(|part| part.parse().unwrap_or(0)).collect::<Vec<u64>>();
    let mut doubles = BTreeSet::new();
    for (name, mut versions) in versions {
        versions.sort_by_key(order);
        versions.pop();
        doubles.extend(versions.iter().map(|version| format!("{name}@{version}")));
    }
    assert_eq!(doubles, skipped, "older versions beside newer ones, and those that .deny.toml knows");
}

/// Words that a build script has no business with.
const NETWORK: [&str; 9] =
    ["TcpStream", "UdpSocket", "reqwest", "ureq", "curl", "wget", "hyper::", "download", "Invoke-WebRequest"];

#[test]
fn build_scripts_are_known_and_fetch_nothing() {
    let known = texts(&table(".deny.toml")["bans"]["build"]["allow-build-scripts"]);
    for package in packages() {
        let name = package["name"].as_str().expect("a name");
        for target in package["targets"].as_array().expect("targets") {
            if target["kind"].as_array().is_some_and(|kinds| kinds.contains(&"custom-build".into())) {
                assert!(known.contains(name), "{name} runs a build script: look at it, then name it in .deny.toml");
                let source = fs::read_to_string(target["src_path"].as_str().expect("a path")).expect("its source");
                let found: Vec<&str> = NETWORK.into_iter().filter(|word| source.contains(word)).collect();
                assert!(found.is_empty(), "{name}: its build script speaks of {found:?}");
            }
        }
    }
}

#[test]
fn our_own_crate_is_safe_rust() {
    let manifest = table("Cargo.toml");
    assert_eq!(manifest["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    assert!(!root().join("build.rs").exists(), "our own crate has no build script");
}
