//! `hissward gauge`: a cylinder's gauge reading, the rig taken off.

use std::path::PathBuf;
use std::str::FromStr;

use hissward::caveat::Fact;
use hissward::job::{GaugeReading, GaugeValue, When};
use hissward::pipeline::kept_reading;
use hissward::report::{gauge_json, gauge_text};
use hissward::units::{GaugePressure, Percent, TypedReading, TypedReadingError};

use crate::console::{Console, Failure, Outcome};
use crate::{language, open_job};

/// A reading, as words or as options: the same for the rig and for cylinders.
#[derive(Debug, clap::Args)]
pub struct ReadingArguments {
    /// The reading as people give it: held over supply (72/80 psi, 72 of 80), or the loss (22 %); several are a series
    #[arg(value_name = "READING")]
    reading: Vec<String>,
    /// What the gauge before the restrictor shows, as in 80psi
    #[arg(long, value_name = "P", value_parser = GaugePressure::from_str, conflicts_with = "reading", allow_hyphen_values = true)]
    supply: Option<GaugePressure>,
    /// What the gauge after it shows
    #[arg(long, value_name = "P", value_parser = GaugePressure::from_str, requires = "supply", conflicts_with = "reading", allow_hyphen_values = true)]
    held: Option<GaugePressure>,
    /// What a percent gauge shows, instead of the pressure held
    #[arg(
        long, value_name = "PCT", value_parser = Percent::from_str, allow_hyphen_values = true,
        conflicts_with_all = ["held", "reading"]
    )]
    loss: Option<Percent>,
}

impl ReadingArguments {
    /// Whether nothing was given.
    pub fn is_empty(&self) -> bool {
        self.reading.is_empty() && self.supply.is_none() && self.loss.is_none()
    }

    /// The readings given, in their order.
    pub fn values(&self) -> Result<Vec<GaugeValue>, Failure> {
        match (self.supply, self.held, self.loss) {
            (Some(supply), Some(held), _) => Ok(vec![GaugeValue::of(TypedReading::Pressures { supply, held })]),
            (supply, None, Some(loss)) => Ok(vec![GaugeValue::of(TypedReading::Loss { loss, supply })]),
            (None, None, None) if !self.reading.is_empty() => {
                Ok(typed(&self.reading)?.into_iter().map(GaugeValue::of).collect())
            }
            _ => Err("give the reading, as in 72/80 psi or 22 % (or --supply 80psi --held 72psi, or --loss 22)".into()),
        }
    }
}

/// The words as one reading, `72 of 80 psi`; else each as one of a series.
fn typed(words: &[String]) -> Result<Vec<TypedReading>, TypedReadingError> {
    match words.join(" ").parse() {
        Ok(one) => Ok(vec![one]),
        Err(error) if words.len() == 1 => Err(error),
        Err(error) => {
            words.iter().map(|word| word.parse()).collect::<Result<_, _>>().map_err(|_: TypedReadingError| error)
        }
    }
}

/// Arguments of `hissward gauge`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward gauge gull-2026-11-25 --cylinder 2 60/80psi\n  \
    hissward gauge gull-2026-11-25 --cylinder 2 --supply 80psi --held 60psi\n  \
    hissward gauge gull-2026-11-25 --cylinder 2 --loss 25 --supply 80psi --cold\n  \
    hissward gauge gull-2026-11-25 --cylinder 2 60/80psi 63/80psi 64/80psi\n\n\
    Held comes before supply, as it is said: 60 of 80. Several readings are a series with the air left on.\n\
    The last reading of a cylinder counts; earlier ones stay in the job.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// The cylinder, counted from 1
    #[arg(long, value_name = "N")]
    cylinder: u32,
    #[command(flatten)]
    reading: ReadingArguments,
    /// The engine was cold
    #[arg(long)]
    cold: bool,
    /// Prints the result as JSON
    #[arg(long)]
    json: bool,
}

/// Keeps the reading, says what it means.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut job = open_job::for_writing(&arguments.job, "gauge", console)?;
    let cylinder = arguments.cylinder;
    let when = When::now();
    let values = arguments.reading.values()?;
    let reading = |value| GaugeReading { cylinder, value, cold: arguments.cold, when: Some(when.clone()) };
    job.add_gauge_readings(values.into_iter().map(reading).collect())?;
    let record = job.record();
    let words = language::of_job(record)?;
    let Some(kept) = kept_reading(record, cylinder)? else {
        return Err("the reading was kept, and is not there: look into job.toml".into());
    };
    if arguments.json {
        console.data(&gauge_json(&kept, &words)?)?;
    } else {
        console.data(&gauge_text(&kept, &words, record.units.unwrap_or_default()))?;
    }
    console.talk(&words.say("gauge-kept", &[("job", Fact::Text(arguments.job.display().to_string()))]));
    Ok(Outcome::Done)
}
