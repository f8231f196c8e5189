//! Hiss against flow: what is too loud for what the gauge says gets away.

use super::engine::{CylinderRow, Engine};
use super::signs::hissing;
use crate::opening::Opening;
use crate::ranking::{Call, HissReading};

/// How many times ten decibels a hiss rises per tenfold flow at one opening: from the stream's power, to which a jet's
/// sound is proportional (IEC 60534-8-3), to the flank of a small jet whose peak comes down as its gap opens.
/// The span is a judgement.
const LEAST_RISE: f64 = 1.0;
const MOST_RISE: f64 = 2.7;

/// Beyond what flow explains, from here it contradicts: two and a half times the scatter of about 6 dB that
/// microphone, gap and path leave between two cylinders. A judgement.
const CONTRADICTS_FROM_DB: f64 = 15.0;

/// Another cylinder beside which this one hisses far louder than its flow explains.
///
/// Only cylinders with one leak, at the same opening, with a reading that tells of the cylinder and the rig taken off.
/// Where the doubt of the readings explains it, nothing contradicts.
pub(super) fn louder_than_its_flow(row: &CylinderRow, engine: &Engine) -> Option<u32> {
    let (opening, level, flow) = one_leak(row)?;
    let beside = engine.rows.iter().filter(|other| other.cylinder != row.cylinder).find(|other| {
        one_leak(other).is_some_and(|(same, other_level, other_flow)| {
            same == opening && level - other_level - most_explained_db(flow.1, other_flow.0) > CONTRADICTS_FROM_DB
        })
    });
    beside.map(|other| other.cylinder)
}

/// The most that a hiss can lie over another by its flow, dB: 10 n lg(flow ratio).
fn most_explained_db(flow: f64, other: f64) -> f64 {
    let decades = (flow / other).log10();
    10.0 * decades * if decades > 0.0 { MOST_RISE } else { LEAST_RISE }
}

/// Where a cylinder's one leak is, its level in dB, and its flow from least to most.
fn one_leak(row: &CylinderRow) -> Option<(&Opening, f64, (f64, f64))> {
    let ranking = row.ranking.as_ref().filter(|ranking| ranking.call == Call::Located)?;
    let gauge = row.told().filter(|gauge| gauge.net_loss_percent.is_some())?;
    let first = *hissing(ranking).first()?;
    let HissReading::Heard { level, .. } = first.hiss else { return None };
    (gauge.flow.high > 0.0).then_some((&first.opening, level.0, (gauge.flow.low, gauge.flow.high)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_flow_explains() {
        // calc: 10 n lg(10) with n 2.7 upwards and 1 downwards; the same flow explains nothing.
        assert!((most_explained_db(1.0, 0.1) - 27.0).abs() < 1e-9);
        assert!((most_explained_db(0.1, 1.0) + 10.0).abs() < 1e-9);
        assert_eq!(most_explained_db(0.5, 0.5), 0.0);
        // A flow that may be nothing explains any difference.
        assert_eq!(most_explained_db(0.5, 0.0), f64::INFINITY);
    }
}
