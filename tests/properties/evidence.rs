//! What evidence may do to an answer: what the eye sees is not denied, what contradicts a hiss does not raise it, and what
//! was said already makes nothing surer.

use hissward::hiss::ClipFeatures;
use hissward::opening::{Air, Opening};
use hissward::ranking::{Call, OpeningClips, Ranking, rank};
use hissward::simulate::{Case, CaseOptions, Dice, ExtraKind, ExtraSound, NoiseKind, NoiseMix, Practice};
use hissward::units::{Hertz, LevelDiff};
use realfft::RealFftPlanner;

use crate::clips::{changed, heard, ranked, sane, sound};

const OPENINGS: [&str; 3] = ["intake", "exhaust", "oil-filler"];

/// Shops of the cases: each with a seed of its own.
const SHOPS: [(u64, &[NoiseKind]); 3] = [
    (300, &[NoiseKind::Fan]),
    (301, &[NoiseKind::Radio, NoiseKind::Compressor]),
    (302, &[NoiseKind::Traffic, NoiseKind::Rain]),
];

/// An opening's clips with the air on lie less than this over its quiet ones.
const CALM_DB: f64 = 3.0;

/// A tight cylinder with what is heard besides.
fn tight(seed: u64, kinds: &[NoiseKind], practice: Practice, extras: Vec<ExtraSound>) -> Case {
    let noise = NoiseMix::of_kinds(kinds, &mut Dice::seeded(seed));
    CaseOptions { seed, practice, extras, ..CaseOptions::default() }.render(&noise).expect("a case")
}

/// The first such case, from this seed on, in which no opening's clips rise with the air by themselves: a compressor that
/// starts with one air clip is seen in the picture as well.
fn calm(first: u64, kinds: &[NoiseKind]) -> (u64, Case) {
    let cases = (first..first + 20).map(|seed| (seed, tight(seed, kinds, Practice::OffAndOn, Vec::new())));
    let mut calm = cases.filter(|(_, case)| {
        let plain = ranked(case, &changed(case, |_, samples| samples.to_vec()));
        plain.openings.iter().all(|found| found.above_quiet.is_some_and(|rise| rise.0 < CALM_DB))
    });
    calm.next().expect("a calm shop")
}

fn opening(name: &str) -> Opening {
    name.parse().expect("an opening")
}

fn probability(ranking: &Ranking, name: &str) -> f64 {
    ranking.openings.iter().find(|found| found.opening.name() == name).map_or(0.0, |found| found.probability)
}

/// Power of a clip between two frequencies, and the same clip with noise added there: its power is `rise_db` higher.
fn raised(samples: &[f32], quiet: &[f32], rate: Hertz, bands_hz: &[(f64, f64)], rise_db: f64, seed: u64) -> Vec<f32> {
    let count = samples.len().min(quiet.len());
    let mut planner = RealFftPlanner::<f32>::new();
    let (there, back) = (planner.plan_fft_forward(count), planner.plan_fft_inverse(count));
    let transform = |samples: &[f32]| {
        let mut spectrum = there.make_output_vec();
        there.process(&mut samples[..count].to_vec(), &mut spectrum).expect("a spectrum");
        spectrum
    };
    let mut dice = Dice::seeded(seed);
    let white: Vec<f32> = (0..count).map(|_| dice.normal() as f32).collect();
    let (shop, mut noise) = (transform(quiet), transform(&white));
    let mut kept = vec![false; noise.len()];
    for &(low_hz, high_hz) in bands_hz {
        let bin = |hz: f64| (hz / rate.0 * count as f64) as usize;
        let bins = bin(low_hz)..bin(high_hz);
        let power = |spectrum: &[realfft::num_complex::Complex<f32>]| {
            spectrum[bins.clone()].iter().map(|x| f64::from(x.norm_sqr())).sum::<f64>()
        };
        // Shop and hiss together are `rise_db` over the shop.
        let gain = (power(&shop) * (10f64.powf(rise_db / 10.0) - 1.0) / power(&noise)).sqrt() as f32;
        for at in bins {
            noise[at] *= gain;
            kept[at] = true;
        }
    }
    noise.iter_mut().zip(&kept).filter(|(_, kept)| !**kept).for_each(|(x, _)| *x *= 0.0);
    let mut added = back.make_output_vec();
    back.process(&mut noise, &mut added).expect("samples");
    samples.iter().zip(added).map(|(x, more)| x + more / count as f32).collect()
}

/// The edges of third-octave band `x` from 1 kHz. Source: IEC 61260-1:2014, 10^(x/10 ± 0.05).
fn third_octave_hz(x: f64) -> (f64, f64) {
    (1000.0 * 10f64.powf(x / 10.0 - 0.05), 1000.0 * 10f64.powf(x / 10.0 + 0.05))
}

