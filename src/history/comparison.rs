//! Two jobs on one engine, before and after.

use super::change::Change;
use super::course::courses;
use super::visit::{CylinderVisit, Visit};
use crate::caveat::Caveat;

/// Test pressures that differ by more than this share are worth a word: a leak's share of the supply changes with it.
/// Our own figure: 80 and 100 psi, the two usual ones, differ by 20 %.
const PRESSURE_SHARE: f64 = 0.1;

/// One cylinder before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct ComparisonRow {
    /// The cylinder.
    pub cylinder: u32,
    /// Before.
    pub before: Option<CylinderVisit>,
    /// After.
    pub after: Option<CylinderVisit>,
    /// How the loss changed, where a gauge was read both times.
    pub change: Option<Change>,
}

/// Two jobs side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The earlier job.
    pub before: Visit,
    /// The later one.
    pub after: Visit,
    /// Cylinders read or heard in either, ascending.
    pub rows: Vec<ComparisonRow>,
    /// What makes the two hard to compare.
    pub caveats: Vec<Caveat>,
}

/// Why two jobs cannot be compared.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ComparisonError {
    /// Different numbers of cylinders.
    #[error(
        "{before} is of an engine with {cylinders_before} cylinders, {after} of one with {cylinders_after}: give two jobs on one engine"
    )]
    OtherEngine {
        /// The first job.
        before: String,
        /// The second job.
        after: String,
        /// Cylinders in the first.
        cylinders_before: u32,
        /// Cylinders in the second.
        cylinders_after: u32,
    },
    /// One job given twice.
    #[error("{job} is given twice: give the job before and the job after")]
    SameJob {
        /// The job.
        job: String,
    },
}

impl Comparison {
    /// Lays two jobs side by side.
    ///
    /// # Errors
    /// [`ComparisonError`] where they are of engines with different numbers of cylinders, or one and the same.
    pub fn of(before: Visit, after: Visit) -> Result<Self, ComparisonError> {
        if before.job == after.job {
            return Err(ComparisonError::SameJob { job: before.job });
        }
        if before.cylinders != after.cylinders {
            return Err(ComparisonError::OtherEngine {
                cylinders_before: before.cylinders,
                cylinders_after: after.cylinders,
                before: before.job,
                after: after.job,
            });
        }
        let row = |cylinder: u32| {
            let (earlier, later) = (before.row(cylinder).cloned(), after.row(cylinder).cloned());
            (earlier.is_some() || later.is_some()).then(|| {
                let gauge = |row: &Option<CylinderVisit>| row.as_ref().and_then(|row| row.gauge.clone());
                let change = gauge(&earlier).zip(gauge(&later)).map(|(from, to)| Change::between(&from, &to));
                ComparisonRow { cylinder, before: earlier, after: later, change }
            })
        };
        let rows: Vec<ComparisonRow> = (1..=before.cylinders).filter_map(row).collect();
        let caveats = caveats(&before, &after, &rows);
        Ok(Self { before, after, rows, caveats })
    }
}

fn caveats(before: &Visit, after: &Visit, rows: &[ComparisonRow]) -> Vec<Caveat> {
    let mut found = Vec::new();
    let mut add = |code: &'static str, holds: bool| {
        if holds {
            found.push(Caveat::new(code));
        }
    };
    add("compare-other-name", courses(vec![before.clone(), after.clone()]).len() > 1);
    add("compare-order", before.moment.as_ref().zip(after.moment.as_ref()).is_some_and(|(one, other)| one > other));
    let both = || rows.iter().filter_map(|row| Some((row.before.as_ref()?, row.after.as_ref()?)));
    let gauges = || both().filter_map(|(one, other)| Some((one.gauge.as_ref()?, other.gauge.as_ref()?)));
    add("compare-one-cold", both().any(|(one, other)| one.cold != other.cold));
    let restrictors = before.restrictor.zip(after.restrictor);
    let differ = |(one, other): (crate::units::Length, crate::units::Length)| (one.0 - other.0).abs() > 1e-6;
    add("compare-restrictors", restrictors.is_some_and(differ));
    let apart = |(one, other): (f64, f64)| (one - other).abs() > PRESSURE_SHARE * one.max(other);
    let supplies = gauges().filter_map(|(one, other)| Some((one.supply?.0, other.supply?.0)));
    add("compare-pressures", supplies.into_iter().any(apart));
    let net = |(one, other): (&crate::gauge::Assessment, &crate::gauge::Assessment)| {
        one.net_loss_percent.is_none() || other.net_loss_percent.is_none()
    };
    add("compare-rig", gauges().any(net));
    found
}
