//! Rankings for other programs: `rank --json`.

use serde::Serialize;

use super::error::ReportError;
use super::sentences;
use crate::caveat::Caveat;
use crate::ranking::{BandResult, HissReading, Member, Next, NextStep, OpeningResult, Ranking, SoundAlone};
use crate::words::Words;

/// The version of this format.
pub(super) const FORMAT: u32 = 1;

/// The rankings as one JSON object: keys in a fixed order, levels to 0.01 dB, frequencies to 0.01 Hz, probabilities
/// to 0.0001, `null` for what is unknown. Caveats are said in the language of `words`; their codes are the same in all.
///
/// # Errors
/// [`ReportError::Json`] where the encoder refuses, which these values give it no reason to.
pub fn json(rankings: &[Ranking], words: &Words) -> Result<String, ReportError> {
    written(rankings, words, None)
}

fn written(rankings: &[Ranking], words: &Words, clips_sha256: Option<&str>) -> Result<String, ReportError> {
    let whole = Whole {
        format: FORMAT,
        tool: concat!("hissward ", env!("CARGO_PKG_VERSION")),
        results: rankings.iter().map(|ranking| Cylinder::of(ranking, words)).collect(),
        clips_sha256,
    };
    let mut text = serde_json::to_string_pretty(&whole).map_err(ReportError::Json)?;
    text.push('\n');
    Ok(text)
}

/// The same object with one key more at its end: the hash of the clips that were ranked, by which a reader sees
/// whether they still are those of the job.
///
/// # Errors
/// As [`json`].
pub fn kept_json(rankings: &[Ranking], words: &Words, clips_sha256: &str) -> Result<String, ReportError> {
    written(rankings, words, Some(clips_sha256))
}

#[derive(Serialize)]
struct Whole<'a> {
    format: u32,
    tool: &'static str,
    results: Vec<Cylinder<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    clips_sha256: Option<&'a str>,
}

#[derive(Serialize)]
struct Cylinder<'a> {
    cylinder: Option<u32>,
    call: &'static str,
    answer_set: Vec<&'a str>,
    openings: Vec<OpeningRow<'a>>,
    tight_probability: Option<f64>,
    elsewhere_probability: Option<f64>,
    sound_alone: Option<Alone<'a>>,
    next: Option<ToRecord<'a>>,
    caveats: Vec<Doubt>,
}

/// The answer without the gauge.
#[derive(Serialize)]
struct Alone<'a> {
    call: &'static str,
    answer_set: Vec<&'a str>,
    probability: Option<f64>,
    tight_probability: Option<f64>,
    elsewhere_probability: Option<f64>,
}

/// What to record next.
#[derive(Serialize)]
struct ToRecord<'a> {
    opening: Option<&'a str>,
    air: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    reading: Option<&'static str>,
    settles: Option<f64>,
    seconds: f64,
    text: String,
}

impl<'a> ToRecord<'a> {
    fn of(next: &'a Next, words: &Words) -> Self {
        let (opening, air, reading) = match &next.step {
            NextStep::Clip(opening, air) => (Some(opening.name()), Some(air.name()), None),
            NextStep::Rig => (None, None, Some("rig")),
            NextStep::Gauge => (None, None, Some("gauge")),
        };
        let text = sentences::next_line(next, words);
        Self { opening, air, reading, settles: share(next.settles), seconds: next.seconds.0.round(), text }
    }
}

impl<'a> Alone<'a> {
    fn of(alone: &'a SoundAlone) -> Self {
        Self {
            call: alone.call.name(),
            answer_set: alone.answer_set.iter().map(Member::name).collect(),
            probability: share(alone.probability),
            tight_probability: share(alone.tight_probability),
            elsewhere_probability: share(alone.elsewhere_probability),
        }
    }
}

#[derive(Serialize)]
struct OpeningRow<'a> {
    opening: &'a str,
    path: &'static str,
    probability: Option<f64>,
    heard: bool,
    hiss_db: Option<f64>,
    hiss_db_low: Option<f64>,
    hiss_db_high: Option<f64>,
    above_quiet_db: Option<f64>,
    at_most_db: Option<f64>,
    spill: bool,
    takes: u32,
    bands: Vec<Band>,
    caveats: Vec<Doubt>,
}

#[derive(Serialize)]
struct Band {
    hz: Option<f64>,
    quiet_db: Option<f64>,
    air_db: Option<f64>,
    hiss_db: Option<f64>,
    upper_bound: bool,
}

#[derive(Serialize)]
pub(super) struct Doubt {
    code: &'static str,
    text: String,
    remedy: String,
}

impl<'a> Cylinder<'a> {
    fn of(ranking: &'a Ranking, words: &Words) -> Self {
        Self {
            cylinder: ranking.cylinder,
            call: ranking.call.name(),
            answer_set: ranking.answer_set.iter().map(Member::name).collect(),
            openings: ranking.openings.iter().map(|opening| OpeningRow::of(opening, words)).collect(),
            tight_probability: share(ranking.tight_probability),
            elsewhere_probability: share(ranking.elsewhere_probability),
            sound_alone: ranking.sound_alone.as_ref().map(Alone::of),
            next: ranking.next.as_ref().map(|next| ToRecord::of(next, words)),
            caveats: doubts(&ranking.caveats, words),
        }
    }
}

impl<'a> OpeningRow<'a> {
    fn of(result: &'a OpeningResult, words: &Words) -> Self {
        let (level, low, high) = match result.hiss {
            HissReading::Heard { level, low, high } => (hundredths(level.0), hundredths(low.0), hundredths(high.0)),
            HissReading::Bound => (None, None, None),
        };
        Self {
            opening: result.opening.name(),
            path: result.opening.path().name(),
            probability: share(result.probability),
            heard: matches!(result.hiss, HissReading::Heard { .. }),
            hiss_db: level,
            hiss_db_low: low,
            hiss_db_high: high,
            above_quiet_db: result.above_quiet.and_then(|above| hundredths(above.0)),
            at_most_db: hundredths(result.at_most.0),
            spill: result.spill,
            takes: result.takes,
            bands: result.bands.iter().map(Band::of).collect(),
            caveats: doubts(&result.caveats, words),
        }
    }
}

impl Band {
    fn of(band: &BandResult) -> Self {
        Self {
            hz: hundredths(band.midband.0),
            quiet_db: band.quiet.and_then(|level| hundredths(level.0)),
            air_db: hundredths(band.air.0),
            hiss_db: band.hiss.and_then(|level| hundredths(level.0)),
            upper_bound: band.upper_bound,
        }
    }
}

pub(super) fn doubts(caveats: &[Caveat], words: &Words) -> Vec<Doubt> {
    let doubt = |caveat: &Caveat| {
        let (text, remedy) = words.caveat(caveat);
        Doubt { code: caveat.code, text, remedy }
    };
    caveats.iter().map(doubt).collect()
}

/// Rounded to 0.01; what is no number is unknown.
fn hundredths(value: f64) -> Option<f64> {
    rounded(value, 100.0)
}

/// A probability rounded to 0.0001.
fn share(probability: f64) -> Option<f64> {
    rounded(probability, 10_000.0)
}

fn rounded(value: f64, parts: f64) -> Option<f64> {
    // Adding nothing turns a negative zero into zero.
    value.is_finite().then(|| (value * parts).round() / parts + 0.0)
}
