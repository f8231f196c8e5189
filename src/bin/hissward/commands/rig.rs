//! `hissward rig`: what the test rig loses by itself, hose blanked off.

use std::path::PathBuf;
use std::str::FromStr;

use hissward::caveat::Fact;
use hissward::job::{RigReading, When};
use hissward::pipeline::rig_reading;
use hissward::report::{rig_json, rig_text};
use hissward::units::GaugePressure;

use crate::face::{Face, Failure, Outcome};
use crate::{language, open_job};

/// Arguments of `hissward rig`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward rig gull-2026-11-25 --supply 80psi --held 78psi\n\n\
    Blank off hose and adapter first. Pressures are what the gauges show, with their unit: 80psi, 5.5bar, 550kPa.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// What the gauge before the restrictor shows, as in 80psi
    #[arg(long, value_name = "P", value_parser = GaugePressure::from_str, allow_hyphen_values = true)]
    supply: GaugePressure,
    /// What the gauge after it shows
    #[arg(long, value_name = "P", value_parser = GaugePressure::from_str, allow_hyphen_values = true)]
    held: GaugePressure,
    /// Prints the result as JSON
    #[arg(long)]
    json: bool,
}

/// Checks the reading, keeps it, says what it means.
pub fn run(arguments: &Arguments, face: &Face) -> Result<Outcome, Failure> {
    let mut job = open_job::for_writing(&arguments.job, "rig", face)?;
    let reading = RigReading {
        supply_kpa: arguments.supply.as_kpa(),
        held_kpa: arguments.held.as_kpa(),
        when: Some(When::now()),
    };
    let found = rig_reading(job.record(), &reading)?;
    job.set_rig(reading)?;
    let words = language::of_job(job.record())?;
    if arguments.json {
        face.data(&rig_json(&found, &words)?)?;
    } else {
        face.data(&rig_text(&found, &words, job.record().units.unwrap_or_default()))?;
    }
    face.talk(&words.say("gauge-kept", &[("job", Fact::Text(arguments.job.display().to_string()))]));
    Ok(Outcome::Done)
}
