//! `cargo bench --bench accuracy -- [--where tuning|reporting] [--rows PATTERN[,PATTERN]] [--cases N] [--quick]
//! [--by-noise] [--kept] [--advice] [--session N] [--part-change DB] [--out DIR]`
//!
//! A pattern is a part of a row's name, or a family: plain, beyond, chains, stereo, ultrasonic. `--kept`: with the
//! repository's own recordings alone, which are the same everywhere. `--advice`: seconds recorded until called and how
//! often, following the ranking's advice against a fixed plan.
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
use std::sync::atomic::{AtomicU64, AtomicUsize, Ordering};
use std::time::Instant;

use hissward::ranking::Ranking;
use rayon::prelude::*;

use harness::cases::{Conditions, RowCase, Session};
use harness::chains::Chains;
use harness::judge::{Outcome, judge};
use harness::noises::Sounds;
use harness::rows::{Row, Scenario, rows};
use harness::seeds::Where;
use harness::{advice, figure, markdown, program, row_figure, table};

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
    kept: bool,
    advice: bool,
    every_case: bool,
    conditions: Conditions,
    rows: Vec<Row>,
    out: PathBuf,
}

fn asked() -> Result<Asked, Failure> {
    let mut asked = Asked {
        place: Where::Reporting,
        sessions: 0..CASES,
        by_noise: false,
        kept: false,
        advice: false,
        every_case: false,
        conditions: Conditions::default(),
        rows: rows(&[]),
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
            "--rows" => {
                let patterns: Vec<String> = next()?.split(',').map(str::to_owned).collect();
                asked.rows = rows(&patterns);
                if asked.rows.is_empty() {
                    let names: Vec<String> = rows(&[]).iter().map(|row| row.scenario.name()).collect();
                    return Err(format!("no row is called so; there are: {}", names.join("; ")).into());
                }
            }
            "--cases" => asked.sessions = 0..next()?.parse()?,
            "--quick" => asked.sessions = 0..QUICK_CASES,
            "--advice" => asked.advice = true,
            "--kept" => asked.kept = true,
            "--by-noise" => asked.by_noise = true,
            "--session" => {
                let number: usize = next()?.parse()?;
                (asked.sessions, asked.every_case) = (number..number + 1, true);
            }
            "--part-change" => asked.conditions.part_change_db = next()?.parse()?,
            "--out" => asked.out = PathBuf::from(next()?),
            // Cargo says so to every benchmark.
            "--bench" => {}
            other => return Err(format!("'{other}' is not known: use --where tuning|reporting, --rows PATTERN, --cases N, --quick, --by-noise, --kept, --advice, --session N, --part-change DB, --out DIR").into()),
        }
    }
    Ok(asked)
}

fn main() -> Result<(), Failure> {
    let mut asked = asked()?;
    let began = Instant::now();
    let sounds = if asked.kept { Sounds::kept()? } else { Sounds::read()? };
    if !sounds.lacking.is_empty() {
        eprintln!("not fetched, left out: {} (`make setup-accuracy` fetches them)", sounds.lacking.join(", "));
    }
    if asked.advice {
        let table = advice::table(asked.place, asked.sessions.clone(), &sounds)?;
        let text = format!("## Following the advice: {} seeds\n\n{table}", asked.place.name());
        print!("{text}");
        fs::create_dir_all(&asked.out)?;
        fs::write(asked.out.join(format!("advice-{}.md", asked.place.name())), &text)?;
        return Ok(());
    }
    let chains = Chains::look();
    let needs = |row: &Row| matches!(row.scenario, Scenario::TightThrough | Scenario::Through(..));
    if let Some(lacking) = chains.lacking().filter(|_| asked.rows.iter().any(needs)) {
        eprintln!("{lacking}; rows through them are left out");
        asked.rows.retain(|row| match row.scenario {
            Scenario::Through(chain, _) => chains.can(chain),
            Scenario::TightThrough => false,
            _ => true,
        });
    }
    let outcomes = outcomes(&asked, &sounds, &chains)?;
    let title = format!("{} cases, {} seeds", outcomes.len(), asked.place.name());
    eprintln!("\r{title}: {:.0} s                ", began.elapsed().as_secs_f64());
    if asked.every_case {
        println!("{}", markdown::worst(&outcomes, outcomes.len()));
        return Ok(());
    }
    let all: Vec<&Outcome> = outcomes.iter().collect();
    let results = table::results(&all);
    let mut text = format!("## Accuracy: {title}\n\n{}", markdown::table(&results.figures));
    let recorded: Vec<&Outcome> = all.iter().copied().filter(|outcome| outcome.group.is_recorded()).collect();
    let of_recorded = table::results(&recorded);
    if !recorded.is_empty() {
        text += &format!(
            "\n### Recorded noise alone: {} cases\n\n{}",
            recorded.len(),
            markdown::table(&of_recorded.figures)
        );
    }
    text += &format!("\n### Row by row\n\n{}", markdown::rows(&outcomes, &asked.rows));
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
    let rows = row_figure::picture(&outcomes, &asked.rows, &title);
    fs::write(file("rows.png"), rows.to_png_at(2)?)?;
    fs::write(file("rows.svg"), rows.to_svg()?)?;
    // What the README shows: copied from here by hand, with the picture.
    let sessions = |cases: &[&Outcome]| {
        let numbers: std::collections::BTreeSet<usize> = cases.iter().map(|outcome| outcome.session).collect();
        numbers.len()
    };
    let counts = (sessions(&recorded), sessions(&all));
    let row_table = markdown::rows(&outcomes, &asked.rows);
    let readme = markdown::readme(&of_recorded.figures, &results.figures, counts);
    fs::write(file("readme.md"), format!("{readme}\n{row_table}"))?;
    eprintln!("written: {} (.readme.md, .png, .rows.png, .svg, .rows.svg)", file("md").display());
    Ok(())
}

