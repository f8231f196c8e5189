//! The comparison picture: its marks, its files, and that what colour says is also said without.

use hissward::plot::{
    self, AIR, Anchor, INK, Lettering, MIST, Mark, PAPER, Picture, PictureSize, QUIET, RISE, SOFT, Weight,
};
use hissward::ranking::{HissReading, Ranking};
use hissward::units::Level;
use hissward::words::Words;

use crate::cases;
use crate::markup;

fn words(language: &str) -> Words {
    Words::of(language).expect("a language there is")
}

fn picture(rankings: &[Ranking], language: &str, size: PictureSize) -> Picture {
    plot::comparison(rankings, &words(language), size).expect("a picture")
}

/// Kept where a person can look at it: `target/tmp/pictures`.
fn keep(name: &str, bytes: &[u8]) {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    std::fs::write(folder.join(name), bytes).expect("a picture written");
}

/// Every case at every size in every language.
fn every_picture() -> Vec<(String, Picture)> {
    let mut pictures = Vec::new();
    for (name, rankings) in cases::all() {
        for language in Words::languages() {
            for size in [PictureSize::Page, PictureSize::Phone] {
                pictures.push((format!("{name}-{language}-{size:?}"), picture(&rankings, &language, size)));
                let dark = picture(&rankings, &language, size).in_dark();
                pictures.push((format!("{name}-dark-{language}-{size:?}"), dark));
            }
        }
    }
    pictures
}

/// A text and the box of its capitals: left, top, right, bottom.
struct Label {
    text: String,
    space: [f64; 4],
}

fn labels(picture: &Picture) -> Vec<Label> {
    let lettering = Lettering::embedded().expect("the embedded faces can be read");
    let label = |mark: &Mark| {
        let Mark::Text { at, text, size, weight, anchor, .. } = mark else { return None };
        let width = lettering.width(text, *size, *weight);
        let left = match anchor {
            Anchor::Start => at.x,
            Anchor::Middle => at.x - width / 2.0,
            Anchor::End => at.x - width,
        };
        // Height of capitals in Inter: 1490 of 2048 units.
        Some(Label { text: text.clone(), space: [left, at.y - 0.7275 * size, left + width, at.y] })
    };
    picture.marks.iter().filter_map(label).collect()
}

fn texts(picture: &Picture) -> Vec<String> {
    labels(picture).into_iter().map(|label| label.text).collect()
}

fn corners(mark: &Mark) -> Vec<(f64, f64)> {
    match mark {
        Mark::Line { through, .. } => through.iter().map(|at| (at.x, at.y)).collect(),
        Mark::Area { corners, .. } => corners.iter().map(|at| (at.x, at.y)).collect(),
        Mark::Text { at, .. } => vec![(at.x, at.y)],
        Mark::Raster { at, width, height, .. } => vec![(at.x, at.y), (at.x + width, at.y + height)],
    }
}

#[test]
fn everything_stays_on_the_sheet() {
    for (name, picture) in every_picture() {
        for label in labels(&picture) {
            let [left, top, right, bottom] = label.space;
            let inside = left >= 0.0 && top >= 0.0 && right <= picture.width && bottom <= picture.height;
            assert!(inside, "{name}: '{}' at {:?} leaves the sheet", label.text, label.space);
        }
        for (x, y) in picture.marks.iter().flat_map(corners) {
            assert!((0.0..=picture.width).contains(&x) && (0.0..=picture.height).contains(&y), "{name}: {x}, {y}");
        }
    }
}

#[test]
fn no_text_covers_another() {
    for (name, picture) in every_picture() {
        let labels = labels(&picture);
        for (place, one) in labels.iter().enumerate() {
            for other in &labels[place + 1..] {
                let ([l, t, r, b], [left, top, right, bottom]) = (one.space, other.space);
                let apart = r <= left || right <= l || b <= top || bottom <= t;
                assert!(apart, "{name}: '{}' and '{}' overlap", one.text, other.text);
            }
        }
    }
}

