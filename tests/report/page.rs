//! The report as a page.

use hissward::plot::{INK, MIST, PAPER, SOFT, Tone};
use hissward::report::{Block, ReportHead};
use hissward::words::Words;

use crate::cases;
use crate::evidence::{self, Evidence};
use crate::markup;

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
    let page = evidence::boat().page("en");
    markup::check(&page, "boat");
    let wanted = [
        "Workboat Tern, three-cylinder petrol engine",
        "14 March 2026",
        "Sandhaven Pier Boatyard",
        "Harbour office, Sandhaven",
        "Air gets past the piston into the crankcase.",
        "The sound puts the leak here: 98\u{a0}% likely, not certain.",
        "needs work",
        "located",
        "at the oil filler, 98\u{a0}% likely",
        "none heard",
        "cannot tell",
        "test rig taken off",
        "at most −64.3",
        "Never put your face or ear to an opening under pressure",
        "Made with hissward",
        "<strong>Cylinder 3, exhaust:</strong>",
        "c3-exhaust-on-t1.wav",
        "somebody dropped a spanner",
        "at working temperature",
        "Thank you for your trust.",
    ];
    for text in wanted {
        assert!(body(&page).contains(text), "'{text}' is missing");
    }
    assert_eq!(body(&page).matches("<figure>").count(), 4, "the engine at a glance, and a picture for each cylinder");
    assert_eq!(body(&page).matches("<svg ").count(), 8, "a wide and a narrow picture each");
    // The cylinders, the readings, levels of three cylinders, the recordings.
    assert_eq!(body(&page).matches("<caption>").count(), 6);
}

#[test]
fn what_is_told_to_the_customer_comes_first() {
    let page = evidence::boat().page("en");
    let place = |text: &str| page.find(text).unwrap_or_else(|| panic!("'{text}' is missing"));
    let order = [
        "Sandhaven Pier Boatyard</p>",
        "<h1",
        "What was found</h2>",
        "How much of the test air each cylinder loses.",
        "What to do next</h2>",
        "Date and signature of the tester",
        "<details class=\"appendix\">",
        "<section class=\"part\"",
        "What it means</h2>",
        "What it does not say</h2>",
        "Test conditions</h2>",
        "Method and settings</h2>",
        "Cautions for anyone repeating the test</h2>",
    ];
    assert!(order.map(place).is_sorted(), "{:?}", order.map(place));
}

#[test]
fn nothing_is_invented_and_nothing_empty_is_shown() {
    let bare = Evidence {
        head: ReportHead { engine: "Pump 4".into(), notes: Some("  ".into()), ..ReportHead::default() },
        letterhead: None,
        engine: evidence::engine(vec![cases::tight()]),
        circumstances: hissward::report::Circumstances::default(),
        sounds: None,
        units: hissward::units::UnitSystem::Metric,
    };
    let page = bare.page("en");
    let (told, method) = body(&page).split_once("Method and settings</h2>").expect("the method");
    assert!(!told.contains("<dt>"), "no date, no tester, no notes");
    assert_eq!(method.matches("<dt>").count(), 10 + 1, "the method's settings and the program that made the report");
    for empty in ["Reservations", "Test conditions", "The recordings</h2>", "The sounds", "letterhead\""] {
        assert!(!body(&page).contains(empty), "{empty}");
    }
}

#[test]
fn the_page_needs_no_network_and_no_script() {
    for language in Words::languages() {
        let page = evidence::boat_with_sounds().page(&language);
        keep(&format!("boat-{language}.html"), &page);
        assert!(page.contains(&format!("<html lang=\"{language}\">")));
        for reach in ["<script", "<link", "<iframe", "src=\"http", "<a ", "href=\"http", "@import", "url(http"] {
            assert!(!page.contains(reach), "{reach}");
        }
        // No base64 holds a colon.
        let addresses = page.matches("://").count();
        let allowed = page.matches("xmlns=\"http://www.w3.org/2000/svg\"").count();
        assert_eq!(addresses, allowed, "no address but the name of SVG");
        // A message that is missing shows its name in brackets.
        let missing = body(&page).split('[').skip(1).find(|rest| {
            rest.split(']').next().is_some_and(|name| name.contains('-') && !name.contains([' ', '/', '>']))
        });
        assert_eq!(missing, None, "{language}");
        // Three cylinders with their sounds.
        let bytes = page.len();
        assert!(bytes < 3_000_000, "{language}: {bytes} bytes");
    }
}

#[test]
fn hostile_text_is_shown_as_text() {
    let markup_text = "</title><script>alert('1')</script><img src=x onerror=\"alert(2)\">&amp;";
    let long = "ä€🙂".repeat(3334);
    let head = ReportHead {
        engine: format!("{markup_text} שלום \u{202e}abc\u{202c} 🛥️"),
        date: Some("2026-03-14\" onload=\"x".into()),
        customer: Some("<b>".into()),
        tested_by: Some("\u{0}\u{8}\u{1b}[31mred".into()),
        notes: Some(long.clone()),
    };
    let page = Evidence { head, ..evidence::boat() }.page("en");
    keep("hostile.html", &page);
    markup::check(&page, "hostile");
    assert!(!page.contains("<script") && !page.contains("<img src=x"));
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
    let page = evidence::boat().page("en");
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
    let document = Evidence { engine: evidence::engine(vec![ranking]), ..evidence::boat() }.document("en");
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
        .filter(|lead| lead.contains("exhaust"))
        .collect();
    assert_eq!(leads, ["Cylinder 3, exhaust and oil filler"]);
}
