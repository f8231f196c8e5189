//! One engine on one day, as `worked_cases.toml` writes it, and the job and rankings that it stands for.

use hissward::crank::Cycle;
use hissward::job::{EngineTemperature, GaugeReading, GaugeValue, Gauges, JobRecord, MakerLimits, RigReading};
use hissward::opening::Air;
use hissward::ranking::{Call, HissReading, Member, Next, NextStep, OpeningResult, Ranking};
use hissward::units::{Length, Level, LevelDiff, Seconds, TypedReading};
use serde::Deserialize;

/// The whole table.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Table {
    pub case: Vec<Case>,
}

/// One engine on one day.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    pub name: String,
    pub source: String,
    cylinders: u32,
    order: Option<Vec<u32>>,
    banks: Option<Vec<Vec<u32>>>,
    cycle: Option<String>,
    restrictor: Option<String>,
    limit_percent: Option<f64>,
    limit_source: Option<String>,
    rig: Option<String>,
    gauges_shut: Option<String>,
    #[serde(default)]
    pub says: Vec<String>,
    #[serde(default)]
    pub never: Vec<String>,
    #[serde(default)]
    pub engine: Vec<String>,
    #[serde(default)]
    pub not_engine: Vec<String>,
    #[serde(default)]
    pub order_of_work: Vec<u32>,
    pub cylinder: Vec<Cylinder>,
}

/// One cylinder of it.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cylinder {
    pub number: u32,
    reading: Option<Readings>,
    #[serde(default)]
    cold: bool,
    call: Option<String>,
    #[serde(default)]
    heard: Vec<String>,
    /// One of the usual openings that nobody listened at, as the ranking says it.
    missing: Option<String>,
    pub finding: String,
    pub weight: String,
    pub first: String,
    #[serde(default)]
    pub no_steps: Vec<String>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Readings {
    One(String),
    Series(Vec<String>),
}

impl Table {
    pub fn read() -> Self {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/finding/worked_cases.toml");
        let text = std::fs::read_to_string(path).expect("worked_cases.toml");
        toml::from_str(&text).expect("worked_cases.toml")
    }
}

fn value(text: &str) -> GaugeValue {
    GaugeValue::of(text.parse::<TypedReading>().unwrap_or_else(|error| panic!("{text}: {error}")))
}

fn gauges(shut: GaugeValue) -> Gauges {
    let GaugeValue::Pressures { supply_kpa, held_kpa } = shut else { panic!("gauges_shut takes two pressures") };
    Gauges { shut_supply_kpa: Some(supply_kpa), shut_held_kpa: Some(held_kpa), ..Gauges::default() }
}

impl Case {
    /// The job that holds these readings.
    pub fn record(&self) -> JobRecord {
        let limits = self.limit_percent.map(|percent| MakerLimits {
            loss_percent: Some(percent),
            source: self.limit_source.clone(),
            ..MakerLimits::default()
        });
        let cycle = self.cycle.as_ref().map_or(Cycle::FourStroke, |cycle| cycle.parse().expect("a cycle"));
        let restrictor = self.restrictor.as_ref().map(|text| text.parse::<Length>().expect("a restrictor").as_mm());
        JobRecord {
            engine: self.name.clone(),
            cylinders: self.cylinders,
            cycle,
            firing_order: self.order.clone(),
            banks: self.banks.clone(),
            restrictor_mm: restrictor,
            limits,
            rig: self.rig.as_ref().map(|text| RigReading { value: value(text), when: None }),
            gauges: self.gauges_shut.as_ref().map(|text| gauges(value(text))),
            temperature: Some(EngineTemperature::Hot),
            gauge: self.cylinder.iter().flat_map(Cylinder::readings).collect(),
            ..JobRecord::default()
        }
    }

    /// What the sound said.
    pub fn rankings(&self) -> Vec<Ranking> {
        self.cylinder.iter().filter_map(Cylinder::ranking).collect()
    }
}

impl Cylinder {
    fn readings(&self) -> Vec<GaugeReading> {
        let texts = match &self.reading {
            None => Vec::new(),
            Some(Readings::One(text)) => vec![text.clone()],
            Some(Readings::Series(texts)) => texts.clone(),
        };
        let cylinder = self.number;
        let reading = |text: &String| GaugeReading { cylinder, value: value(text), cold: self.cold, when: None };
        texts.iter().map(reading).collect()
    }

    fn ranking(&self) -> Option<Ranking> {
        let call = match self.call.as_deref()? {
            "located" => Call::Located,
            "shared" => Call::Shared,
            "none-heard" => Call::NoneHeard,
            "cannot-tell" => Call::CannotTell,
            other => panic!("{other} is no call"),
        };
        // Only the order of probabilities and the call matter here; they sum to one.
        let shares: &[f64] = match call {
            Call::Located => &[0.96, 0.01, 0.01, 0.01],
            Call::Shared => &[0.55, 0.42, 0.01, 0.01],
            Call::NoneHeard => &[0.1, 0.1, 0.05, 0.05],
            Call::CannotTell => &[0.4, 0.3, 0.1, 0.1],
        };
        let openings: Vec<OpeningResult> =
            self.heard.iter().zip(shares).map(|(text, share)| opening(text, *share)).collect();
        let wanted = if call == Call::Shared { 2 } else { 1 };
        let members = openings.iter().take(wanted).map(|opening| Member::Opening(opening.opening.clone()));
        Some(Ranking {
            cylinder: Some(self.number),
            call,
            answer_set: members.collect(),
            tight_probability: 0.0,
            elsewhere_probability: 1.0 - openings.iter().map(|opening| opening.probability).sum::<f64>(),
            sound_alone: None,
            next: self.missing.as_ref().map(|name| Next {
                step: NextStep::Clip(name.parse().expect("an opening"), Air::On),
                settles: 0.5,
                seconds: Seconds(17.0),
                missing: true,
            }),
            openings,
            ..Ranking::default()
        })
    }
}

fn opening(text: &str, probability: f64) -> OpeningResult {
    let mut words = text.split_whitespace();
    let opening = words.next().and_then(|name| name.parse().ok()).unwrap_or_else(|| panic!("{text}: no opening"));
    let rest: Vec<&str> = words.collect();
    let spill = rest.contains(&"spill");
    let numbers: Vec<f64> = rest.iter().filter_map(|word| word.parse().ok()).collect();
    let level = numbers.first().copied();
    OpeningResult {
        opening,
        probability,
        hiss: level.map_or(HissReading::Bound, |level| HissReading::Heard {
            level: Level(level),
            low: Level(level - 1.5),
            high: Level(level + 1.5),
        }),
        above_quiet: Some(LevelDiff(numbers.get(1).copied().unwrap_or(if level.is_some() { 6.0 } else { 0.2 }))),
        at_most: Level(level.map_or(-68.0, |level| level + 1.5)),
        spill,
        takes: 1,
        bands: Vec::new(),
        caveats: Vec::new(),
    }
}
