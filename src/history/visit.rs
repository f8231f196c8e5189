//! One job, as far as a history needs it: values, not clips.

use std::cmp::Ordering;

use crate::gauge::Assessment;
use crate::opening::{EscapePath, Opening};
use crate::ranking::{Call, Member, Ranking};
use crate::units::Length;

/// When a job was done.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment {
    /// The instant, seconds since 1970-01-01T00:00:00Z.
    pub unix_s: i64,
    /// The day on the wall where the test was done: `2026-11-25`.
    pub day: String,
    /// The same as days since 1970-01-01.
    pub day_number: i32,
}

/// What the sound said of a cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderCall {
    /// The call.
    pub call: Call,
    /// The openings of the answer set, likeliest first.
    pub openings: Vec<Opening>,
    /// The probability of the first opening of the ranking; `None` where there is none.
    pub probability: Option<f64>,
}

impl CylinderCall {
    /// The openings that the call says something of: those where hiss was found; none where it found none.
    #[must_use]
    pub fn found_at(&self) -> &[Opening] {
        match self.call {
            Call::Located | Call::Shared => &self.openings,
            Call::NoneHeard | Call::CannotTell => &[],
        }
    }

    /// What of a ranking is kept in a history.
    #[must_use]
    pub fn of(ranking: &Ranking) -> Self {
        let openings = ranking.answer_set.iter().filter_map(|member| match member {
            Member::Opening(opening) => Some(opening.clone()),
            Member::Elsewhere | Member::Tight => None,
        });
        Self {
            call: ranking.call,
            openings: openings.collect(),
            probability: ranking.openings.first().map(|first| first.probability),
        }
    }
}

/// Whether a job's calls are known. They are computed from sound, which a history does not listen to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Calls {
    /// The job has no clip to rank.
    NothingRecorded,
    /// Nobody ranked the job, or its results were deleted.
    NotRanked,
    /// Clips came, went or were left out since the job was ranked: its calls are left out.
    Outdated,
    /// They are those of the clips that the job has.
    Known,
}

impl Calls {
    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::NothingRecorded => "nothing-recorded",
            Self::NotRanked => "not-ranked",
            Self::Outdated => "outdated",
            Self::Known => "known",
        }
    }
}

/// One cylinder in one job.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderVisit {
    /// The cylinder, counted from 1.
    pub cylinder: u32,
    /// Read with the engine cold.
    pub cold: bool,
    /// What the gauge says.
    pub gauge: Option<Assessment>,
    /// What the sound says, where that is known.
    pub heard: Option<CylinderCall>,
    /// What was found when it was opened, where somebody wrote that down.
    pub found: Option<Vec<EscapePath>>,
}

/// One job.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// The job's folder, as it is to be named.
    pub job: String,
    /// The engine, in the user's words.
    pub engine: String,
    /// How many cylinders it has.
    pub cylinders: u32,
    /// When it was done, where the job says so.
    pub moment: Option<Moment>,
    /// The shop or yard, where the job says so.
    pub shop: Option<String>,
    /// The tester's restrictor, where it is known.
    pub restrictor: Option<Length>,
    /// Whether the calls are known.
    pub calls: Calls,
    /// How often the job came into the table that it is written to, counted from 1; the latest counts.
    pub revision: u32,
    /// The cylinders read or heard, ascending.
    pub rows: Vec<CylinderVisit>,
}

impl Visit {
    /// The order of time; jobs that do not say when they were done come last, by their names.
    #[must_use]
    pub fn in_time(&self, other: &Self) -> Ordering {
        let undated = |visit: &Self| visit.moment.is_none();
        let moments = self.moment.cmp(&other.moment);
        undated(self).cmp(&undated(other)).then(moments).then_with(|| self.job.cmp(&other.job))
    }

    /// What is known of one cylinder.
    #[must_use]
    pub fn row(&self, cylinder: u32) -> Option<&CylinderVisit> {
        self.rows.iter().find(|row| row.cylinder == cylinder)
    }
}
