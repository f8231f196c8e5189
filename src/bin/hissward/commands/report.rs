//! `hissward report`: the customer's report of a job, as a page and as papers.

use std::path::PathBuf;

use hissward::pipeline::rank_job;
use hissward::report::PaperSize;

use super::rank;
use crate::console::{Console, Failure, Outcome};
use crate::open_job;
use crate::page::browser;
use crate::report_files::{ReportChoices, write};

/// Arguments of `hissward report`.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hissward report gull-2026-11-25 --open\n  hissward report gull-2026-11-25 --paper letter --csv\n\n\
    Writes report.html and report.pdf into the job's results and prints their paths. The letterhead is set with 'hissward settings'."
)]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// Language of the report, as in en or de
    #[arg(long, value_name = "CODE")]
    language: Option<String>,
    /// Paper of the PDF: a4 or letter
    #[arg(long, value_name = "SIZE")]
    paper: Option<PaperSize>,
    /// Also writes the figures as a table (results.csv)
    #[arg(long)]
    csv: bool,
    /// Also writes the ranking as JSON (ranking.json)
    #[arg(long)]
    json: bool,
    /// Also writes the comparison picture (comparison.png)
    #[arg(long)]
    png: bool,
    /// Opens the report in the browser
    #[arg(long)]
    open: bool,
}

/// Ranks, writes the report, prints where it is.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let job = open_job::for_reading(&arguments.job, "report", console)?;
    let record = job.record();
    let rankings = if record.cylinders_heard().is_empty() && !record.gauge.is_empty() {
        console.talk("nobody has listened yet: the report covers the gauge alone");
        Vec::new()
    } else {
        rank_job(&job, None)?
    };
    let choices = ReportChoices {
        language: arguments.language.clone(),
        paper: arguments.paper,
        csv: arguments.csv,
        json: arguments.json,
        png: arguments.png,
    };
    let written = write(&job, &rankings, &choices)?;
    for path in &written {
        console.data(&format!("{}\n", path.display()))?;
    }
    if let Some(page) = written.iter().find(|_| arguments.open) {
        browser::open(&std::path::absolute(page)?.display().to_string(), console);
    }
    Ok(if rankings.is_empty() { Outcome::Done } else { rank::outcome(&rankings) })
}
