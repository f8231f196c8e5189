//! Simulated cases, their clips changed in one way or another, and the ranking of what comes of it.

use std::sync::LazyLock;

use hissward::hiss::{ClipAnalyzer, ClipFeatures};
use hissward::opening::Air;
use hissward::ranking::{Call, HissReading, OpeningClips, Ranking, rank};
use hissward::simulate::{Case, CaseOptions, Dice, Leak, NoiseKind, NoiseMix};
use hissward::units::{Hertz, LevelDiff};
use proptest::test_runner::{Config, RngSeed};

/// Leaks of the cases: where, and hiss over noise, dB. From plain to hopeless; one tight, one leaking twice.
const LEAKS: [&[(&str, f64)]; 6] = [
    &[("exhaust", 12.0)],
    &[("oil-filler", 3.0)],
    &[("intake", -6.0)],
    &[],
    &[("intake", 9.0), ("oil-filler", 6.0)],
    &[("exhaust", -15.0)],
];

/// Cases in the noise of a fan, half of them with a radio, with two takes of every clip.
pub static CASES: LazyLock<Vec<Case>> = LazyLock::new(|| {
    let case = |(seed, leaks): (u64, &&[(&str, f64)])| {
        let kinds: &[NoiseKind] = if seed % 2 == 0 { &[NoiseKind::Fan] } else { &[NoiseKind::Fan, NoiseKind::Radio] };
        let mut dice = Dice::seeded(seed);
        let leak = |(opening, db): &(&str, f64)| Leak {
            opening: opening.parse().expect("an opening"),
            hiss_to_noise: LevelDiff(*db),
        };
        let options = CaseOptions { seed, leaks: leaks.iter().map(leak).collect(), takes: 2, ..CaseOptions::default() };
        options.render(&NoiseMix::of_kinds(kinds, &mut dice)).expect("a case")
    };
    (100..).zip(&LEAKS).map(case).collect()
});

/// The clips of the cases as they are, listened to.
pub static SOUNDS: LazyLock<Vec<Vec<ClipFeatures>>> =
    LazyLock::new(|| CASES.iter().map(|case| changed(case, |_, samples| samples.to_vec())).collect());

/// The rankings of the cases as they are.
pub static RANKINGS: LazyLock<Vec<Ranking>> =
    LazyLock::new(|| CASES.iter().zip(&*SOUNDS).map(|(case, sounds)| ranked(case, sounds)).collect());

/// Few examples, the same in every run: most listen to twelve clips.
pub fn few(cases: u32) -> Config {
    Config { cases, failure_persistence: None, rng_seed: RngSeed::Fixed(25), max_shrink_iters: 20, ..Config::default() }
}

/// A clip, listened to.
pub fn sound(samples: &[f32], rate: Hertz) -> ClipFeatures {
    let mut listener = ClipAnalyzer::new("clip", rate);
    listener.push(samples);
    listener.sound()
}

/// All clips of a case in their order, each changed first; the change is told the clip's place.
pub fn changed(case: &Case, change: impl Fn(usize, &[f32]) -> Vec<f32>) -> Vec<ClipFeatures> {
    resampled(case, case.clips[0].clip.rate(), change)
}

/// The same where the change gives another rate.
pub fn resampled(case: &Case, rate: Hertz, change: impl Fn(usize, &[f32]) -> Vec<f32>) -> Vec<ClipFeatures> {
    let clips = case.clips.iter().enumerate();
    clips.map(|(at, clip)| sound(&change(at, clip.clip.samples()), rate)).collect()
}

/// The openings of a case with the sounds of its clips.
pub fn heard<'a>(case: &Case, sounds: &'a [ClipFeatures]) -> Vec<OpeningClips<'a>> {
    let at = |place: &hissward::simulate::OpeningTruth| {
        let with = |air: Air| {
            let clips = case.clips.iter().zip(sounds);
            let here = clips.filter(|(clip, _)| clip.truth.opening == place.opening && clip.truth.air == air);
            here.map(|(_, sound)| sound).collect()
        };
        let (quiet, air, pulsed) = (with(Air::Off), with(Air::On), with(Air::Pulsed));
        OpeningClips { quiet, air, pulsed, ..OpeningClips::at(place.opening.clone()) }
    };
    case.truth.openings.iter().map(at).collect()
}

/// The ranking of a case whose clips sound so.
pub fn ranked(case: &Case, sounds: &[ClipFeatures]) -> Ranking {
    let ranking = rank(None, &heard(case, sounds));
    sane(&ranking);
    ranking
}

/// Probabilities sum to one, the openings are in their order, and every number is one.
pub fn sane(ranking: &Ranking) {
    let sum: f64 = ranking.openings.iter().map(|opening| opening.probability).sum();
    let nowhere_heard = ranking.tight_probability + ranking.elsewhere_probability;
    assert!((sum + nowhere_heard - 1.0).abs() < 1e-9, "{sum} and {nowhere_heard}");
    assert!(ranking.openings.is_sorted_by(|a, b| a.probability >= b.probability - 1e-4), "{ranking:?}");
    for opening in &ranking.openings {
        assert!((0.0..=1.0).contains(&opening.probability), "{opening:?}");
        assert!(opening.at_most.0.is_finite(), "{opening:?}");
        assert!(opening.above_quiet.is_none_or(|above| above.0.is_finite()), "{opening:?}");
        if let HissReading::Heard { level, low, high } = opening.hiss {
            assert!(low.0.is_finite() && low <= level && level <= high && high.0.is_finite(), "{opening:?}");
        }
    }
}

/// What two rankings of the same sound may differ by.
#[derive(Debug, Clone, Copy)]
pub struct Within {
    /// Probabilities.
    pub probability: f64,
    /// Levels heard, dB.
    pub level_db: f64,
    /// Bounds, dB: they stand at the edge of what is seen.
    pub bound_db: f64,
}

/// Holds that two rankings say the same of the same openings, but for levels that are `moved_db` higher in the second.
pub fn same(first: &Ranking, second: &Ranking, moved_db: f64, within: Within) {
    assert_eq!(first.call, second.call, "{first:?}\n{second:?}");
    for opening in &first.openings {
        let twin = second.openings.iter().find(|other| other.opening == opening.opening).expect("the same openings");
        let apart = (opening.probability - twin.probability).abs();
        assert!(apart <= within.probability, "{}: {} and {}", twin.opening, opening.probability, twin.probability);
        let mut levels = vec![(opening.at_most, twin.at_most, within.bound_db)];
        if let (HissReading::Heard { level: a, .. }, HissReading::Heard { level: b, .. }) = (opening.hiss, twin.hiss) {
            levels.push((a, b, within.level_db));
        }
        for (a, b, within_db) in levels {
            assert!((b.0 - a.0 - moved_db).abs() <= within_db, "{}: {a} and {b}", twin.opening);
        }
    }
    let (a, b) = (names(first), names(second));
    // Openings that are as likely may change places.
    let close = first.openings.windows(2).any(|two| two[0].probability - two[1].probability <= within.probability);
    assert!(a == b || close, "{a:?} and {b:?}");
}

/// The openings in their order.
pub fn names(ranking: &Ranking) -> Vec<&str> {
    ranking.openings.iter().map(|opening| opening.opening.name()).collect()
}

/// The opening that is located, if one is.
pub fn located(ranking: &Ranking) -> Option<&str> {
    (ranking.call == Call::Located).then(|| ranking.openings[0].opening.name())
}
