//! Many jobs to their values, and a job's ranking kept for it.

use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::readings::{ReadingsError, cylinder_reading, is_cold};
use crate::history::{Calls, CylinderCall, CylinderVisit, Moment, Visit};
use crate::job::{Job, JobError, JobsBelow, When};
use crate::ranking::Ranking;
use crate::report::{KeptRanking, ReportError, kept_json};
use crate::units::Length;
use crate::words::Words;

/// The name under which a job's ranking is kept in its `results/`.
pub const KEPT_RANKING: &str = "ranking.json";

/// Jobs read at a time, on all cores, before the first of them is handed on.
const READ_AHEAD: usize = 64;

/// Why a ranking was not kept.
#[derive(Debug, thiserror::Error)]
pub enum KeepRankingError {
    /// The job.
    #[error(transparent)]
    Job(#[from] JobError),
    /// Its text.
    #[error(transparent)]
    Report(#[from] ReportError),
}

/// Keeps the ranking of a whole job as `results/ranking.json`: the text of `rank --json`, with the hash of the clips
/// at its end, and says where. A ranking of one cylinder alone is not to be kept: it would stand for all.
///
/// # Errors
/// [`KeepRankingError`] where it cannot be written.
pub fn keep_ranking(job: &Job, rankings: &[Ranking], words: &Words) -> Result<PathBuf, KeepRankingError> {
    let text = kept_json(rankings, words, &job.record().clips_sha256().to_string())?;
    Ok(job.write_result(KEPT_RANKING, text.as_bytes())?)
}

/// Why a job is not in a history.
#[derive(Debug, thiserror::Error)]
pub enum VisitError {
    /// The folder.
    #[error(transparent)]
    Job(#[from] JobError),
    /// Its readings.
    #[error("{}: {error}", folder.display())]
    Readings {
        /// The job.
        folder: PathBuf,
        /// What is wrong with them.
        error: ReadingsError,
    },
    /// Its kept ranking.
    #[error("{}: {error}", folder.display())]
    Ranking {
        /// The job.
        folder: PathBuf,
        /// What is wrong with it.
        error: ReportError,
    },
}

/// A job as a history needs it: readings with the rig taken off, and calls where the job's ranking was kept and is
/// still one of its clips. No sound is read.
///
/// # Errors
/// [`VisitError`] where the job cannot be read or its readings cannot be.
pub fn visit(job: &Job, name: &str) -> Result<Visit, VisitError> {
    let record = job.record();
    let (calls, kept) = kept_calls(job)?;
    let mut rows = Vec::new();
    for cylinder in 1..=record.cylinders {
        let reading = record.latest_gauge(cylinder);
        let gauge = reading.map(|reading| cylinder_reading(record, reading)).transpose();
        let gauge = gauge.map_err(|error| VisitError::Readings { folder: job.folder().to_owned(), error })?;
        let heard = kept.iter().find(|(whose, _)| *whose == Some(cylinder)).map(|(_, heard)| heard.clone());
        let found = record.found_in(cylinder);
        if gauge.is_some() || heard.is_some() || found.is_some() {
            rows.push(CylinderVisit { cylinder, cold: is_cold(record, reading), gauge, heard, found });
        }
    }
    Ok(Visit {
        job: name.to_owned(),
        engine: record.engine.clone(),
        cylinders: record.cylinders,
        moment: record.tested().map(moment),
        shop: record.shop.clone(),
        revision: 1,
        restrictor: record.restrictor_mm.map(Length::from_mm),
        calls,
        rows,
    })
}

fn moment(when: &When) -> Moment {
    Moment { unix_s: when.timestamp().as_second(), day: when.local_date(), day_number: when.local_day_number() }
}

type KeptCalls = Vec<(Option<u32>, CylinderCall)>;

fn kept_calls(job: &Job) -> Result<(Calls, KeptCalls), VisitError> {
    if job.record().cylinders_heard().is_empty() {
        return Ok((Calls::NothingRecorded, Vec::new()));
    }
    let Some(text) = job.read_result(KEPT_RANKING)? else {
        return Ok((Calls::NotRanked, Vec::new()));
    };
    let folder = || job.folder().to_owned();
    let kept = KeptRanking::read(&text).map_err(|error| VisitError::Ranking { folder: folder(), error })?;
    if kept.clips_sha256 != Some(job.record().clips_sha256().to_string()) {
        return Ok((Calls::Outdated, Vec::new()));
    }
    Ok((Calls::Known, kept.calls.into_iter().map(|call| (call.cylinder, call.heard)).collect()))
}

/// A job that is left out of a history, and why.
#[derive(Debug)]
pub struct Skipped {
    /// Its name.
    pub job: String,
    /// Why.
    pub error: VisitError,
}

/// The jobs below a folder.
#[derive(Debug)]
pub struct History {
    jobs: Vec<(PathBuf, String)>,
    closed: Vec<JobError>,
}

impl History {
    /// Looks for jobs below a folder, and reads none of them yet. They are named by their path below it.
    ///
    /// # Errors
    /// [`JobError`] where the folder is not there or cannot be looked into.
    pub fn below(folder: &Path) -> Result<Self, JobError> {
        let JobsBelow { jobs, closed } = JobsBelow::of(folder)?;
        let named = |job: PathBuf| {
            let below = job.strip_prefix(folder).ok().filter(|path| !path.as_os_str().is_empty());
            let name = below.map_or_else(|| name_of(&job), |path| path.display().to_string());
            (job, name)
        };
        Ok(Self { jobs: jobs.into_iter().map(named).collect(), closed })
    }

    /// How many jobs there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.jobs.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.jobs.is_empty()
    }

    /// Folders that could not be looked into; there may be jobs in them.
    #[must_use]
    pub fn closed(&self) -> &[JobError] {
        &self.closed
    }

    /// The jobs, read as they are asked for, by path; those that cannot be read are told and do not stop the others.
    pub fn visits(&self) -> impl Iterator<Item = Result<Visit, Skipped>> + '_ {
        let read = |(folder, name): &(PathBuf, String)| {
            let visit = Job::open(folder).map_err(VisitError::from).and_then(|job| visit(&job, name));
            visit.map_err(|error| Skipped { job: name.clone(), error })
        };
        self.jobs.chunks(READ_AHEAD).flat_map(move |some| some.par_iter().map(read).collect::<Vec<_>>())
    }
}

/// The last part of a path, as a job is called.
fn name_of(folder: &Path) -> String {
    folder.file_name().map_or_else(|| folder.display().to_string(), |name| name.to_string_lossy().into_owned())
}
