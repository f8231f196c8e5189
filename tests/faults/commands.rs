//! The writing commands, and a small job for them to work on.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

/// A command that writes, with its arguments, run beside a job folder `job` and a pack `given.zip`.
pub struct Writing {
    /// Its name, for messages.
    pub name: &'static str,
    /// What is typed.
    pub arguments: &'static [&'static str],
    /// What it makes beside the job, taken away before it runs again.
    pub makes: Option<&'static str>,
}

/// Every command that writes, but for those that need a microphone or a person.
pub const WRITING: [Writing; 13] = [
    Writing {
        name: "new",
        arguments: &["new", "fresh", "--engine", "workboat", "--cylinders", "3"],
        makes: Some("fresh"),
    },
    Writing { name: "rig", arguments: &["rig", "job", "--supply", "80psi", "--held", "79psi"], makes: None },
    Writing {
        name: "gauge",
        arguments: &["gauge", "job", "--cylinder", "1", "--supply", "80psi", "--held", "60psi"],
        makes: None,
    },
    Writing {
        name: "add",
        arguments: &["add", "job", "--at", "coolant-filler", "--air", "on", "--cylinder", "1", "a.m4a", "b.wav"],
        makes: None,
    },
    Writing {
        name: "amend",
        arguments: &["amend", "job", "--swap", "c1-exhaust-off-t1.wav", "c1-exhaust-on-t1.wav"],
        makes: None,
    },
    Writing { name: "rank", arguments: &["rank", "job"], makes: None },
    Writing { name: "plot", arguments: &["plot", "job", "--out", "picture.png"], makes: Some("picture.png") },
    Writing { name: "report", arguments: &["report", "job", "--csv"], makes: None },
    Writing { name: "pack", arguments: &["pack", "job", "--unsigned", "--out", "made.zip"], makes: Some("made.zip") },
    Writing { name: "unpack", arguments: &["unpack", "given.zip", "--out", "unpacked"], makes: Some("unpacked") },
    Writing { name: "history", arguments: &["history", ".", "--out", "table.csv"], makes: Some("table.csv") },
    Writing { name: "settings", arguments: &["settings", "--name", "Pier Yard"], makes: None },
    Writing { name: "simulate", arguments: &SIMULATE, makes: Some("made") },
];

const SIMULATE: [&str; 11] =
    ["simulate", "--out", "made", "--cylinders", "1", "--seconds", "0.5", "--at", "intake", "--leak", "1:intake:6"];

/// The program in a folder, with settings of its own there.
pub fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hissward"));
    command.current_dir(folder).env("XDG_CONFIG_HOME", folder.join("config")).env("HOME", folder).stdin(Stdio::null());
    command
}

/// Runs it to its end.
pub fn run(folder: &Path, arguments: &[&str]) -> Output {
    program(folder).args(arguments).output().expect("it runs")
}

/// What was said.
pub fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// Holds that a run was done.
pub fn done(output: &Output, what: &str) {
    assert!(matches!(output.status.code(), Some(0 | 1)), "{what}: {:?}, {}", output.status, said(output));
}

/// Holds that a run failed as failures should: exit 2, one sentence with a remedy, no panic.
pub fn failed_well(output: &Output, what: &str) {
    let said = said(output);
    assert_eq!(output.status.code(), Some(2), "{what}: {said}");
    let last = said.lines().rev().find(|line| line.starts_with("hissward: ")).unwrap_or_default();
    assert!(last.len() > "hissward: ".len() && !said.contains("panicked"), "{what}: {said}");
    assert!(last.contains(": ") && !last.ends_with("(os error 28)"), "{what} names no remedy: {said}");
}

/// Makes the job, the pack and two recordings in a folder.
pub fn prepare(folder: &Path) {
    let made: [&[&str]; 4] = [
        &["simulate", "--out", "job", "--cylinders", "1", "--seconds", "1", "--leak", "1:exhaust:9"],
        &["rig", "job", "--supply", "80psi", "--held", "79psi"],
        &["gauge", "job", "--cylinder", "1", "--supply", "80psi", "--held", "62psi"],
        &["pack", "job", "--unsigned", "--out", "given.zip"],
    ];
    for arguments in made {
        done(&run(folder, arguments), arguments[0]);
    }
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/audio");
    for (from, to) in [("noise-aac.m4a", "a.m4a"), ("noise.wav", "b.wav")] {
        fs::copy(fixtures.join(from), folder.join(to)).expect("a recording");
    }
}

/// A folder prepared once, to be copied.
pub fn prepared() -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    prepare(folder.path());
    folder
}

/// Takes away what a command made.
pub fn take_away(folder: &Path, made: Option<&str>) {
    let Some(path) = made.map(|name| folder.join(name)) else { return };
    if path.is_dir() {
        fs::remove_dir_all(&path).expect("it goes");
    } else if path.exists() {
        fs::remove_file(&path).expect("it goes");
    }
}

/// Copies a folder with all that is in it.
pub fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("it is there") {
        let entry = entry.expect("an entry");
        let target = to.join(entry.file_name());
        if entry.file_type().expect("its type").is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).expect("a copy");
        }
    }
}
