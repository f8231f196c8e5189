//! `hissward check`: fitness of clips, loose or of a job.

use std::path::{Path, PathBuf};

use hissward::audio::{self, ChannelChoice};
use hissward::hiss::{Processing, clip_caveats, tone_caveat};
use hissward::job::Job;
use hissward::pipeline::listen_to;
use hissward::words::Words;
use rayon::prelude::*;
use serde::Serialize;

use crate::face::{Face, Failure, Outcome};

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

/// Caveats that leave a clip unfit to be judged by; the others only lower trust.
const UNFIT: [&str; 3] = ["silent", "clipped", "suppression-shut-off"];

/// Checks and prints.
pub fn run(arguments: &Arguments, face: &Face) -> Result<Outcome, Failure> {
    let (files, language) = clips_of(&arguments.files)?;
    let words = Words::of(&language)?;
    let choice = arguments.channel.map_or(ChannelChoice::First, ChannelChoice::Number);
    let clips = files.par_iter().map(|file| check(file, choice, &words)).collect::<Result<Vec<Clip>, Failure>>()?;
    if arguments.json {
        face.data(&format!("{}\n", serde_json::to_string_pretty(&Checked { format: 1, clips })?))?;
    } else {
        face.data(&clips.iter().map(|clip| text(clip, &words)).collect::<String>())?;
    }
    Ok(Outcome::Done)
}

fn clips_of(paths: &[PathBuf]) -> Result<(Vec<PathBuf>, String), Failure> {
    let [one] = paths else {
        return Ok((paths.to_vec(), "en".to_owned()));
    };
    if !one.is_dir() {
        return Ok((paths.to_vec(), "en".to_owned()));
    }
    let job = Job::open(one)?;
    let files = job.record().clips.iter().map(|clip| job.clip_path(clip)).collect::<Result<Vec<_>, _>>()?;
    if files.is_empty() {
        return Err(format!(
            "{}: no clips yet: record one with `hissward listen`, or take one in with `hissward add`",
            one.display()
        )
        .into());
    }
    Ok((files, job.record().language.clone().unwrap_or_else(|| "en".to_owned())))
}

fn check(file: &Path, choice: ChannelChoice, words: &Words) -> Result<Clip, Failure> {
    let listened = listen_to(file, choice)?;
    let channels = audio::open(file, choice)?.channels();
    let mut own = clip_caveats(&listened.sound);
    own.extend(tone_caveat(&listened.sound));
    own.extend(Processing::of(&[&listened.sound]).caveats());
    let fit = !own.iter().any(|caveat| UNFIT.contains(&caveat.code));
    let caveats = own.iter().chain(&listened.caveats).map(|caveat| {
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
        fit,
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
