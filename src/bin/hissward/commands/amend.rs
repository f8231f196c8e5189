//! `hissward amend`: puts a mistake right. Nothing is erased.

use std::path::{Path, PathBuf};
use std::str::FromStr;

use hissward::caveat::Fact;
use hissward::job::{
    Amendment, ClipChange, Counts, Datum, EngineTemperature, FileName, GaugeChange, GaugeValue, JobWriter, RigReading,
    When, parse_firing_order,
};
use hissward::opening::Air;
use hissward::units::TypedReading;
use hissward::words::Words;
use serde_json::{Value, json};

use crate::console::{Console, Failure, Outcome};
use crate::{language, open_job};

/// Arguments of `hissward amend`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward amend gull-2026-11-25 c2-intake-on-t1.wav --at exhaust\n  \
    hissward amend gull-2026-11-25 --swap c2-intake-off-t1.wav c2-intake-on-t1.wav\n  \
    hissward amend gull-2026-11-25 c2-intake-on-t2.wav --leave-out \"somebody hammered\"\n  \
    hissward amend gull-2026-11-25 --cylinder 2 --gauge 80psi 62psi\n  \
    hissward amend gull-2026-11-25 --customer \"J. Hand\"\n\n\
    Clips are named as in `hissward status`. Nothing is erased: what was changed, when and from what stays in the job and \
    shows in report and pack. An empty text takes a datum away.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// The clips, by their files' names
    #[arg(value_name = "CLIP")]
    clips: Vec<String>,
    /// Where the microphone was held
    #[arg(long, value_name = "OPENING", requires = "clips")]
    at: Option<String>,
    /// Takes a name for an opening that nobody knows yet
    #[arg(long)]
    new_opening: bool,
    /// The cylinder: under test in these clips, or the one whose reading is changed
    #[arg(long, value_name = "N")]
    cylinder: Option<u32>,
    /// What the air was doing
    #[arg(long, value_name = "off|on|pulsed", value_parser = Air::from_str, requires = "clips")]
    air: Option<Air>,
    /// The clips do not count, for this reason
    #[arg(long, value_name = "REASON", requires = "clips")]
    leave_out: Option<String>,
    /// The clips count again
    #[arg(long, requires = "clips", conflicts_with = "leave_out")]
    take_in: bool,
    /// Two clips change places: cylinder, opening and air
    #[arg(long, value_name = "CLIP", num_args = 2, conflicts_with_all = ["clips"])]
    swap: Vec<String>,
    /// What the gauges showed at this cylinder: two pressures, or the loss as in 22%
    #[arg(long, value_name = "P", num_args = 1..=2, requires = "cylinder", conflicts_with = "clips")]
    gauge: Vec<String>,
    /// The reading is of this cylinder instead
    #[arg(long, value_name = "N", requires = "cylinder", conflicts_with_all = ["clips", "gauge"])]
    gauge_to: Option<u32>,
    /// The reading does not count, for this reason
    #[arg(long, value_name = "REASON", requires = "cylinder", conflicts_with_all = ["clips", "gauge", "gauge_to"])]
    gauge_back: Option<String>,
    /// What the rig alone showed
    #[arg(long, value_name = "P", num_args = 1..=2, conflicts_with = "clips")]
    rig: Vec<String>,
    /// The rig's reading does not count, for this reason
    #[arg(long, value_name = "REASON", conflicts_with_all = ["clips", "rig"])]
    rig_back: Option<String>,
    /// Read with the engine cold: this cylinder's reading, or the whole job
    #[arg(long, conflicts_with = "clips")]
    cold: bool,
    /// Read with the engine at its working temperature: this cylinder's reading, or the whole job
    #[arg(long, conflicts_with_all = ["cold", "clips"])]
    hot: bool,
    /// The engine, as people call it
    #[arg(long, value_name = "TEXT")]
    engine: Option<String>,
    /// Whose engine it is
    #[arg(long, value_name = "TEXT")]
    customer: Option<String>,
    /// Who did the test
    #[arg(long, value_name = "TEXT")]
    tested_by: Option<String>,
    /// Who offers the test
    #[arg(long, value_name = "TEXT")]
    shop: Option<String>,
    /// Free text
    #[arg(long, value_name = "TEXT")]
    notes: Option<String>,
    /// How many cylinders the engine has
    #[arg(long, value_name = "N")]
    cylinders: Option<u32>,
    /// Cylinders in the order in which they fire
    #[arg(long, value_name = "ORDER")]
    firing_order: Option<String>,
    /// Prints what was changed as JSON
    #[arg(long)]
    json: bool,
}

/// Changes, and says what was changed.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut job = open_job::for_writing(&arguments.job, "amend", console)?;
    let words = language::of_job(job.record())?;
    let before = job.record().amended.len();
    let before_clips = job.record().clips.clone();
    let now = When::now();
    let mut asked = amend_clips(arguments, &mut job, &now)?;
    asked |= amend_readings(arguments, &mut job, &now)?;
    let data = data_of(arguments, &job)?;
    if !data.is_empty() {
        job.amend_data(&data, &now)?;
        asked = true;
    }
    if !asked {
        return Err(
            "nothing was asked for: say what is to be changed, as in --at exhaust (see `hissward amend --help`)".into(),
        );
    }
    let done = &job.record().amended[before.min(job.record().amended.len())..];
    if done.is_empty() && before_clips == job.record().clips {
        console.talk(&words.say("amend-nothing", &[]));
    }
    if arguments.json {
        let rows: Vec<Value> = done.iter().map(describe).collect();
        console.data(&format!("{:#}\n", json!({ "format": 1, "amended": rows })))?;
    } else {
        console.data(&done.iter().map(|one| format!("{}\n", line(one, &words))).collect::<String>())?;
    }
    Ok(Outcome::Done)
}

