//! A second microphone a step away: it tells a shop that grows louder from a hiss at the opening.

use hissward::hiss::ClipFeatures;
use hissward::opening::Air;
use hissward::ranking::{Call, Ranking};
use hissward::simulate::{Case, CaseOptions, Dice, Leak, NoiseKind, NoiseMix, SecondMicrophone};
use hissward::units::{LevelDiff, Seconds};

use super::rendered::{plainly, ranked, sound};

const OPENINGS: [&str; 3] = ["intake", "exhaust", "oil-filler"];
/// Seeds that nothing was tuned on.
const SEEDS: std::ops::Range<u64> = 8_000..8_016;

/// A shop with talk, a street and a grinder, each changing for itself by 4 dB between quiet and air.
fn restless(seed: u64, leak: Option<(&str, f64)>) -> Case {
    let shop = NoiseMix::of_kinds(&[NoiseKind::Talk, NoiseKind::Traffic, NoiseKind::Grinder], &mut Dice::seeded(seed));
    let leaks =
        leak.map(|(opening, db)| Leak { opening: opening.parse().expect("an opening"), hiss_to_noise: LevelDiff(db) });
    let options = CaseOptions {
        seed,
        leaks: leaks.into_iter().collect(),
        part_change_sd: LevelDiff(4.0),
        far: Some(SecondMicrophone::StepAway),
        ..CaseOptions::default()
    };
    options.render(&shop).expect("a case")
}

/// All clips of a case with their far channels; `near` and `far` are added to the samples of the clip at `place`.
fn tracked(case: &Case, place: usize, near: &[f32], far: &[f32]) -> Vec<ClipFeatures> {
    let added = |samples: &[f32], more: &[f32]| -> Vec<f32> {
        samples.iter().zip(more.iter().chain(std::iter::repeat(&0.0))).map(|(a, b)| a + b).collect()
    };
    let clips = case.clips.iter().enumerate();
    clips
        .map(|(at, clip)| {
            let (near, far) = if at == place { (near, far) } else { (&[][..], &[][..]) };
            let second = clip.far.as_ref().expect("two microphones");
            let heard = sound(clip.clip.name(), &added(clip.clip.samples(), near), clip.clip.rate());
            heard.tracked_by(sound(second.name(), &added(second.samples(), far), second.rate()))
        })
        .collect()
}

fn with_far(case: &Case) -> Ranking {
    ranked(case, &tracked(case, 0, &[], &[]))
}

#[test]
fn in_a_restless_shop_the_second_microphone_finds_what_one_alone_does_not() {
    let (mut one, mut two, mut wrong) = (0, 0, 0);
    let (mut one_on_top, mut two_on_top) = (0, 0);
    for seed in SEEDS {
        let opening = OPENINGS[seed as usize % 3];
        let case = restless(seed, Some((opening, -8.0)));
        let right = |ranking: &Ranking| ranking.call == Call::Located && ranking.openings[0].opening.name() == opening;
        let on_top = |ranking: &Ranking| ranking.openings[0].opening.name() == opening;
        let (alone, tracked) = (plainly(&case), with_far(&case));
        one += usize::from(right(&alone));
        two += usize::from(right(&tracked));
        one_on_top += usize::from(on_top(&alone));
        two_on_top += usize::from(on_top(&tracked));
        wrong += usize::from(tracked.call == Call::Located && !right(&tracked));
    }
    assert!(two >= one + 2, "{two} with two microphones, {one} with one");
    assert!(two_on_top >= one_on_top + 5, "on top {two_on_top} with two microphones, {one_on_top} with one");
    assert_eq!(wrong, 0);
}

#[test]
fn a_tight_engine_in_a_restless_shop_is_not_located_with_two_microphones() {
    let called = SEEDS.filter(|seed| matches!(with_far(&restless(*seed, None)).call, Call::Located | Call::Shared));
    assert_eq!(called.count(), 0);
}

/// A tap, rain, another air tool: steady and broad as a leak, and it starts in one clip.
#[test]
fn a_foreign_hiss_is_told_apart_by_the_second_microphone_and_named_a_doubt_without_it() {
    let mut alike = 0;
    for seed in SEEDS.take(8) {
        let case = restless(seed, None);
        let place = case.clips.iter().position(|clip| clip.truth.air == Air::On).expect("an air clip");
        let mut dice = Dice::seeded(seed + 1);
        let clip = &case.clips[place];
        let loudness = clip.clip.samples().iter().map(|x| x * x).sum::<f32>() / clip.clip.samples().len() as f32;
        let roof = NoiseKind::Rain.draw(&mut dice);
        let mut rain = || {
            let heard = roof.render(&mut dice, Seconds(6.0), clip.clip.rate());
            let power = heard.iter().map(|x| x * x).sum::<f32>() / heard.len() as f32;
            let gain = (4.0 * loudness / power).sqrt();
            heard.into_iter().map(|x| x * gain).collect::<Vec<f32>>()
        };
        let (near, far) = (rain(), rain());
        let two = tracked(&case, place, &near, &far);
        let ranking = ranked(&case, &two);
        assert_ne!(ranking.call, Call::Located, "seed {seed}: {ranking:?}");
        let here = ranking.openings.iter().find(|o| o.opening == clip.truth.opening).expect("the opening");
        assert!(here.caveats.iter().any(|caveat| caveat.code == "risen-everywhere"), "seed {seed}: {here:?}");

        let one: Vec<ClipFeatures> = case
            .clips
            .iter()
            .enumerate()
            .map(|(at, clip)| {
                let more = if at == place { &near[..] } else { &[][..] };
                let samples: Vec<f32> = clip
                    .clip
                    .samples()
                    .iter()
                    .zip(more.iter().chain(std::iter::repeat(&0.0)))
                    .map(|(a, b)| a + b)
                    .collect();
                sound(clip.clip.name(), &samples, clip.clip.rate())
            })
            .collect();
        let without = ranked(&case, &one);
        if without.call == Call::Located {
            alike += 1;
            assert!(without.caveats.iter().any(|caveat| caveat.code == "foreign-hiss-alike"), "seed {seed}");
        }
    }
    // Else this test would show nothing.
    assert!(alike > 0, "one microphone took it for a leak {alike} times");
}
