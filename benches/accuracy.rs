//! `cargo bench --bench accuracy -- [--where tuning|reporting] [--cases N] [--quick] [--by-noise] [--session N] [--out DIR]`
//!
//! How often the ranking is right, beside plain methods; as a Markdown table and a picture. `make accuracy` runs it.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "it is a program: the table goes to stdout, progress to stderr"
)]

#[path = "accuracy/mod.rs"]
mod harness;

use std::error::Error;
use std::fs;
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Instant;

use rayon::prelude::*;

use harness::cases::{SCENARIOS, Session};
use harness::judge::{Outcome, judge};
use harness::noises::Sounds;
use harness::seeds::Where;
use harness::{figure, markdown, program, table};

type Failure = Box<dyn Error + Send + Sync>;

/// Sessions, each with one case of every row.
const CASES: usize = 240;
const QUICK_CASES: usize = 24;
/// Cases listed as the worst.
const WORST: usize = 25;

/// What was asked for.
struct Asked {
    place: Where,
    sessions: std::ops::Range<usize>,
    by_noise: bool,
    every_case: bool,
    out: PathBuf,
}

fn asked() -> Result<Asked, Failure> {
    let mut asked = Asked {
        place: Where::Reporting,
        sessions: 0..CASES,
        by_noise: false,
        every_case: false,
        out: PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/accuracy"),
    };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut next = || words.next().ok_or_else(|| format!("{word} needs a value"));
        match word.as_str() {
            "--where" => {
                asked.place = match next()?.as_str() {
                    "tuning" => Where::Tuning,
                    "reporting" => Where::Reporting,
                    other => return Err(format!("--where is tuning or reporting, not '{other}'").into()),
                }
            }
            "--cases" => asked.sessions = 0..next()?.parse()?,
            "--quick" => asked.sessions = 0..QUICK_CASES,
            "--by-noise" => asked.by_noise = true,
            "--session" => {
                let number: usize = next()?.parse()?;
                (asked.sessions, asked.every_case) = (number..number + 1, true);
            }
            "--out" => asked.out = PathBuf::from(next()?),
            // Cargo says so to every benchmark.
            "--bench" => {}
            other => return Err(format!("'{other}' is not known: use --where tuning|reporting, --cases N, --quick, --by-noise, --session N, --out DIR").into()),
        }
    }
    Ok(asked)
}

fn main() -> Result<(), Failure> {
    let asked = asked()?;
    let began = Instant::now();
    let sounds = Sounds::read()?;
    let outcomes = outcomes(&asked, &sounds)?;
    let title = format!("{} cases, {} seeds", outcomes.len(), asked.place.name());
    eprintln!("\r{title}: {:.0} s                ", began.elapsed().as_secs_f64());
    if asked.every_case {
        println!("{}", markdown::worst(&outcomes, outcomes.len()));
        return Ok(());
    }
    let all: Vec<&Outcome> = outcomes.iter().collect();
    let results = table::results(&all);
    let mut text = format!("## Accuracy: {title}\n\n{}", markdown::table(&results.figures));
    text += &format!("\n### Calls\n\n{}", markdown::calls(&outcomes));
    if asked.by_noise {
        text += &format!("\n### By noise\n\n{}", markdown::by_noise(&outcomes));
        text += &format!(
            "\n### Worst cases (`--session N` shows all of a session)\n\n{}",
            markdown::worst(&outcomes, WORST)
        );
    }
    print!("{text}");
    fs::create_dir_all(&asked.out)?;
    let file = |ending: &str| asked.out.join(format!("accuracy-{}.{ending}", asked.place.name()));
    let picture = figure::picture(&results, &title);
    fs::write(file("md"), &text)?;
    fs::write(file("png"), picture.to_png_at(2)?)?;
    fs::write(file("svg"), picture.to_svg()?)?;
    eprintln!("written: {} (.png, .svg)", file("md").display());
    Ok(())
}

/// Every case of every session, in order.
fn outcomes(asked: &Asked, sounds: &Sounds) -> Result<Vec<Outcome>, Failure> {
    let done = AtomicUsize::new(0);
    let total = asked.sessions.len() * SCENARIOS.len();
    let found: Result<Vec<Vec<Outcome>>, Failure> = asked
        .sessions
        .clone()
        .into_par_iter()
        .map(|number| {
            let session = Session::draw(asked.place, number, sounds);
            (0..SCENARIOS.len())
                .map(|row| {
                    let case = session.case(row)?;
                    let outcome = judge(&session, row, &case, &program::rank(&case));
                    eprint!("\r{}/{total}", done.fetch_add(1, Ordering::Relaxed) + 1);
                    Ok(outcome)
                })
                .collect()
        })
        .collect();
    Ok(found?.into_iter().flatten().collect())
}
