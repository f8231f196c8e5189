//! Cases rendered and ranked through the library, as the program does it.

use hissward::hiss::{ClipAnalyzer, ClipFeatures};
use hissward::opening::Air;
use hissward::ranking::{OpeningClips, Ranking, rank};
use hissward::simulate::{Case, CaseOptions, Dice, Leak, NoiseKind, NoiseMix};
use hissward::units::{Level, LevelDiff};

/// A case in the steady noise of a fan, without drift; the microphone is placed with the usual scatter of 2 dB.
pub fn steady(seed: u64, leak: Option<(&str, f64)>) -> Case {
    placed(seed, leak, CaseOptions::default().placement_sd)
}

/// The same with the microphone placed with a scatter of its own.
pub fn placed(seed: u64, leak: Option<(&str, f64)>, placement_sd: LevelDiff) -> Case {
    let mut dice = Dice::seeded(seed);
    let shop = NoiseMix::of_kinds(&[NoiseKind::Fan], &mut dice);
    let leaks =
        leak.map(|(opening, db)| Leak { opening: opening.parse().expect("an opening"), hiss_to_noise: LevelDiff(db) });
    let options = CaseOptions {
        seed,
        leaks: leaks.into_iter().collect(),
        floor_drift_sd: LevelDiff(0.0),
        placement_sd,
        ..CaseOptions::default()
    };
    options.render(&shop).expect("a case")
}

/// A clip, listened to.
pub fn sound(name: &str, samples: &[f32], rate: hissward::units::Hertz) -> ClipFeatures {
    let mut listener = ClipAnalyzer::new(name, rate);
    listener.push(samples);
    listener.sound()
}

/// All clips of a case, each changed by `change` first.
pub fn sounds(case: &Case, change: impl Fn(&[f32]) -> Vec<f32>) -> Vec<ClipFeatures> {
    let clips = case.clips.iter();
    clips.map(|clip| sound(clip.clip.name(), &change(clip.clip.samples()), clip.clip.rate())).collect()
}

/// The ranking of a case whose clips sound so.
pub fn ranked(case: &Case, sounds: &[ClipFeatures]) -> Ranking {
    let heard: Vec<OpeningClips<'_>> = case
        .truth
        .openings
        .iter()
        .map(|place| {
            let with = |air: Air| {
                let clips = case.clips.iter().zip(sounds);
                clips
                    .filter(|(clip, _)| clip.truth.opening == place.opening && clip.truth.air == air)
                    .map(|(_, sound)| sound)
                    .collect()
            };
            OpeningClips {
                quiet: with(Air::Off),
                air: with(Air::On),
                pulsed: with(Air::Pulsed),
                ..OpeningClips::at(place.opening.clone())
            }
        })
        .collect();
    rank(None, &heard)
}

/// The ranking of a case as it is.
pub fn plainly(case: &Case) -> Ranking {
    ranked(case, &sounds(case, <[f32]>::to_vec))
}

/// The true hiss level in the air clip of an opening.
pub fn true_level(case: &Case, opening: &str) -> Option<Level> {
    case.clips.iter().find(|clip| clip.truth.air != Air::Off && clip.truth.opening.name() == opening)?.truth.hiss
}
