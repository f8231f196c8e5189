//! The settings of the method, so that somebody else can repeat it: each from the place that uses it.

use crate::caveat::Fact;
use crate::gauge::{PERCENT_RESOLUTION, PRESSURE_RESOLUTION};
use crate::hiss::{BANDS, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND, band};
use crate::ranking::{ISO_3744_CLEAR, ISO_3744_MARGIN, assumptions as taken};
use crate::spectrum::frame_length;
use crate::words::Words;

type Setting = (&'static str, Vec<(&'static str, Fact)>);

/// Name and value of each setting, as they are printed.
pub fn settings(words: &Words) -> Vec<(String, String)> {
    let said = |(name, facts): Setting| (words.say(&format!("{name}.label"), &[]), words.say(name, &facts));
    all(words).into_iter().map(said).collect()
}

fn all(words: &Words) -> Vec<Setting> {
    let number = |value: f64, decimals: usize| Fact::Text(words.printed(value, decimals));
    let percent = |share: f64| number(100.0 * share, 0);
    let rate_hz = 48_000.0;
    let frame = frame_length(rate_hz) as f64;
    let places = [0, FIRST_LEVEL_BAND, END_OF_LEVEL_BANDS - 1, BANDS - 1];
    let [lowest, level, end_of_level, highest] = places.map(|place| band(place).midband().0);
    let (quietest, loudest, step) = taken::LEVELS_DB;
    let [calmest, .., wildest] = taken::BACKGROUND_VARIABILITY;
    vec![
        ("setting-frames", vec![("samples", number(frame, 0)), ("ms", number(1000.0 * frame / rate_hz, 1))]),
        (
            "setting-bands",
            // 398 Hz exactly, 400 Hz by its nominal name.
            vec![("lowest", number((lowest / 10.0).round() * 10.0, 0)), ("highest", number(highest / 1000.0, 0))],
        ),
        (
            "setting-level",
            vec![
                ("lowest", number(level / 1000.0, 0)),
                ("highest", number(end_of_level / 1000.0, 0)),
                ("margin", number(ISO_3744_MARGIN.0, 0)),
                ("clear", number(ISO_3744_CLEAR.0, 0)),
            ],
        ),
        (
            "setting-tried",
            vec![("quietest", number(quietest, 0)), ("loudest", number(loudest, 0)), ("step", number(step, 0))],
        ),
        (
            "setting-change",
            vec![
                ("common", number(taken::COMMON_CHANGE_DB, 1)),
                ("smooth", number(taken::SMOOTH_CHANGE_DB, 1)),
                ("band", number(taken::BAND_CHANGE_DB, 1)),
                ("calmest", number(calmest, 2)),
                ("wildest", number(wildest, 0)),
            ],
        ),
        ("setting-spill", vec![("near", number(taken::SPILL_DB.0, 0)), ("far", number(taken::SPILL_DB.1, 0))]),
        // A pair of takes differs by √2 times what one take strays.
        ("setting-placement", vec![("level", number(taken::PLACEMENT_PAIR_DB / std::f64::consts::SQRT_2, 0))]),
        (
            "setting-before",
            vec![("nowhere", percent(taken::TIGHT)), ("two", percent((1.0 - taken::TIGHT) * taken::TWO))],
        ),
        (
            "setting-calls",
            vec![
                ("sure", percent(taken::SURE)),
                ("two", percent(taken::SHARED_FROM)),
                ("share", percent(taken::PAIR_SHARE)),
            ],
        ),
        (
            "setting-gauge",
            vec![("psi", number(PRESSURE_RESOLUTION.as_psi(), 0)), ("percent", number(PERCENT_RESOLUTION.0, 0))],
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_setting_is_said_with_its_figures_in_both_languages() {
        for language in ["en", "de"] {
            let said = settings(&Words::of(language).expect("a language there is"));
            assert_eq!(said.len(), 10);
            for (label, value) in &said {
                assert!(!label.contains('[') && !value.contains('[') && !value.contains('{'), "{label}: {value}");
                assert!(value.chars().any(|c| c.is_ascii_digit()), "{label}: {value}");
            }
        }
        let english = settings(&Words::of("en").expect("English"));
        assert_eq!(english[0].1, "2048 samples at 48 kHz (42.7 ms), Hann window, half overlapping");
        assert!(english[6].1.starts_with("±2 dB"), "{}", english[6].1);
    }
}
