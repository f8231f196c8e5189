//! `hissward new`: starts a job folder.

use std::path::PathBuf;
use std::str::FromStr;

use clap::ValueEnum;
use hissward::caveat::Fact;
use hissward::crank::Cycle;
use hissward::job::{
    EngineTemperature, JOB_FILE, JobRecord, JobWriter, MOST_CYLINDERS, MakerLimits, Microphone, When, parse_banks,
    parse_firing_angles, parse_firing_order,
};
use hissward::units::{AbsolutePressure, GaugePressure, Length, Percent, Temperature, UnitSystem};
use hissward::words::Words;
use serde_json::json;

use crate::console::{Console, Failure, Outcome};
use crate::language;

/// Arguments of `hissward new`.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hissward new gull-2026-11-25 --engine \"Three-cylinder petrol, workboat Gull\" --cylinders 3 \\\n      \
                        --firing-order 1-3-2 --restrictor 0.040in --hot --tested-by \"J. Hand\""
)]
pub struct Arguments {
    /// Folder of the new job; its parent must be there
    job: PathBuf,
    /// The engine, as people call it
    #[arg(long, value_name = "TEXT")]
    engine: String,
    /// How many cylinders it has
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_CYLINDERS)))]
    cylinders: u32,
    /// Cylinders in the order in which they fire, as in 1-3-2
    #[arg(long, value_name = "ORDER")]
    firing_order: Option<String>,
    /// How often a cylinder fires
    #[arg(long, value_enum, default_value = "four-stroke")]
    cycle: Strokes,
    /// Uneven firing: crank angles in degrees, in firing order, the first 0, as in 0,270,450
    #[arg(long, value_name = "DEGREES", requires = "firing_order")]
    firing_angles: Option<String>,
    /// Cylinders that stand beside each other, bank by bank, as in 1-3-5,2-4-6; without it they stand in one row
    #[arg(long, value_name = "BANKS")]
    banks: Option<String>,
    /// The engine is at its working temperature
    #[arg(long, conflicts_with = "cold")]
    hot: bool,
    /// The engine has not run before the test
    #[arg(long)]
    cold: bool,
    /// Diameter of the tester's restrictor, as in 0.040in or 1.016mm
    #[arg(long, value_name = "DIAMETER", value_parser = Length::from_str)]
    restrictor: Option<Length>,
    /// Air pressure of the place, as in 1013hPa
    #[arg(long, value_name = "P", value_parser = AbsolutePressure::from_str)]
    ambient: Option<AbsolutePressure>,
    /// Temperature of the air in the tester, as in 20C or 68F
    #[arg(long, value_name = "T", value_parser = Temperature::from_str, allow_hyphen_values = true)]
    air_temperature: Option<Temperature>,
    #[command(flatten)]
    people: People,
    #[command(flatten)]
    limits: Limits,
    /// Microphone for this job, by its name in `hissward mics`
    #[arg(long, value_name = "NAME")]
    microphone: Option<String>,
    /// Channel at the opening, counted from 1
    #[arg(long, value_name = "N", requires = "microphone")]
    channel: Option<u32>,
    /// Channel of a second microphone a step away
    #[arg(long, value_name = "N", requires = "microphone")]
    far_channel: Option<u32>,
    /// Prints the job as JSON
    #[arg(long)]
    json: bool,
}

/// Who and for whom.
#[derive(Debug, clap::Args)]
struct People {
    /// Who offers the test
    #[arg(long, value_name = "TEXT")]
    shop: Option<String>,
    /// Whose engine it is
    #[arg(long, value_name = "TEXT")]
    customer: Option<String>,
    /// Who does the test
    #[arg(long, value_name = "TEXT")]
    tested_by: Option<String>,
    /// Free text
    #[arg(long, value_name = "TEXT")]
    notes: Option<String>,
    /// Language of the report, as in en or de
    #[arg(long, value_name = "CODE")]
    language: Option<String>,
    /// Units of the report: metric or psi
    #[arg(long, value_name = "SYSTEM", value_parser = UnitSystem::from_str)]
    units: Option<UnitSystem>,
}

/// What the engine's maker allows.
#[derive(Debug, clap::Args)]
struct Limits {
    /// The maker's limit of loss, percent
    #[arg(long, value_name = "PCT", value_parser = Percent::from_str)]
    limit_loss: Option<Percent>,
    /// The maker's limit of the spread between cylinders, percentage points
    #[arg(long, value_name = "PCT", value_parser = Percent::from_str)]
    limit_spread: Option<Percent>,
    /// The maker's highest test pressure, as in 80psi
    #[arg(long, value_name = "P", value_parser = GaugePressure::from_str)]
    limit_pressure: Option<GaugePressure>,
    /// The restrictor for which the maker gives the limit of loss, as in 0.040in
    #[arg(long, value_name = "D", value_parser = Length::from_str)]
    limit_restrictor: Option<Length>,
    /// Where the maker says so: manual and page
    #[arg(long, value_name = "TEXT")]
    limit_source: Option<String>,
}

