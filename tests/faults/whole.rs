//! Whether everything that stands under its name is whole.

use std::fs;
use std::path::Path;

use hissward::job::{FileState, Job};
use hissward::pack::verify_pack;
use hissward::settings::{Settings, SettingsFolder};

/// Holds that every file below a folder is whole: jobs open and their clips are what was recorded, pictures, papers,
/// tables and packs have their end. Hidden files are work that was broken off.
pub fn assert_whole(folder: &Path, what: &str) {
    if folder.join("job.toml").exists() {
        let job = Job::open(folder).unwrap_or_else(|error| panic!("{what}: {error}"));
        for clip in job.verify_clips() {
            assert!(matches!(clip.verdict, FileState::Intact), "{what}: {} {:?}", clip.file, clip.verdict);
        }
    }
    if folder.ends_with("config/hissward") {
        Settings::read(&SettingsFolder::at(folder)).unwrap_or_else(|error| panic!("{what}: {error}"));
    }
    for entry in fs::read_dir(folder).expect("it is there") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if name.starts_with('.') {
            continue;
        }
        if path.is_dir() {
            assert_whole(&path, what);
        } else {
            assert_file(&path, &name, what);
        }
    }
}

fn assert_file(path: &Path, name: &str, what: &str) {
    let bytes = fs::read(path).expect("it can be read");
    let whole = match name.rsplit_once('.').map(|(_, ending)| ending) {
        Some("png") => bytes.ends_with(b"IEND\xaeB`\x82"),
        Some("svg") => bytes.trim_ascii_end().ends_with(b"</svg>"),
        Some("html") => bytes.trim_ascii_end().ends_with(b"</html>"),
        Some("pdf") => bytes.trim_ascii_end().ends_with(b"%%EOF"),
        Some("json") => serde_json::from_slice::<serde_json::Value>(&bytes).is_ok(),
        Some("csv") => bytes.ends_with(b"\n"),
        Some("zip") => verify_pack(path, None).is_ok_and(|verified| verified.intact()),
        _ => true,
    };
    assert!(whole, "{what}: {} is half", path.display());
}

/// Hidden files below a folder that a broken-off run left, but for locks.
pub fn leftovers(folder: &Path) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).expect("it is there") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if name.starts_with('.') && !name.starts_with(".lock") {
            found.push(path.display().to_string());
        } else if path.is_dir() {
            found.extend(leftovers(&path));
        }
    }
    found
}
