//! `hissward report`: the customer's report of a job, as a page and as papers.

use std::path::PathBuf;

use hissward::job::Job;
use hissward::pipeline::{JobReport, KEPT_RANKING, keep_ranking, picture_title, rank_job};
use hissward::plot::{PictureSize, comparison_titled};
use hissward::ranking::Ranking;
use hissward::report::{self, Letterhead, Logo, PaperSize, kept_json};
use hissward::settings::{Place, Settings};
use hissward::units::UnitSystem;
use hissward::words::{FALLBACK, Words};

use super::rank;
use crate::face::{Face, Failure, Outcome};
use crate::open_job;
use crate::page::browser;

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

/// What a report is made in, where the job and the command line do not say.
pub(crate) struct Choices {
    pub(crate) language: Option<String>,
    pub(crate) paper: Option<PaperSize>,
    pub(crate) csv: bool,
    pub(crate) json: bool,
    pub(crate) png: bool,
}

/// Ranks, writes the report, prints where it is.
pub fn run(arguments: &Arguments, face: &Face) -> Result<Outcome, Failure> {
    let job = open_job::for_reading(&arguments.job, "report", face)?;
    let record = job.record();
    let rankings = if record.cylinders_heard().is_empty() && !record.gauge.is_empty() {
        face.talk("nobody has listened yet: the report covers the gauge alone");
        Vec::new()
    } else {
        rank_job(&job, None)?
    };
    let choices = Choices {
        language: arguments.language.clone(),
        paper: arguments.paper,
        csv: arguments.csv,
        json: arguments.json,
        png: arguments.png,
    };
    let written = write(&job, &rankings, &choices)?;
    for path in &written {
        face.data(&format!("{}\n", path.display()))?;
    }
    if let Some(page) = written.iter().find(|_| arguments.open) {
        browser::open(&std::path::absolute(page)?.display().to_string(), face);
    }
    Ok(if rankings.is_empty() { Outcome::Done } else { rank::outcome(&rankings) })
}

/// Makes all files, and only then puts each in its place; returns their paths.
pub(super) fn write(job: &Job, rankings: &[Ranking], choices: &Choices) -> Result<Vec<PathBuf>, Failure> {
    let files = papers(job, rankings, choices)?;
    files.into_iter().map(|(name, bytes)| Ok(job.write_result(name, &bytes)?)).collect()
}

/// All files by name, with the shop's head, for command and page alike.
pub(crate) fn papers(
    job: &Job,
    rankings: &[Ranking],
    choices: &Choices,
) -> Result<Vec<(&'static str, Vec<u8>)>, Failure> {
    // Who has no home has no settings.
    let place = Place::of_user().ok();
    let settings = place.as_ref().map(Settings::read).transpose()?.unwrap_or_default();
    let record = job.record();
    let language =
        choices.language.as_deref().or(record.language.as_deref()).or(settings.language()).unwrap_or(FALLBACK);
    let words = Words::of(language)?;
    let units = match (record.units, settings.units()) {
        (Some(units), _) => units,
        (None, Some(units)) => units.parse::<UnitSystem>()?,
        (None, None) => UnitSystem::default(),
    };
    let paper = match (choices.paper, settings.paper()) {
        (Some(paper), _) => paper,
        (None, Some(paper)) => paper.parse()?,
        (None, None) => PaperSize::default(),
    };
    let made = JobReport::of(job, rankings)?;
    let letterhead = made.letterhead(own_head(&settings, place.as_ref())?);
    let document = report::document(&made.input(letterhead.as_ref(), &words, units))?;
    let mut files =
        vec![("report.html", report::html(&document)?.into_bytes()), ("report.pdf", report::pdf(&document, paper)?)];
    if choices.csv {
        files.push(("results.csv", report::csv(made.engine()).into_bytes()));
    }
    if choices.json {
        files.push((KEPT_RANKING, kept_json(rankings, &words, &record.clips_sha256().to_string())?.into_bytes()));
    }
    if choices.png {
        let title = picture_title(job, rankings, &words)?;
        files.push(("comparison.png", comparison_titled(rankings, &title, &words, PictureSize::Page)?.to_png()?));
    }
    if !choices.json && !rankings.is_empty() {
        keep_ranking(job, rankings, &words)?;
    }
    Ok(files)
}

/// The shop's own head, where anything of it is set.
pub(super) fn own_head(settings: &Settings, place: Option<&Place>) -> Result<Option<Letterhead>, Failure> {
    let logo = match place.and_then(|place| settings.logo(place)) {
        Some(path) => {
            let said =
                |error: String| format!("{}: {error}: set another with 'hissward settings --logo'", path.display());
            let bytes = std::fs::read(&path).map_err(|error| said(error.to_string()))?;
            Some(Logo::read(bytes).map_err(|error| said(error.to_string()))?)
        }
        None => None,
    };
    let head = Letterhead {
        name: settings.name().unwrap_or_default().to_owned(),
        address: settings.address().to_vec(),
        logo,
        text: settings.text().map(str::to_owned),
    };
    Ok((head != Letterhead::default()).then_some(head))
}
