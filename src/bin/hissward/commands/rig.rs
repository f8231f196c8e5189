//! `hissward rig`: what the test rig loses by itself, hose blanked off, and how well its gauges agree.

use std::path::PathBuf;
use std::str::FromStr;

use hissward::caveat::Fact;
use hissward::job::{GaugeValue, Gauges, RigReading, When};
use hissward::pipeline::rig_reading;
use hissward::report::{rig_json, rig_text};
use hissward::units::{GaugePressure, Percent, TypedReading};

use super::gauge::ReadingArguments;
use crate::console::{Console, Failure, Outcome};
use crate::{language, open_job};

/// Arguments of `hissward rig`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward rig gull-2026-11-25 78/80psi\n  \
    hissward rig gull-2026-11-25 --supply 80psi --held 78psi\n  \
    hissward rig gull-2026-11-25 --loss 2.5 --supply 80psi\n  \
    hissward rig gull-2026-11-25 --gauges 79/80psi --class 1.6 --range 10bar\n\n\
    Blank off hose and adapter first. For --gauges the cylinder's valve is shut instead: nothing flows then, and both\n\
    gauges should show the same; what they differ by is taken off every reading.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    #[command(flatten)]
    reading: ReadingArguments,
    /// Both gauges with the cylinder's valve shut: after the restrictor over before it, as in 79/80psi
    #[arg(long, value_name = "READING", value_parser = TypedReading::from_str)]
    gauges: Option<TypedReading>,
    /// The gauges' accuracy class, percent of their range, as on the dial
    #[arg(long, value_name = "PCT", value_parser = Percent::from_str, requires = "range")]
    class: Option<Percent>,
    /// The gauges' full scale, as in 10bar
    #[arg(long, value_name = "P", requires = "class")]
    range: Option<String>,
    /// Prints the result as JSON
    #[arg(long)]
    json: bool,
}

impl Arguments {
    /// What is said of the gauges; what is not said stays as the job has it.
    fn gauges(&self, kept: Option<&Gauges>) -> Result<Option<Gauges>, Failure> {
        if self.gauges.is_none() && self.class.is_none() {
            return Ok(None);
        }
        let mut gauges = kept.cloned().unwrap_or_default();
        match self.gauges.map(GaugeValue::of) {
            Some(GaugeValue::Pressures { supply_kpa, held_kpa }) => {
                (gauges.shut_supply_kpa, gauges.shut_held_kpa) = (Some(supply_kpa), Some(held_kpa));
            }
            Some(GaugeValue::Loss { .. }) => return Err("--gauges takes both gauges, as in 79/80psi".into()),
            None => {}
        }
        if let (Some(class), Some(range)) = (self.class, &self.range) {
            (gauges.class_percent, gauges.range_kpa) = (Some(class.0), Some(full_scale_kpa(range)?));
        }
        gauges.when = Some(When::now());
        Ok(Some(gauges))
    }
}

/// A gauge's full scale may lie above what is ever tested with, so it is read as a tenth.
fn full_scale_kpa(text: &str) -> Result<f64, Failure> {
    let unit_at = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (number, unit) = text.split_at(unit_at);
    let number: f64 =
        number.trim().replace(',', ".").parse().map_err(|_| format!("--range {text}: type it as in 10bar"))?;
    let one: GaugePressure = format!("1{unit}").parse().map_err(|error| format!("--range {text}: {error}"))?;
    Ok(number * one.as_kpa())
}

/// Keeps the readings, says what they mean.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut job = open_job::for_writing(&arguments.job, "rig", console)?;
    let gauges = arguments.gauges(job.record().gauges.as_ref())?;
    let alone = gauges.is_some() && arguments.reading.is_empty();
    let reading = if alone { None } else { arguments.reading.values()?.pop() };
    let words = language::of_job(job.record())?;
    if let Some(gauges) = gauges {
        job.set_gauges(gauges)?;
        if let Some(offset) = job.record().gauges.as_ref().and_then(Gauges::offset) {
            let units = job.record().units.unwrap_or_default();
            let shown = units.pressure(GaugePressure(offset.0.abs()));
            let by = Fact::Text(format!("{}\u{a0}{}", words.number(shown.value, shown.decimals), shown.unit));
            let name = if offset.0 < 0.0 { "gauges-less" } else { "gauges-more" };
            console.talk(&words.say(name, &[("by", by)]));
        }
    }
    if let Some(value) = reading {
        job.set_rig(RigReading { value, when: Some(When::now()) })?;
    }
    match job.record().rig.as_ref() {
        Some(rig) => {
            let found = rig_reading(job.record(), rig)?;
            if arguments.json {
                console.data(&rig_json(&found, &words)?)?;
            } else {
                console.data(&rig_text(&found, &words, job.record().units.unwrap_or_default()))?;
            }
        }
        None => console.talk(&words.say("rig-next", &[])),
    }
    console.talk(&words.say("gauge-kept", &[("job", Fact::Text(arguments.job.display().to_string()))]));
    Ok(Outcome::Done)
}
