//! The simulation against its sources, its promises and its own demo folder.

mod command;
mod shop;

use std::fs;
use std::path::{Path, PathBuf};

use hissward::opening::{Air, Opening};
use hissward::simulate::{
    Case, CaseOptions, Dice, Jet, Leak, Microphone, NoiseKind, NoiseMix, NoiseSource, Practice, SimulateError,
};
use hissward::units::{Hertz, Level, LevelDiff, Seconds};

const RATE: Hertz = Hertz(48_000.0);
/// Edges of the third-octave bands from 1 to 16 kHz, IEC 61260-1:2014 exact values.
const BAND_HZ: (f64, f64) = (891.251, 17_782.794);

/// Mean square between two frequencies, by one Fourier transform of all samples: an independent second way.
fn power_between(samples: &[f32], low_hz: f64, high_hz: f64) -> f64 {
    let count = samples.len();
    let mut input: Vec<f64> = samples.iter().map(|&x| f64::from(x)).collect();
    let transform = realfft::RealFftPlanner::<f64>::new().plan_fft_forward(count);
    let mut spectrum = transform.make_output_vec();
    transform.process(&mut input, &mut spectrum).expect("lengths agree");
    let per_bin_hz = RATE.0 / count as f64;
    let inside =
        |&(k, _): &(usize, &realfft::num_complex::Complex<f64>)| (low_hz..high_hz).contains(&(k as f64 * per_bin_hz));
    spectrum.iter().enumerate().filter(inside).map(|(_, x)| 2.0 * x.norm_sqr()).sum::<f64>() / (count as f64).powi(2)
}

fn band_level(samples: &[f32]) -> f64 {
    10.0 * power_between(samples, BAND_HZ.0, BAND_HZ.1).log10()
}

fn opening(name: &str) -> Opening {
    name.parse().expect("an opening")
}

fn leak(name: &str, hiss_to_noise_db: f64) -> Leak {
    Leak { opening: opening(name), hiss_to_noise: LevelDiff(hiss_to_noise_db) }
}

fn fan() -> Box<dyn NoiseSource> {
    NoiseKind::Fan.draw(&mut Dice::seeded(3))
}

fn samples<'a>(case: &'a Case, name: &str, air: Air) -> &'a [f32] {
    let found = case.clips.iter().find(|clip| clip.truth.opening.name() == name && clip.truth.air == air);
    found.expect("the clip was made").clip.samples()
}

// --- the jet ---

#[test]
fn the_jets_formula_gives_the_published_band_levels() {
    // IEC 60534-8-3, Eq. 19, reckoned by hand: f/fp and dB.
    let table =
        [(0.125, -18.63), (0.25, -14.31), (0.5, -11.14), (1.0, -9.87), (2.0, -11.40), (4.0, -16.36), (8.0, -23.22)];
    let jet = Jet::of_hole_mm(2.0);
    for (ratio, db) in table {
        let got = jet.band_db(Hertz(ratio * jet.peak().0));
        assert!((got - db).abs() < 0.005, "f/fp {ratio}: {got} for {db}");
    }
}

#[test]
fn the_jets_peak_lies_where_the_strouhal_number_puts_it() {
    // Strouhal number 0.2 (IEC 60534-8-3:2010, Table 4) with the throat speed at 20 °C, 313.33 m/s, rounded to half a kilohertz.
    for (hole_mm, peak_khz, rounding_khz) in
        [(0.5, 125.0, 0.5), (1.0, 63.0, 0.5), (2.0, 31.0, 0.5), (3.0, 21.0, 0.5), (5.0, 12.5, 0.05)]
    {
        let got_khz = Jet::of_hole_mm(hole_mm).peak().0 / 1000.0;
        assert!((got_khz - peak_khz).abs() <= rounding_khz, "{hole_mm} mm: {got_khz} kHz");
    }
}

#[test]
fn rendered_hiss_has_the_published_shape() {
    // 30 s: a third-octave band at 125 Hz has BT = 864, 0.15 dB (standard deviation); four of these and 0.3 dB of ripple.
    let length = Seconds(30.0);
    for hole_mm in [1.0, 3.0, 5.0, 12.0] {
        let jet = Jet::of_hole_mm(hole_mm);
        let hiss = jet.render(&mut Dice::seeded(11), length, RATE);
        for x in -9..=13 {
            let middle_hz = 1000.0 * 10f64.powf(f64::from(x) / 10.0);
            let (low_hz, high_hz) = (middle_hz * 10f64.powf(-0.05), middle_hz * 10f64.powf(0.05));
            let got_db = 10.0 * power_between(&hiss, low_hz, high_hz).log10();
            let statistics_db = 4.0 * 4.343 / ((high_hz - low_hz) * length.0).sqrt();
            let off_db = got_db - jet.band_db(Hertz(middle_hz));
            assert!(off_db.abs() < 0.3 + statistics_db, "{hole_mm} mm at {middle_hz:.0} Hz: {off_db:+.2} dB off");
        }
    }
}

