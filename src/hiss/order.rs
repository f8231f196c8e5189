//! The order of work: which clip is recorded when, so that a floor that drifts cancels.

use crate::opening::{Air, Opening};

/// One clip to be recorded.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct PlannedClip {
    /// Where the microphone is held.
    pub opening: Opening,
    /// What the air does.
    pub air: Air,
    /// Which repeat of the same it is, counted from 1.
    pub take: u32,
}

/// The counterbalanced order of quiet and air clips: quiet, air, air, quiet round the openings, and back the same way.
///
/// With openings A, B, C and two takes (small letter: air off, capital: on):
///
/// ```text
/// visit      1  2  3  4  5  6 | 7  8  9 10 11 12
/// clip       a  A  B  b  c  C | C  c  b  B  A  a
/// ```
///
/// **Why linear drift cancels.** Let the floor move by `d` dB from one visit to the next, so that a clip at visit `v`
/// reads `d·v` too much. The way back mirrors the way out: every clip at visit `v` has a twin of the same opening and
/// air at `N + 1 − v`, so each pair averages `d·(N + 1)/2`, whatever the opening and the air. Air minus quiet is 0 for
/// each opening, and so is opening minus opening. This holds for every even number of takes.
///
/// **Why quiet and air stand side by side.** A floor that wanders at random moves the less the closer two clips are.
/// With neighbours the rest of a wander of 0.3 dB per √10 s is 0.24, 0.12, 0.06 dB for 1, 2, 4 takes in 10 s of quiet
/// and 10 s of air all told (closed form in the tests; method: `σ·√(2τ/3)/√takes`, τ the length of one clip).
///
/// **Why quiet and air swap places from opening to opening.** The valve is turned half as often, and where the number
/// of takes is odd the drift left over (`d/takes` per opening) has alternating signs and cancels over pairs of openings
/// instead of looking like hiss everywhere.
///
/// ```
/// use hissward::hiss::quiet_and_air_order;
/// use hissward::opening::{Air, Opening};
/// let openings: Vec<Opening> = ["intake", "exhaust"].iter().map(|name| name.parse()).collect::<Result<_, _>>()?;
/// let airs: Vec<Air> = quiet_and_air_order(&openings, 1).iter().map(|visit| visit.air).collect();
/// assert_eq!(airs, [Air::Off, Air::On, Air::On, Air::Off]);
/// # Ok::<(), hissward::opening::OpeningError>(())
/// ```
#[must_use]
pub fn quiet_and_air_order(openings: &[Opening], takes: u32) -> Vec<PlannedClip> {
    let way_out: Vec<(&Opening, Air)> = openings
        .iter()
        .enumerate()
        .flat_map(|(at, opening)| {
            let airs = if at % 2 == 0 { [Air::Off, Air::On] } else { [Air::On, Air::Off] };
            airs.map(|air| (opening, air))
        })
        .collect();
    there_and_back(&way_out, takes)
}

/// The order that is done with the fewest clips where the leak is loud: quiet at the first opening, air at all of them, and
/// quiet at the others on the way back; and the whole way back again.
///
/// With openings A, B, C and two takes:
///
/// ```text
/// visit      1  2  3  4  5  6 | 7  8  9 10 11 12
/// clip       a  A  B  C  c  b | b  c  C  B  A  a
/// ```
///
/// After visit 4 every opening has its air clip, and the quiet one of the first serves them all: what roars is called by
/// then, and no more quiet clips are needed. Linear drift cancels as in [`quiet_and_air_order`] for every even number of
/// takes, and for the same reason; after one take up to `2N − 3` steps of it are left, more than there.
///
/// ```
/// use hissward::hiss::air_first_order;
/// use hissward::opening::{Air, Opening};
/// let names = ["intake", "exhaust", "oil-filler"];
/// let openings: Vec<Opening> = names.iter().map(|name| name.parse()).collect::<Result<_, _>>()?;
/// let airs: Vec<Air> = air_first_order(&openings, 1).iter().map(|visit| visit.air).collect();
/// assert_eq!(airs, [Air::Off, Air::On, Air::On, Air::On, Air::Off, Air::Off]);
/// # Ok::<(), hissward::opening::OpeningError>(())
/// ```
#[must_use]
pub fn air_first_order(openings: &[Opening], takes: u32) -> Vec<PlannedClip> {
    let first = openings.iter().take(1).map(|opening| (opening, Air::Off));
    let air = openings.iter().map(|opening| (opening, Air::On));
    let quiet = openings.iter().skip(1).rev().map(|opening| (opening, Air::Off));
    there_and_back(&first.chain(air).chain(quiet).collect::<Vec<_>>(), takes)
}

/// The same for pulsed air, where each clip is its own quiet baseline: round the openings, and back the same way.
#[must_use]
pub fn pulsed_order(openings: &[Opening], takes: u32) -> Vec<PlannedClip> {
    let way_out: Vec<(&Opening, Air)> = openings.iter().map(|opening| (opening, Air::Pulsed)).collect();
    there_and_back(&way_out, takes)
}

fn there_and_back(way_out: &[(&Opening, Air)], takes: u32) -> Vec<PlannedClip> {
    let visit = |(opening, air): &(&Opening, Air), take| PlannedClip { opening: (*opening).clone(), air: *air, take };
    let mut visits = Vec::new();
    for take in 1..=takes {
        if take % 2 == 1 {
            visits.extend(way_out.iter().map(|step| visit(step, take)));
        } else {
            visits.extend(way_out.iter().rev().map(|step| visit(step, take)));
        }
    }
    visits
}

