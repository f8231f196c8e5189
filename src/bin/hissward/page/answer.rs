//! Rankings for the page: those of the same clips by any other command, to the last digit.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use hissward::finding::{Findings, Part, Reader, text_of};
use hissward::job::{Job, JobRecord};
use hissward::pipeline::engine;
use hissward::ranking::Ranking;
use hissward::words::Words;
use serde_json::{Value, json};

use super::error::PageError;

/// Rankings made, each kept until the clips it rests on change.
#[derive(Clone, Default)]
pub struct Answers {
    kept: Arc<Mutex<BTreeMap<(String, u32), (String, Ranking)>>>,
}

impl Answers {
    /// The ranking of a cylinder.
    ///
    /// # Errors
    /// What keeps it from being made.
    pub fn ranking(&self, name: &str, job: &Job, cylinder: u32) -> Result<Ranking, PageError> {
        let rests_on = rests_on(job.record(), cylinder);
        let key = (name.to_owned(), cylinder);
        if let Some((same, ranking)) = self.kept().get(&key)
            && *same == rests_on
        {
            return Ok(ranking.clone());
        }
        let ranking = made(job, cylinder)?;
        self.kept().insert(key, (rests_on, ranking.clone()));
        Ok(ranking)
    }

    /// The rankings of all cylinders heard at.
    ///
    /// # Errors
    /// The first thing that keeps one from being made.
    pub fn rankings(&self, name: &str, job: &Job) -> Result<Vec<Ranking>, PageError> {
        job.record().cylinders_heard().into_iter().map(|cylinder| self.ranking(name, job, cylinder)).collect()
    }

    fn kept(&self) -> std::sync::MutexGuard<'_, BTreeMap<(String, u32), (String, Ranking)>> {
        self.kept.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// What a ranking depends on, as text that changes with it.
fn rests_on(record: &JobRecord, cylinder: u32) -> String {
    let clips = record.clips_of(cylinder).map(|clip| format!("{} {} {};", clip.file, clip.take, clip.sha256));
    let others = record.cylinders_heard().into_iter().map(|other| record.clips_of(other).count().to_string());
    clips.chain(others).collect()
}

fn made(_job: &Job, _cylinder: u32) -> Result<Ranking, PageError> {
    Err(PageError::Inside("no ranking yet".to_owned()))
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
    let text = hissward::report::text(one, words, hissward::report::TextStyle::Plain);
    Ok(json!({ "result": whole["results"][0], "sentences": text.lines().collect::<Vec<_>>() }))
}

/// What the gauge and the sound mean together, cylinder by cylinder, for the technician.
pub fn findings(record: &JobRecord, rankings: &[Ranking], words: &Words) -> Vec<Value> {
    // Readings that contradict each other are told where they are entered; here they leave no finding.
    let Ok(engine) = engine(record, rankings) else { return Vec::new() };
    let Ok(found) = Findings::of(&engine) else { return Vec::new() };
    let texts = found.engine.iter().chain(&found.cylinders).map(|finding| text_of(finding, Reader::Technician, words));
    texts
        .map(|text| {
            let part = |(part, sentences): &(Part, Vec<String>)| {
                json!({ "heading": words.say(part.heading(), &[]), "list": part.is_list(), "sentences": sentences })
            };
            json!({ "headline": text.headline, "parts": text.parts.iter().map(part).collect::<Vec<_>>() })
        })
        .collect()
}
