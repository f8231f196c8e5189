//! `hissward history`: an engine's or a shop's jobs over time.

use std::path::PathBuf;

use hissward::caveat::Fact;
use hissward::export::Grown;
use hissward::history::{Calls, Course, TrackRecord, Visit, courses, named};
use hissward::job::Job;
use hissward::pipeline::History;
use hissward::plot::{self, PictureSize};
use hissward::report::{history_json, history_text, track_record_text};
use hissward::words::Words;

use crate::console::{Console, Failure, Outcome};
use crate::ranked::with_calls;
use crate::tables::{OutFile, Table};
use crate::{files, language, progress};

/// The most engines in one picture: more would be a picture nobody looks through.
const MOST_ENGINES: usize = 12;

/// Arguments of `hissward history`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward history jobs --engine Gull\n  \
    hissward history jobs --out losses.csv --out losses.parquet\n  hissward history jobs --engine Gull --out gull.svg\n  \
    hissward history jobs --out fleet\n  hissward history jobs --found\n\n\
    Jobs are grouped by engine name (ignoring case and spaces) and number of cylinders. What has \
    not been ranked yet is ranked first.")]
pub struct Arguments {
    /// A folder with job folders in it, at any depth
    folder: PathBuf,
    /// Only engines whose name holds this text
    #[arg(long, value_name = "TEXT")]
    engine: Option<String>,
    /// Writes a table (.csv, .json, .parquet), a picture (.png, .svg), or, into a folder, a Parquet data set by year and
    /// yard that grows, instead of printing; may be given again
    #[arg(long, value_name = "FILE")]
    out: Vec<PathBuf>,
    /// Prints or draws how often what was said was what was found when an engine was opened (see 'hissward found')
    #[arg(long)]
    found: bool,
    /// Prints JSON
    #[arg(long)]
    json: bool,
}

/// What was found on the way through the jobs.
#[derive(Default)]
struct Seen {
    visits: Vec<Visit>,
    skipped: Vec<(String, String)>,
    read: usize,
    matching: usize,
    not_ranked: usize,
    outdated: usize,
}

/// Reads the jobs, and prints or writes what they say.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let words = language::usual()?;
    let outs = arguments.out.iter().map(|file| OutFile::of(file, &words)).collect::<Result<Vec<_>, _>>()?;
    let history = History::below(&arguments.folder)?;
    if history.is_empty() {
        return Err(say(&words, "history-no-job", arguments, &[]).into());
    }
    let mut tables = outs.iter().filter_map(OutFile::table).collect::<Result<Vec<Table>, _>>()?;
    // Tables are written as jobs are read; only what needs all of them at once keeps them.
    let gather = arguments.json || outs.is_empty() || outs.iter().any(|out| !out.is_streamed());
    let seen = read(&history, arguments, &mut tables, gather, &words, console)?;
    if seen.read == 0 {
        let jobs = ("jobs", Fact::Text(history.len().to_string()));
        return Err(say(&words, "history-none-readable", arguments, &[jobs]).into());
    }
    if let Some(engine) = arguments.engine.as_ref().filter(|_| seen.matching == 0) {
        return Err(say(&words, "history-no-engine", arguments, &[("engine", Fact::Text(engine.clone()))]).into());
    }
    let Seen { visits, skipped, read, not_ranked, outdated, .. } = seen;
    let courses = courses(visits);
    let record = TrackRecord::of(courses.iter().flat_map(|course| &course.visits));
    if arguments.found && gather && record.cases.is_empty() {
        return Err(say(&words, "found-none", arguments, &[]).into());
    }
    let mut written = Vec::new();
    for out in outs.iter().filter(|out| !out.is_streamed()) {
        let bytes = match out {
            OutFile::Json(_) => history_json(&courses, &skipped)?.into_bytes(),
            _ if arguments.found => out.drawn(&plot::track_record(&record, &words, PictureSize::Page)?)?,
            _ => picture(&courses, out, arguments, &words)?,
        };
        files::replace(out.file(), &bytes)?;
        written.push(out.file().to_owned());
    }
    for table in tables {
        let (place, grown) = table.finish()?;
        if let Some(Grown { added, changed, same }) = grown {
            let facts = [("added", added), ("changed", changed), ("same", same)];
            let facts = facts.map(|(name, count)| (name, Fact::Text(count.to_string())));
            console.talk(&words.say("history-grown", &facts));
        }
        written.push(place);
    }
    if arguments.json {
        console.data(&history_json(&courses, &skipped)?)?;
    } else if written.is_empty() && arguments.found {
        console.data(&track_record_text(&record, &words))?;
    } else if written.is_empty() {
        console.data(&history_text(&courses, &words))?;
        console.talk(&words.say("history-legend", &[]));
    } else {
        console.data(&written.iter().map(|file| format!("{}\n", file.display())).collect::<String>())?;
    }
    console.talk(&say(&words, "history-read", arguments, &[("jobs", Fact::Text(read.to_string()))]));
    if not_ranked + outdated > 0 {
        let facts =
            [("not_ranked", Fact::Text(not_ranked.to_string())), ("outdated", Fact::Text(outdated.to_string()))];
        console.talk(&words.say("history-calls", &facts));
    }
    Ok(Outcome::Done)
}

