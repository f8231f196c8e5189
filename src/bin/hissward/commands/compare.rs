//! `hissward compare`: two jobs on one engine, before and after the repair.

use std::path::{Path, PathBuf};

use hissward::history::{Comparison, courses};
use hissward::job::Job;
use hissward::pipeline::visit;
use hissward::plot::{self, PictureSize};
use hissward::report::{comparison_json, comparison_text};

use super::tables::OutFile;
use crate::face::{Face, Failure, Outcome};
use crate::{files, language};

/// Arguments of `hissward compare`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward compare gull-2026-11-25 gull-2026-12-02\n  \
    hissward compare gull-2026-11-25 gull-2026-12-02 --out repair.png\n\n\
    Calls are those kept when a job was ranked: no sound is read.")]
pub struct Arguments {
    /// The job folder of the test before
    before: PathBuf,
    /// The job folder of the test after
    after: PathBuf,
    /// Writes a table (.csv, .json, .parquet) or a picture (.png, .svg), as well; may be repeated
    #[arg(long, value_name = "FILE")]
    out: Vec<PathBuf>,
    /// Prints JSON
    #[arg(long)]
    json: bool,
}

/// Lays the two side by side.
pub fn run(arguments: &Arguments, face: &Face) -> Result<Outcome, Failure> {
    let (before, after) = (Job::open(&arguments.before)?, Job::open(&arguments.after)?);
    let words = language::of_job(after.record())?;
    let outs = arguments.out.iter().map(|file| OutFile::of(file, &words)).collect::<Result<Vec<_>, _>>()?;
    let found = Comparison::of(visit(&before, &name(&arguments.before))?, visit(&after, &name(&arguments.after))?)?;
    for out in &outs {
        write(&found, out, &words)?;
    }
    let text = if arguments.json { comparison_json(&found, &words)? } else { comparison_text(&found, &words) };
    face.data(&text)?;
    for out in &outs {
        face.talk(&out.file().display().to_string());
    }
    Ok(Outcome::Done)
}

/// A job is named as it was typed: the two may be of the same name in different folders.
fn name(folder: &Path) -> String {
    folder.display().to_string()
}

fn write(found: &Comparison, out: &OutFile, words: &hissward::words::Words) -> Result<(), Failure> {
    if let Some(table) = out.table() {
        let mut table = table?;
        table.push(&found.before)?;
        table.push(&found.after)?;
        return table.finish().map(drop);
    }
    let bytes = match out {
        OutFile::Json(_) => comparison_json(found, words)?.into_bytes(),
        // One engine even where the two jobs name it differently.
        _ => {
            let mut before = found.before.clone();
            before.engine.clone_from(&found.after.engine);
            let courses = courses(vec![before, found.after.clone()]);
            out.drawn(&plot::history(&courses, words, PictureSize::Page)?)?
        }
    };
    files::replace(out.file(), &bytes)
}
