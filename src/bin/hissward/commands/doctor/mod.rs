//! `hissward doctor`: is this computer fit for the job.

mod computer;
mod recorder;

use std::path::PathBuf;

use hissward::audio::{Input, SoundCard, SystemCard, Worth};
use hissward::caveat::Fact;
use hissward::pipeline::try_input;
use hissward::settings::{SettingsFolder, TriedRecorder, TriedRecorders};
use hissward::words::Words;
use serde::Serialize;

use crate::console::{Console, Failure, Outcome};
use crate::language;

/// Arguments of `hissward doctor`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward doctor\n  hissward doctor --try-recorder\n  \
    hissward doctor --try-recorder --from phone.m4a --device \"my phone\"\n\n\
    --try-recorder plays steady noise for twelve seconds while the microphone listens: whether a recorder fades steady \
    sound, moves its gain or ends early is then known before an engine is touched, and kept under the device's name. A \
    phone is tried in two steps: --play while it records, then --from with its recording.\n\n\
    Exit: 0 fit, 1 something is not.")]
pub struct Arguments {
    /// Tries how a recorder treats steady noise
    #[arg(long)]
    try_recorder: bool,
    /// The input to try, by its name or a part of it; else the one that is used where none is named
    #[arg(long, value_name = "NAME", requires = "try_recorder")]
    device: Option<String>,
    /// Only plays the noise, for another device to record
    #[arg(long, requires = "try_recorder", conflicts_with_all = ["from", "json"])]
    play: bool,
    /// Judges a recording that another device made of the noise; --device names it
    #[arg(long, value_name = "FILE", requires = "try_recorder", requires = "device")]
    from: Option<PathBuf>,
    /// Prints JSON
    #[arg(long)]
    json: bool,
}

/// How good a thing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
enum State {
    Fine,
    /// Something to know of; the job can be done.
    Doubt,
    /// The job cannot be done so.
    Bad,
}

impl State {
    fn name(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Doubt => "doubt",
            Self::Bad => "bad",
        }
    }
}

/// One thing looked at.
#[derive(Debug, Serialize)]
struct Check {
    check: &'static str,
    state: State,
    found: String,
    remedy: Option<String>,
}

impl Check {
    /// A message `doctor-NAME` with its remedy, where the state asks for one.
    fn new(check: &'static str, state: State, message: &str, facts: &[(&'static str, Fact)], words: &Words) -> Self {
        let remedy = (state != State::Fine).then(|| words.say(&format!("{message}.remedy"), facts));
        Self { check, state, found: words.say(message, facts), remedy }
    }
}

#[derive(Serialize)]
struct Whole {
    format: u32,
    fit: bool,
    checks: Vec<Check>,
    recorder: Option<recorder::Tried>,
}

/// Looks at everything, and says what to do.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let words = language::usual()?;
    if arguments.play {
        return recorder::play(&words, console);
    }
    let (mut checks, tried) = if arguments.try_recorder {
        let (check, tried) = match &arguments.from {
            Some(file) => recorder::of_recording(file, arguments.device.as_deref().unwrap_or_default(), &words)?,
            None => recorder::of_input(arguments.device.as_deref(), &words, console)?,
        };
        (vec![check], Some(tried))
    } else {
        (inputs(&words, console), None)
    };
    if !arguments.try_recorder {
        checks.extend(computer::checks(&words));
    }
    let fit = checks.iter().all(|check| check.state != State::Bad);
    if arguments.json {
        console.data(&(serde_json::to_string_pretty(&Whole { format: 1, fit, checks, recorder: tried })? + "\n"))?;
    } else {
        console.data(&checks.iter().map(|check| line(check, &words)).collect::<String>())?;
    }
    Ok(if fit { Outcome::Done } else { Outcome::Undecided })
}

fn line(check: &Check, words: &Words) -> String {
    let state = words.say(&format!("doctor-state-{}", check.state.name()), &[]);
    let remedy = check.remedy.as_ref().map_or_else(String::new, |remedy| format!("{:10}  {remedy}\n", ""));
    format!("{state:10}  {}\n{remedy}", check.found)
}

