//! `hissward mics`: the sound inputs, as a person knows them.

use hissward::audio::{Input, SoundCard, SystemCard};
use hissward::caveat::Fact;
use hissward::words::Words;
use serde::Serialize;

use crate::face::{Face, Failure, Outcome};
use crate::language;

/// Arguments of `hissward mics`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward mics")]
pub struct Arguments {
    /// Print JSON
    #[arg(long)]
    json: bool,
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
    default: bool,
    worth: &'static str,
}

/// Lists the inputs.
pub fn run(arguments: &Arguments, face: &Face) -> Result<Outcome, Failure> {
    let inputs = SystemCard.inputs()?;
    let words = language::usual()?;
    if inputs.is_empty() {
        face.talk(&words.say("mics-none", &[]));
    }
    face.data(&if arguments.json { json(&inputs)? } else { text(&inputs, &words) })?;
    Ok(Outcome::Done)
}

fn json(inputs: &[Input]) -> Result<String, Failure> {
    let inputs = inputs
        .iter()
        .map(|input| Row {
            id: &input.id,
            name: &input.name,
            sample_rate_hz: input.shape.map(|shape| shape.rate_hz),
            channels: input.shape.map(|shape| shape.channels),
            samples: input.shape.map(|shape| shape.kind.name()),
            default: input.is_default,
            worth: input.worth.name(),
        })
        .collect();
    Ok(serde_json::to_string_pretty(&Listed { format: 1, inputs })? + "\n")
}

fn text(inputs: &[Input], words: &Words) -> String {
    let widest = inputs.iter().map(|input| input.name.chars().count()).max().unwrap_or(0);
    let lines = inputs.iter().map(|input| {
        let shape = input.shape.map(|shape| {
            let rate = Fact::Number { value: f64::from(shape.rate_hz), decimals: 0 };
            let channels = Fact::Number { value: f64::from(shape.channels), decimals: 0 };
            let kind = Fact::Text(shape.kind.name().to_owned());
            words.say("mic-shape", &[("rate", rate), ("channels", channels), ("kind", kind)])
        });
        let worth = words.say(&format!("mic-{}", input.worth.name()), &[]);
        let default = if input.is_default { format!(" ({})", words.say("mic-default", &[])) } else { String::new() };
        format!("{:widest$}  {:24}  {worth}{default}\n", input.name, shape.unwrap_or_default())
    });
    lines.collect()
}
