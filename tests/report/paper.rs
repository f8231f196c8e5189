//! The report as papers: looked at by other programs than the one that wrote it.

use std::path::{Path, PathBuf};
use std::process::Command;

use hissward::report::{self, Block, PaperSize, ReportHead};
use hissward::words::Words;

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

/// Text with every run of blanks as one, so that line ends do not matter; the reader drops narrow ones before "%".
fn plain(text: &str) -> String {
    text.replace('\u{a0}', " ").split_whitespace().collect::<Vec<_>>().join(" ").replace(" %", "%")
}

#[test]
fn papers_say_what_the_page_says() {
    for language in Words::languages() {
        let path = paper(&evidence::boat(), &language, PaperSize::A4, "plain");
        let text = plain(&said("pdftotext", &["-layout"], &path));
        let mut wanted = Vec::new();
        for section in evidence::boat().document(&language).sections {
            wanted.extend(section.title);
            for block in section.blocks {
                match block {
                    Block::Cards(cards) => {
                        for card in cards {
                            wanted.extend([card.title, card.action, card.loss, card.answer]);
                            wanted.extend(card.lines);
                        }
                    }
                    Block::Answer(text) => wanted.push(text),
                    Block::Signature(lines) => wanted.extend(lines),
                    Block::Facts(facts) => wanted.extend(facts.into_iter().map(|(_, value)| value)),
                    Block::Heading(text) | Block::Paragraph(text) => wanted.push(text),
                    Block::Points(points) => wanted.extend(points.into_iter().map(|(_, text)| text)),
                    Block::Steps(steps) => wanted.extend(steps),
                    Block::Figure(figure) => wanted.push(figure.caption),
                    Block::Sound { figure, .. } => wanted.push(figure.caption),
                    Block::Table(table) => {
                        wanted.push(table.caption);
                        // Cells of one row share lines, so each is looked for by itself.
                        let cells = table.rows.into_iter().flat_map(|row| row.cells).map(|cell| cell.text);
                        wanted.extend(cells.filter(|text| !text.is_empty()));
                    }
                }
            }
        }
        assert!(wanted.len() > 80, "{}", wanted.len());
        for sentence in wanted {
            let sentence = plain(&sentence);
            // A paragraph may go on on the next page, after its foot and head.
            let words: Vec<&str> = sentence.split(' ').collect();
            let on_two_pages = || {
                let part = |words: &[&str]| text.contains(&words.join(" "));
                (1..words.len()).any(|at| part(&words[..at]) && part(&words[at..]))
            };
            assert!(text.contains(&sentence) || on_two_pages(), "{language}: '{sentence}' is not on paper");
        }
    }
}

#[test]
fn the_numbers_on_paper_are_those_of_the_rankings() {
    let path = paper(&evidence::boat(), "en", PaperSize::Letter, "plain");
    let text = plain(&said("pdftotext", &["-layout"], &path));
    // −47.214 (−48.914 to −45.814) dB FS, 98.12 %; bounds −64.3 and −61.8; readings of 80 and 55 psi: 5.52 and 3.79 bar,
    // 100·(80 − 55)/80 = 31.25 % (FAA AC 43.13-1B, step (i)).
    for number in ["−47.2", "−48.9 to −45.8", "98%", "at most −64.3", "at most −61.8", "5.52 bar, 3.79 bar", "31.2%"]
    {
        assert!(text.contains(number), "{number}");
    }
}

#[test]
fn the_first_page_is_the_customers() {
    let path = paper(&evidence::boat_with_sounds(), "en", PaperSize::A4, "boat");
    let page = |number: &str| plain(&said("pdftotext", &["-layout", "-f", number, "-l", number], &path));
    let first = page("1");
    for wanted in [
        "Sandhaven Pier Boatyard",
        "14 March 2026",
        "What was found",
        "98%",
        "needs work",
        "What to do next",
        "Date and signature of the tester",
    ] {
        assert!(first.contains(wanted), "{wanted}");
    }
    let pages: usize = said("pdfinfo", &[], &path)
        .lines()
        .find_map(|line| line.strip_prefix("Pages:"))
        .and_then(|count| count.trim().parse().ok())
        .expect("a count of pages");
    for number in 1..=pages {
        assert!(page(&number.to_string()).contains(&format!("Page {number} of {pages}")), "page {number}");
    }
    assert!(page("2").starts_with("What it means"), "page one is one page, and the appendix follows");
}

#[test]
fn page_one_is_one_page_for_up_to_eight_cylinders() {
    for language in Words::languages() {
        for size in [PaperSize::A4, PaperSize::Letter] {
            let evidence = evidence::eight_cylinders();
            let path = paper(&evidence, &language, size, "eight");
            let page = |number: &str| plain(&said("pdftotext", &["-layout", "-f", number, "-l", number], &path));
            let document = evidence.document(&language);
            let begins = document.sections.iter().find(|section| section.opens_part).and_then(|one| one.title.clone());
            let begins = begins.expect("an appendix");
            assert!(page("2").starts_with(&begins), "{language} {size:?}: {}", page("2"));
            let first = page("1");
            let named = (1..=8).filter(|number| {
                let cylinder = Words::of(&language).expect("words").cylinder(Some(*number));
                first.contains(&cylinder)
            });
            assert_eq!(named.count(), 8, "{language} {size:?}");
        }
    }
}

#[test]
fn hostile_text_stands_on_paper_as_text() {
    let head = ReportHead {
        engine: "<b>x</b> שלום \u{202e}abc\u{202c} 🛥️".into(),
        notes: Some(format!("{} end", "ä€W".repeat(3334))),
        ..evidence::boat_head()
    };
    let path = paper(&Evidence { head, ..evidence::boat() }, "en", PaperSize::A4, "hostile");
    assert!(said("qpdf", &["--check"], &path).contains("No syntax or stream encoding errors found"));
    let text = said("pdftotext", &["-layout"], &path);
    assert!(text.contains("<b>x</b> □□□□ abc □"), "{}", text.chars().take(400).collect::<String>());
    assert!(plain(&text).contains("Some characters are missing from this paper's font"));
    assert_eq!(text.matches("ä€W").count() + text.matches("ä€\n").count(), text.matches("ä€").count());
    assert_eq!(text.matches('ä').count(), 3334, "10,000 signs, whole");
}

#[test]
fn nothing_runs_out_of_the_page() {
    for (name, evidence) in [("boat", evidence::boat_with_sounds()), ("plain", evidence::boat())] {
        for size in [PaperSize::A4, PaperSize::Letter] {
            let path = paper(&evidence, "de", size, name);
            let boxes = said("pdftotext", &["-bbox"], &path);
            let (width, height) = size.points();
            let mut words = 0;
            for line in boxes.lines().filter(|line| line.contains("<word ")) {
                let edge = |key: &str| -> f64 {
                    let rest = line.split(&format!("{key}=\"")).nth(1).expect("an edge");
                    rest.split('"').next().and_then(|number| number.parse().ok()).expect("a number")
                };
                let inside = edge("xMin") >= 30.0 && edge("xMax") <= width - 30.0;
                assert!(inside && edge("yMin") >= 30.0 && edge("yMax") <= height - 15.0, "{name} {size:?}: {line}");
                words += 1;
            }
            assert!(words > 500, "{words}");
        }
    }
}

#[test]
fn the_same_report_is_the_same_file() {
    let file = || report::pdf(&evidence::boat().document("en"), PaperSize::A4).expect("a paper");
    assert!(file() == file(), "byte for byte");
}
