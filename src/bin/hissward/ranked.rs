//! Rankings for what has not been ranked yet, so that no column stays empty.

use hissward::history::{Calls, CylinderCall, Visit};
use hissward::job::Job;
use hissward::pipeline::{RankError, keep_ranking, rank_job, visit};
use hissward::ranking::Ranking;
use hissward::words::Words;

use crate::console::{Console, Failure};

/// Ranks a job whose calls are not known, or no longer, and keeps the ranking beside it. Where that cannot be (a job
/// on a read-only disk), the calls are used all the same.
pub fn with_calls(job: &Job, found: Visit, words: &Words, console: &Console) -> Result<Visit, Failure> {
    if !matches!(found.calls, Calls::NotRanked | Calls::Outdated) {
        return Ok(found);
    }
    let rankings = match rank_job(job, None) {
        Ok(rankings) => rankings,
        // A job of readings alone has nothing to rank, and that is no fault of it.
        Err(RankError::NothingRecorded { .. }) => return Ok(found),
        Err(error) => {
            console.talk(&error.to_string());
            return Ok(found);
        }
    };
    if let Err(error) = keep_ranking(job, &rankings, words) {
        console.talk(&error.to_string());
        return Ok(filled(found, &rankings));
    }
    Ok(visit(job, &found.job)?)
}

/// The calls of these rankings, in their cylinders' rows.
fn filled(mut found: Visit, rankings: &[Ranking]) -> Visit {
    for row in &mut found.rows {
        row.heard = rankings.iter().find(|ranking| ranking.cylinder == Some(row.cylinder)).map(CylinderCall::of);
    }
    found.calls = Calls::Known;
    found
}
