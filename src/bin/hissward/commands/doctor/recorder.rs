//! A recorder tried with steady noise, and what was found kept under its name.

use std::path::Path;

use hissward::audio::{SoundCard, Speaker, SystemCard, Worth};
use hissward::caveat::Fact;
use hissward::job::When;
use hissward::meter::{RecorderFault, Steadiness};
use hissward::pipeline::{judge_recorder_trial, play_recorder_trial, recorder_trial_length, try_recorder};
use hissward::settings::{SettingsFolder, TriedRecorder};
use hissward::words::Words;
use serde::Serialize;

use super::{Check, State};
use crate::console::{Console, Failure, Outcome};

/// What a trial found, as JSON shows it.
#[derive(Debug, Serialize)]
pub(super) struct Tried {
    device: String,
    over_room_db: f64,
    sank_db: f64,
    rose_db: f64,
    returned_db: f64,
    faults: Vec<&'static str>,
}

/// A fault by its name.
pub(super) fn fault_named(name: &str) -> Option<RecorderFault> {
    let all = [RecorderFault::TooQuiet, RecorderFault::Fades, RecorderFault::Pumps, RecorderFault::EndsEarly];
    all.into_iter().find(|fault| fault.name() == name)
}

/// A fault in words.
pub(super) fn said(fault: RecorderFault, words: &Words) -> String {
    words.say(&format!("recorder-{}", fault.name()), &[])
}

fn seconds() -> (&'static str, Fact) {
    ("seconds", Fact::Number { value: recorder_trial_length().0, decimals: 0 })
}

/// Plays the noise only.
pub(super) fn play(words: &Words, console: &Console) -> Result<Outcome, Failure> {
    console.talk(&words.say("doctor-play", &[seconds()]));
    play_recorder_trial(&Speaker::system());
    console.talk(&words.say("doctor-played", &[]));
    Ok(Outcome::Done)
}

/// Tries an input of this machine.
pub(super) fn of_input(wanted: Option<&str>, words: &Words, console: &Console) -> Result<(Check, Tried), Failure> {
    let inputs = SystemCard.inputs()?;
    let useful = || inputs.iter().filter(|input| input.worth == Worth::Useful);
    let input = match wanted {
        Some(part) => useful().find(|input| input.name == part || input.name.contains(part)),
        None => useful().find(|input| input.is_default).or_else(|| useful().next()),
    };
    let input = input.ok_or_else(|| words.say("doctor-no-microphone", &[]))?;
    console.talk(&words.say("doctor-trying", &[("name", Fact::Text(input.name.clone())), seconds()]));
    let found = try_recorder(&SystemCard, &Speaker::system(), input)?;
    told(&input.name, found, words)
}

/// Judges another device's recording.
pub(super) fn of_recording(file: &Path, device: &str, words: &Words) -> Result<(Check, Tried), Failure> {
    told(device, judge_recorder_trial(file)?, words)
}

fn rounded(db: f64) -> f64 {
    (db * 10.0).round() / 10.0
}

/// Keeps what was found, unless the noise was not heard, and says it.
fn told(device: &str, found: Option<Steadiness>, words: &Words) -> Result<(Check, Tried), Failure> {
    let name = ("name", Fact::Text(device.to_owned()));
    let Some(found) = found else { return Err(words.say("doctor-silence", &[name]).into()) };
    let is_heard = !found.faults.contains(&RecorderFault::TooQuiet);
    if is_heard {
        let kept = TriedRecorder {
            tried: When::now().to_string(),
            faults: found.faults.iter().map(|fault| fault.name().to_owned()).collect(),
            sank_db: rounded(found.sank.0),
            rose_db: rounded(found.rose.0),
        };
        kept.keep(device, &SettingsFolder::of_user()?)?;
    }
    let facts = [
        name,
        ("sank", Fact::Text(words.printed(found.sank.0, 1))),
        ("rose", Fact::Text(words.printed(found.rose.0, 1))),
        ("over", Fact::Text(words.printed(found.over_room.0, 0))),
        ("faults", Fact::Text(words.list(&found.faults.iter().map(|fault| said(*fault, words)).collect::<Vec<_>>()))),
    ];
    let (state, message) = match (is_heard, found.faults.is_empty()) {
        (false, _) => (State::Doubt, "doctor-recorder-unheard"),
        (true, true) => (State::Fine, "doctor-recorder-fit"),
        (true, false) => (State::Bad, "doctor-recorder-unfit"),
    };
    let tried = Tried {
        device: device.to_owned(),
        over_room_db: rounded(found.over_room.0),
        sank_db: rounded(found.sank.0),
        rose_db: rounded(found.rose.0),
        returned_db: rounded(found.returned.0),
        faults: found.faults.iter().map(|fault| fault.name()).collect(),
    };
    Ok((Check::new("recorder", state, message, &facts, words), tried))
}