#[test]
fn letters_are_large_enough_for_half_a_page() {
    // 1200 units on the 180 mm between the margins of an A4 page: 16 units are 2.4 mm, a 6.8 point letter.
    for (name, picture) in every_picture() {
        for mark in &picture.marks {
            if let Mark::Text { size, text, .. } = mark {
                assert!(*size >= 16.0, "{name}: '{text}' is {size} units high");
            }
        }
    }
    let one = picture(&[cases::eight()], "de", PictureSize::Page);
    assert!(one.height / one.width < 0.75, "one cylinder fits on half a page: {} units high", one.height);
}

#[test]
fn the_picture_says_the_numbers() {
    let english = picture(&[cases::located()], "en", PictureSize::Page);
    let said = texts(&english);
    for text in [
        "Cylinder 2",
        "oil filler",
        "piston rings or bore",
        "98\u{a0}%",
        "−47.2 dB",
        "−48.9 to −45.8",
        "at most −64.3",
        "carried over",
    ] {
        assert!(said.iter().any(|known| known == text), "'{text}' is not among {said:?}");
    }
    assert!(said.iter().any(|known| known.starts_with("leak at the oil filler, 98\u{a0}% likely")));
    let german = texts(&picture(&[cases::tight()], "de", PictureSize::Page));
    for text in ["Zylinder 1", "höchstens −61,8", "anderswo 4\u{a0}% · alles dicht 93\u{a0}%"] {
        assert!(german.iter().any(|known| known == text), "'{text}' is not among {german:?}");
    }
    for part in
        ["Cylinder 2", "oil filler 98\u{a0}%, hiss −47.2 dB", "exhaust under\u{a0}1\u{a0}%, hiss at most −64.3 dB"]
    {
        assert!(english.alt.contains(part), "{}", english.alt);
    }
}

/// Strokes shorter than a unit's dash and a gap, in the tone of the quiet clip.
fn strokes(picture: &Picture, wanted: plot::Tone) -> Vec<usize> {
    let through = |mark: &Mark| match mark {
        Mark::Line { through, tone, .. } if *tone == wanted => Some(through.len()),
        _ => None,
    };
    picture.marks.iter().filter_map(through).collect()
}

#[test]
fn without_colour_nothing_is_lost() {
    let picture = picture(&[cases::located()], "en", PictureSize::Page);
    // Air: an unbroken staircase of 17 bands per opening; quiet: many short dashes.
    let air = strokes(&picture, AIR);
    assert_eq!(air.iter().filter(|points| **points == 34).count(), 3);
    let quiet = strokes(&picture, QUIET);
    assert!(quiet.len() > 60 && quiet.iter().all(|points| *points <= 6), "{quiet:?}");
    // The answer is told by light letters on dark ground, which grey keeps.
    let name_tone = |name: &str| {
        picture.marks.iter().find_map(|mark| match mark {
            Mark::Text { text, tone, weight: Weight::Bold, .. } if text == name => Some(*tone),
            _ => None,
        })
    };
    assert_eq!(name_tone("oil filler"), Some(PAPER));
    assert_eq!(name_tone("intake"), Some(INK));
}

#[test]
fn only_a_leak_that_was_found_is_drawn_strong() {
    // The dark ground of an opening's name, light letters on it.
    let strong = |ranking: Ranking| {
        let light = |mark: &Mark| matches!(mark, Mark::Text { tone, text, .. } if *tone == PAPER && text != "Aa");
        picture(&[ranking], "en", PictureSize::Page).marks.iter().filter(|mark| light(mark)).count()
    };
    assert!(strong(cases::located()) > 0 && strong(cases::shared()) > 0);
    assert_eq!((strong(cases::tight()), strong(cases::undecided())), (0, 0));
}

#[test]
fn a_bound_is_hatched_and_a_level_is_not() {
    let hatched = |rankings: &[Ranking]| strokes(&picture(rankings, "en", PictureSize::Page), plot::HATCH).len();
    let mut level_alone = cases::one();
    assert_eq!(hatched(&[level_alone.clone()]), 0);
    level_alone.openings[0].hiss = HissReading::Bound;
    assert!(hatched(&[level_alone]) > 10);
}

