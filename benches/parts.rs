//! `cargo bench --bench parts`: the parts of a ranking by themselves, for whoever works on one of them.

use divan::Bencher;
use hissward::hiss::{ClipAnalyzer, ClipFeatures, Floor, Grid, Recorded, contrast, cut_off};
use hissward::opening::Air;
use hissward::ranking::{OpeningClips, rank};
use hissward::simulate::{CaseOptions, Dice, NoiseKind, NoiseMix};
use hissward::spectrum::{FrameSpectra, quantile_over_mean};
use hissward::units::Hertz;

fn main() {
    divan::main();
}

const RATE: Hertz = Hertz(48_000.0);

/// A clip's length of noise.
fn noise() -> Vec<f32> {
    let mut state = 1_u32;
    let mut next = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 8) as f32 / (1 << 24) as f32 * 0.02 - 0.01
    };
    (0..288_000).map(|_| next()).collect()
}

fn heard_by(samples: &[f32]) -> ClipFeatures {
    let mut listener = ClipAnalyzer::new("noise", RATE);
    listener.push(samples);
    listener.into_sound()
}

#[divan::bench]
fn spectra_of_six_seconds(bencher: Bencher<'_, '_>) {
    let samples = noise();
    bencher.bench_local(|| {
        let mut frames = 0;
        FrameSpectra::new(2048).push(&samples, |_| frames += 1);
        frames
    });
}

#[divan::bench]
fn listening_to_six_seconds(bencher: Bencher<'_, '_>) {
    let samples = noise();
    bencher.bench_local(|| heard_by(&samples));
}

#[divan::bench]
fn grid() -> Grid {
    Grid::new(RATE)
}

#[divan::bench]
fn quantile() -> f64 {
    quantile_over_mean(divan::black_box(&[2.0, 12.5, 40.0, 77.0]), 0.05)
}

#[divan::bench]
fn floor(bencher: Bencher<'_, '_>) {
    let sound = heard_by(&noise());
    bencher.bench_local(|| Floor::of(&sound));
}

#[divan::bench]
fn cut_off_of_noise(bencher: Bencher<'_, '_>) {
    let sound = heard_by(&noise());
    let (density, bin_hz) = sound.density();
    bencher.bench_local(|| cut_off(density, bin_hz));
}

/// Three openings, off and on, in a fan's noise, listened to.
fn openings() -> Vec<(String, ClipFeatures, ClipFeatures)> {
    let shop = NoiseMix::of_kinds(&[NoiseKind::Fan], &mut Dice::seeded(1));
    let case = CaseOptions::default().render(&shop).expect("a case");
    let of = |opening: &hissward::opening::Opening, air: Air| {
        let clip = case.clips.iter().find(|clip| clip.truth.opening == *opening && clip.truth.air == air);
        heard_by(clip.expect("a clip").clip.samples())
    };
    let places = case.truth.openings.iter().map(|place| &place.opening);
    places.map(|opening| (opening.name().to_owned(), of(opening, Air::Off), of(opening, Air::On))).collect()
}

// A clip's floor is worked out once; each round gets clips whose floor nobody has asked for yet.
#[divan::bench]
fn contrasts_of_three_openings(bencher: Bencher<'_, '_>) {
    let fresh = openings();
    bencher.with_inputs(|| fresh.clone()).bench_local_refs(|openings| {
        let recorded: Vec<Recorded<'_>> = openings
            .iter()
            .map(|(_, quiet, air)| Recorded { quiet: vec![quiet], air: vec![air], ..Recorded::default() })
            .collect();
        contrast(&recorded)
    });
}

#[divan::bench]
fn rank_of_three_openings(bencher: Bencher<'_, '_>) {
    let fresh = openings();
    bencher.with_inputs(|| fresh.clone()).bench_local_refs(|openings| {
        let heard: Vec<OpeningClips<'_>> = openings
            .iter()
            .map(|(name, quiet, air)| OpeningClips {
                quiet: vec![quiet],
                air: vec![air],
                ..OpeningClips::at(name.parse().expect("an opening"))
            })
            .collect();
        rank(None, &heard)
    });
}
