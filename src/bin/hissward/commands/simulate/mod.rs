//! `hissward simulate`: a folder of clips with a known leak, seeded.

mod arguments;
mod folder;
mod truth;

use hissward::simulate::{Case, CaseOptions, DEMO_CYLINDERS, Dice, Leak, NoiseMix, Practice, cylinder_seed};
use hissward::units::{Level, LevelDiff, Seconds};
use rayon::prelude::*;

use crate::face::{Face, Failure, Outcome};

pub use arguments::Arguments;

/// One cylinder's clips and what was built into them.
struct Cylinder {
    number: u32,
    case: Case,
}

/// Makes the clips, writes them, prints the truth.
pub fn run(arguments: &Arguments, face: &Face) -> Result<Outcome, Failure> {
    arguments.check()?;
    let cylinders = if arguments.demo { demo_cylinders()? } else { cylinders(arguments)? };
    let truth = truth::of(arguments, &cylinders);
    folder::write(&arguments.out, &cylinders, &truth, arguments.demo)?;
    let clips: usize = cylinders.iter().map(|cylinder| cylinder.case.clips.len()).sum();
    face.talk(&format!("{clips} clips and truth.json are in {}", arguments.out.display()));
    face.data(&if arguments.json { truth.to_json()? } else { truth.to_text() })?;
    Ok(Outcome::Done)
}

fn demo_cylinders() -> Result<Vec<Cylinder>, Failure> {
    DEMO_CYLINDERS
        .par_iter()
        .map(|cylinder| Ok(Cylinder { number: cylinder.number, case: cylinder.render()? }))
        .collect()
}

fn cylinders(arguments: &Arguments) -> Result<Vec<Cylinder>, Failure> {
    // The shop is the same for all cylinders: its machines are drawn once.
    let shop = NoiseMix::of_kinds(&arguments.noise, &mut Dice::seeded(arguments.seed));
    (1..=arguments.cylinders)
        .into_par_iter()
        .map(|number| {
            let case = options(arguments, number).render(&shop)?;
            Ok(Cylinder { number, case })
        })
        .collect()
}

fn options(arguments: &Arguments, cylinder: u32) -> CaseOptions {
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
        practice: if arguments.keyed { Practice::Keyed } else { Practice::OffAndOn },
        takes: arguments.takes,
        length: arguments.seconds.map(Seconds),
        noise: Level(arguments.noise_db),
        floor_drift_sd: LevelDiff(arguments.drift_db),
        placement_sd: LevelDiff(arguments.placement_db),
        microphone,
        ..defaults
    }
}
