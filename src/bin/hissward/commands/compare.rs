//! `hissward compare`: two jobs on one engine, before and after the repair.

use std::path::{Path, PathBuf};

use hissward::history::Comparison;
use hissward::job::Job;
use hissward::pipeline::{rank_job, visit};
use hissward::plot::PictureSize;
use hissward::ranking::Ranking;
use hissward::report::{
    self, BeforeAfterInput, Letterhead, PaperSize, before_after_document, before_after_picture, comparison_json,
    comparison_text,
};
use hissward::settings::{Settings, SettingsFolder};
use hissward::words::Words;

use crate::console::{Console, Failure, Outcome};
use crate::page::browser;
use crate::ranked::with_calls;
use crate::report_files::own_head;
use crate::tables::OutFile;
use crate::{files, language};

/// Arguments of `hissward compare`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward compare gull-2026-11-25 gull-2026-12-02\n  \
    hissward compare gull-2026-11-25 gull-2026-12-02 --out repair.png\n  \
    hissward compare gull-2026-11-25 gull-2026-12-02 --report --done \"New rings in cylinder 2\"\n\n\
    What has not been ranked yet is ranked first.")]
pub struct Arguments {
    /// The job folder of the test before
    before: PathBuf,
    /// The job folder of the test after
    after: PathBuf,
    /// Writes a table (.csv, .json, .parquet) or a picture (.png, .svg), as well; may be repeated
    #[arg(long, value_name = "FILE")]
    out: Vec<PathBuf>,
    /// Writes the customer's page, before-and-after.html and .pdf, into the later job's results
    #[arg(long)]
    report: bool,
    /// What was done between the two tests, in a line, for the page
    #[arg(long, value_name = "TEXT", requires = "report")]
    done: Option<String>,
    /// Opens the page in the browser
    #[arg(long, requires = "report")]
    open: bool,
    /// Prints JSON
    #[arg(long)]
    json: bool,
}

/// The two jobs and what they say.
struct Both {
    before: Job,
    after: Job,
    found: Comparison,
    words: Words,
}

/// Lays the two side by side.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let (before, after) = (Job::open(&arguments.before)?, Job::open(&arguments.after)?);
    let words = language::of_job(after.record())?;
    let outs = arguments.out.iter().map(|file| OutFile::of(file, &words)).collect::<Result<Vec<_>, _>>()?;
    let visits = [(&before, &arguments.before), (&after, &arguments.after)]
        .map(|(job, folder)| with_calls(job, visit(job, &name(folder))?, &words, console));
    let [one, other] = visits;
    let both = Both { found: Comparison::of(one?, other?)?, before, after, words };
    for out in &outs {
        write(&both, out, console)?;
    }
    let text = if arguments.json {
        comparison_json(&both.found, &both.words)?
    } else {
        comparison_text(&both.found, &both.words)
    };
    console.data(&text)?;
    for out in &outs {
        console.talk(&out.file().display().to_string());
    }
    if arguments.report {
        let page = write_page(&both, arguments.done.as_deref(), console)?;
        if arguments.open {
            browser::open(&std::path::absolute(page)?.display().to_string(), console);
        }
    }
    Ok(Outcome::Done)
}

/// A job is named as it was typed: the two may be of the same name in different folders.
fn name(folder: &Path) -> String {
    folder.display().to_string()
}

/// The rankings of both, for the spectra; none where nobody listened or the clips cannot be read.
fn rankings(both: &Both, console: &Console) -> [Vec<Ranking>; 2] {
    [&both.before, &both.after].map(|job| match rank_job(job, None) {
        Ok(rankings) => rankings,
        Err(_) if job.record().cylinders_heard().is_empty() => Vec::new(),
        Err(error) => {
            console.talk(&error.to_string());
            Vec::new()
        }
    })
}

fn input<'a>(
    both: &'a Both,
    rankings: &'a [Vec<Ranking>; 2],
    letterhead: Option<&'a Letterhead>,
    done: Option<&'a str>,
) -> BeforeAfterInput<'a> {
    BeforeAfterInput {
        letterhead,
        comparison: &both.found,
        rankings: (&rankings[0], &rankings[1]),
        done,
        customer: both.after.record().customer.as_deref(),
        tested_by: both.after.record().tested_by.as_deref(),
        words: &both.words,
    }
}

fn write(both: &Both, out: &OutFile, console: &Console) -> Result<(), Failure> {
    let found = &both.found;
    if let Some(table) = out.table() {
        let mut table = table?;
        table.push(&found.before)?;
        table.push(&found.after)?;
        return table.finish().map(drop);
    }
    let bytes = match out {
        OutFile::Json(_) => comparison_json(found, &both.words)?.into_bytes(),
        _ => {
            let rankings = rankings(both, console);
            out.drawn(&before_after_picture(&input(both, &rankings, None, None), true, PictureSize::Page)?)?
        }
    };
    files::replace(out.file(), &bytes)
}

/// The customer's page and its paper into the later job's results; returns the page's path.
fn write_page(both: &Both, done: Option<&str>, console: &Console) -> Result<PathBuf, Failure> {
    // Who has no home has no settings.
    let place = SettingsFolder::of_user().ok();
    let settings = place.as_ref().map(Settings::read).transpose()?.unwrap_or_default();
    let paper = settings.paper().map(str::parse).transpose()?.unwrap_or(PaperSize::default());
    let shop = both.after.record().shop.clone().map(|name| Letterhead { name, ..Letterhead::default() });
    let letterhead = own_head(&settings, place.as_ref())?.or(shop);
    let rankings = rankings(both, console);
    let document = before_after_document(&input(both, &rankings, letterhead.as_ref(), done))?;
    let page = both.after.write_result("before-and-after.html", report::html(&document)?.as_bytes())?;
    let sheet = both.after.write_result("before-and-after.pdf", &report::pdf(&document, paper)?)?;
    for path in [&page, &sheet] {
        console.talk(&path.display().to_string());
    }
    Ok(page)
}
