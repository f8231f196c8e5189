//! `hissward gauge`: a cylinder's gauge reading, the rig taken off.

use std::path::PathBuf;
use std::str::FromStr;

use hissward::caveat::Fact;
use hissward::gauge::Bands;
use hissward::job::{GaugeReading, GaugeValue, When};
use hissward::pipeline::{cylinder_reading, makers_limit};
use hissward::report::{gauge_json, gauge_text};
use hissward::units::{GaugePressure, Percent};

use crate::face::{Face, Failure, Outcome};
use crate::{language, open_job};

/// Arguments of `hissward gauge`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward gauge gull-2026-11-25 --cylinder 2 --supply 80psi --held 60psi\n  \
    hissward gauge gull-2026-11-25 --cylinder 2 --loss 25 --cold\n\n\
    Pressures are what the gauges show, with their unit: 80psi, 5.5bar, 550kPa. The last reading of a cylinder counts.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// The cylinder, counted from 1
    #[arg(long, value_name = "N")]
    cylinder: u32,
    /// What the gauge before the restrictor shows, as in 80psi
    #[arg(long, value_name = "P", value_parser = GaugePressure::from_str, requires = "held", allow_hyphen_values = true)]
    supply: Option<GaugePressure>,
    /// What the cylinder holds
    #[arg(long, value_name = "P", value_parser = GaugePressure::from_str, requires = "supply", allow_hyphen_values = true)]
    held: Option<GaugePressure>,
    /// What a percent gauge shows, instead of the two pressures
    #[arg(
        long, value_name = "PCT", value_parser = Percent::from_str, allow_hyphen_values = true,
        conflicts_with_all = ["supply", "held"], required_unless_present = "supply"
    )]
    loss: Option<Percent>,
    /// The engine was cold
    #[arg(long)]
    cold: bool,
    /// Prints the result as JSON
    #[arg(long)]
    json: bool,
}

/// Checks the reading, keeps it, says what it means.
pub fn run(arguments: &Arguments, face: &Face) -> Result<Outcome, Failure> {
    let mut job = open_job::for_writing(&arguments.job, "gauge", face)?;
    let cylinder = arguments.cylinder;
    let value = match (arguments.supply, arguments.held, arguments.loss) {
        (Some(supply), Some(held), _) => GaugeValue::Pressures { supply_kpa: supply.as_kpa(), held_kpa: held.as_kpa() },
        (_, _, Some(loss)) => GaugeValue::Loss { percent: loss.0 },
        _ => return Err("give the two pressures (--supply 80psi --held 60psi) or the loss (--loss 25)".into()),
    };
    let reading = GaugeReading { cylinder, value, cold: arguments.cold, when: Some(When::now()) };
    let found = cylinder_reading(job.record(), &reading)?;
    job.add_gauge_reading(reading)?;
    let record = job.record();
    let words = language::of_job(record)?;
    if arguments.json {
        face.data(&gauge_json(cylinder, &found, &words)?)?;
    } else {
        let judgement = Bands::embedded()?.judge(found.own_loss_percent(), makers_limit(record).as_ref(), None)?;
        let units = record.units.unwrap_or_default();
        face.data(&gauge_text(cylinder, &found, &judgement, record.conditions().restrictor, &words, units))?;
    }
    face.talk(&words.say("gauge-kept", &[("job", Fact::Text(arguments.job.display().to_string()))]));
    Ok(Outcome::Done)
}
