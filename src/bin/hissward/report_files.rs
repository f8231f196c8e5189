//! The report's files: made by command, demo and page alike, in the shop's language and with its head.

use std::path::PathBuf;

use hissward::job::Job;
use hissward::pipeline::{JobReport, KEPT_RANKING, keep_ranking, picture_title};
use hissward::plot::{PictureSize, comparison_titled};
use hissward::ranking::Ranking;
use hissward::report::{self, Letterhead, Logo, PaperSize, kept_json};
use hissward::settings::{Settings, SettingsFolder};
use hissward::units::UnitSystem;
use hissward::words::{FALLBACK, Words};

use crate::console::Failure;

/// What a report is made in, where the job and the command line do not say.
pub struct ReportChoices {
    pub language: Option<String>,
    pub paper: Option<PaperSize>,
    pub csv: bool,
    pub json: bool,
    pub png: bool,
}

/// Makes all files, and only then puts each in its place; returns their paths.
pub fn write(job: &Job, rankings: &[Ranking], choices: &ReportChoices) -> Result<Vec<PathBuf>, Failure> {
    let files = papers(job, rankings, choices)?;
    files.into_iter().map(|(name, bytes)| Ok(job.write_result(name, &bytes)?)).collect()
}

/// All files by name, with the shop's head.
pub fn papers(
    job: &Job,
    rankings: &[Ranking],
    choices: &ReportChoices,
) -> Result<Vec<(&'static str, Vec<u8>)>, Failure> {
    // Who has no home has no settings.
    let place = SettingsFolder::of_user().ok();
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
pub fn own_head(settings: &Settings, place: Option<&SettingsFolder>) -> Result<Option<Letterhead>, Failure> {
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