/// Time spent by all threads.
#[derive(Default)]
struct Spent {
    rendering_ns: AtomicU64,
    ranking_ns: AtomicU64,
    clip_ms: AtomicU64,
}

impl Spent {
    fn text(&self) -> String {
        // Per 6-s clip: the time that threads ran, which other programs on the machine lengthen.
        let clips = self.clip_ms.load(Ordering::Relaxed) as f64 / 6000.0;
        let each = |spent: &AtomicU64| spent.load(Ordering::Relaxed) as f64 * 1e-6 / clips;
        format!(
            "{:.1} ms rendering, {:.1} ms ranking for 6 s of sound",
            each(&self.rendering_ns),
            each(&self.ranking_ns)
        )
    }
}

/// Every case of every session, in order.
fn outcomes(asked: &Asked, sounds: &Sounds, chains: &Chains) -> Result<Vec<Outcome>, Failure> {
    let done = AtomicUsize::new(0);
    let spent = Spent::default();
    let total = asked.sessions.len() * asked.rows.len();
    let began = Instant::now();
    let progress = || {
        let done = done.fetch_add(1, Ordering::Relaxed) + 1;
        let left_s = began.elapsed().as_secs_f64() / done as f64 * (total - done) as f64;
        eprint!("\r{done}/{total}, {:.0} min left   ", (left_s / 60.0).ceil());
    };
    let found: Result<Vec<Vec<Outcome>>, Failure> = asked
        .sessions
        .clone()
        .into_par_iter()
        .map(|number| {
            let session = Session::draw(asked.place, number, sounds);
            let cases = asked.rows.iter().map(|row| {
                let outcome = run_case(&session, row, asked.conditions, &spent, chains);
                progress();
                outcome
            });
            cases.collect()
        })
        .collect();
    eprintln!("\r{}        ", spent.text());
    Ok(found?.into_iter().flatten().collect())
}

fn run_case(
    session: &Session<'_>,
    row: &Row,
    conditions: Conditions,
    spent: &Spent,
    chains: &Chains,
) -> Result<Outcome, Failure> {
    let began = Instant::now();
    let case = session.case(row, conditions)?;
    let rendered = Instant::now();
    let ranked = answer(&case, chains);
    spent.rendering_ns.fetch_add((rendered - began).as_nanos() as u64, Ordering::Relaxed);
    spent.ranking_ns.fetch_add(rendered.elapsed().as_nanos() as u64, Ordering::Relaxed);
    let sound_ms: f64 = case.case.clips.iter().map(|clip| 1000.0 * clip.clip.duration().0).sum();
    spent.clip_ms.fetch_add(sound_ms as u64, Ordering::Relaxed);
    Ok(judge(session, row, &case, ranked.as_ref().map_err(Clone::clone)))
}

/// The program's answer; a panic or a refusal is none, and the run goes on.
fn answer(case: &RowCase, chains: &Chains) -> Result<Ranking, String> {
    let caught = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| program::rank(case, chains)));
    match caught {
        Ok(ranked) => ranked.map_err(|error| error.to_string()),
        Err(_) => Err("it panicked".to_owned()),
    }
}
