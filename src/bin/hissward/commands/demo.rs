//! `hissward demo`: the whole job on the demo engine, sounds and all.

use std::path::{Path, PathBuf};

use hissward::job::{GaugeReading, GaugeValue, Job, JobRecord, JobWriter, RigReading, When};
use hissward::pipeline::{picture_title, rank_job, take_in_case};
use hissward::plot::{PictureSize, comparison_titled};
use hissward::ranking::Ranking;
use hissward::simulate::{Case, DEMO_CYLINDERS, DEMO_ENGINE, DEMO_FIRING_ORDER, DEMO_RIG_PSI, SimulateError};
use hissward::units::PASCALS_PER_PSI;
use hissward::words::Words;
use rayon::prelude::*;

use super::rank;
use crate::console::{Console, Failure, Outcome};
use crate::language;
use crate::report_files::{ReportChoices, write};

/// Where the demo goes where nothing is said.
const FOLDER: &str = "hissward-demo";

/// Arguments of `hissward demo`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward demo --out demo-job")]
pub struct Arguments {
    /// The new job folder (default: hissward-demo here, then hissward-demo-2 and so on)
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Prints the ranking as JSON
    #[arg(long)]
    json: bool,
}

/// Makes the job, ranks it, draws it, reports it.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let folder = arguments.out.clone().unwrap_or_else(free_folder);
    if folder.exists() {
        return Err(format!("{} already exists: choose another --out", folder.display()).into());
    }
    console.talk("making the sounds of the demo engine (a few seconds) …");
    let cases: Vec<Case> =
        DEMO_CYLINDERS.par_iter().map(|cylinder| cylinder.render()).collect::<Result<_, SimulateError>>()?;
    // A demo that fails half way leaves no half a job.
    make(&folder, &cases).and_then(|()| finish(&folder, arguments, console)).inspect_err(|_| {
        // The first error is the one to tell.
        drop(std::fs::remove_dir_all(&folder));
    })
}

fn make(folder: &Path, cases: &[Case]) -> Result<(), Failure> {
    let now = When::now();
    let mut job = JobWriter::create(folder, record(&now), "demo")?;
    let kpa = |psi: f64| psi * PASCALS_PER_PSI / 1000.0;
    let (supply_kpa, held_kpa) = (kpa(DEMO_RIG_PSI.supply_psi), kpa(DEMO_RIG_PSI.held_psi));
    job.set_rig(RigReading { value: GaugeValue::Pressures { supply_kpa, held_kpa }, when: Some(now.clone()) })?;
    for (cylinder, case) in DEMO_CYLINDERS.iter().zip(cases) {
        let reading = cylinder.reading;
        let value = GaugeValue::Pressures { supply_kpa: kpa(reading.supply_psi), held_kpa: kpa(reading.held_psi) };
        job.add_gauge_reading(GaugeReading { cylinder: cylinder.number, value, cold: false, when: Some(now.clone()) })?;
        take_in_case(&mut job, cylinder.number, case, &now)?;
    }
    Ok(())
}

fn record(now: &When) -> JobRecord {
    JobRecord {
        made_with: Some(concat!("hissward ", env!("CARGO_PKG_VERSION")).to_owned()),
        created: Some(now.clone()),
        engine: DEMO_ENGINE.to_owned(),
        cylinders: DEMO_CYLINDERS.len() as u32,
        firing_order: Some(DEMO_FIRING_ORDER.to_vec()),
        notes: Some(
            "Everything in this job is invented: engine, readings and sounds (made by “hissward simulate --demo”)."
                .to_owned(),
        ),
        ..JobRecord::default()
    }
}

fn finish(folder: &Path, arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let job = Job::open(folder)?;
    let words = language::usual()?;
    let rankings = rank_job(&job, None)?;
    let written = write_results(&job, &rankings, &words)?;
    rank::print(&rankings, &words, arguments.json, console)?;
    console.talk(&format!("\njob      {}", folder.display()));
    for (what, path) in written {
        console.talk(&format!("{what:<8} {}", path.display()));
    }
    Ok(rank::outcome(&rankings))
}

/// Ranking, picture and report into `results/`: what each is, and where.
pub(super) fn write_results(
    job: &Job,
    rankings: &[Ranking],
    words: &Words,
) -> Result<Vec<(&'static str, PathBuf)>, Failure> {
    let title = picture_title(job, rankings, words)?;
    let picture = comparison_titled(rankings, &title, words, PictureSize::Page)?;
    let choices = ReportChoices { language: None, paper: None, csv: false, json: true, png: true };
    let written = write(job, rankings, &choices)?;
    let svg = job.write_result("comparison.svg", picture.to_svg()?.as_bytes())?;
    let named = ["report", "paper", "ranking", "picture"].into_iter().zip(written);
    Ok(named.chain([("picture", svg)]).collect())
}

/// The first folder name that is free here.
fn free_folder() -> PathBuf {
    let named = |n: u32| PathBuf::from(if n == 1 { FOLDER.to_owned() } else { format!("{FOLDER}-{n}") });
    (1..).map(named).find(|folder| !folder.exists()).unwrap_or_else(|| PathBuf::from(FOLDER))
}
