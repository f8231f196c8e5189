//! `hissward simulate`: a job folder with a known leak, seeded.

mod arguments;
mod folder;
mod shop;
mod truth;

use hissward::simulate::{Case, CaseOptions, DEMO_CYLINDERS, Leak, Practice, SecondMicrophone, cylinder_seed};
use hissward::units::{Hertz, Level, LevelDiff, Seconds};
use indicatif::{ProgressBar, ProgressDrawTarget};
use rayon::prelude::*;

use crate::console::{Console, Failure, Outcome};

pub use arguments::Arguments;

/// One cylinder's clips and what was built into them.
struct Cylinder {
    number: u32,
    case: Case,
}

/// Makes the clips, writes them, prints the truth.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    arguments.check()?;
    folder::check_free(&arguments.out)?;
    let count = if arguments.demo { DEMO_CYLINDERS.len() as u64 } else { u64::from(arguments.cylinders) };
    let target = if console.lively() { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() };
    let bar = ProgressBar::with_draw_target(Some(count), target);
    let cylinders = if arguments.demo { demo_cylinders(&bar) } else { cylinders(arguments, &bar) };
    bar.finish_and_clear();
    let cylinders = cylinders?;
    let truth = truth::of(arguments, &cylinders);
    folder::write(arguments, &cylinders, &truth)?;
    let clips: usize = cylinders.iter().map(|cylinder| cylinder.case.clips.len()).sum();
    console.talk(&format!("{clips} clips and truth.json are in {}", arguments.out.display()));
    console.data(&if arguments.json { truth.to_json()? } else { truth.to_text() })?;
    Ok(Outcome::Done)
}

fn demo_cylinders(bar: &ProgressBar) -> Result<Vec<Cylinder>, Failure> {
    DEMO_CYLINDERS
        .par_iter()
        .map(|cylinder| {
            let case = cylinder.render()?;
            bar.inc(1);
            Ok(Cylinder { number: cylinder.number, case })
        })
        .collect()
}

fn cylinders(arguments: &Arguments, bar: &ProgressBar) -> Result<Vec<Cylinder>, Failure> {
    let (shop, rate) = shop::of(arguments)?;
    (1..=arguments.cylinders)
        .into_par_iter()
        .map(|number| {
            let case = options(arguments, number, rate).render(&shop)?;
            bar.inc(1);
            Ok(Cylinder { number, case })
        })
        .collect()
}

fn options(arguments: &Arguments, cylinder: u32, rate: Hertz) -> CaseOptions {
    let leaks = arguments.leaks.iter().filter(|leak| leak.cylinder == cylinder);
    let defaults = CaseOptions::default();
    let mut microphone = defaults.microphone;
    microphone.automatic_gain = arguments.agc;
    CaseOptions {
        seed: cylinder_seed(arguments.seed, cylinder),
        openings: arguments.openings.clone(),
        leaks: leaks
            .map(|leak| Leak { opening: leak.opening.clone(), hiss_to_noise: LevelDiff(leak.hiss_to_noise_db) })
            .collect(),
        practice: if arguments.pulsed { Practice::Pulsed } else { Practice::OffAndOn },
        takes: arguments.takes,
        length: arguments.seconds.map(Seconds),
        rate,
        noise: Level(arguments.noise_db),
        floor_drift_sd: LevelDiff(arguments.drift_db),
        part_change_sd: LevelDiff(arguments.change_db),
        placement_sd: LevelDiff(arguments.placement_db),
        microphone,
        far: arguments.far.then_some(SecondMicrophone::StepAway),
        ..defaults
    }
}
