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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{FileName, Sha256, Subject};

    fn clip(air: Air, visit: Option<u32>, recorded: Option<&str>) -> ClipRecord {
        ClipRecord {
            file: "c1-intake-on-t1.wav".parse::<FileName>().expect("a name"),
            subject: Subject { cylinder: Some(1), opening: "intake".parse().expect("an opening"), air },
            take: 1,
            visit,
            recorded: recorded.map(|text| text.parse().expect("a time")),
            seconds: 6.0,
            sample_rate_hz: 48_000,
            channels: 1,
            channel: 1,
            far_channel: None,
            one_channel: false,
            application: None,
            coding: None,
            device: None,
            processing: None,
            sha256: Sha256::of(b""),
            cut_short: false,
            overruns: 0,
            left_out: None,
            import: None,
        }
    }

    fn drift_of(clips: &[ClipRecord]) -> Option<f64> {
        drift(&clips.iter().collect::<Vec<_>>()).map(|drift| drift.0)
    }

    #[test]
    fn the_clock_counts_where_it_went_with_the_order_of_work() {
        let quiet = clip(Air::Off, Some(1), Some("2026-11-25T08:00:00+01:00"));
        // An hour's break: 0.3 · √360.
        let late = clip(Air::On, Some(2), Some("2026-11-25T09:00:00+01:00"));
        assert!(drift_of(&[quiet.clone(), late]).is_some_and(|db| (db - 5.692).abs() < 1e-3));
        // A clock that was set back between visits is not believed: one visit, 0.3 · √2.
        let set_back = clip(Air::On, Some(2), Some("2026-11-15T08:00:20+01:00"));
        assert!(drift_of(&[quiet, set_back]).is_some_and(|db| (db - 0.4243).abs() < 1e-4));
    }

    #[test]
    fn the_counterbalanced_order_leaves_less_than_one_after_the_other() {
        let order = |airs: [Air; 4]| {
            let clips: Vec<ClipRecord> =
                airs.into_iter().zip(1..).map(|(air, visit)| clip(air, Some(visit), None)).collect();
            drift_of(&clips).expect("visits tell")
        };
        let there_and_back = order([Air::Off, Air::On, Air::On, Air::Off]);
        assert!(there_and_back < 0.6 * order([Air::Off, Air::Off, Air::On, Air::On]), "{there_and_back}");
    }

    #[test]
    fn clips_that_do_not_tell_when_say_nothing_of_a_drift() {
        assert_eq!(drift_of(&[clip(Air::Off, None, None), clip(Air::On, Some(2), None)]), None);
        assert_eq!(drift_of(&[clip(Air::On, Some(1), None)]), None, "nothing quiet");
    }
}