#[test]
fn tones_keep_their_contrast() {
    // WCAG 2.2, 1.4.3 (4.5 : 1 for text) and 1.4.11 (3 : 1 for lines), memory.
    for (text, ground) in [(INK, PAPER), (SOFT, PAPER), (INK, MIST), (SOFT, MIST), (PAPER, INK)] {
        assert!(text.contrast(ground) >= 4.5, "{text:?} on {ground:?}: {}", text.contrast(ground));
    }
    for line in [AIR, QUIET, INK] {
        assert!(line.contrast(PAPER) >= 3.0 && line.contrast(RISE) >= 3.0, "{line:?}");
    }
    // Black on white is 21 : 1 by the formula.
    let black = plot::Tone { red: 0, green: 0, blue: 0 };
    assert!((black.contrast(PAPER) - 21.0).abs() < 1e-9);
}

#[test]
fn files_hold_the_picture() {
    for (name, picture) in every_picture() {
        let svg = picture.to_svg().expect("an SVG");
        markup::check(&svg, &name);
        keep(&format!("{name}.svg"), svg.as_bytes());
        for text in texts(&picture) {
            assert!(svg.contains(&markup::escaped(&text)), "{name}: the SVG lacks '{text}'");
        }
    }
    let boat = picture(&cases::boat(), "en", PictureSize::Page);
    let file = boat.to_png().expect("a PNG");
    let reader = png::Decoder::new(std::io::Cursor::new(&file)).read_info().expect("a PNG that can be read");
    assert_eq!((reader.info().width, reader.info().height), (1200, boat.height as u32));
    keep("boat-en-Page.png", &file);
    assert_eq!(file, boat.to_png().expect("a PNG"), "the same picture is the same file");
    let fine = boat.to_png_at(2).expect("a PNG");
    let reader = png::Decoder::new(std::io::Cursor::new(&fine)).read_info().expect("a PNG that can be read");
    assert_eq!(reader.info().width, 2400);
    let large = boat.to_png_at(9).expect_err("too many pixels");
    assert!(large.to_string().contains("10800 by"), "{large}");
}

#[test]
fn letters_reach_the_pixels() {
    let picture = picture(&[cases::located()], "en", PictureSize::Page);
    let file = picture.to_png().expect("a PNG");
    let mut reader = png::Decoder::new(std::io::Cursor::new(&file)).read_info().expect("a PNG that can be read");
    let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
    reader.next_frame(&mut pixels).expect("pixels");
    for label in labels(&picture) {
        let [left, top, right, bottom] = label.space.map(|edge| edge as usize);
        let light = (top..bottom).flat_map(|y| (left..right.max(left + 1)).map(move |x| (x, y)));
        let values: Vec<u8> = light.map(|(x, y)| pixels[(y * 1200 + x) * 3 + 1]).collect();
        let (dark, bright) = (values.iter().min().copied().unwrap_or(0), values.iter().max().copied().unwrap_or(0));
        assert!(bright - dark > 90, "'{}' does not stand out: {dark} to {bright}", label.text);
    }
}

#[test]
fn pictures_of_each_share_their_axes() {
    let words = words("en");
    let each = plot::comparison_of_each(&cases::boat(), &[], &words, PictureSize::Page).expect("pictures");
    assert_eq!(each.len(), 3);
    let numbers = |picture: &Picture| -> Vec<String> {
        texts(picture).into_iter().filter(|text| text.starts_with('−') && !text.contains(' ')).collect()
    };
    assert!(numbers(&each[0]).len() >= 6);
    assert_eq!(numbers(&each[0]), numbers(&each[1]));
    assert_eq!(numbers(&each[0]), numbers(&each[2]));
    // Alone, the tight cylinder would have other axes.
    assert_ne!(numbers(&each[0]), numbers(&picture(&[cases::tight()], "en", PictureSize::Page)));
}

#[test]
fn odd_results_are_drawn_without_harm() {
    let mut odd = cases::located();
    odd.openings[0].bands[3].air = Level(f64::NEG_INFINITY);
    odd.openings[0].bands[4].quiet = Some(Level(f64::NAN));
    odd.openings[1].bands.clear();
    odd.openings[2].at_most = Level(-300.0);
    let mut bare = cases::tight();
    bare.openings.clear();
    for rankings in [vec![odd], vec![bare.clone()], vec![bare, cases::eight()], Vec::new()] {
        let picture = picture(&rankings, "en", PictureSize::Page);
        for (x, y) in picture.marks.iter().flat_map(corners) {
            assert!(x.is_finite() && y.is_finite(), "{rankings:?}");
        }
        picture.to_png().expect("a PNG");
    }
}
