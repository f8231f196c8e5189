//! Rankings for the page: those of the same clips by any other command, to the last digit.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use hissward::finding::{Findings, Part, Reader, Weight, text_of};
use hissward::job::{Job, JobRecord};
use hissward::pipeline::{Mistake, engine, likely_mistakes, rank_job};
use hissward::ranking::Ranking;
use hissward::report::loss_in_words;
use hissward::words::Words;
use serde_json::{Value, json};

use super::error::PageError;

/// What was worked out of a job, and the record that it was worked out of.
#[derive(Clone)]
struct Kept {
    made_of: JobRecord,
    rankings: Vec<Ranking>,
    mistakes: Vec<Mistake>,
}

/// Rankings made, each job's kept until its record says anything else.
#[derive(Clone, Default)]
pub struct Answers {
    kept: Arc<Mutex<BTreeMap<String, Kept>>>,
}

impl Answers {
    /// The rankings of all cylinders heard at; none where there is nothing to rank yet.
    ///
    /// # Errors
    /// What keeps one from being made.
    pub fn rankings(&self, name: &str, job: &Job) -> Result<Vec<Ranking>, PageError> {
        if job.record().cylinders_heard().is_empty() {
            return Ok(Vec::new());
        }
        Ok(self.worked_out(name, job)?.rankings)
    }

    /// What was probably done wrong.
    pub fn mistakes(&self, name: &str, job: &Job) -> Vec<Mistake> {
        // What cannot be ranked is told as such.
        self.worked_out(name, job).map_or_else(|_| likely_mistakes(job), |kept| kept.mistakes)
    }

    fn worked_out(&self, name: &str, job: &Job) -> Result<Kept, PageError> {
        let made_of = settled(job.record());
        if let Some(kept) = self.kept().get(name).filter(|kept| kept.made_of == made_of) {
            return Ok(kept.clone());
        }
        let rankings = if job.record().cylinders_heard().is_empty() {
            Vec::new()
        } else {
            rank_job(job, None).map_err(|error| PageError::unfit(error.to_string()))?
        };
        let kept = Kept { made_of, rankings, mistakes: likely_mistakes(job) };
        self.kept().insert(name.to_owned(), kept.clone());
        Ok(kept)
    }

    fn kept(&self) -> MutexGuard<'_, BTreeMap<String, Kept>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The record without what is still coming in: whatever else changes by hand or by another program may change a ranking.
fn settled(record: &JobRecord) -> JobRecord {
    JobRecord { pending: Vec::new(), ..record.clone() }
}

/// Rankings as other programs get them.
///
/// # Errors
/// Where the encoder refuses.
pub fn as_json(rankings: &[Ranking], words: &Words) -> Result<String, PageError> {
    hissward::report::json(rankings, words).map_err(|error| PageError::Inside(error.to_string()))
}

/// A cylinder's answer for the screen: the ranking, and its sentences in the reader's language.
///
/// # Errors
/// As [`as_json`].
pub fn for_screen(ranking: &Ranking, words: &Words) -> Result<Value, PageError> {
    let one = std::slice::from_ref(ranking);
    let whole: Value =
        serde_json::from_str(&as_json(one, words)?).map_err(|error| PageError::Inside(error.to_string()))?;
    // In words, as everywhere: a probability never reads as certainty.
    let chances = ranking.openings.iter().map(|one| (one.opening.name(), one.probability));
    let chances: BTreeMap<&str, String> = chances
        .chain([("elsewhere", ranking.elsewhere_probability), ("tight", ranking.tight_probability)])
        .map(|(place, probability)| (place, words.percent(probability)))
        .collect();
    let headline = hissward::report::headline(ranking, words);
    Ok(json!({ "result": whole["results"][0], "headline": headline, "chances": chances }))
}

/// What the gauge and the sound mean together, cylinder by cylinder, for the technician.
pub fn findings(record: &JobRecord, rankings: &[Ranking], words: &Words) -> Vec<Value> {
    // Readings that contradict each other are told where they are entered; here they leave no finding.
    let Ok(engine) = engine(record, rankings) else { return Vec::new() };
    let Ok(found) = Findings::of(&engine) else { return Vec::new() };
    let numbers = engine.rows.iter().map(|row| Some(row.cylinder));
    let of_engine = found.engine.iter().map(|finding| (None, finding));
    of_engine
        .chain(numbers.zip(&found.cylinders))
        .map(|(cylinder, finding)| {
            let text = text_of(finding, Reader::Technician, words);
            let part = |(part, sentences): &(Part, Vec<String>)| {
                json!({ "heading": words.say(part.heading(), &[]), "list": part.is_list(), "sentences": sentences })
            };
            json!({
                "cylinder": cylinder, "headline": text.headline, "fine": finding.weight == Weight::Fine,
                "loss": finding.loss.as_ref().map(|loss| loss_in_words(Some(loss), words)),
                "parts": text.parts.iter().map(part).collect::<Vec<_>>(),
            })
        })
        .collect()
}
