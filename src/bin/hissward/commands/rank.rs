//! `hissward rank`: the likely escape path, of a job or of loose clips.

use std::path::PathBuf;

use hissward::job::Job;
use hissward::opening::{Air, Understood};
use hissward::pipeline::{Channels, LooseClip, keep_ranking, picture_title, rank_job, rank_loose};
use hissward::plot::PictureTitle;
use hissward::ranking::{Call, Ranking};
use hissward::report;
use hissward::words::Words;

use crate::console::{Console, Failure, Outcome};
use crate::{language, open_job, picture_file, recorders};

/// Arguments of `hissward rank`.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hissward rank gull-2026-11-25 --cylinder 2\n  hissward rank --off quiet.wav --on intake=in.wav --on exhaust=ex.wav --on oil-filler=oil.wav --json"
)]
pub struct Arguments {
    /// The job folder; without one, loose clips are ranked
    #[arg(required_unless_present_any = ["on", "pulsed"], conflicts_with_all = ["off", "on", "pulsed"])]
    job: Option<PathBuf>,
    /// Only this cylinder of the job
    #[arg(long, value_name = "N", requires = "job")]
    cylinder: Option<u32>,
    /// Clips with the air off; without an opening they serve all openings
    #[arg(long, value_name = "[OPENING=]FILE", num_args = 1..)]
    off: Vec<String>,
    /// Clips with the air on; repeats are takes
    #[arg(long, value_name = "OPENING=FILE", num_args = 1..)]
    on: Vec<String>,
    /// Clips with the air opened and shut after the beep; they need no quiet clip
    #[arg(long, alias = "keyed", value_name = "OPENING=FILE", num_args = 1..)]
    pulsed: Vec<String>,
    /// Channel at the opening, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    channel: Option<u16>,
    /// Channel of a second microphone a step away, which hears how loud the shop is at every moment
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    far_channel: Option<u16>,
    /// Accepts new names for openings
    #[arg(long)]
    new_opening: bool,
    /// Also draws the comparison (.png or .svg)
    #[arg(long, value_name = "FILE")]
    plot: Option<PathBuf>,
    /// Prints JSON
    #[arg(long)]
    json: bool,
}

/// Ranks and prints.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let (rankings, words, title) = match &arguments.job {
        Some(folder) => {
            let job = open_job::for_reading(folder, "rank", console)?;
            let words = language::of_job(job.record())?;
            let rankings = rank_job(&job, arguments.cylinder)?;
            mark_recorder(&job, &rankings, console);
            if arguments.cylinder.is_none() {
                keep(&job, &rankings, &words, console);
            }
            let title = arguments.plot.as_ref().map(|_| picture_title(&job, &rankings, &words)).transpose()?;
            (rankings, words, title.unwrap_or_default())
        }
        None => {
            let channels = Channels { near: arguments.channel, far: arguments.far_channel };
            let clips = loose_clips(arguments)?;
            // The sentences are read while the clips are listened to; on this thread, whose memory grows in larger steps.
            let mut ranking = None;
            let words = rayon::in_place_scope(|scope| {
                scope.spawn(|_| ranking = Some(rank_loose(&clips, channels.choice())));
                language::usual()
            });
            (ranking.into_iter().collect::<Result<_, _>>()?, words?, PictureTitle::default())
        }
    };
    if let Some(file) = &arguments.plot {
        picture_file::write(&rankings, &title, &words, file)?;
    }
    print(&rankings, &words, arguments.json, console)?;
    Ok(outcome(&rankings))
}

/// Marks the job's recorder where its clips show what it does to sound; where there are several nobody knows which it was.
fn mark_recorder(job: &Job, rankings: &[Ranking], console: &Console) {
    let mut devices: Vec<&str> = job.record().clips.iter().filter_map(|clip| clip.device.as_deref()).collect();
    devices.sort_unstable();
    devices.dedup();
    if let [device] = devices[..] {
        recorders::mark(Some(device), rankings.iter().flat_map(|ranking| &ranking.caveats), console);
    }
}

/// Keeps the ranking of the whole job beside it. Where that cannot be (a job on a read-only disk), the ranking is
/// told all the same.
fn keep(job: &Job, rankings: &[Ranking], words: &Words, console: &Console) {
    if let Err(error) = keep_ranking(job, rankings, words) {
        console.talk(&error.to_string());
    }
}

/// Prints rankings as JSON or as text.
pub fn print(rankings: &[Ranking], words: &Words, json: bool, console: &Console) -> Result<(), Failure> {
    if json {
        console.data(&report::json(rankings, words)?)
    } else {
        console.data(&report::text(rankings, words, console.style()))
    }
}

/// Undecided where every cylinder is.
pub fn outcome(rankings: &[Ranking]) -> Outcome {
    if rankings.iter().all(|ranking| ranking.call == Call::CannotTell) { Outcome::Undecided } else { Outcome::Done }
}

/// The loose clips named on the command line.
pub fn loose_clips(arguments: &Arguments) -> Result<Vec<LooseClip>, Failure> {
    let mut clips = Vec::new();
    for (air, texts) in [(Air::Off, &arguments.off), (Air::On, &arguments.on), (Air::Pulsed, &arguments.pulsed)] {
        for text in texts {
            clips.push(loose_clip(air, text, arguments.new_opening)?);
        }
    }
    if !arguments.on.is_empty() && arguments.off.is_empty() {
        return Err("clips with the air on need a quiet one to be held against: add --off FILE (air off), or record pulsed air (--pulsed)".into());
    }
    Ok(clips)
}

fn loose_clip(air: Air, text: &str, new: bool) -> Result<LooseClip, Failure> {
    // A quiet clip's file name may hold '=' itself: only a known form before it is an opening.
    match text.split_once('=') {
        Some((name, file)) if !file.is_empty() => match Understood::opening(name, &[], new) {
            Ok(opening) => Ok(LooseClip { opening: Some(opening), air, file: PathBuf::from(file) }),
            Err(_) if air == Air::Off => Ok(LooseClip { opening: None, air, file: PathBuf::from(text) }),
            Err(error) => Err(error.into()),
        },
        _ if air == Air::Off => Ok(LooseClip { opening: None, air, file: PathBuf::from(text) }),
        _ => {
            Err(format!("'{text}' does not say where it was recorded: write OPENING=FILE, as in oil-filler={text}")
                .into())
        }
    }
}