/// [`Cycle`] as typed.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum Strokes {
    /// Once in two turns of the crank
    FourStroke,
    /// Once a turn
    TwoStroke,
}

/// Starts the job.
pub fn run(arguments: Arguments, console: &Console) -> Result<Outcome, Failure> {
    let folder = arguments.job.clone();
    let as_json = arguments.json;
    let record = record_of(arguments)?;
    let job = JobWriter::create(&folder, record, "new")?;
    if as_json {
        console.data(&format!("{:#}\n", describe(&job)))?;
    } else {
        console.data(&format!("{}\n", folder.join(JOB_FILE).display()))?;
    }
    let started = [("job", Fact::Text(folder.display().to_string()))];
    console.talk(&language::of_job(job.record())?.say("new-started", &started));
    Ok(Outcome::Done)
}

fn record_of(arguments: Arguments) -> Result<JobRecord, Failure> {
    let cycle = match arguments.cycle {
        Strokes::FourStroke => Cycle::FourStroke,
        Strokes::TwoStroke => Cycle::TwoStroke,
    };
    let cylinders = arguments.cylinders;
    let order = arguments.firing_order.map(|order| parse_firing_order(&order, cylinders));
    let angles = arguments.firing_angles.map(|angles| parse_firing_angles(&angles));
    let banks = arguments.banks.map(|banks| parse_banks(&banks, cylinders));
    if let Some(code) = &arguments.people.language {
        // Only to see that there are words in it.
        drop(Words::of(code)?);
    }
    let temperature = match (arguments.hot, arguments.cold) {
        (true, _) => Some(EngineTemperature::Hot),
        (_, true) => Some(EngineTemperature::Cold),
        _ => None,
    };
    Ok(JobRecord {
        made_with: Some(concat!("hissward ", env!("CARGO_PKG_VERSION")).to_owned()),
        created: Some(When::now()),
        engine: arguments.engine,
        cylinders,
        cycle,
        firing_order: order.transpose().map_err(|told| format!("--firing-order: {told}"))?,
        firing_angles_deg: angles.transpose().map_err(|told| format!("--firing-angles: {told}"))?,
        banks: banks.transpose().map_err(|told| format!("--banks: {told}"))?,
        temperature,
        restrictor_mm: arguments.restrictor.map(|length| readable(length.as_mm())),
        ambient_kpa: arguments.ambient.map(|pressure| readable(pressure.as_kpa())),
        air_temperature_c: arguments.air_temperature.map(|air| readable(air.as_celsius())),
        shop: arguments.people.shop,
        customer: arguments.people.customer,
        tested_by: arguments.people.tested_by,
        notes: arguments.people.notes,
        language: arguments.people.language,
        units: arguments.people.units,
        limits: limits_of(arguments.limits),
        microphone: arguments.microphone.map(|device| Microphone {
            device,
            channel: arguments.channel,
            far_channel: arguments.far_channel,
        }),
        ..JobRecord::default()
    })
}

fn limits_of(limits: Limits) -> Option<MakerLimits> {
    let limits = MakerLimits {
        loss_percent: limits.limit_loss.map(|percent| percent.0),
        spread_percent: limits.limit_spread.map(|percent| percent.0),
        test_pressure_kpa: limits.limit_pressure.map(|pressure| readable(pressure.as_kpa())),
        restrictor_mm: limits.limit_restrictor.map(|length| readable(length.as_mm())),
        source: limits.limit_source,
    };
    (limits != MakerLimits::default()).then_some(limits)
}

/// A converted value without the dust of binary fractions: six decimals of a millimetre or a kilopascal
/// are far below what any tester resolves, and 0.040 in reads 1.016 in the file.
fn readable(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn describe(job: &JobWriter) -> serde_json::Value {
    let record = job.record();
    json!({
        "format": 1,
        "job": job.folder().display().to_string(),
        "engine": record.engine,
        "cylinders": record.cylinders,
        "firing_order": record.firing_order,
        "firing_angles_deg": record.firing_angles_deg,
        "restrictor_mm": record.restrictor_mm,
        "banks": record.banks,
        "ambient_kpa": record.ambient_kpa,
        "air_temperature_c": record.air_temperature_c,
    })
}
