//! Rankings for a terminal and for programs.

use hissward::caveat::Caveat;
use hissward::ranking::{BandResult, Call, HissReading, Member, OpeningResult, Ranking};
use hissward::report::{self, TextStyle};
use hissward::units::{Hertz, Level, LevelDiff};
use hissward::words::Words;
use serde_json::Value;

use crate::cases;

fn words(language: &str) -> Words {
    Words::of(language).expect("a language there is")
}

fn plain(rankings: &[Ranking], language: &str) -> String {
    report::text(rankings, &words(language), TextStyle::Plain)
}

/// Without caveats, whose sentences are those of other modules.
fn bare(mut rankings: Vec<Ranking>) -> Vec<Ranking> {
    for ranking in &mut rankings {
        ranking.caveats.clear();
        ranking.openings.iter_mut().for_each(|opening| opening.caveats.clear());
    }
    rankings
}

#[test]
fn texts_read_well() {
    for language in ["en", "de"] {
        insta::assert_snapshot!(format!("boat_{language}"), plain(&bare(cases::boat()), language));
        let others = vec![cases::shared(), cases::pulsed(), cases::eight()];
        insta::assert_snapshot!(format!("others_{language}"), plain(&bare(others), language));
    }
}

#[test]
fn a_caveat_is_followed_by_its_remedy() {
    let words = words("en");
    let text = plain(&[cases::undecided()], "en");
    let (found, remedy) = words.caveat(&cases::undecided().openings[0].caveats[0]);
    // Wrapping aside, the words stand one after the other.
    let flat = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat(&text).contains(&flat(&format!("Reservations: - exhaust: {found} → {remedy}"))), "{text}");
}

#[test]
fn no_line_is_wider_than_a_terminal() {
    for language in Words::languages() {
        for (name, rankings) in cases::all() {
            for line in plain(&rankings, &language).lines() {
                assert!(line.chars().count() <= 80, "{name} {language}: {line}");
                assert!(!line.contains("[rank-") && !line.contains("[next-"), "{name} {language}: {line}");
                assert_eq!(line, line.trim_end(), "{name} {language}: blanks at the end");
            }
        }
    }
}

#[test]
fn the_first_line_is_the_answer() {
    let text = plain(&[cases::located()], "en");
    assert_eq!(text.lines().next(), Some("Cylinder 2: located at oil filler: likely piston rings or bore (98 % sure)"));
    // "Nothing heard" says how loud a hiss would have been heard: the highest bound.
    assert!(plain(&[cases::tight()], "en").contains("louder than -61.8 dB FS would have been heard"));
}

#[test]
fn bold_adds_codes_and_no_words() {
    let words = words("en");
    let bold = report::text(&cases::boat(), &words, TextStyle::Bold);
    assert_eq!(bold.matches("\u{1b}[1m").count(), 3);
    let stripped = bold.replace("\u{1b}[1m", "").replace("\u{1b}[0m", "");
    assert_eq!(stripped, plain(&cases::boat(), "en"));
    assert!(!plain(&cases::boat(), "en").contains('\u{1b}'));
}

#[test]
fn an_unfit_result_still_says_what_to_do() {
    let mut unfit = cases::undecided();
    unfit.answer_set.clear();
    unfit.openings.clear();
    let text = plain(&[unfit], "en");
    assert!(text.starts_with("Cylinder 3: cannot tell: these clips allow no answer\n"), "{text}");
    assert!(text.contains("Next: fix what the reservations name"), "{text}");
}

/// The example that other programs are promised, its sentences aside.
const PROMISED: &str = r#"{
  "format": 1,
  "tool": "hissward 0.1.0",
  "results": [
    {
      "cylinder": 2,
      "call": "located",
      "answer_set": ["oil-filler"],
      "openings": [
        {
          "opening": "oil-filler",
          "path": "rings-or-bore",
          "probability": 0.98,
          "heard": true,
          "hiss_db": -47.2, "hiss_db_low": -48.9, "hiss_db_high": -45.8,
          "above_quiet_db": 6.4,
          "at_most_db": -45.8,
          "spill": false,
          "takes": 1,
          "bands": [
            {"hz": 1000.0, "quiet_db": -61.0, "air_db": -55.2, "hiss_db": -56.5, "upper_bound": false}
          ],
          "caveats": []
        }
      ],
      "tight_probability": 0.0,
      "elsewhere_probability": 0.01,
      "sound_alone": null,
      "next": null,
      "caveats": [{"code": "drifting-floor", "text": "…", "remedy": "…"}]
    }
  ]
}"#;