fn amend_clips(arguments: &Arguments, job: &mut JobWriter, now: &When) -> Result<bool, Failure> {
    if let [one, other] = &arguments.swap[..] {
        job.swap_clips(&clip_named(job, one)?, &clip_named(job, other)?, now)?;
        return Ok(true);
    }
    if arguments.clips.is_empty() {
        return Ok(false);
    }
    let files = arguments.clips.iter().map(|name| clip_named(job, name)).collect::<Result<Vec<_>, _>>()?;
    let at = arguments.at.as_deref().map(|word| job.record().opening(word, arguments.new_opening)).transpose()?;
    let counts = match &arguments.leave_out {
        Some(reason) if reason.trim().is_empty() => {
            return Err("--leave-out wants a reason: it stands in the report".into());
        }
        Some(reason) => Some(Counts::LeftOut(reason.trim().to_owned())),
        None => arguments.take_in.then_some(Counts::TakenIn),
    };
    let change = ClipChange { opening: at, cylinder: arguments.cylinder, air: arguments.air, counts };
    if change == ClipChange::default() {
        return Err(
            "say what is to be changed of these clips: --at, --cylinder, --air, --leave-out REASON or --take-in".into(),
        );
    }
    job.amend_clips(&files, &change, now)?;
    Ok(true)
}

fn amend_readings(arguments: &Arguments, job: &mut JobWriter, now: &When) -> Result<bool, Failure> {
    let mut asked = false;
    if !arguments.rig.is_empty() {
        let value = GaugeValue::of(arguments.rig.join(" ").parse::<TypedReading>()?);
        job.set_rig(RigReading { value, when: Some(now.clone()) })?;
        asked = true;
    }
    if let Some(reason) = &arguments.rig_back {
        job.take_rig_back(reason, now)?;
        asked = true;
    }
    let Some(cylinder) = arguments.cylinder.filter(|_| arguments.clips.is_empty()) else { return Ok(asked) };
    let cold = (arguments.cold || arguments.hot).then_some(arguments.cold);
    let change = if !arguments.gauge.is_empty() {
        let value = GaugeValue::of(arguments.gauge.join(" ").parse::<TypedReading>()?);
        GaugeChange::Value(value, cold)
    } else if let Some(other) = arguments.gauge_to {
        GaugeChange::MovedTo(other)
    } else if let Some(reason) = &arguments.gauge_back {
        GaugeChange::TakenBack(reason.clone())
    } else if let Some(cold) = cold {
        GaugeChange::Cold(cold)
    } else {
        return Err(
            "say what is to be changed of that cylinder: its clips by name, or --gauge, --gauge-to, --gauge-back"
                .into(),
        );
    };
    job.amend_gauge(cylinder, &change, now)?;
    Ok(true)
}

fn data_of(arguments: &Arguments, job: &JobWriter) -> Result<Vec<Datum>, Failure> {
    let mut data = Vec::new();
    let or_none = |text: &String| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
    data.extend(arguments.engine.clone().map(Datum::Engine));
    data.extend(arguments.customer.as_ref().map(|text| Datum::Customer(or_none(text))));
    data.extend(arguments.tested_by.as_ref().map(|text| Datum::TestedBy(or_none(text))));
    data.extend(arguments.shop.as_ref().map(|text| Datum::Shop(or_none(text))));
    data.extend(arguments.notes.as_ref().map(|text| Datum::Notes(or_none(text))));
    data.extend(arguments.cylinders.map(Datum::Cylinders));
    if let Some(order) = &arguments.firing_order {
        let cylinders = arguments.cylinders.unwrap_or(job.record().cylinders);
        data.push(Datum::FiringOrder(Some(parse_firing_order(order, cylinders)?)));
    }
    if arguments.cylinder.is_none() && (arguments.cold || arguments.hot) {
        let temperature = if arguments.cold { EngineTemperature::Cold } else { EngineTemperature::Hot };
        data.push(Datum::Temperature(Some(temperature)));
    }
    Ok(data)
}

/// A clip by its file's name, with or without the folder before it.
fn clip_named(job: &JobWriter, name: &str) -> Result<FileName, Failure> {
    let plain = Path::new(name).file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let found = job.record().clips.iter().find(|clip| clip.file.as_str() == plain);
    let told = || -> Failure {
        let there: Vec<&str> = job.record().clips.iter().map(|clip| clip.file.as_str()).collect();
        let there = if there.is_empty() { "none yet".to_owned() } else { there.join(", ") };
        format!("'{name}' is not a clip of this job: its clips are {there}").into()
    };
    found.map(|clip| clip.file.clone()).ok_or_else(told)
}

fn line(one: &Amendment, words: &Words) -> String {
    let said = |value: &Option<String>| value.clone().unwrap_or_else(|| words.say("amend-none", &[]));
    let facts = [
        ("of", Fact::Text(one.of.clone())),
        ("key", Fact::Text(one.key.clone())),
        ("from", Fact::Text(said(&one.from))),
        ("to", Fact::Text(said(&one.to))),
    ];
    words.say("amend-line", &facts)
}

fn describe(one: &Amendment) -> Value {
    json!({ "when": one.when.to_string(), "of": one.of, "key": one.key, "from": one.from, "to": one.to })
}