// --- levels and ratios ---

/// No drift, no scatter, a flat microphone: levels can be read off.
fn plain(leaks: Vec<Leak>) -> CaseOptions {
    CaseOptions {
        seed: 5,
        leaks,
        floor_drift_sd: LevelDiff(0.0),
        placement_sd: LevelDiff(0.0),
        microphone: Microphone::flat(),
        ..CaseOptions::default()
    }
}

#[test]
fn hiss_stands_over_noise_as_asked() {
    for name in ["intake", "exhaust", "oil-filler"] {
        let case = plain(vec![leak(name, 12.0)]).render(fan().as_ref()).expect("a case");
        let [air, quiet] =
            [Air::On, Air::Off].map(|air| power_between(samples(&case, name, air), BAND_HZ.0, BAND_HZ.1));
        let got_db = 10.0 * ((air - quiet) / quiet).log10();
        // Noise of a fan wanders by 0.4 dB and is one sixteenth of the hiss; the clip's statistics are 0.02 dB.
        assert!((got_db - 12.0).abs() < 0.5, "{name}: {got_db:.2} dB");
        let level_db = 10.0 * (air - quiet).log10();
        let truth_db = case.truth.leaks[0].hiss.0;
        assert!((level_db - truth_db).abs() < 0.2, "{name}: {level_db:.2} dB FS for {truth_db:.2}");
    }
}

#[test]
fn noise_has_the_level_asked_for_at_the_loudest_opening() {
    let options = CaseOptions { noise: Level(-50.0), ..plain(vec![leak("exhaust", -60.0)]) };
    let case = options.render(fan().as_ref()).expect("a case");
    let mean = [Air::On, Air::Off].map(|air| power_between(samples(&case, "exhaust", air), BAND_HZ.0, BAND_HZ.1));
    let got_db = 10.0 * ((mean[0] + mean[1]) / 2.0).log10();
    assert!((got_db + 50.0).abs() < 0.1, "{got_db}");
    for clip in &case.clips {
        let off_db = band_level(clip.clip.samples()) - clip.truth.noise.0;
        assert!(off_db.abs() < 0.1, "{}: {off_db} dB beside the truth", clip.clip.name());
    }
}

#[test]
fn spill_is_softer_and_duller_than_its_leak() {
    let tilt = |samples: &[f32]| {
        10.0 * (power_between(samples, 8000.0, 14_000.0) / power_between(samples, 1000.0, 2000.0)).log10()
    };
    for seed in 1..=5 {
        let options = CaseOptions { seed, noise: Level(-85.0), ..plain(vec![leak("intake", 50.0)]) };
        let case = options.render(fan().as_ref()).expect("a case");
        let own_tilt_db = tilt(samples(&case, "intake", Air::On));
        for name in ["exhaust", "oil-filler"] {
            let spill = samples(&case, name, Air::On);
            let below_db = band_level(spill) - case.truth.leaks[0].hiss.0;
            assert!((-25.3..=-9.7).contains(&below_db), "seed {seed}, {name}: {below_db} dB");
            assert!(tilt(spill) < own_tilt_db - 6.0, "seed {seed}, {name} is dull");
        }
    }
}

#[test]
fn drift_and_scatter_have_the_spread_promised() {
    let (mut drifts, mut placements) = (Vec::new(), Vec::new());
    for seed in 0..120 {
        let options = CaseOptions { seed, length: Some(Seconds(0.2)), ..CaseOptions::default() };
        let case = options.render(fan().as_ref()).expect("a case");
        for clip in case.clips {
            placements.push(clip.truth.placement.0);
            if clip.truth.air == Air::On {
                drifts.push(clip.truth.drift.0);
            } else {
                assert_eq!(clip.truth.drift, LevelDiff(0.0), "the quiet clip is where drift is counted from");
            }
        }
    }
    let sd = |values: &[f64]| (values.iter().map(|x| x * x).sum::<f64>() / values.len() as f64).sqrt();
    // Four standard errors, σ/√(2n), of 360 drifts and 720 placements.
    assert!((sd(&drifts) - 1.0).abs() < 0.15, "{}", sd(&drifts));
    assert!((sd(&placements) - 2.0).abs() < 0.21, "{}", sd(&placements));
}

