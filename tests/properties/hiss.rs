//! More hiss, and no hiss at all.

use hissward::opening::Air;
use hissward::ranking::Call;
use hissward::simulate::Dice;

use crate::clips::{CASES, changed, names, ranked};

/// A hiss of its own for one opening, rising by 6 dB a step (6 dB an octave), in steps of 4 dB. It never lowers the
/// opening's place.
#[test]
fn more_hiss_at_an_opening_never_lowers_its_place() {
    for (number, case) in CASES.iter().enumerate() {
        for opening in ["intake", "exhaust", "oil-filler"] {
            let mut place = usize::MAX;
            let mut probability = 0.0;
            for step in 0..6 {
                let level_db = -56.0 + 6.0 * f64::from(step);
                let sounds = changed(case, |at, samples| {
                    let truth = &case.clips[at].truth;
                    if truth.opening.name() != opening || truth.air == Air::Off {
                        return samples.to_vec();
                    }
                    let hiss = hiss(level_db, samples.len(), at as u64);
                    samples.iter().zip(&hiss).map(|(x, hiss)| x + hiss).collect()
                });
                let ranking = ranked(case, &sounds);
                let now = names(&ranking).iter().position(|name| *name == opening).expect("it was heard at");
                assert!(
                    now <= place,
                    "case {number}, {opening}: place {now} after {place} at {level_db} dB: {ranking:?}"
                );
                place = now;
                probability = ranking.openings[now].probability;
            }
            assert!(place == 0 && probability > 0.5, "case {number}, {opening}: place {place}, {probability}");
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
            let twin = |at: usize| {
                let truth = &case.clips[at].truth;
                let same = |other: &hissward::simulate::CaseClip| {
                    other.truth.opening == truth.opening && other.truth.air == kept && other.truth.take == truth.take
                };
                case.clips.iter().find(|other| same(other)).expect("its twin").clip.samples().to_vec()
            };
            let ranking = ranked(case, &changed(case, |at, _| twin(at)));
            assert!(!matches!(ranking.call, Call::Located | Call::Shared), "case {number}: {ranking:?}");
            let told = |opening: &hissward::ranking::OpeningResult| {
                opening.caveats.iter().any(|caveat| caveat.code == "same-recording")
            };
            assert!(ranking.openings.iter().all(told), "case {number}: {ranking:?}");
        }
    }
}
