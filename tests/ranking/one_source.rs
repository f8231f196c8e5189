//! One source heard at several openings: a leak with its spill is located, the rig heard everywhere alike is not.

use hissward::opening::Air;
use hissward::ranking::{Call, Ranking};
use hissward::simulate::{Case, CaseOptions, Dice, ExtraKind, ExtraSound, Leak, NoiseKind, NoiseMix, Practice};
use hissward::units::LevelDiff;

use super::rendered::plainly;

const OPENINGS: [&str; 3] = ["intake", "exhaust", "oil-filler"];
/// Seeds that nothing was tuned on.
const SEEDS: std::ops::Range<u64> = 9_100..9_112;

fn case(seed: u64, change: impl FnOnce(&mut CaseOptions)) -> Case {
    let shop = NoiseMix::of_kinds(&[NoiseKind::Fan, NoiseKind::Traffic], &mut Dice::seeded(seed));
    let mut options = CaseOptions { seed, ..CaseOptions::default() };
    change(&mut options);
    options.render(&shop).expect("a case")
}

fn extra(opening: &str, airs: &[Air], over_noise_db: f64, kind: ExtraKind) -> ExtraSound {
    ExtraSound {
        opening: opening.parse().expect("an opening"),
        airs: airs.to_vec(),
        over_noise: LevelDiff(over_noise_db),
        kind,
    }
}

fn names(ranking: &Ranking, opening: &str) -> bool {
    ranking.call == Call::Located && ranking.openings[0].opening.name() == opening
}

#[test]
fn a_leak_whose_spill_is_heard_at_the_others_is_located() {
    let at = |seed: u64| OPENINGS[seed as usize % 3];
    let located = SEEDS.filter(|seed| {
        let ranking = plainly(&case(*seed, |options| {
            let leak = Leak { opening: at(*seed).parse().expect("an opening"), hiss_to_noise: LevelDiff(6.0) };
            options.leaks = vec![leak];
            options.spill = (LevelDiff(-13.0), LevelDiff(-11.0));
        }));
        assert!(!matches!(ranking.call, Call::Located | Call::Shared) || names(&ranking, at(*seed)), "{ranking:?}");
        names(&ranking, at(*seed))
    });
    let count = located.count();
    assert!(count >= 10, "located {count} of 12");
}

#[test]
fn a_rig_that_hisses_everywhere_is_never_taken_for_a_leak_at_one_of_them() {
    for seed in SEEDS {
        let ranking = plainly(&case(seed, |options| {
            let mut dice = Dice::seeded(seed);
            let at = |opening: &&str| extra(opening, &[Air::On], 6.0 + dice.between(-3.0, 3.0), ExtraKind::Rig);
            options.extras = OPENINGS.iter().map(at).collect();
        }));
        assert!(!matches!(ranking.call, Call::Located | Call::Shared), "seed {seed}: {ranking:?}");
        assert!(ranking.elsewhere_probability > 0.5, "seed {seed}: {ranking:?}");
    }
}

/// The remedy for a foreign hiss is pulsed air: a tool that hisses on through the pulsed clip as well never gets the opening named.
#[test]
fn a_tool_that_hisses_on_through_the_pulsed_clip_is_no_leak() {
    for seed in SEEDS {
        let ranking = plainly(&case(seed, |options| {
            options.extras = vec![extra(OPENINGS[seed as usize % 3], &[Air::On, Air::Pulsed], 3.0, ExtraKind::AirTool)];
            options.practice = Practice::OffAndOnThenPulsed;
        }));
        assert!(!matches!(ranking.call, Call::Located | Call::Shared), "seed {seed}: {ranking:?}");
    }
}