/// A rise of 10 dB and more over three neighbouring bands in one opening's air clip alone is seen by everybody in the
/// picture: it is the likeliest opening, or fits no explanation, and never "none heard".
#[test]
fn what_the_eye_sees_in_the_picture_is_never_none_heard() {
    for (shop, &(first, kinds)) in SHOPS.iter().enumerate() {
        let (seed, case) = calm(first, kinds);
        for (at, name) in OPENINGS.into_iter().enumerate() {
            for (turn, first_band) in [0.0, 3.0, 6.0, 9.0].into_iter().enumerate() {
                let rise_db = [11.0, 15.0, 22.0][(turn + at + shop) % 3];
                let bands = [first_band, first_band + 1.0, first_band + 2.0].map(third_octave_hz);
                let clip_of = |air: Air| {
                    let of = case.clips.iter().find(|clip| clip.truth.opening.name() == name && clip.truth.air == air);
                    &of.expect("a clip").clip
                };
                let sounds: Vec<ClipFeatures> = case
                    .clips
                    .iter()
                    .map(|clip| {
                        let own = clip.clip.samples();
                        let is_it = clip.truth.opening.name() == name && clip.truth.air == Air::On;
                        let quiet = clip_of(Air::Off).samples();
                        let samples = if is_it {
                            raised(own, quiet, clip.clip.rate(), &bands, rise_db, seed)
                        } else {
                            own.to_vec()
                        };
                        sound(&samples, clip.clip.rate())
                    })
                    .collect();
                let ranking = ranked(&case, &sounds);
                let what = format!("shop {seed}, {name}, {rise_db} dB from band {first_band}: {ranking:?}");
                assert_ne!(ranking.call, Call::NoneHeard, "{what}");
                let on_top = ranking.openings[0].opening.name() == name;
                assert!(on_top || ranking.call == Call::CannotTell, "{what}");
            }
        }
    }
}

/// A hiss that begins with one air clip and does not follow the valve: the pulsed clip of that opening has no steps.
#[test]
fn a_pulsed_clip_without_steps_never_raises_its_opening() {
    for &(seed, kinds) in &SHOPS {
        for name in OPENINGS {
            for over_noise_db in [-12.0, -6.0, 0.0] {
                let foreign = ExtraSound {
                    opening: opening(name),
                    airs: vec![Air::On],
                    over_noise: LevelDiff(over_noise_db),
                    kind: ExtraKind::AirTool,
                };
                let case = tight(seed, kinds, Practice::OffAndOnThenPulsed, vec![foreign]);
                let sounds = changed(&case, |_, samples| samples.to_vec());
                let mut openings = heard(&case, &sounds);
                // Only this opening has a pulsed clip.
                openings.iter_mut().filter(|heard| heard.opening.name() != name).for_each(|heard| heard.pulsed.clear());
                let with = rank(None, &openings);
                openings.iter_mut().for_each(|heard: &mut OpeningClips<'_>| heard.pulsed.clear());
                let without = rank(None, &openings);
                sane(&with);
                sane(&without);
                let (before, after) = (probability(&without, name), probability(&with, name));
                assert!(
                    after <= before + 1e-3,
                    "shop {seed}, {name} at {over_noise_db} dB: {before} became {after}: {with:?}"
                );
            }
        }
    }
}

/// Each clip once more, from a hair later on: nothing new is said, so what is wrong may not become surer.
#[test]
fn the_same_evidence_twice_never_makes_a_wrong_call_surer() {
    for &(seed, kinds) in &SHOPS {
        for name in OPENINGS {
            for over_noise_db in [-15.0, -10.0, -6.0] {
                let foreign = ExtraSound {
                    opening: opening(name),
                    airs: vec![Air::On],
                    over_noise: LevelDiff(over_noise_db),
                    kind: ExtraKind::AirTool,
                };
                let case = tight(seed, kinds, Practice::OffAndOn, vec![foreign]);
                let once = changed(&case, |_, samples| samples.to_vec());
                let again = changed(&case, |_, samples| samples[333..].iter().map(|x| x * 0.99).collect());
                let mut openings = heard(&case, &once);
                let before = rank(None, &openings);
                for (twice, repeated) in openings.iter_mut().zip(heard(&case, &again)) {
                    twice.quiet.extend(repeated.quiet);
                    twice.air.extend(repeated.air);
                }
                let after = rank(None, &openings);
                sane(&after);
                // Nothing leaks: every call is a wrong one.
                let what = format!("shop {seed}, hiss at {name} at {over_noise_db} dB: {before:?}\nbecame {after:?}");
                if matches!(after.call, Call::Located | Call::Shared) {
                    assert_eq!(before.call, after.call, "{what}");
                    let called = after.openings[0].opening.name();
                    let (was, is) = (probability(&before, called), probability(&after, called));
                    assert!(is <= was + 0.01, "{called} {was} became {is}: {what}");
                }
            }
        }
    }
}
