//! Rankings as a technician would get them: the workboat's three-cylinder petrol engine, and harder ones.
//!
//! Built band by band from a shop's noise and a hiss, so that the figures of a case agree with each other.

use hissward::caveat::Caveat;
use hissward::opening::Opening;
use hissward::ranking::{BandResult, Call, HissReading, Member, OpeningResult, Ranking};
use hissward::units::{Hertz, Level, LevelDiff};

/// Least margin of air over quiet at which a band's hiss is a level and not a bound (ISO 3744:2010, 4.2: 6 dB, memory).
const MARGIN_DB: f64 = 6.0;

pub fn opening(name: &str) -> Opening {
    name.parse().expect("a fit name")
}

/// The exact midband `n` third-octaves over 1 kHz (IEC 61260-1:2014, 5.4).
pub fn midband(n: i32) -> f64 {
    1000.0 * 10f64.powf(f64::from(n) / 10.0)
}

/// Bands 400 Hz to 16 kHz: a shop's noise that falls 3 dB per octave, and a hiss of some level over 1–16 kHz with
/// a slope that the path gives it (dB per octave); no hiss where the level is `None`.
fn bands(noise_1k_db: f64, hiss: Option<(f64, f64)>) -> Vec<BandResult> {
    let octaves = |n: i32| f64::from(n) / 3.0;
    let shape: f64 = (0..=12).map(|n| 10f64.powf(hiss.map_or(0.0, |(_, slope)| slope) * octaves(n) / 10.0)).sum();
    let band = |n: i32| {
        // A ripple stands for what rooms do; it repeats in air and quiet alike.
        let quiet = noise_1k_db - 3.0 * octaves(n) + 1.2 * (f64::from(n) * 1.7).sin();
        let alone = hiss.map(|(level, slope)| level + slope * octaves(n) - 10.0 * shape.log10());
        let jitter = 0.15 * (f64::from(n) * 2.9).cos();
        let air = 10.0 * (10f64.powf(quiet / 10.0) + alone.map_or(0.0, |db| 10f64.powf(db / 10.0))).log10() + jitter;
        let bound = air - quiet < MARGIN_DB;
        BandResult {
            midband: Hertz(midband(n)),
            quiet: Some(Level(quiet)),
            air: Level(air),
            hiss: alone.map(Level).or((air > quiet).then_some(Level(air - 1.3))),
            upper_bound: bound,
            used: (0..=12).contains(&n),
        }
    };
    (-4..=12).map(band).collect()
}

fn above_quiet(bands: &[BandResult]) -> LevelDiff {
    let sum = |of: &dyn Fn(&BandResult) -> f64| bands.iter().filter(|band| band.used).map(of).sum::<f64>();
    let quiet = sum(&|band| band.quiet.map_or(0.0, Level::power));
    LevelDiff(10.0 * (sum(&|band| band.air.power()) / quiet).log10())
}

pub fn heard(name: &str, probability: f64, level_db: f64, slope: f64) -> OpeningResult {
    let bands = bands(-61.0, Some((level_db, slope)));
    OpeningResult {
        opening: opening(name),
        probability,
        hiss: HissReading::Heard { level: Level(level_db), low: Level(level_db - 1.7), high: Level(level_db + 1.4) },
        above_quiet: Some(above_quiet(&bands)),
        at_most: Level(level_db + 1.4),
        spill: false,
        takes: 1,
        bands,
        caveats: Vec::new(),
    }
}

pub fn silent(name: &str, probability: f64, at_most_db: f64) -> OpeningResult {
    let bands = bands(-61.5, None);
    OpeningResult {
        opening: opening(name),
        probability,
        hiss: HissReading::Bound,
        above_quiet: Some(above_quiet(&bands)),
        at_most: Level(at_most_db),
        spill: false,
        takes: 1,
        bands,
        caveats: Vec::new(),
    }
}

fn members(names: &[&str]) -> Vec<Member> {
    names
        .iter()
        .map(|name| match *name {
            "elsewhere" => Member::Elsewhere,
            "tight" => Member::Tight,
            name => Member::Opening(opening(name)),
        })
        .collect()
}

/// Cylinder 2 of the boat's engine: plainly at the oil filler, with its spill at the intake.
pub fn located() -> Ranking {
    let mut intake = heard("intake", 0.0068, -60.1, -1.0);
    intake.spill = true;
    Ranking {
        cylinder: Some(2),
        call: Call::Located,
        answer_set: members(&["oil-filler"]),
        openings: vec![heard("oil-filler", 0.9812, -47.214, -2.5), intake, silent("exhaust", 0.0021, -64.3)],
        elsewhere_probability: 0.0099,
        caveats: vec![Caveat::new("sound-lost").number("lost_ms", 40.0, 0)],
        ..Ranking::default()
    }
}

