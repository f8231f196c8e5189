//! `hissward found`: what was found when the engine was opened.

use std::path::PathBuf;
use std::str::FromStr;

use hissward::caveat::Fact;
use hissward::job::{Found, When};
use hissward::opening::EscapePath;

use crate::console::{Console, Failure, Outcome};
use crate::{language, open_job};

/// Arguments of `hissward found`.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  hissward found gull-2026-11-25 --cylinder 2 --path exhaust-valve --note \"burnt at the edge\"\n\n\
    Nothing else of the job changes. A cylinder with two faults is given twice; the same path again takes the place of \
    what was noted of it. One written down by mistake is taken out of job.toml by hand, under [[found]]."
)]
pub struct Arguments {
    /// The job folder
    job: PathBuf,
    /// The cylinder that was opened
    #[arg(long, value_name = "N")]
    cylinder: u32,
    /// Where the air got away: intake-valve, exhaust-valve, rings-or-bore, gasket-or-crack, gasket-to-neighbour, test-rig, other
    #[arg(long, value_name = "PATH", value_parser = EscapePath::from_str)]
    path: EscapePath,
    /// What was seen there
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

/// Writes it down.
pub fn run(arguments: Arguments, console: &Console) -> Result<Outcome, Failure> {
    let Arguments { job, cylinder, path, note } = arguments;
    let mut job = open_job::for_writing(&job, "found", console)?;
    job.add_found(Found { cylinder, path, note, when: Some(When::now()) })?;
    let words = language::of_job(job.record())?;
    let who = ("who", Fact::Text(words.cylinder(Some(cylinder))));
    console.talk(&words.say("found-kept", &[who, ("path", Fact::Text(words.found_path(path)))]));
    Ok(Outcome::Done)
}
