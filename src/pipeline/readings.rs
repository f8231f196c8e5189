//! From what a job holds to what the gauge and the findings are asked with.

use crate::caveat::Caveat;
use crate::crank::{CrankError, FiringOrder};
use crate::finding::{CylinderRow, Engine};
use crate::gauge::{
    Assessment, Estimate, GaugeError, GaugeScales, GaugeScalesError, MakersLimit, Reading, RigAssessment, assess,
    assess_rig,
};
use crate::job::{EngineTemperature, GaugeReading, JobRecord, RigReading};
use crate::ranking::Ranking;
use crate::report::ReadingReport;
use crate::units::{Length, NetLoss, Percent};

/// Why a job's readings give no result.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ReadingsError {
    /// The rig's reading.
    #[error("the rig's reading: {0}")]
    Rig(GaugeError),
    /// A cylinder that the engine has not.
    #[error(transparent)]
    NoCylinder(#[from] CrankError),
    /// The scales of what a loss is called.
    #[error(transparent)]
    GaugeScales(#[from] GaugeScalesError),
    /// A cylinder's reading.
    #[error("cylinder {cylinder}: {error}")]
    Cylinder {
        /// The cylinder.
        cylinder: u32,
        /// What is wrong.
        error: GaugeError,
    },
}

/// What a rig reading says.
///
/// # Errors
/// [`ReadingsError::Rig`] where it cannot be.
pub fn rig_reading(record: &JobRecord, rig: &RigReading) -> Result<RigAssessment, ReadingsError> {
    assess_rig(&rig.reading(), &record.conditions()).map_err(ReadingsError::Rig)
}

/// What a cylinder's gauge reading says, the job's rig taken off.
///
/// # Errors
/// [`ReadingsError`] where the engine has no such cylinder, or the reading cannot be.
pub fn cylinder_reading(record: &JobRecord, reading: &GaugeReading) -> Result<Assessment, ReadingsError> {
    if !(1..=record.cylinders).contains(&reading.cylinder) {
        return Err(CrankError::NoCylinder { cylinder: reading.cylinder, cylinders: record.cylinders }.into());
    }
    let rig = record.rig.as_ref().map(RigReading::reading);
    let cylinder = reading.cylinder;
    let told = |error| ReadingsError::Cylinder { cylinder, error };
    let mut found = assess(&reading.value.reading(), rig.as_ref(), &record.conditions()).map_err(told)?;
    found.caveats.extend(trend(record, reading));
    Ok(found)
}

/// What the reading that counts for a cylinder says, what it is called, and the earlier ones; `None` where there is none.
///
/// # Errors
/// [`ReadingsError`] where the reading cannot be.
pub fn kept_reading(record: &JobRecord, cylinder: u32) -> Result<Option<ReadingReport>, ReadingsError> {
    let Some((last, earlier)) =
        record.gauge_readings(cylinder).split_last().map(|(last, earlier)| (*last, earlier.to_vec()))
    else {
        return Ok(None);
    };
    let mut found = cylinder_reading(record, last)?;
    if is_cold(record, Some(last)) {
        found.caveats.push(Caveat::new("read-cold"));
    }
    let judgement = GaugeScales::embedded()?.judge(&found, makers_limit(record).as_ref(), None)?;
    let earlier_percent = earlier.iter().map(|reading| reading.value.reading().loss().0).collect();
    Ok(Some(ReadingReport { cylinder, found, judgement, earlier_percent }))
}

/// Readings of one cylinder this close together, in seconds, are a series with the air left on.
const SERIES_S: i64 = 180;
/// So many readings show a trend; two may be a slip and its correction.
const SHORTEST_SERIES: usize = 3;
/// A step from one reading of a series to the next that the gauges resolve, in percentage points.
const TREND_STEP_POINTS: f64 = 0.5;

/// How the loss went while the air stayed on, up to this reading, where it went one way.
fn trend(record: &JobRecord, until: &GaugeReading) -> Option<Caveat> {
    let near = |reading: &GaugeReading| match (&reading.when, &until.when) {
        (Some(then), Some(now)) => (now.timestamp().as_second() - then.timestamp().as_second()).abs() <= SERIES_S,
        (None, None) => true,
        _ => false,
    };
    let all = record.gauge_readings(until.cylinder);
    let end = all.iter().rposition(|reading| *reading == until).map_or(0, |at| at + 1);
    let alike = all[..end].iter().rev().take_while(|reading| reading.cold == until.cold && near(reading));
    let mut series: Vec<f64> = alike.map(|reading| reading.value.reading().loss().0).collect();
    series.reverse();
    let steps: Vec<f64> = series.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let code = if steps.iter().all(|step| *step <= -TREND_STEP_POINTS) {
        "still-falling"
    } else if steps.iter().all(|step| *step >= TREND_STEP_POINTS) {
        "still-rising"
    } else {
        return None;
    };
    let shown = series.iter().map(|percent| percent.round().to_string()).collect::<Vec<_>>().join(", ");
    (series.len() >= SHORTEST_SERIES).then(|| Caveat::new(code).text("series", shown))
}

/// What a rig that was not read may lose, percent: hoses and couplers often leak as much as a good cylinder.
/// Common practice, no source.
const UNREAD_RIG_PERCENT: f64 = 5.0;

/// What the gauge says of each cylinder's own loss, for the ranking: the last reading of each, the rig taken off.
///
/// Where the rig was not read, the lower end is what is left if it loses 5 %. A reading that says nothing of the
/// cylinder (the rig is the larger leak) is none.
///
/// # Errors
/// [`ReadingsError`] where a reading cannot be.
pub fn net_loss(record: &JobRecord, cylinder: u32) -> Result<Option<NetLoss>, ReadingsError> {
    let Some(reading) = record.latest_gauge(cylinder) else {
        return Ok(None);
    };
    let found = cylinder_reading(record, reading)?;
    if !found.tells {
        return Ok(None);
    }
    let Estimate { value: percent, low, high } = found.own_loss_percent();
    let low = match found.net_loss_percent {
        Some(_) => low,
        None => {
            let rig = Reading::Share { loss: Percent(UNREAD_RIG_PERCENT), supply: found.supply };
            let least = assess(&reading.value.reading(), Some(&rig), &record.conditions());
            least.map_or(0.0, |found| found.own_loss_percent().low)
        }
    };
    Ok(Some(NetLoss { percent, low, high, flow: found.flow.value }))
}

/// The engine with everything that is known of it: the last reading of each cylinder, and the rankings given.
///
/// # Errors
/// [`ReadingsError`] where a reading cannot be.
pub fn engine(record: &JobRecord, rankings: &[Ranking]) -> Result<Engine, ReadingsError> {
    let mut rows = Vec::new();
    for cylinder in 1..=record.cylinders {
        let reading = record.latest_gauge(cylinder);
        let ranking = rankings.iter().find(|ranking| ranking.cylinder == Some(cylinder));
        if reading.is_none() && ranking.is_none() {
            continue;
        }
        let gauge = reading.map(|reading| cylinder_reading(record, reading)).transpose()?;
        let cold = is_cold(record, reading);
        rows.push(CylinderRow { cylinder, cold, gauge, ranking: ranking.cloned() });
    }
    let rig = record.rig.as_ref().map(|rig| rig_reading(record, rig)).transpose()?;
    let maker = makers_limit(record);
    let banks = record.banks.clone().unwrap_or_default();
    // Of up to four cylinders each has a valve open while another is at the top, in whatever order they fire.
    let known = record.firing_order.is_some() || record.cylinders <= 4;
    let firing = known.then(|| firing_order(record)).transpose()?;
    Ok(Engine { cylinders: record.cylinders, cycle: record.cycle, firing, banks, maker, rig, rows, scale: None })
}

/// What the maker allows, where the job says so.
#[must_use]
pub fn makers_limit(record: &JobRecord) -> Option<MakersLimit> {
    record.limits.as_ref().map(|limits| MakersLimit {
        loss_percent: limits.loss_percent,
        spread_points: limits.spread_percent,
        restrictor: limits.restrictor_mm.map(Length::from_mm),
        source: limits.source.clone(),
    })
}

/// The firing order of the job's engine: as given, or even firing by the cylinders' numbers.
///
/// # Errors
/// [`CrankError`] where order or angles do not fit the engine.
pub fn firing_order(record: &JobRecord) -> Result<FiringOrder, CrankError> {
    match (&record.firing_order, &record.firing_angles_deg) {
        (Some(order), Some(angles_deg)) => FiringOrder::with_angles(order, angles_deg, record.cycle),
        (Some(order), None) => FiringOrder::even(order, record.cycle),
        (None, _) => FiringOrder::by_number(record.cylinders, record.cycle),
    }
}

/// Read cold, or taken in a job whose engine was cold.
pub(super) fn is_cold(record: &JobRecord, reading: Option<&GaugeReading>) -> bool {
    reading.is_some_and(|reading| reading.cold) || record.temperature == Some(EngineTemperature::Cold)
}