/// Cylinder 1: tight.
pub fn tight() -> Ranking {
    Ranking {
        cylinder: Some(1),
        call: Call::NoneHeard,
        answer_set: members(&["tight", "elsewhere"]),
        openings: vec![
            silent("oil-filler", 0.012, -61.8),
            silent("exhaust", 0.009, -64.3),
            silent("intake", 0.006, -63.9),
        ],
        tight_probability: 0.931,
        elsewhere_probability: 0.042,
        caveats: Vec::new(),
        ..Ranking::default()
    }
}

/// Cylinder 3: a little at the exhaust, not enough to say so.
pub fn undecided() -> Ranking {
    let mut exhaust = heard("exhaust", 0.71, -59.4, 1.5);
    exhaust.caveats.push(
        Caveat::new("cut-off-file").text("file", "c3-exhaust-on-t1.wav").number("kept_s", 1.2, 1).number(
            "promised_s",
            10.0,
            1,
        ),
    );
    Ranking {
        cylinder: Some(3),
        call: Call::CannotTell,
        answer_set: members(&["exhaust", "elsewhere"]),
        openings: vec![exhaust, silent("oil-filler", 0.03, -61.2), silent("intake", 0.02, -63.0)],
        elsewhere_probability: 0.24,
        caveats: Vec::new(),
        ..Ranking::default()
    }
}

/// Two leaks at once.
pub fn shared() -> Ranking {
    Ranking {
        cylinder: Some(4),
        call: Call::Shared,
        answer_set: members(&["intake", "exhaust"]),
        openings: vec![
            heard("intake", 0.58, -48.2, 1.0),
            heard("exhaust", 0.41, -48.9, 0.5),
            silent("oil-filler", 0.004, -63.0),
        ],
        elsewhere_probability: 0.006,
        caveats: Vec::new(),
        ..Ranking::default()
    }
}

/// Loose clips with the air pulsed: no quiet clip.
pub fn pulsed() -> Ranking {
    let mut oil = heard("oil-filler", 0.97, -47.0, -2.0);
    let mut intake = silent("intake", 0.02, -62.0);
    for result in [&mut oil, &mut intake] {
        result.above_quiet = None;
        result.bands.iter_mut().for_each(|band| band.quiet = None);
    }
    Ranking {
        cylinder: None,
        call: Call::Located,
        answer_set: members(&["oil-filler"]),
        openings: vec![oil, intake],
        elsewhere_probability: 0.01,
        caveats: Vec::new(),
        ..Ranking::default()
    }
}

/// Eight openings, one with the longest name there can be.
pub fn eight() -> Ranking {
    let long = "crankcase-breather-behind-the-alternator";
    Ranking {
        cylinder: Some(2),
        call: Call::Located,
        answer_set: members(&["coolant-filler"]),
        openings: vec![
            heard("coolant-filler", 0.962, -50.2, -3.0),
            heard("plug-hole-1", 0.021, -58.8, 0.0),
            silent("plug-hole-3", 0.004, -63.0),
            silent("exhaust", 0.002, -64.1),
            silent(long, 0.002, -64.4),
            silent("intake", 0.001, -65.0),
            silent("rig", 0.001, -65.8),
            silent("oil-filler", 0.001, -66.0),
        ],
        elsewhere_probability: 0.006,
        caveats: Vec::new(),
        ..Ranking::default()
    }
}

/// One opening alone.
pub fn one() -> Ranking {
    Ranking {
        cylinder: None,
        call: Call::Located,
        answer_set: members(&["exhaust"]),
        openings: vec![heard("exhaust", 0.96, -44.0, 2.0)],
        elsewhere_probability: 0.04,
        caveats: Vec::new(),
        ..Ranking::default()
    }
}

/// The whole boat's engine.
pub fn boat() -> Vec<Ranking> {
    vec![tight(), located(), undecided()]
}

/// Every case by name.
pub fn all() -> Vec<(&'static str, Vec<Ranking>)> {
    vec![
        ("boat", boat()),
        ("located", vec![located()]),
        ("shared", vec![shared()]),
        ("pulsed", vec![pulsed()]),
        ("eight", vec![eight()]),
        ("one", vec![one()]),
    ]
}
