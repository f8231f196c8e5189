//! What recorders do to sound, by real ones: WebRTC's processing and RNNoise (fixtures/audio/chains), lossy files.

use std::path::{Path, PathBuf};

use hissward::audio::ChannelChoice;
use hissward::hiss::{ClipAnalyzer, ClipFeatures, Processing, Suppression};
use hissward::opening::Air;
use hissward::pipeline::{LooseClip, listen_to, rank_loose};
use hissward::ranking::{Call, Ranking};
use hissward::simulate::{Dice, NoiseKind};
use hissward::units::{Hertz, Seconds};

fn fixture(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/audio").join(name)
}

/// The clips of a chain: quiet, at the intake, where it leaks, and at the exhaust.
fn clips(chain: &str) -> Vec<ClipFeatures> {
    let name = |place: &str| fixture(&format!("chains/{chain}-{place}.flac"));
    ["quiet", "intake", "exhaust"]
        .map(|place| listen_to(&name(place), ChannelChoice::First).expect("a clip").sound)
        .to_vec()
}

fn processing(chain: &str) -> Processing {
    Processing::of(&clips(chain).iter().collect::<Vec<_>>())
}

/// The ranking of a chain's clips; the air clip of the intake may be another file.
fn ranked(chain: &str, intake: &str) -> Ranking {
    let clip = |opening: Option<&str>, air: Air, name: &str| LooseClip {
        opening: opening.map(|name| name.parse().expect("an opening")),
        air,
        file: fixture(&format!("chains/{chain}-{name}.flac")),
    };
    let clips = [
        clip(None, Air::Off, "quiet"),
        clip(Some("intake"), Air::On, intake),
        clip(Some("exhaust"), Air::On, "exhaust"),
    ];
    rank_loose(&clips, ChannelChoice::First).expect("a ranking")
}

fn codes(ranking: &Ranking) -> Vec<&'static str> {
    ranking.caveats.iter().map(|caveat| caveat.code).collect()
}

#[test]
fn each_chain_is_named_and_raw_sound_is_not() {
    assert_eq!(processing("raw"), Processing::default());
    assert_eq!(processing("suppression").suppression, Some(Suppression::Eaten));
    assert!(matches!(processing("rnnoise").suppression, Some(Suppression::ShutOff { share }) if share > 0.05));
    let gain = processing("gain-begins");
    assert!(gain.suppression.is_none() && gain.gain.is_some_and(|fall| fall.0 > 5.0), "{gain:?}");
}

#[test]
fn simulated_shops_are_no_recorders_doing() {
    let mut named = Vec::new();
    for (kind, seed) in NoiseKind::ALL.into_iter().zip(9_000..) {
        let noise =
            kind.draw(&mut Dice::seeded(seed)).render(&mut Dice::seeded(seed + 100), Seconds(6.0), Hertz(48_000.0));
        let mut dice = Dice::seeded(seed + 200);
        let loudest = noise.iter().fold(1e-9f32, |most, x| most.max(x.abs()));
        let mut listener = ClipAnalyzer::new(kind.name(), Hertz(48_000.0));
        // Half of full scale, and the microphone's own noise of −90 dB FS.
        let samples: Vec<f32> = noise.iter().map(|x| 0.5 * x / loudest + 3.2e-5 * dice.normal() as f32).collect();
        listener.push(&samples);
        let found = Processing::of(&[&listener.into_sound()]);
        if found != Processing::default() {
            named.push((kind.name(), found));
        }
    }
    assert!(named.is_empty(), "{named:?}");
}

/// A soft limiter as recorders have it: the gain falls at once where a peak would pass the ceiling, and comes back slowly.
#[test]
fn a_limiter_is_named_and_steady_noise_is_not_one() {
    let mut dice = Dice::seeded(9_400);
    let noise: Vec<f32> = (0..48_000 * 4).map(|_| 0.2 * dice.normal() as f32).collect();
    let mut gain = 1.0f32;
    let limited: Vec<f32> = noise
        .iter()
        .map(|x| {
            gain = (gain * 1.0002).min(0.4 / x.abs().max(0.4)).min(1.0);
            x * gain
        })
        .collect();
    let of = |samples: &[f32]| {
        let mut listener = ClipAnalyzer::new("clip", Hertz(48_000.0));
        listener.push(samples);
        Processing::of(&[&listener.into_sound()]).limiter
    };
    assert_eq!(of(&noise), None);
    assert!(of(&limited).is_some_and(|share| share > 0.1), "{:?}", of(&limited));
    let tone: Vec<f32> = (0..96_000).map(|at| (0.3 * at as f32).sin()).collect();
    assert_eq!(of(&tone), None, "a whistle has one height by itself");
}

#[test]
fn none_heard_is_never_said_through_suppression() {
    // The same clip again at the intake: nothing rises, and raw sound says so.
    for (chain, code) in [("suppression", "suppression-eaten"), ("rnnoise", "suppression-shut-off")] {
        let ranking = ranked(chain, "exhaust");
        assert_eq!(ranking.call, Call::CannotTell, "{chain}: {ranking:?}");
        assert!(codes(&ranking).contains(&code), "{chain}: {:?}", codes(&ranking));
        assert!(ranking.tight_probability + ranking.elsewhere_probability <= 0.5 + 1e-9, "{chain}: {ranking:?}");
    }
    // RNNoise has eaten a hiss as loud as the shop: no opening is named, none is cleared.
    assert_eq!(ranked("rnnoise", "intake").call, Call::CannotTell);
}

#[test]
fn a_leak_through_suppression_is_named_where_it_is_or_not_at_all() {
    for chain in ["raw", "suppression", "gain-begins", "rnnoise"] {
        let ranking = ranked(chain, "intake");
        if matches!(ranking.call, Call::Located | Call::Shared) {
            assert_eq!(ranking.openings[0].opening.name(), "intake", "{chain}");
        }
    }
}

#[test]
fn a_lossy_file_names_its_coding() {
    for (file, coding) in [("noise-aac.m4a", "aac"), ("noise.opus", "opus"), ("noise-128k.mp3", "mp3")] {
        let sound = listen_to(&fixture(file), ChannelChoice::First).expect("a clip").sound;
        let found = Processing::of(&[&sound]).coding.unwrap_or_default();
        assert!(found.to_lowercase().contains(coding), "{file}: {found}");
    }
    let sound = listen_to(&fixture("noise.wav"), ChannelChoice::First).expect("a clip").sound;
    assert_eq!(Processing::of(&[&sound]).coding, None);
}

#[test]
fn how_sound_is_cut_into_blocks_makes_no_difference() {
    let samples: Vec<f32> =
        (0..60_000u32).map(|at| (at.wrapping_mul(2_654_435_761) >> 16) as f32 / 65_536.0 - 0.5).collect();
    let digest = |blocks: &[usize]| {
        let mut listener = ClipAnalyzer::new("clip", Hertz(48_000.0));
        let (mut from, mut sizes) = (0, blocks.iter().cycle());
        while from < samples.len() {
            let to = (from + sizes.next().expect("a size")).min(samples.len());
            listener.push(&samples[from..to]);
            from = to;
        }
        listener.sound().digest()
    };
    let whole = digest(&[samples.len()]);
    for blocks in [&[4096][..], &[1152], &[1, 7, 300, 5000]] {
        assert_eq!(digest(blocks), whole, "{blocks:?}");
    }
    let mut listener = ClipAnalyzer::new("clip", Hertz(48_000.0));
    listener.push(&samples[1..]);
    assert_ne!(listener.sound().digest(), whole, "another recording");
}
