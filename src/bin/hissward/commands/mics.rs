//! `hissward mics`: the sound inputs, as a person knows them.

use hissward::audio::{Input, SoundCard, SystemCard, Worth};
use hissward::caveat::Fact;
use hissward::pipeline::{Trial, try_input};
use hissward::words::Words;
use serde::Serialize;

use crate::console::{Console, Failure, Outcome};
use crate::language;

/// Arguments of `hissward mics`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward mics\n\n\
    Each input that may serve is listened to for a second, to see how high its sound really goes: some say 48 kHz and \
    end at 7. Hold nothing to it; the noise of the room will do.")]
pub struct Arguments {
    /// Print JSON
    #[arg(long)]
    json: bool,
    /// List only, without listening to them
    #[arg(long)]
    no_trial: bool,
}

#[derive(Serialize)]
struct Listed<'a> {
    format: u32,
    inputs: Vec<Row<'a>>,
}

#[derive(Serialize)]
struct Row<'a> {
    id: &'a str,
    name: &'a str,
    sample_rate_hz: Option<u32>,
    channels: Option<u16>,
    samples: Option<&'static str>,
    bandwidth_hz: Option<f64>,
    level_db: Option<f64>,
    default: bool,
    worth: &'static str,
    error: Option<&'a str>,
}

/// An input, and what became of its trial.
struct Known {
    input: Input,
    trial: Option<Trial>,
    error: Option<String>,
    worth: Worth,
}

/// Lists the inputs.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let inputs = SystemCard.inputs()?;
    let words = language::usual()?;
    let to_try = inputs.iter().filter(|input| is_tried(input)).count();
    if inputs.is_empty() {
        console.talk(&words.say("mics-none", &[]));
    } else if !arguments.no_trial && to_try > 0 {
        console.talk(&words.say("mics-trying", &[("count", Fact::Number { value: to_try as f64, decimals: 0 })]));
    }
    let known: Vec<Known> = inputs.into_iter().map(|input| tried(input, !arguments.no_trial)).collect();
    console.data(&if arguments.json { json(&known)? } else { text(&known, &words) })?;
    Ok(Outcome::Done)
}

/// What a trial could tell something of.
fn is_tried(input: &Input) -> bool {
    input.worth == Worth::Useful
}

fn tried(input: Input, with_trial: bool) -> Known {
    let worth = input.worth;
    if !with_trial || !is_tried(&input) {
        return Known { input, trial: None, error: None, worth };
    }
    match try_input(&SystemCard, &input) {
        Ok(trial) => Known { input, trial: Some(trial), error: None, worth: trial.worth() },
        Err(error) => Known { input, trial: None, error: Some(error.to_string()), worth: Worth::Blocked },
    }
}

/// Tenths, as far as a trial of a second can tell.
fn rounded(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn json(known: &[Known]) -> Result<String, Failure> {
    let inputs = known
        .iter()
        .map(|Known { input, trial, error, worth }| Row {
            id: &input.id,
            name: &input.name,
            sample_rate_hz: input.shape.map(|shape| shape.rate_hz),
            channels: input.shape.map(|shape| shape.channels),
            samples: input.shape.map(|shape| shape.kind.name()),
            bandwidth_hz: trial.and_then(|trial| trial.bandwidth).map(|bandwidth| bandwidth.0),
            level_db: trial.and_then(|trial| trial.level).map(|level| rounded(level.0)),
            default: input.is_default,
            worth: worth.name(),
            error: error.as_deref(),
        })
        .collect();
    Ok(serde_json::to_string_pretty(&Listed { format: 1, inputs })? + "\n")
}

fn text(known: &[Known], words: &Words) -> String {
    let widest = known.iter().map(|known| known.input.name.chars().count()).max().unwrap_or(0);
    let number = |value, decimals| Fact::Number { value, decimals };
    let lines = known.iter().map(|Known { input, trial, error, worth }| {
        let shape = input.shape.map(|shape| {
            let kind = Fact::Text(shape.kind.name().to_owned());
            let facts = [
                ("rate", number(f64::from(shape.rate_hz), 0)),
                ("channels", number(f64::from(shape.channels), 0)),
                ("kind", kind),
            ];
            words.say("mic-shape", &facts)
        });
        let heard = trial.and_then(|trial| trial.bandwidth.zip(trial.level)).map(|(bandwidth, level)| {
            let facts = [("khz", number(bandwidth.0 / 1000.0, 1)), ("level", Fact::Text(words.printed(level.0, 0)))];
            words.say("mic-tried", &facts)
        });
        let worth = error.clone().unwrap_or_else(|| words.say(&format!("mic-{}", worth.name()), &[]));
        let default = if input.is_default { format!(" ({})", words.say("mic-default", &[])) } else { String::new() };
        let (shape, heard) = (shape.unwrap_or_default(), heard.unwrap_or_default());
        format!("{:widest$}  {shape:24}  {heard:26}  {worth}{default}\n", input.name)
    });
    lines.collect()
}
