//! `hissward check`: fitness of clips, loose or of a job.

use std::path::PathBuf;

use hissward::audio::{self, ChannelChoice};
use hissward::job::{ClipRecord, Job};
use hissward::opening::Air;
use hissward::pipeline::{clip_verdict, listen_to};
use hissward::words::Words;
use rayon::prelude::*;
use serde::Serialize;

use crate::console::{Console, Failure, Outcome};

/// Arguments of `hissward check`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward check oil-filler-on.m4a\n  hissward check gull-2026-11-25")]
pub struct Arguments {
    /// Recordings, or one job folder
    #[arg(value_name = "FILE|JOB", required = true)]
    files: Vec<PathBuf>,
    /// Channel at the opening, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    channel: Option<u16>,
    /// Prints JSON
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Checked {
    format: u32,
    clips: Vec<Clip>,
}

#[derive(Serialize)]
struct Clip {
    file: String,
    seconds: f64,
    sample_rate_hz: f64,
    channels: u16,
    bandwidth_hz: f64,
    fit: bool,
    caveats: Vec<Said>,
}

#[derive(Serialize)]
struct Said {
    code: &'static str,
    text: String,
    remedy: String,
}

/// Checks and prints.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let choice = arguments.channel.map_or(ChannelChoice::First, ChannelChoice::Number);
    let (clips, language) = clips_of(&arguments.files, choice)?;
    let words = Words::of(&language)?;
    let clips = clips.par_iter().map(|clip| check(clip, &words)).collect::<Result<Vec<Clip>, Failure>>()?;
    if arguments.json {
        console.data(&format!("{}\n", serde_json::to_string_pretty(&Checked { format: 1, clips })?))?;
    } else {
        console.data(&clips.iter().map(|clip| text(clip, &words)).collect::<String>())?;
    }
    Ok(Outcome::Done)
}

/// A file to be checked; `air` is known of a job's clips.
struct ToCheck {
    file: PathBuf,
    choice: ChannelChoice,
    air: Option<Air>,
}

fn clips_of(paths: &[PathBuf], choice: ChannelChoice) -> Result<(Vec<ToCheck>, String), Failure> {
    let loose = || paths.iter().map(|path| ToCheck { file: path.clone(), choice, air: None }).collect();
    let [one] = paths else { return Ok((loose(), "en".to_owned())) };
    if !one.is_dir() {
        return Ok((loose(), "en".to_owned()));
    }
    let job = Job::open(one)?;
    let clip = |clip: &ClipRecord| -> Result<ToCheck, Failure> {
        Ok(ToCheck { file: job.clip_path(clip)?, choice, air: Some(clip.subject.air) })
    };
    let files = job.record().clips.iter().map(clip).collect::<Result<Vec<_>, _>>()?;
    if files.is_empty() {
        return Err(format!(
            "{}: no clips yet: record one with `hissward listen`, or take one in with `hissward add`",
            one.display()
        )
        .into());
    }
    Ok((files, job.record().language.clone().unwrap_or_else(|| "en".to_owned())))
}

fn check(clip: &ToCheck, words: &Words) -> Result<Clip, Failure> {
    let ToCheck { file, choice, air } = clip;
    let (choice, air) = (*choice, *air);
    let listened = listen_to(file, choice)?;
    let channels = audio::open(file, choice)?.channels();
    let verdict = clip_verdict(&listened.sound, air, &listened.caveats);
    let caveats = verdict.caveats.iter().map(|caveat| {
        let (text, remedy) = words.caveat(caveat);
        Said { code: caveat.code, text, remedy }
    });
    let thousandth = |x: f64| (x * 1000.0).round() / 1000.0;
    Ok(Clip {
        file: file.display().to_string(),
        seconds: thousandth(listened.sound.duration().0),
        sample_rate_hz: listened.sound.rate().0,
        channels,
        bandwidth_hz: listened.sound.bandwidth().0.round(),
        fit: verdict.is_fit(),
        caveats: caveats.collect(),
    })
}

fn text(clip: &Clip, words: &Words) -> String {
    let verdict = words.say(if clip.fit { "check-fit" } else { "check-unfit" }, &[]);
    let mut lines = format!(
        "{}: {verdict} ({} s, {} Hz, {} kHz)\n",
        clip.file,
        words.number(clip.seconds, 1),
        clip.sample_rate_hz,
        words.number(clip.bandwidth_hz / 1000.0, 1)
    );
    for said in &clip.caveats {
        lines.push_str(&format!("  {} - {}\n", said.text, said.remedy));
    }
    lines
}
