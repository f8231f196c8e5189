//! More hiss, and no hiss at all.

use hissward::opening::Air;
use hissward::ranking::Call;
use hissward::simulate::{CaseClip, Dice};

use crate::clips::{CASES, SOUNDS, names, ranked, sound};

/// A hiss of its own for one opening, rising with frequency as a jet's low flank does, in steps of 6 dB. It never
/// lowers the opening's place.
#[test]
fn more_hiss_at_an_opening_never_lowers_its_place() {
    for (number, case) in CASES.iter().enumerate() {
        for opening in ["intake", "exhaust", "oil-filler"] {
            let mut place = usize::MAX;
            for step in 0..7 {
                let level_db = -56.0 + 6.0 * f64::from(step);
                let mut sounds = SOUNDS[number].clone();
                for (at, clip) in case.clips.iter().enumerate() {
                    if clip.truth.opening.name() == opening && clip.truth.air == Air::On {
                        let samples = clip.clip.samples();
                        let hiss = hiss(level_db, samples.len(), at as u64);
                        let both: Vec<f32> = samples.iter().zip(&hiss).map(|(x, hiss)| x + hiss).collect();
                        sounds[at] = sound(&both, clip.clip.rate());
                    }
                }
                let ranking = ranked(case, &sounds);
                let now = names(&ranking).iter().position(|name| *name == opening).expect("it was heard at");
                assert!(
                    now <= place,
                    "case {number}, {opening}: place {now} after {place} at {level_db} dB: {ranking:?}"
                );
                place = now;
            }
            // At the end it is louder than any leak of the case.
            assert_eq!(place, 0, "case {number}, {opening}");
        }
    }
}

/// White noise, differentiated: it rises as a jet's low flank does. Its level is that of the whole, dB FS.
fn hiss(level_db: f64, samples: usize, seed: u64) -> Vec<f32> {
    let mut dice = Dice::seeded(77 + seed);
    // The difference of two independent values has twice their variance.
    let amplitude = 10f64.powf(level_db / 20.0) / std::f64::consts::SQRT_2;
    let mut last = dice.normal();
    (0..samples)
        .map(|_| {
            let next = dice.normal();
            let step = next - last;
            last = next;
            (amplitude * step) as f32
        })
        .collect()
}

/// Every opening's air clips held against themselves as quiet ones, and the other way round.
#[test]
fn a_clip_held_against_itself_is_never_located() {
    for (number, case) in CASES.iter().enumerate() {
        for kept in [Air::Off, Air::On] {
            let twin = |clip: &CaseClip| {
                let of = |other: &CaseClip| (other.truth.opening.clone(), other.truth.take);
                let same = |other: &CaseClip| other.truth.air == kept && of(other) == of(clip);
                let at = case.clips.iter().position(same).expect("its twin");
                SOUNDS[number][at].clone()
            };
            let sounds: Vec<_> = case.clips.iter().map(twin).collect();
            let ranking = ranked(case, &sounds);
            assert!(!matches!(ranking.call, Call::Located | Call::Shared), "case {number}: {ranking:?}");
            let told = |opening: &hissward::ranking::OpeningResult| {
                opening.caveats.iter().any(|caveat| caveat.code == "same-recording")
            };
            assert!(ranking.openings.iter().all(told), "case {number}: {ranking:?}");
        }
    }
}
