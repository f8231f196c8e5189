//! When clips were recorded, as far as their record tells.

use crate::hiss::wander;
use crate::job::ClipRecord;
use crate::opening::Air;
use crate::units::{LevelDiff, Seconds};

/// From one visit to the next: ten seconds of sound, and as long to move the microphone and turn the valve. Common
/// practice, no source.
const VISIT: Seconds = Seconds(20.0);

/// How far an opening's floor may have drifted from its quiet clips to those with the air on; `None` where the record
/// does not tell when they were recorded.
pub fn drift(clips: &[&ClipRecord]) -> Option<LevelDiff> {
    let moments = moments(clips)?;
    let of = |air: Air| -> Vec<Seconds> {
        clips.iter().zip(&moments).filter(|(clip, _)| clip.subject.air == air).map(|(_, at)| *at).collect()
    };
    let (quiet, on) = (of(Air::Off), of(Air::On));
    (!quiet.is_empty() && !on.is_empty()).then(|| wander(&quiet, &on))
}

/// The clock's moments where it went with the order of work; where it jumped, or was not asked, the places in that order.
fn moments(clips: &[&ClipRecord]) -> Option<Vec<Seconds>> {
    let visits: Option<Vec<u32>> = clips.iter().map(|clip| clip.visit).collect();
    let clock: Option<Vec<f64>> = clips
        .iter()
        .map(|clip| clip.recorded.as_ref().map(|when| when.timestamp().as_millisecond() as f64 / 1000.0))
        .collect();
    let went_with = |clock: &[f64], visits: &[u32]| {
        let mut both: Vec<(u32, f64)> = visits.iter().copied().zip(clock.iter().copied()).collect();
        both.sort_by_key(|(visit, _)| *visit);
        both.windows(2).all(|pair| pair[0].1 <= pair[1].1)
    };
    match (clock, visits) {
        (Some(clock), Some(visits)) if went_with(&clock, &visits) => Some(clock.into_iter().map(Seconds).collect()),
        (_, Some(visits)) => Some(visits.iter().map(|visit| Seconds(f64::from(*visit) * VISIT.0)).collect()),
        (Some(clock), None) => Some(clock.into_iter().map(Seconds).collect()),
        (None, None) => None,
    }
}
