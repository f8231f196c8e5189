//! Located where it leaks, and nowhere else.

use hissward::ranking::Call;

use super::rendered::{plainly, steady};

const OPENINGS: [&str; 3] = ["intake", "exhaust", "oil-filler"];
/// Seeds that nothing was tuned on.
const SEEDS: std::ops::Range<u64> = 7_000..7_060;

#[test]
fn a_leak_at_5_db_in_steady_noise_is_located_rightly_in_every_seed() {
    for seed in SEEDS {
        let opening = OPENINGS[seed as usize % 3];
        let ranking = plainly(&steady(seed, Some((opening, 5.0))));
        assert_eq!(ranking.call, Call::Located, "seed {seed}: {ranking:?}");
        assert_eq!(ranking.openings[0].opening.name(), opening, "seed {seed}");
    }
}

#[test]
fn a_tight_engine_in_steady_noise_is_located_in_no_seed() {
    for seed in SEEDS {
        let ranking = plainly(&steady(seed, None));
        assert!(!matches!(ranking.call, Call::Located | Call::Shared), "seed {seed}: {ranking:?}");
    }
}
