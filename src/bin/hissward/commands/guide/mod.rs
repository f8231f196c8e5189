//! `hissward guide`: leads through the whole test.

mod driver;
mod judge;
mod progress;
mod results;

use std::io::{self, IsTerminal};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use hissward::audio::{Speaker, SystemCard};
use hissward::guide::Guide;
use hissward::job::JobWriter;
use hissward::opening::Opening;
use hissward::pipeline::{rank_job, recover_recordings, remember_microphone};
use hissward::units::Seconds;

use self::driver::{Display, Driver};
use crate::console::{Console, Failure, Outcome};
use crate::live::lines::Lines;
use crate::live::terminal::Terminal;
use crate::{language, recorders};

/// Arguments of `hissward guide`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward guide gull-2026-11-25\n\n\
    SPACE, or two taps on the microphone, starts; from there it counts down, beeps, records, says good or why not, and \
    goes on. Everything is kept at once: leave at any moment and go on later with the same command. Without a terminal \
    each line of the input is a key (an empty one is SPACE) or an entry.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// Where to listen, in order
    #[arg(long, value_name = "OPENING,…", value_delimiter = ',', default_value = "intake,exhaust,oil-filler")]
    openings: Vec<String>,
    /// Takes a name for an opening that nobody knows yet
    #[arg(long)]
    new_opening: bool,
    /// Pulsed air: opened and shut after the beep, instead of clips with the air off and on
    #[arg(long, alias = "keyed")]
    pulsed: bool,
    /// Rounds of the openings at least
    #[arg(long, value_name = "N", default_value = "1", value_parser = clap::value_parser!(u32).range(1..=9))]
    rounds: u32,
    /// Rounds at the most, where the ranking stays undecided
    #[arg(long, value_name = "N", default_value = "4", value_parser = clap::value_parser!(u32).range(1..=9))]
    most_rounds: u32,
    /// Seconds to bring the microphone to the next opening
    #[arg(long, value_name = "S", default_value = "7", value_parser = clap::value_parser!(u8).range(1..=60))]
    pause: u8,
    /// The microphone, by its name in `hissward mics`; remembered for the job
    #[arg(long, value_name = "NAME")]
    microphone: Option<String>,
    /// No beeps
    #[arg(long)]
    silent: bool,
}

/// Guides until the person leaves or all is done.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut job = JobWriter::open(&arguments.job, "guide")?;
    let words = language::of_job(job.record())?;
    let mut notices = Vec::new();
    for found in recover_recordings(&mut job, &|_| false)? {
        progress::judge_recovery(&mut job, &found)?;
        notices.push(words.caveat(&found.caveat()).0);
    }
    if let Some(name) = &arguments.microphone {
        remember_microphone(&mut job, name)?;
    }
    let known = job.record().microphone.as_ref();
    notices.extend(known.and_then(|known| recorders::warning(&known.device, &words)));
    let new = arguments.new_opening;
    let openings: Vec<Opening> =
        arguments.openings.iter().map(|word| job.record().opening(word, new)).collect::<Result<_, _>>()?;
    let mut plan = progress::plan_of(job.record(), &openings)?;
    plan.pulsed = arguments.pulsed;
    plan.least_rounds = arguments.rounds;
    plan.most_rounds = arguments.most_rounds.max(arguments.rounds);
    plan.pause = Seconds(f64::from(arguments.pause));
    let mut progress = progress::progress_of(job.record(), arguments.pulsed);
    progress::mark_seen(&plan, &mut progress);
    let mut guide = Guide::new(plan, progress);
    let readings = job.record().gauge.iter();
    guide.losses = readings.map(|reading| (reading.cylinder, reading.value.reading().loss().0)).collect();
    // What cannot be ranked now is told when its turn comes.
    let rankings = rank_job(&job, None).unwrap_or_default();
    guide.calls =
        rankings.iter().filter_map(|ranking| Some((ranking.cylinder?, results::short(ranking, &words)))).collect();
    guide.notice = (!notices.is_empty()).then(|| notices.join("\n"));
    let stop = Arc::new(AtomicBool::new(false));
    let asked = Arc::clone(&stop);
    ctrlc::set_handler(move || asked.store(true, Ordering::Release))?;
    let speaker = if arguments.silent { Speaker::silent() } else { Speaker::system() };
    let has_terminal = io::stdin().is_terminal() && io::stdout().is_terminal();
    let shown = if has_terminal { Display::Terminal(Terminal::take()?) } else { Display::Lines(Lines::start()) };
    let mut driver = Driver::new(guide, job, words, speaker, &SystemCard, shown, *console);
    driver.run(&stop)?;
    driver.leave();
    Ok(Outcome::Done)
}
