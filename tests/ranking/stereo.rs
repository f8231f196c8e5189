//! A recorder with two microphones, whichever way round it is held: nobody says which channel is which.

use std::path::{Path, PathBuf};

use hissward::audio::ChannelChoice;
use hissward::caveat::Fact;
use hissward::opening::Air;
use hissward::pipeline::{LooseClip, rank_loose};
use hissward::ranking::{Call, Ranking};
use hissward::simulate::{Case, CaseOptions, Dice, Leak, NoiseKind, NoiseMix, SecondMicrophone};
use hissward::units::LevelDiff;

const OPENINGS: [&str; 3] = ["intake", "exhaust", "oil-filler"];
/// Seeds that nothing was tuned on.
const SEEDS: std::ops::Range<u64> = 8_100..8_104;

/// What the two channels of a file hold.
#[derive(Clone, Copy, PartialEq)]
enum Layout {
    NearFirst,
    FarFirst,
    /// The near microphone in both.
    Copies,
    /// The near microphone alone.
    Mono,
}

fn case(seed: u64, leak: Option<(&str, f64)>) -> Case {
    let shop = NoiseMix::of_kinds(&[NoiseKind::Fan, NoiseKind::Traffic], &mut Dice::seeded(seed));
    let leaks =
        leak.map(|(opening, db)| Leak { opening: opening.parse().expect("an opening"), hiss_to_noise: LevelDiff(db) });
    let options = CaseOptions {
        seed,
        leaks: leaks.into_iter().collect(),
        far: Some(SecondMicrophone::SamePhone),
        ..CaseOptions::default()
    };
    options.render(&shop).expect("a case")
}

/// The clips as files; `foreign` is added to both channels of the first opening's air clip.
fn files(case: &Case, layout: Layout, foreign: Option<f32>, folder: &Path) -> Vec<LooseClip> {
    let mut dice = Dice::seeded(case.truth.seed + 77);
    let clips = case.clips.iter().enumerate();
    clips
        .map(|(at, clip)| {
            let far = clip.far.as_ref().expect("two microphones");
            let gain = foreign
                .filter(|_| clip.truth.air == Air::On && clip.truth.opening.name() == OPENINGS[0])
                .map_or(0.0, |gain| {
                    let samples = clip.clip.samples();
                    gain * (samples.iter().map(|x| x * x).sum::<f32>() / samples.len() as f32).sqrt()
                });
            let mut white = || -> Vec<f64> { (0..clip.clip.samples().len()).map(|_| dice.normal()).collect() };
            let (one, other) = (white(), white());
            let with = |samples: &[f32], hiss: &[f64]| -> Vec<f32> {
                samples.iter().zip(hiss).map(|(x, hiss)| x + gain * *hiss as f32).collect()
            };
            let (near, far) = (with(clip.clip.samples(), &one), with(far.samples(), &other));
            let file: PathBuf = folder.join(format!("{at}.wav"));
            let channels = if layout == Layout::Mono { 1 } else { 2 };
            let spec = hound::WavSpec {
                channels,
                sample_rate: clip.clip.rate().0 as u32,
                bits_per_sample: 16,
                sample_format: hound::SampleFormat::Int,
            };
            let mut writer = hound::WavWriter::create(&file, spec).expect("a file");
            for (near, far) in near.iter().zip(&far) {
                let frame: &[f32] = match layout {
                    Layout::NearFirst => &[*near, *far],
                    Layout::FarFirst => &[*far, *near],
                    Layout::Copies => &[*near, *near],
                    Layout::Mono => &[*near],
                };
                for sample in frame {
                    writer.write_sample((sample * 32_767.0).round().clamp(-32_768.0, 32_767.0) as i16).expect("room");
                }
            }
            writer.finalize().expect("written");
            LooseClip { opening: Some(clip.truth.opening.clone()), air: clip.truth.air, file }
        })
        .collect()
}

fn ranked(case: &Case, layout: Layout, foreign: Option<f32>) -> Ranking {
    let folder = tempfile::tempdir().expect("a folder");
    rank_loose(&files(case, layout, foreign, folder.path()), ChannelChoice::First).expect("a ranking")
}

fn nearer(ranking: &Ranking) -> Option<f64> {
    let caveat = ranking.caveats.iter().find(|caveat| caveat.code == "two-microphones")?;
    caveat.facts.iter().find_map(|(name, fact)| match fact {
        Fact::Number { value, .. } if *name == "near" => Some(*value),
        _ => None,
    })
}

#[test]
fn the_nearer_microphone_is_found_whichever_way_round() {
    for seed in SEEDS {
        let opening = OPENINGS[seed as usize % 3];
        let case = case(seed, Some((opening, 3.0)));
        for (layout, near) in [(Layout::NearFirst, 1.0), (Layout::FarFirst, 2.0)] {
            let ranking = ranked(&case, layout, None);
            assert_eq!(nearer(&ranking), Some(near), "seed {seed}: {:?}", ranking.caveats);
            assert_eq!(ranking.call, Call::Located, "seed {seed}: {ranking:?}");
            assert_eq!(ranking.openings[0].opening.name(), opening, "seed {seed}");
        }
    }
}

#[test]
fn copies_of_one_microphone_rank_as_one() {
    let case = case(8_110, Some(("exhaust", 0.0)));
    let (copies, mono) = (ranked(&case, Layout::Copies, None), ranked(&case, Layout::Mono, None));
    assert_eq!(copies.call, mono.call);
    assert_eq!(copies.elsewhere_probability, mono.elsewhere_probability);
    assert!(!copies.caveats.iter().any(|caveat| caveat.code.starts_with("two-microphones")), "{:?}", copies.caveats);
}

#[test]
fn a_hiss_that_both_microphones_hear_alike_is_no_leak() {
    let mut alone = 0;
    for seed in SEEDS {
        let case = case(seed, None);
        for foreign in [2.0, 8.0] {
            let ranking = ranked(&case, Layout::NearFirst, Some(foreign));
            assert!(
                !matches!(ranking.call, Call::Located | Call::Shared | Call::NoneHeard),
                "seed {seed}: {ranking:?}"
            );
        }
        alone += usize::from(matches!(ranked(&case, Layout::Mono, Some(8.0)).call, Call::Located | Call::Shared));
    }
    // Else this test would show nothing: the hiss is there, and one microphone is deceived by it.
    assert!(alone > 0);
}
