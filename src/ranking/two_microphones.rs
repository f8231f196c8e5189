//! Two microphones that nobody told apart: what near over far says, held beside what the near one says alone.
//!
//! A leak raises near over far; a foreign hiss raises both. But two capsules in one place also hear a leak alike. So the
//! pair may name an opening, and take a name back that the near one alone would give; it may not say by itself that there
//! is nothing.

use crate::caveat::Caveat;
use crate::hiss::tracked_contrast;

use super::rank::{Beforehand, OpeningClips, rank_tracked};
use super::result::{Call, Member, Ranking};

/// The near microphone's answer alone stands where near over far turned by this share of its rise, …
const TURNED_SHARE: f64 = 0.4;
/// … and by this at the least, dB: twice what places do to the ratio.
const TURNED_DB: f64 = 1.0;

/// Ranks the openings of one cylinder from clips of two microphones, the near one first.
#[must_use]
pub fn rank_by_two_microphones(
    cylinder: Option<u32>,
    openings: &[OpeningClips<'_>],
    beforehand: Beforehand,
) -> Ranking {
    let by = |track: bool| rank_tracked(cylinder, openings, &beforehand, track);
    let (pair, alone) = rayon::join(|| by(true), || by(false));
    let named = |ranking: &Ranking| matches!(ranking.call, Call::Located | Call::Shared);
    let same_first = pair.answer_set.first() == alone.answer_set.first();
    match (named(&pair), named(&alone)) {
        (true, true) if !same_first => undecided(pair),
        (true, _) => pair,
        (false, true) if near_shows(openings, &alone) => alone,
        (false, true) => undecided(pair),
        (false, false) if pair.call == Call::NoneHeard && alone.call != Call::NoneHeard => {
            Ranking { call: Call::CannotTell, ..pair }
        }
        (false, false) => pair,
    }
}

/// Whether the opening that the near microphone names is one at which it rose over the far one.
fn near_shows(openings: &[OpeningClips<'_>], alone: &Ranking) -> bool {
    let Some(Member::Opening(first)) = alone.answer_set.first() else { return false };
    let Some(heard) = openings.iter().find(|heard| heard.opening == *first) else { return false };
    let rise = alone.openings.iter().find(|result| result.opening == *first).and_then(|result| result.above_quiet);
    match (tracked_contrast(&heard.quiet, &heard.air), rise) {
        (Some(tracked), Some(rise)) => tracked.turned_db >= (TURNED_SHARE * rise.0).max(TURNED_DB),
        // Nothing to ask: the second microphone follows another room, or there is no quiet clip.
        _ => true,
    }
}

fn undecided(mut pair: Ranking) -> Ranking {
    pair.caveats.push(Caveat::new("heard-alike-at-both"));
    Ranking { call: Call::CannotTell, ..pair }
}
