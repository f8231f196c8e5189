//! Probabilities, bounds, and what must not move the ranking.

use hissward::ranking::{Call, HissReading};

use super::rendered::{plainly, ranked, sounds, steady, true_level};

#[test]
fn probabilities_add_up_to_one_and_are_never_nan() {
    for (seed, leak) in [(1, None), (2, Some(("exhaust", -12.0))), (3, Some(("intake", 8.0)))] {
        let ranking = plainly(&steady(seed, leak));
        let sum: f64 = ranking.openings.iter().map(|o| o.probability).sum::<f64>()
            + ranking.tight_probability
            + ranking.elsewhere_probability;
        assert!((sum - 1.0).abs() < 1e-9, "seed {seed}: {sum}");
    }
}

#[test]
fn the_same_clips_give_the_same_ranking() {
    let case = steady(11, Some(("oil-filler", 0.0)));
    assert_eq!(plainly(&case), plainly(&case));
}

#[test]
fn another_gain_moves_the_levels_and_not_the_ranking() {
    let case = steady(12, Some(("exhaust", 6.0)));
    let gain_db = -12.0;
    let factor = 10f32.powf(gain_db as f32 / 20.0);
    let (whole, quieter) = (plainly(&case), ranked(&case, &sounds(&case, |s| s.iter().map(|x| x * factor).collect())));
    assert_eq!(whole.call, quieter.call);
    for (a, b) in whole.openings.iter().zip(&quieter.openings) {
        assert_eq!(a.opening, b.opening);
        // 16-bit steps and single precision leave a thousandth.
        assert!((a.probability - b.probability).abs() < 1e-3, "{} and {}", a.probability, b.probability);
        assert!((b.at_most.0 - a.at_most.0 - gain_db).abs() < 0.05, "{} and {}", a.at_most, b.at_most);
    }
}

#[test]
fn played_backwards_it_ranks_the_same() {
    let case = steady(13, Some(("intake", 3.0)));
    let (forth, back) = (plainly(&case), ranked(&case, &sounds(&case, |s| s.iter().rev().copied().collect())));
    assert_eq!(forth.call, back.call);
    assert_eq!(forth.openings[0].opening, back.openings[0].opening);
}

#[test]
fn a_clip_held_against_itself_is_never_located() {
    let case = steady(14, Some(("exhaust", 10.0)));
    let mut all = sounds(&case, <[f32]>::to_vec);
    // Every quiet clip becomes the air clip of its opening.
    for at in 0..all.len() {
        let opening = &case.clips[at].truth.opening;
        let air =
            case.clips.iter().position(|c| c.truth.opening == *opening && c.truth.air != hissward::opening::Air::Off);
        all[at] = all[air.expect("an air clip")].clone();
    }
    let ranking = ranked(&case, &all);
    assert!(!matches!(ranking.call, Call::Located | Call::Shared), "{ranking:?}");
    assert!(ranking.openings.iter().all(|o| o.caveats.iter().any(|c| c.code == "same-recording")));
}

#[test]
fn bounds_and_intervals_hold_the_true_level() {
    let (mut bounds, mut held, mut heard, mut inside) = (0, 0, 0, 0);
    for seed in 200..240 {
        let case = steady(seed, Some(("intake", [-6.0, 0.0, 6.0, 12.0][seed as usize % 4])));
        for found in plainly(&case).openings {
            let Some(level) = true_level(&case, found.opening.name()) else { continue };
            bounds += 1;
            held += usize::from(level <= found.at_most);
            if let HissReading::Heard { low, high, .. } = found.hiss {
                heard += 1;
                inside += usize::from(low <= level && level <= high);
            }
        }
    }
    assert!(bounds >= 100 && heard >= 25, "{bounds} bounds, {heard} heard");
    // 95 % and 90 %, less what chance takes from so few.
    assert!(held as f64 >= 0.92 * bounds as f64, "{held} of {bounds} under their bound");
    assert!(inside as f64 >= 0.80 * heard as f64, "{inside} of {heard} in their interval");
}
