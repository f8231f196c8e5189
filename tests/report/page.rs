//! The report as a page.

use hissward::plot::{INK, MIST, PAPER, SOFT, Tone};
use hissward::ranking::Ranking;
use hissward::report::{self, Block, ReportHead, ReportInput};
use hissward::words::Words;

use crate::cases;
use crate::markup;

fn page(head: &ReportHead, rankings: &[Ranking], language: &str) -> String {
    let words = Words::of(language).expect("a language there is");
    let input = ReportInput { head, rankings, words: &words };
    report::html(&report::document(&input).expect("a document")).expect("a page")
}

fn boat_head() -> ReportHead {
    ReportHead {
        engine: "Workboat Tern, three-cylinder petrol engine".into(),
        date: Some("14 March 2026".into()),
        tested_by: Some("The yard at Sandhaven Pier".into()),
        notes: Some("Warm. Compressor running, slipway winch in use now and then.".into()),
    }
}

/// Kept where a person can look at it: `target/tmp/pages`.
fn keep(name: &str, text: &str) {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("pages");
    std::fs::create_dir_all(&folder).expect("a folder for pages");
    std::fs::write(folder.join(name), text).expect("a page written");
}

/// The page without its style and fonts.
fn body(page: &str) -> &str {
    page.split_once("</style>").map_or(page, |(_, body)| body)
}

#[test]
fn the_page_tells_what_it_was_given() {
    let page = page(&boat_head(), &cases::boat(), "en");
    markup::check(&page, "boat");
    let wanted = [
        "Workboat Tern, three-cylinder petrol engine",
        "14 March 2026",
        "The yard at Sandhaven Pier",
        "Cylinder 2: located",
        "That points to: piston rings or bore. The recordings make it 98\u{a0}% likely; it is an indication, not proof.",
        "Cylinder 1: none heard",
        "louder than −61.8\u{a0}dB\u{a0}FS would have been heard",
        "Cylinder 3: cannot tell",
        "Next: record exhaust again",
        "at most −64.3",
        "Never put a face or an ear to an opening under pressure",
        "Made with hissward",
        "<strong>Cylinder 3, exhaust:</strong>",
    ];
    for text in wanted {
        assert!(body(&page).contains(text), "'{text}' is missing");
    }
    assert_eq!(body(&page).matches("<figure>").count(), 3);
    assert_eq!(body(&page).matches("<svg ").count(), 6, "a wide and a narrow picture each");
    assert_eq!(body(&page).matches("<caption>").count(), 3);
}

#[test]
fn nothing_is_invented_and_nothing_empty_is_shown() {
    let bare = ReportHead { engine: "Pump 4".into(), notes: Some("  ".into()), ..ReportHead::default() };
    let page = page(&bare, &[cases::tight()], "en");
    assert!(!body(&page).contains("<dt>"), "no date, no tester, no notes");
    assert!(!body(&page).contains("What lowers trust"), "no caveats, no heading for them");
}

#[test]
fn the_page_needs_no_network_and_no_script() {
    for language in Words::languages() {
        let page = page(&boat_head(), &cases::boat(), &language);
        keep(&format!("boat-{language}.html"), &page);
        assert!(page.contains(&format!("<html lang=\"{language}\">")));
        for reach in ["<script", "<link", "<iframe", "src=\"http", "href=", "@import", "url(http"] {
            assert!(!page.contains(reach), "{reach}");
        }
        let addresses = page.matches("http").count();
        let allowed = page.matches("xmlns=\"http://www.w3.org/2000/svg\"").count() + page.matches("http-equiv").count();
        assert_eq!(addresses, allowed, "no address but the name of SVG");
        for missing in
            ["[report-", "[rank-", "[plot-", "[next-", "[caution-", "[limit-", "[call-", "[opening-", "[path-"]
        {
            assert!(!page.contains(missing), "{language}: {missing}");
        }
    }
}

#[test]
fn hostile_text_is_shown_as_text() {
    let markup_text = "</title><script>alert('1')</script><img src=x onerror=\"alert(2)\">&amp;";
    let long = "ä€🙂".repeat(3334);
    let head = ReportHead {
        engine: format!("{markup_text} שלום \u{202e}abc\u{202c} 🛥️"),
        date: Some("2026-03-14\" onload=\"x".into()),
        tested_by: Some("\u{0}\u{8}\u{1b}[31mred".into()),
        notes: Some(long.clone()),
    };
    let page = page(&head, &cases::boat(), "en");
    markup::check(&page, "hostile");
    assert!(!page.contains("<script") && !page.contains("<img"));
    assert!(body(&page).contains(
        "&lt;/title&gt;&lt;script&gt;alert(&#39;1&#39;)&lt;/script&gt;&lt;img src=x onerror=&quot;alert(2)&quot;&gt;&amp;amp; שלום"
    ));
    assert!(body(&page).contains(&long), "10,000 characters, whole");
    assert!(body(&page).contains("2026-03-14&quot; onload=&quot;x"));
    assert!(body(&page).contains("[31mred") && !page.contains(['\u{0}', '\u{8}', '\u{1b}']));
    // Text of the user's own runs in its own direction and does not turn the words around it.
    assert!(body(&page).contains("<h1 dir=\"auto\">") && body(&page).contains("<dd dir=\"auto\">"));
}

#[test]
fn the_style_uses_the_tones_of_the_pictures() {
    let page = page(&boat_head(), &cases::boat(), "en");
    let hex = |tone: Tone| format!("#{:02x}{:02x}{:02x}", tone.red, tone.green, tone.blue);
    for (name, tone) in [("--ink", INK), ("--soft", SOFT), ("--mist", MIST)] {
        assert!(page.contains(&format!("{name}: {}", hex(tone))), "{name}");
    }
    // WCAG 2.2, 1.4.3: 4.5 : 1 (memory); text on the page is ink or soft, on paper or mist.
    for (text, ground) in [(INK, PAPER), (SOFT, PAPER), (INK, MIST), (SOFT, MIST)] {
        assert!(text.contrast(ground) >= 4.5);
    }
}

#[test]
fn the_same_caveat_at_several_openings_is_said_once() {
    let mut ranking = cases::undecided();
    let caveat = ranking.openings[0].caveats[0].clone();
    ranking.openings[1].caveats.push(caveat);
    let words = Words::of("en").expect("English");
    let head = boat_head();
    let rankings = [ranking];
    let document =
        report::document(&ReportInput { head: &head, rankings: &rankings, words: &words }).expect("a document");
    let leads: Vec<String> = document
        .sections
        .iter()
        .flat_map(|section| &section.blocks)
        .filter_map(|block| match block {
            Block::Points(points) => Some(points),
            _ => None,
        })
        .flatten()
        .filter_map(|(lead, _)| lead.clone())
        .collect();
    assert_eq!(leads, ["Cylinder 3, exhaust and oil filler"]);
}