/// A visit with its calls: what has not been ranked yet is ranked.
fn called(visit: Visit, arguments: &Arguments, words: &Words, console: &Console) -> Result<Visit, Failure> {
    if !matches!(visit.calls, Calls::NotRanked | Calls::Outdated) {
        return Ok(visit);
    }
    let below = arguments.folder.join(&visit.job);
    // A folder that is a job itself is named by its last part.
    let folder = if below.exists() { below } else { arguments.folder.clone() };
    with_calls(&Job::open(&folder)?, visit, words, console)
}

fn say(words: &Words, name: &str, arguments: &Arguments, more: &[(&'static str, Fact)]) -> String {
    let folder = ("folder", Fact::Text(arguments.folder.display().to_string()));
    words.say(name, &[&[folder], more].concat())
}

/// Goes through the jobs once.
fn read(
    history: &History,
    arguments: &Arguments,
    tables: &mut [Table],
    gather: bool,
    words: &Words,
    console: &Console,
) -> Result<Seen, Failure> {
    let mut seen = Seen::default();
    let bar = progress::bar(console, "{bar:30} {pos}/{len} {msg}", Some(history.len() as u64));
    for error in history.closed() {
        bar.suspend(|| console.talk(&words.say("history-closed", &[("reason", Fact::Text(error.to_string()))])));
    }
    for visit in history.visits() {
        bar.inc(1);
        match visit {
            Ok(visit) => {
                seen.read += 1;
                if arguments.engine.as_ref().is_none_or(|part| named(&visit.engine, part)) {
                    let visit = called(visit, arguments, words, console)?;
                    take(visit, &mut seen, tables, gather)?;
                }
            }
            Err(skipped) => {
                let reason = skipped.error.to_string();
                let facts = [("job", Fact::Text(skipped.job.clone())), ("reason", Fact::Text(reason.clone()))];
                bar.suspend(|| console.talk(&words.say("history-skipped", &facts)));
                seen.skipped.push((skipped.job, reason));
            }
        }
    }
    bar.finish_and_clear();
    Ok(seen)
}

fn take(visit: Visit, seen: &mut Seen, tables: &mut [Table], gather: bool) -> Result<(), Failure> {
    seen.matching += 1;
    match visit.calls {
        Calls::NotRanked => seen.not_ranked += 1,
        Calls::Outdated => seen.outdated += 1,
        Calls::NothingRecorded | Calls::Known => {}
    }
    for table in tables {
        table.push(&visit)?;
    }
    if gather {
        seen.visits.push(visit);
    }
    Ok(())
}

fn picture(courses: &[Course], out: &OutFile, arguments: &Arguments, words: &Words) -> Result<Vec<u8>, Failure> {
    if courses.len() > MOST_ENGINES {
        let facts =
            [("engines", Fact::Text(courses.len().to_string())), ("most", Fact::Text(MOST_ENGINES.to_string()))];
        return Err(say(words, "history-too-many-engines", arguments, &facts).into());
    }
    out.drawn(&plot::history(courses, words, PictureSize::Page)?)
}
