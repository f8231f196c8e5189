//! `hissward add`: takes recordings made elsewhere into a job.

use std::path::{Path, PathBuf};
use std::str::FromStr;

use hissward::caveat::{Caveat, Fact};
use hissward::job::{CLIPS_FOLDER, ClipRecord, When};
use hissward::opening::Air;
use hissward::pipeline::{Channels, ClipVerdict, leave_out_unfit, take_in, verdict_of};
use hissward::words::Words;
use serde_json::{Value, json};

use crate::console::{Console, Failure, Outcome};
use crate::printable::printable;
use crate::{language, open_job, progress, recorders};

/// Arguments of `hissward add`.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hissward add gull-2026-11-25 --at oil-filler --air on --cylinder 2 oil-filler-on.m4a"
)]
pub struct Arguments {
    /// The job folder
    job: PathBuf,
    /// Where the microphone was held
    #[arg(long, value_name = "OPENING")]
    at: String,
    /// Takes a name for an opening that nobody knows yet
    #[arg(long)]
    new_opening: bool,
    /// What the air was doing: off (quiet baseline), on, or pulsed
    #[arg(long, value_name = "off|on|pulsed", value_parser = Air::from_str)]
    air: Air,
    /// The cylinder under test; a quiet clip without one serves all cylinders
    #[arg(long, value_name = "N")]
    cylinder: Option<u32>,
    /// Channel at the opening, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    channel: Option<u16>,
    /// Channel of a second microphone a step away
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    far_channel: Option<u16>,
    /// Prints what was taken in as JSON
    #[arg(long)]
    json: bool,
    /// Recordings; several are takes of the same
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
}

/// Takes the recordings in: all of them, or none.
pub fn run(arguments: Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut job = open_job::for_writing(&arguments.job, "add", console)?;
    let at = job.record().opening(&arguments.at, arguments.new_opening)?;
    let subject = job.record().subject(arguments.cylinder, at, arguments.air);
    let channels = Channels { near: arguments.channel, far: arguments.far_channel };
    let bar = progress::bar(console, "{bar:30} {percent:>3} % {msg}", None);
    let mut watch = |file: &Path, frames: u64, total: Option<u64>| {
        bar.set_length(total.unwrap_or(frames));
        bar.set_position(frames);
        bar.set_message(printable(&file.display().to_string(), false).into_owned());
    };
    let taken = take_in(&mut job, &arguments.files, &subject, channels, &When::now(), &mut watch);
    bar.finish_and_clear();
    let taken = taken?;
    let words = language::of_job(job.record())?;
    let mut verdicts = Vec::new();
    for found in &taken {
        // Of two channels that nobody chose from both are asked: there is no first that was taken.
        let asked = |caveat: &&Caveat| !(found.clip.channels == 2 && caveat.code == "several-channels");
        let told: Vec<Caveat> = found.caveats.iter().filter(asked).cloned().collect();
        let verdict = verdict_of(&job, &found.clip, &told)?;
        leave_out_unfit(&mut job, &found.clip, &verdict, &words)?;
        if let Some(device) = &found.clip.device {
            recorders::warn(device, &words, console);
            recorders::mark(Some(device), &verdict.caveats, console);
        }
        verdicts.push(verdict);
    }
    for (found, verdict) in taken.iter().zip(&verdicts) {
        tell(&found.clip, verdict, &arguments.job, &words, console);
    }
    let clips = job.folder().join(CLIPS_FOLDER);
    if arguments.json {
        let list: Vec<Value> = taken
            .iter()
            .zip(&verdicts)
            .map(|(found, verdict)| describe(&found.clip, verdict, &clips, &words))
            .collect();
        console.data(&format!("{:#}\n", json!({ "format": 1, "clips": list })))?;
    } else {
        let lines = taken.iter().map(|found| format!("{}\n", clips.join(found.clip.file.as_str()).display()));
        console.data(&lines.collect::<String>())?;
    }
    Ok(Outcome::Done)
}

/// Says what lowers trust in a clip, and where it is unfit, that it does not count and how to make it count all the same.
pub(super) fn tell(clip: &ClipRecord, verdict: &ClipVerdict, job: &Path, words: &Words, console: &Console) {
    for caveat in &verdict.caveats {
        let (what, remedy) = words.caveat(caveat);
        console.talk(&format!("{what} {remedy}"));
    }
    if !verdict.is_fit() {
        let facts = [("file", Fact::Text(clip.file.to_string())), ("job", Fact::Text(job.display().to_string()))];
        console.talk(&words.say("clip-left-out-unfit", &facts));
    }
}

/// A clip as JSON tells it.
pub(super) fn describe(clip: &ClipRecord, verdict: &ClipVerdict, clips: &Path, words: &Words) -> Value {
    let original = clip.import.as_ref().and_then(|import| import.original.as_ref());
    let caveats: Vec<Value> = verdict
        .caveats
        .iter()
        .map(|caveat| {
            let (text, remedy) = words.caveat(caveat);
            json!({ "code": caveat.code, "text": text, "remedy": remedy })
        })
        .collect();
    json!({
        "file": clips.join(clip.file.as_str()).display().to_string(),
        "cylinder": clip.subject.cylinder,
        "opening": clip.subject.opening.name(),
        "air": clip.subject.air.name(),
        "take": clip.take,
        "seconds": clip.seconds,
        "sample_rate_hz": clip.sample_rate_hz,
        "channels": clip.channels,
        "channel": clip.channel,
        "far_channel": clip.far_channel,
        "device": clip.device,
        "application": clip.application,
        "coding": clip.coding,
        "fit": verdict.is_fit(),
        "sha256": clip.sha256.to_string(),
        "original": original.map(|original| clips.join(original.file.as_str()).display().to_string()),
        "caveats": caveats,
    })
}
