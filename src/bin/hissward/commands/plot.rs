//! `hissward plot`: the comparison picture of a job.

use std::path::PathBuf;

use hissward::pipeline::{picture_title, rank_job};

use crate::console::{Console, Failure, Outcome};
use crate::{language, open_job, picture_file};

/// Arguments of `hissward plot`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward plot gull-2026-11-25 --out comparison.svg")]
pub struct Arguments {
    /// The job folder
    job: PathBuf,
    /// Only this cylinder
    #[arg(long, value_name = "N")]
    cylinder: Option<u32>,
    /// The picture: .png or .svg
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
}

/// Ranks and draws.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let job = open_job::for_reading(&arguments.job, "plot", console)?;
    let words = language::of_job(job.record())?;
    let rankings = rank_job(&job, arguments.cylinder)?;
    let title = picture_title(&job, &rankings, &words)?;
    picture_file::write(&rankings, &title, &words, &arguments.out)?;
    console.data(&format!("{}\n", arguments.out.display()))?;
    Ok(Outcome::Done)
}