/// Names under which systems offer a microphone whose sound they have worked on.
const WORKED_ON: [&str; 6] = ["echo-cancel", "echo cancel", "noise cancel", "rnnoise", "denoise", "noise suppress"];

/// The sound inputs: whether they open, how loud, at which rate, and whether the system works on their sound.
fn inputs(words: &Words, console: &Console) -> Vec<Check> {
    let found = match SystemCard.inputs() {
        Ok(found) => found,
        Err(error) => {
            let facts = [("reason", Fact::Text(error.to_string()))];
            return vec![Check::new("microphone", State::Bad, "doctor-no-sound", &facts, words)];
        }
    };
    let useful = found.iter().filter(|input| input.worth == Worth::Useful).count();
    if useful == 0 {
        return vec![Check::new("microphone", State::Bad, "doctor-no-microphone", &[], words)];
    }
    console.talk(&words.say("mics-trying", &[("count", Fact::Number { value: useful as f64, decimals: 0 })]));
    // Who has no home has kept nothing.
    let tried =
        SettingsFolder::of_user().ok().map(|place| TriedRecorder::all(&place)).transpose().unwrap_or_else(|error| {
            console.talk(&error.to_string());
            None
        });
    let tried = tried.unwrap_or_default();
    let mut checks = Vec::new();
    for input in found.iter().filter(|input| input.worth == Worth::Useful) {
        checks.push(input_check(input, words));
        checks.push(processing_check(input, &tried, words));
    }
    // One that works suffices: the others are only told of.
    if checks.iter().any(|check| check.check == "microphone" && check.state == State::Fine) {
        checks.iter_mut().filter(|check| check.state == State::Bad).for_each(|check| check.state = State::Doubt);
    }
    checks
}

fn input_check(input: &Input, words: &Words) -> Check {
    let name = ("name", Fact::Text(input.name.clone()));
    match try_input(&SystemCard, input) {
        Err(error) => {
            let facts = [name, ("reason", Fact::Text(error.to_string()))];
            Check::new("microphone", State::Bad, "doctor-microphone-fails", &facts, words)
        }
        Ok(trial) if trial.worth() != Worth::Useful => {
            let worth = ("worth", Fact::Text(words.say(&format!("mic-{}", trial.worth().name()), &[])));
            Check::new("microphone", State::Bad, "doctor-microphone-unfit", &[name, worth], words)
        }
        Ok(trial) => {
            let rate = input.shape.map_or(0.0, |shape| f64::from(shape.rate_hz));
            let facts = [
                name,
                ("rate", Fact::Number { value: rate, decimals: 0 }),
                ("level", Fact::Text(words.printed(trial.level.map_or(0.0, |level| level.0), 0))),
                ("khz", Fact::Number { value: trial.bandwidth.map_or(0.0, |hertz| hertz.0 / 1000.0), decimals: 1 }),
            ];
            Check::new("microphone", State::Fine, "doctor-microphone", &facts, words)
        }
    }
}

/// What is known of how an input treats steady sound: by its name, and by a trial that was kept.
fn processing_check(input: &Input, tried: &TriedRecorders, words: &Words) -> Check {
    let name = ("name", Fact::Text(input.name.clone()));
    let known = format!("{} {}", input.id, input.name).to_lowercase();
    if WORKED_ON.iter().any(|word| known.contains(word)) {
        return Check::new("processing", State::Bad, "doctor-worked-on", &[name], words);
    }
    match tried.get(&input.name) {
        None => Check::new("processing", State::Doubt, "doctor-not-tried", &[name], words),
        Some(kept) if kept.faults.is_empty() => Check::new("processing", State::Fine, "doctor-tried", &[name], words),
        Some(kept) => {
            let faults: Vec<String> = kept
                .faults
                .iter()
                .filter_map(|fault| recorder::fault_named(fault))
                .map(|fault| recorder::said(fault, words))
                .collect();
            let facts = [name, ("faults", Fact::Text(words.list(&faults)))];
            Check::new("processing", State::Bad, "doctor-tried-unfit", &facts, words)
        }
    }
}
