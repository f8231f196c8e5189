//! Sound that no engine makes: whatever comes, probabilities are probabilities.

use hissward::ranking::{Call, OpeningClips, rank};
use hissward::simulate::Dice;
use hissward::units::Hertz;
use proptest::prelude::*;

use crate::clips::{few, sane, sound};

/// Kinds of sound, from nothing to the largest sample that is taken.
const KINDS: [&str; 9] =
    ["silence", "impulse", "square", "constant", "last-bit", "noise", "half-silent", "huge-noise", "tone"];

/// Rates that recorders have, from telephones to the highest.
const RATES_HZ: [f64; 10] =
    [8_000.0, 11_025.0, 16_000.0, 22_050.0, 32_000.0, 32_768.0, 44_100.0, 48_000.0, 96_000.0, 192_000.0];

fn made(kind: &str, seed: u64, rate: Hertz) -> Vec<f32> {
    let samples = (rate.0 * 1.2) as usize;
    let mut dice = Dice::seeded(seed);
    let mut noise = |amplitude: f64| (0..samples).map(|_| (amplitude * dice.normal()) as f32).collect::<Vec<_>>();
    match kind {
        "silence" => vec![0.0; samples],
        "impulse" => (0..samples).map(|n| if n == samples / 3 { 1.0 } else { 0.0 }).collect(),
        "square" => {
            (0..samples).map(|n| if (n / (8 + seed as usize % 90)).is_multiple_of(2) { 1.0 } else { -1.0 }).collect()
        }
        "constant" => vec![0.25; samples],
        "last-bit" => noise(1.0).iter().map(|x| x.clamp(-1.0, 1.0).round() / 32_768.0).collect(),
        "noise" => noise(0.01),
        "half-silent" => {
            noise(0.01).into_iter().enumerate().map(|(n, x)| if n < samples / 2 { 0.0 } else { x }).collect()
        }
        "huge-noise" => noise(1e9),
        _ => (0..samples).map(|n| (std::f64::consts::TAU * 5_000.0 * n as f64 / rate.0).sin() as f32 / 2.0).collect(),
    }
}

proptest! {
    #![proptest_config(few(120))]

    #[test]
    fn whatever_comes_probabilities_are_probabilities(
        kinds in prop::array::uniform6(0..KINDS.len()),
        rates in prop::array::uniform6(prop_oneof![prop::sample::select(RATES_HZ.to_vec()), 8_000.0..192_000.0]),
        alike in any::<bool>(),
        pulsed in any::<bool>(),
    ) {
        let sounds: Vec<_> = (1..)
            .zip(kinds)
            .zip(rates)
            .map(|((seed, kind), rate)| {
                let rate = Hertz(if alike { rates[0] } else { rate });
                sound(&made(KINDS[kind], seed, rate), rate)
            })
            .collect();
        let heard: Vec<OpeningClips<'_>> = ["intake", "exhaust", "oil-filler"]
            .into_iter()
            .zip(sounds.chunks(2))
            .map(|(opening, pair)| OpeningClips {
                quiet: vec![&pair[0]],
                air: vec![&pair[1]],
                pulsed: if pulsed { vec![&pair[1]] } else { Vec::new() },
                ..OpeningClips::at(opening.parse().expect("an opening"))
            })
            .collect();
        sane(&rank(None, &heard));
    }
}

/// Clips without any sound in them locate nothing; digital silence cannot even tell that nothing is heard.
#[test]
fn nothing_is_located_in_silence() {
    for kind in ["silence", "constant"] {
        let still = sound(&made(kind, 1, Hertz(48_000.0)), Hertz(48_000.0));
        let opening = |name: &str| OpeningClips {
            quiet: vec![&still],
            air: vec![&still],
            ..OpeningClips::at(name.parse().expect("an opening"))
        };
        let ranking = rank(None, &[opening("intake"), opening("exhaust")]);
        sane(&ranking);
        assert!(!matches!(ranking.call, Call::Located | Call::Shared), "{kind}: {ranking:?}");
        assert!(kind != "silence" || ranking.call == Call::CannotTell, "{kind}: {ranking:?}");
    }
}

#[test]
fn without_any_clip_nothing_is_ranked() {
    let ranking = rank(None, &[]);
    sane(&ranking);
    assert_eq!(ranking.call, Call::CannotTell);
}