/// The ranking behind [`PROMISED`], with more digits than are printed.
fn promised() -> Ranking {
    let band = BandResult {
        midband: Hertz(1000.0),
        quiet: Some(Level(-61.0)),
        air: Level(-55.2),
        hiss: Some(Level(-56.5)),
        upper_bound: false,
        used: true,
    };
    Ranking {
        cylinder: Some(2),
        call: Call::Located,
        answer_set: vec![Member::Opening(cases::opening("oil-filler"))],
        openings: vec![OpeningResult {
            opening: cases::opening("oil-filler"),
            probability: 0.980_04,
            hiss: HissReading::Heard { level: Level(-47.2049), low: Level(-48.9), high: Level(-45.8) },
            above_quiet: Some(LevelDiff(6.396)),
            at_most: Level(-45.8),
            spill: false,
            takes: 1,
            bands: vec![band],
            caveats: Vec::new(),
        }],
        elsewhere_probability: 0.01,
        caveats: vec![Caveat::new("drifting-floor")],
        ..Ranking::default()
    }
}

/// Keys in order of appearance.
fn keys(text: &str) -> Vec<&str> {
    let parts: Vec<&str> = text.split("\":").collect();
    parts[..parts.len() - 1].iter().filter_map(|part| part.rsplit_once('"').map(|(_, key)| key)).collect()
}

#[test]
fn json_is_as_promised() {
    let text = report::json(&[promised()], &words("en")).expect("JSON");
    assert_eq!(keys(&text), keys(PROMISED), "the same keys in the same order");
    let mut got: Value = serde_json::from_str(&text).expect("JSON that can be read");
    let wanted: Value =
        serde_json::from_str(&PROMISED.replace("0.1.0", env!("CARGO_PKG_VERSION"))).expect("JSON that can be read");
    for key in ["text", "remedy"] {
        let sentence = &mut got["results"][0]["caveats"][0][key];
        assert!(sentence.as_str().is_some_and(|said| !said.is_empty()));
        *sentence = Value::from("…");
    }
    assert_eq!(got, wanted);
    assert!(text.ends_with("}\n") && text.matches('\n').count() > 10);
}

#[test]
fn json_has_null_and_never_nan() {
    let mut odd = promised();
    odd.cylinder = None;
    odd.openings[0].hiss = HissReading::Bound;
    odd.openings[0].above_quiet = None;
    odd.openings[0].bands[0].quiet = None;
    odd.openings[0].bands[0].air = Level(f64::NEG_INFINITY);
    odd.openings[0].bands[0].hiss = Some(Level(f64::NAN));
    odd.openings[0].at_most = Level(-0.001);
    let text = report::json(&[odd], &words("en")).expect("JSON");
    let got: Value = serde_json::from_str(&text).expect("JSON that can be read");
    let opening = &got["results"][0]["openings"][0];
    for key in ["hiss_db", "hiss_db_low", "hiss_db_high", "above_quiet_db"] {
        assert_eq!(opening[key], Value::Null, "{key}");
    }
    assert_eq!(opening["heard"], Value::from(false));
    for key in ["quiet_db", "air_db", "hiss_db"] {
        assert_eq!(opening["bands"][0][key], Value::Null, "{key}");
    }
    assert_eq!(got["results"][0]["cylinder"], Value::Null);
    assert!(text.contains("\"at_most_db\": 0.0") && !text.contains("-0.0"), "{text}");
    assert!(!text.contains("NaN") && !text.contains("inf"));
}

#[test]
fn json_rounds_levels_and_probabilities() {
    let text = report::json(&[cases::located()], &words("de")).expect("JSON");
    let got: Value = serde_json::from_str(&text).expect("JSON that can be read");
    let openings = got["results"][0]["openings"].as_array().expect("openings");
    assert_eq!(openings[0]["hiss_db"], Value::from(-47.21));
    assert_eq!(openings[0]["probability"], Value::from(0.9812));
    // Third-octave 3 over 1 kHz, exactly 1995.262 Hz (IEC 61260-1:2014, calc).
    assert_eq!(openings[0]["bands"][7]["hz"], Value::from(1995.26));
    let sum: f64 = openings.iter().filter_map(|opening| opening["probability"].as_f64()).sum::<f64>()
        + got["results"][0]["elsewhere_probability"].as_f64().expect("a number");
    assert!((sum - 1.0).abs() < 2.5e-4, "{sum}");
    for number in text.split([' ', ',', '\n']).filter(|part| part.contains('.') && part.parse::<f64>().is_ok()) {
        let decimals = number.rsplit('.').next().map_or(0, str::len);
        assert!(decimals <= 4, "{number}");
    }
    assert_eq!(text, report::json(&[cases::located()], &words("de")).expect("JSON"), "the same, byte for byte");
}