#[cfg(test)]
mod tests {
    use super::*;

    fn openings(count: usize) -> Vec<Opening> {
        let names = ["intake", "exhaust", "oil-filler", "coolant-filler", "plug-hole-2"];
        names[..count].iter().map(|name| name.parse().expect("an opening")).collect()
    }

    /// Mean over the visits of an opening with one state of the air.
    fn mean(visits: &[PlannedClip], opening: &Opening, air: Air, floor: impl Fn(f64) -> f64) -> f64 {
        let of = visits.iter().enumerate().filter(|(_, visit)| visit.opening == *opening && visit.air == air);
        let levels: Vec<f64> = of.map(|(at, _)| floor(at as f64)).collect();
        levels.iter().sum::<f64>() / levels.len() as f64
    }

    /// Air minus quiet that a floor without any hiss shows.
    fn false_hiss(visits: &[PlannedClip], opening: &Opening, floor: impl Fn(f64) -> f64 + Copy) -> f64 {
        mean(visits, opening, Air::On, floor) - mean(visits, opening, Air::Off, floor)
    }

    /// 0.125 dB from visit to visit: a power of two, so that sums are exact.
    const DRIFT_DB: f64 = 0.125;

    fn drifting(visit: f64) -> f64 {
        -60.0 + DRIFT_DB * visit
    }

    #[test]
    fn every_clip_is_there_once() {
        for takes in 0..=4 {
            for count in 0..=5 {
                for order in [quiet_and_air_order, air_first_order] {
                    let visits = order(&openings(count), takes);
                    let distinct: std::collections::HashSet<&PlannedClip> = visits.iter().collect();
                    assert_eq!(visits.len(), count * 2 * takes as usize);
                    assert_eq!(distinct.len(), visits.len());
                }
            }
        }
    }

    #[test]
    fn linear_drift_cancels_with_an_even_number_of_takes() {
        for takes in [2, 4, 6] {
            for count in 1..=5 {
                let all = openings(count);
                for visits in [quiet_and_air_order(&all, takes), air_first_order(&all, takes)] {
                    let middle = drifting((visits.len() - 1) as f64 / 2.0);
                    for opening in &all {
                        for air in [Air::Off, Air::On] {
                            let found = mean(&visits, opening, air, drifting);
                            let at = format!("{takes} takes, {opening} {air:?}: {found} {middle}");
                            assert!((found - middle).abs() < 1e-12, "{at}");
                        }
                    }
                }
                let pulsed = pulsed_order(&all, takes);
                let middle = drifting((pulsed.len() - 1) as f64 / 2.0);
                for opening in &all {
                    assert!((mean(&pulsed, opening, Air::Pulsed, drifting) - middle).abs() < 1e-12);
                }
            }
        }
    }

    #[test]
    fn an_odd_number_of_takes_leaves_one_step_with_alternating_sign() {
        for takes in [1, 3, 5] {
            let all = openings(4);
            let visits = quiet_and_air_order(&all, takes);
            for (at, opening) in all.iter().enumerate() {
                let sign = if at % 2 == 0 { 1.0 } else { -1.0 };
                let left = sign * DRIFT_DB / f64::from(takes);
                assert!((false_hiss(&visits, opening, drifting) - left).abs() < 1e-12);
            }
        }
    }

    /// The partner that must fail: all quiet clips first, then all air clips.
    #[test]
    fn quiet_first_and_air_after_takes_drift_for_hiss() {
        let all = openings(3);
        let mut visits = quiet_and_air_order(&all, 2);
        visits.sort_by_key(|visit| visit.air);
        for opening in &all {
            assert!(false_hiss(&visits, opening, drifting) > 4.0 * DRIFT_DB);
        }
    }

    /// Variance of air minus quiet for a floor that is a random walk with `per_s` dB² per second, clips of `clip_s`
    /// seconds each without a pause. With m(k) the mean over clip k, cov(m(j), m(k)) = clip_s·(min(j, k) + 1/2) for
    /// j ≠ k, and clip_s·(k + 1/3) for j = k (integral of min(s, t) over the two clips).
    fn wander_db(visits: &[PlannedClip], opening: &Opening, per_s: f64, clip_s: f64) -> f64 {
        let takes = visits.iter().filter(|visit| visit.opening == *opening && visit.air == Air::On).count() as f64;
        let weight = |visit: &PlannedClip| match visit.air {
            _ if visit.opening != *opening => 0.0,
            Air::On => 1.0 / takes,
            Air::Off | Air::Pulsed => -1.0 / takes,
        };
        let mut variance = 0.0;
        for (j, one) in visits.iter().enumerate() {
            for (k, other) in visits.iter().enumerate() {
                let shared = if j == k { k as f64 + 1.0 / 3.0 } else { j.min(k) as f64 + 0.5 };
                variance += weight(one) * weight(other) * per_s * clip_s * shared;
            }
        }
        variance.sqrt()
    }

    /// 0.24 / 0.12 / 0.06 dB for 1 / 2 / 4 pairs out of a drift of 0.3 dB per √10 s (calc: 0.3·√(2/3)/pairs).
    #[test]
    fn a_wandering_floor_leaves_what_the_closed_form_says() {
        let one = openings(1);
        for (takes, left_db) in [(1, 0.244_949), (2, 0.122_474), (4, 0.061_237)] {
            let visits = quiet_and_air_order(&one, takes);
            let got = wander_db(&visits, &one[0], 0.3 * 0.3 / 10.0, 10.0 / f64::from(takes));
            assert!((got - left_db).abs() < 1e-6, "{takes} takes: {got} dB");
        }
    }
}