#[test]
fn pulsed_air_is_heard_where_the_valve_is_open() {
    let options = CaseOptions { practice: Practice::Pulsed, ..plain(vec![leak("intake", 15.0)]) };
    let case = options.render(fan().as_ref()).expect("a case");
    assert_eq!(case.clips.len(), 3);
    let clip = &case.clips[0];
    assert_eq!(clip.truth.length, Seconds(12.0));
    let valve = clip.truth.valve.as_ref().expect("a pulsed clip has a valve");
    let piece = |from_s: f64| &clip.clip.samples()[(from_s * RATE.0) as usize..((from_s + 0.3) * RATE.0) as usize];
    for pair in valve.edges.windows(2) {
        let middle_s = (pair[0].0 + pair[1].0) / 2.0;
        let over_db = band_level(piece(middle_s - 0.15)) - case.truth.noise.0;
        if valve.is_open(Seconds(middle_s)) {
            assert!((over_db - 15.1).abs() < 1.5, "open at {middle_s:.2} s: {over_db:.1} dB over the noise");
        } else {
            assert!(over_db.abs() < 2.5, "shut at {middle_s:.2} s: {over_db:.1} dB over the noise");
        }
    }
}

#[test]
fn clips_are_made_in_counterbalanced_order() {
    let options = CaseOptions { length: Some(Seconds(0.2)), ..CaseOptions::default() };
    let case = options.render(fan().as_ref()).expect("a case");
    let order: Vec<&str> = case.clips.iter().map(|clip| clip.truth.air.name()).collect();
    assert_eq!(order, ["off", "on", "on", "off", "off", "on"]);
}

// --- determinism ---

#[test]
fn one_seed_makes_one_case_and_another_another() {
    let make = |seed| {
        let shop = NoiseMix::of_kinds(&NoiseKind::ALL, &mut Dice::seeded(seed));
        CaseOptions { seed, length: Some(Seconds(1.0)), ..CaseOptions::default() }.render(&shop).expect("a case")
    };
    assert_eq!(make(8), make(8));
    assert_ne!(make(8).clips[0].clip, make(9).clips[0].clip);
}

#[test]
fn a_leak_changes_nothing_in_quiet_clips() {
    let tight = plain(Vec::new()).render(fan().as_ref()).expect("a case");
    let leaking = plain(vec![leak("intake", 0.0)]).render(fan().as_ref()).expect("a case");
    // The noise's level is set at another opening; its shape stays.
    let [one, other] = [&tight, &leaking].map(|case| samples(case, "exhaust", Air::Off));
    let ratio = band_level(one) - band_level(other);
    let scaled = 10f64.powf(ratio / 20.0);
    let apart = one.iter().zip(other).map(|(a, b)| (f64::from(*a) - scaled * f64::from(*b)).abs()).fold(0.0, f64::max);
    assert!(apart < 3.0 / 32_768.0, "{apart}");
}

/// Calls whose last bit depends on the machine; `exact` has its own.
const INEXACT: [&str; 11] = [
    ".sin()",
    ".cos()",
    ".tan()",
    ".exp()",
    ".ln()",
    ".log10()",
    ".log2()",
    ".powf(",
    ".exp2()",
    ".sin_cos()",
    ".mul_add(",
];

#[test]
fn simulation_uses_exact_arithmetic_only() {
    let mut files = Vec::new();
    sources(&PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/simulate"), &mut files);
    assert!(files.len() > 20);
    for file in files {
        let text = fs::read_to_string(&file).expect("source is UTF-8");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        for call in INEXACT {
            assert!(!code.contains(call), "{}: {call} differs between machines, use `exact`", file.display());
        }
    }
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a source folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else {
            found.push(path);
        }
    }
}

// --- kinds of noise ---

/// Levels from 1 to 16 kHz of successive pieces, dB.
fn short_levels(samples: &[f32], piece_s: f64) -> Vec<f64> {
    samples.chunks_exact((piece_s * RATE.0) as usize).map(band_level).collect()
}

fn spread(levels: &[f64]) -> f64 {
    let mean = levels.iter().sum::<f64>() / levels.len() as f64;
    (levels.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / levels.len() as f64).sqrt()
}

