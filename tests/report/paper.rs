//! The report as papers: looked at by other programs than the one that wrote it.

use std::path::{Path, PathBuf};
use std::process::Command;

use hissward::report::{self, PaperSize};

use crate::evidence::{self, Evidence};

fn folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("papers");
    std::fs::create_dir_all(&folder).expect("a folder for papers");
    folder
}

/// Written where people and other programs can look at it: `target/tmp/papers`.
fn paper(evidence: &Evidence, language: &str, size: PaperSize, name: &str) -> PathBuf {
    let file = report::pdf(&evidence.document(language), size).expect("a paper");
    let path = folder().join(format!("{name}-{language}-{size:?}.pdf"));
    std::fs::write(&path, file).expect("a paper written");
    path
}

/// What a program of Debian's poppler-utils or qpdf says (`make setup-tests` installs them).
fn said(program: &str, arguments: &[&str], path: &Path) -> String {
    let mut run = Command::new(program);
    run.args(arguments).arg(path);
    if program == "pdftotext" {
        run.arg("-");
    }
    let out = run.output().unwrap_or_else(|error| panic!("{program} is needed (make setup-tests): {error}"));
    assert!(out.status.success(), "{program}: {}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).expect("UTF-8")
}

#[test]
fn papers_are_sound_and_say_what_they_are() {
    for (size, points) in [(PaperSize::A4, "595.276 x 841.89"), (PaperSize::Letter, "612 x 792")] {
        let path = paper(&evidence::boat_with_sounds(), "en", size, "boat");
        assert!(said("qpdf", &["--check"], &path).contains("No syntax or stream encoding errors found"));
        let facts = said("pdfinfo", &[], &path);
        assert!(facts.contains("Title:           Cylinder leakage: where the air goes: Workboat Tern"), "{facts}");
        assert!(facts.contains("Author:          Sandhaven Pier Boatyard"), "{facts}");
        assert!(facts.contains("Tagged:          yes") && facts.contains(points), "{facts}");
        let bytes = std::fs::metadata(&path).expect("a file").len();
        assert!(bytes < 3_000_000, "{bytes} bytes");
    }
}
