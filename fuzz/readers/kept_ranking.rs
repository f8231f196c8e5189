//! `results/ranking.json` of a job, as `history` reads it back.

use std::path::Path;

use hissward::report::KeptRanking;

use super::telling::told;

/// Reads a kept ranking.
pub fn kept_ranking(bytes: &[u8], _scratch: &Path) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    match KeptRanking::read(text) {
        Err(error) => told(&error),
        Ok(kept) => {
            for call in kept.calls {
                assert!(call.heard.probability.is_none_or(|probability| probability.is_finite()));
            }
        }
    }
}