#[test]
fn every_kind_has_its_level_and_never_repeats_itself() {
    for kind in NoiseKind::ALL {
        let mut powers = Vec::new();
        for seed in 100..116 {
            let mut dice = Dice::seeded(seed);
            let source = kind.draw(&mut dice);
            let [one, other] = [0, 1].map(|_| source.render(&mut dice, Seconds(6.0), RATE));
            assert_eq!(one.len(), 288_000);
            assert!(one.iter().chain(&other).all(|x| x.is_finite()), "{kind}");
            assert_ne!(one, other, "{kind}");
            powers.extend([one, other].map(|stretch| power_between(&stretch, BAND_HZ.0, BAND_HZ.1)));
            let floor_db = 10.0 * powers.iter().copied().fold(f64::INFINITY, f64::min).log10();
            assert!(floor_db > -45.0, "{kind}: a shop is never silent: {floor_db}");
        }
        let mean_db = 10.0 * (powers.iter().sum::<f64>() / powers.len() as f64).log10();
        assert!(mean_db.abs() < 2.5, "{kind}: {mean_db:.1} dB");
    }
}

/// Spread of the levels of 0.1 s pieces, dB, over four machines of a kind.
fn restlessness(kind: NoiseKind) -> f64 {
    let spreads = (1..=4).map(|seed| {
        let mut dice = Dice::seeded(seed);
        let source = kind.draw(&mut dice);
        spread(&short_levels(&source.render(&mut dice, Seconds(12.0), RATE), 0.1))
    });
    spreads.sum::<f64>() / 4.0
}

#[test]
fn steady_kinds_are_steady_and_restless_ones_are_not() {
    for kind in [NoiseKind::Fan, NoiseKind::Rain] {
        assert!(restlessness(kind) < 2.0, "{kind}: {}", restlessness(kind));
    }
    for kind in [NoiseKind::Talk, NoiseKind::Hammering, NoiseKind::ImpactWrench, NoiseKind::BlowGun, NoiseKind::Grinder]
    {
        assert!(restlessness(kind) > 4.0, "{kind}: {}", restlessness(kind));
    }
}

#[test]
fn an_impact_wrench_strikes_some_twenty_times_a_second() {
    let mut dice = Dice::seeded(2);
    let wrench = NoiseKind::ImpactWrench.draw(&mut dice).render(&mut dice, Seconds(12.0), RATE);
    let loudness: Vec<f64> = short_levels(&wrench, 0.005).iter().map(|db| 10f64.powf(db / 20.0)).collect();
    let mean = loudness.iter().sum::<f64>() / loudness.len() as f64;
    // How well the loudness fits itself a lag later; 5 ms a step.
    let fit = |lag: usize| -> f64 { loudness.iter().zip(&loudness[lag..]).map(|(a, b)| (a - mean) * (b - mean)).sum() };
    let best = (5..20).max_by(|&a, &b| fit(a).total_cmp(&fit(b))).expect("lags");
    let blows_hz = 200.0 / best as f64;
    assert!((16.0..27.0).contains(&blows_hz), "{blows_hz} blows a second");
}

#[test]
fn a_blow_gun_starts_and_stops_within_clips() {
    let jumps = (1..=10).filter(|&seed| {
        let mut dice = Dice::seeded(seed);
        let gun = NoiseKind::BlowGun.draw(&mut dice).render(&mut dice, Seconds(6.0), RATE);
        short_levels(&gun, 0.1).windows(2).any(|pair| (pair[1] - pair[0]).abs() > 12.0)
    });
    assert!(jumps.count() >= 7);
}

// --- bad input ---

#[test]
fn contradictions_are_refused() {
    let with = |change: fn(&mut CaseOptions)| {
        let mut options = CaseOptions::default();
        change(&mut options);
        options.render(fan().as_ref()).expect_err("refused")
    };
    assert!(matches!(with(|o| o.leaks = vec![leak("rig", 0.0)]), SimulateError::Nowhere { .. }));
    assert!(matches!(with(|o| o.openings.clear()), SimulateError::Nothing));
    assert!(matches!(with(|o| o.takes = 0), SimulateError::Nothing));
    assert!(matches!(with(|o| o.length = Some(Seconds(f64::NAN))), SimulateError::Length { .. }));
    assert!(matches!(with(|o| o.rate = Hertz(1.0)), SimulateError::Clip(_)));
    struct Silence;
    impl NoiseSource for Silence {
        fn render(&self, _: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
            vec![0.0; (length.0 * rate.0) as usize]
        }
    }
    assert!(matches!(CaseOptions::default().render(&Silence), Err(SimulateError::SilentNoise)));
}
