//! Jobs on the page: the list, a new one, where one stands.

use axum::Json;
use axum::extract::{Extension, Path, Request, State};
use hissward::caveat::Fact;
use hissward::crank::{Cycle, FiringOrder};
use hissward::hiss::{PlannedClip, quiet_and_air_order};
use hissward::job::{EngineTemperature, Job, JobRecord, MakerLimits, When, parse_firing_order};
use hissward::opening::Opening;
use hissward::pipeline::firing_order;
use hissward::ranking::Ranking;
use hissward::units::{Length, Percent};
use hissward::words::Words;
use serde::Deserialize;
use serde_json::{Value, json};

use super::amending;
use super::answer;
use super::app_state::{AppState, off_thread};
use super::error::PageError;
use super::guard::{Visitor, json_of};
use super::job_directory;
use super::readings;

/// Openings that every four-stroke has; the order of work goes round them.
const USUAL: [&str; 3] = ["intake", "exhaust", "oil-filler"];
/// Takes of each clip: with two, a floor that drifts evenly cancels.
const TAKES: u32 = 2;

/// The words for a language asked for, English where there are none.
pub fn words_of(language: Option<&str>) -> Result<Words, PageError> {
    let asked = language.filter(|code| code.len() <= 3).and_then(|code| Words::of(code).ok());
    asked.map_or_else(|| Words::of("en").map_err(|error| PageError::Inside(error.to_string())), Ok)
}

/// The language that a request asks for: `?in=de`.
pub fn language_of(request: &Request) -> Option<String> {
    let query = request.uri().query()?;
    query.split('&').find_map(|pair| pair.strip_prefix("in=")).map(str::to_owned)
}

/// `GET /api/jobs`.
pub async fn list(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
) -> Result<Json<Value>, PageError> {
    off_thread(move || {
        let jobs: Vec<Value> = state
            .directory()
            .jobs()
            .iter()
            .filter(|(name, _)| visitor.grant.as_ref().is_some_and(|grant| grant.covers(name)))
            .map(|(name, path)| {
                match Job::open(path) {
                    Ok(job) => {
                        let record = job.record();
                        json!({
                            "name": name, "engine": record.engine, "cylinders": record.cylinders,
                            "day": record.created.as_ref().map(When::local_date), "clips": record.clips.len(),
                            "customer": record.customer, "readings": record.gauge.len(), "heard": record.cylinders_heard().len(),
                            "missing": job.status().missing.len(),
                        })
                    }
                    // One damaged job does not hide the others.
                    Err(error) => json!({ "name": name, "error": error.to_string() }),
                }
            })
            .collect();
        Ok(Json(json!({ "jobs": jobs, "takes_new": state.directory().takes_new() })))
    })
    .await
}

/// A new job as the form has it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct NewJob {
    engine: String,
    cylinders: u32,
    #[serde(default)]
    firing_order: String,
    #[serde(default)]
    two_stroke: bool,
    hot: Option<bool>,
    #[serde(default)]
    restrictor: String,
    #[serde(default)]
    tested_by: String,
    #[serde(default)]
    customer: String,
    #[serde(default)]
    notes: String,
    /// What the engine's maker allows, percent.
    #[serde(default)]
    limit: String,
    #[serde(default)]
    limit_source: String,
    language: Option<String>,
}

impl NewJob {
    fn record(self) -> Result<JobRecord, PageError> {
        let given = |text: String| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
        let order = given(self.firing_order).map(|order| parse_firing_order(&order, self.cylinders));
        let restrictor = given(self.restrictor).map(|text| text.parse::<Length>());
        let restrictor = restrictor.transpose().map_err(|error| PageError::unfit(error.to_string()))?;
        let limit = given(self.limit).map(|text| text.parse::<Percent>());
        let limit = limit.transpose().map_err(|error| PageError::unfit(error.to_string()))?;
        let limits = limit.map(|limit| MakerLimits {
            loss_percent: Some(limit.0),
            source: given(self.limit_source),
            ..MakerLimits::default()
        });
        Ok(JobRecord {
            customer: given(self.customer),
            notes: given(self.notes),
            limits,
            made_with: Some(concat!("hissward ", env!("CARGO_PKG_VERSION")).to_owned()),
            created: Some(When::now()),
            engine: self.engine.trim().to_owned(),
            cylinders: self.cylinders,
            cycle: if self.two_stroke { Cycle::TwoStroke } else { Cycle::FourStroke },
            firing_order: order.transpose().map_err(PageError::unfit)?,
            temperature: self.hot.map(|hot| if hot { EngineTemperature::Hot } else { EngineTemperature::Cold }),
            // Without the dust of binary fractions: 0.040 in reads 1.016 in the file.
            restrictor_mm: restrictor.map(|length| (length.as_mm() * 1e6).round() / 1e6),
            tested_by: given(self.tested_by),
            language: self.language,
            ..JobRecord::default()
        })
    }
}

/// `POST /api/jobs`.
pub async fn start(State(state): State<AppState>, request: Request) -> Result<Json<Value>, PageError> {
    let record = json_of::<NewJob>(request).await?.record()?;
    let name = off_thread({
        let state = state.clone();
        move || state.directory().start(record, &When::now().local_date())
    })
    .await?;
    state.log().line(None, &format!("{name}: started"));
    Ok(Json(json!({ "name": name })))
}

/// `GET /api/jobs/{job}`: everything that a screen shows.
pub async fn show(
    State(state): State<AppState>,
    Path(name): Path<String>,
    request: Request,
) -> Result<Json<Value>, PageError> {
    let words = words_of(language_of(&request).as_deref())?;
    off_thread(move || {
        let job = job_directory::open(&state.directory().find(&name)?)?;
        let ranked = state.answers().rankings(&name, &job);
        let (rankings, trouble) = match ranked {
            Ok(rankings) => (rankings, None),
            Err(error) => (Vec::new(), Some(error.to_string())),
        };
        let mut shown = state_of(&name, &job, &rankings, trouble, &words)?;
        let mistakes = state.answers().mistakes(&name, &job);
        shown["mistakes"] = mistakes.iter().map(|mistake| amending::for_screen(mistake, &words)).collect();
        Ok(Json(shown))
    })
    .await
}

fn state_of(
    name: &str,
    job: &Job,
    rankings: &[Ranking],
    trouble: Option<String>,
    words: &Words,
) -> Result<Value, PageError> {
    let record = job.record();
    let answers: Result<Vec<Value>, PageError> =
        rankings.iter().map(|ranking| answer::for_screen(ranking, words)).collect();
    let clips: Vec<Value> = record
        .clips
        .iter()
        .map(|clip| {
            json!({
                "file": clip.file.as_str(), "cylinder": clip.subject.cylinder, "opening": clip.subject.opening.name(),
                "air": clip.subject.air.name(), "take": clip.take, "seconds": clip.seconds, "device": clip.device,
                "cut_short": clip.cut_short, "gaps": clip.overruns, "left_out": clip.left_out,
            })
        })
        .collect();
    Ok(json!({
        "name": name,
        "engine": record.engine,
        "customer": record.customer,
        "tested_by": record.tested_by,
        "notes": record.notes,
        "cylinders": record.cylinders,
        "two_stroke": record.cycle == Cycle::TwoStroke,
        "read_only": job.newer_format().is_some(),
        "cautions_confirmed": record.cautions_confirmed.as_ref().map(When::local_minute),
        "rig": readings::rig_of(record, words),
        "gauge": readings::cylinders_of(record, words),
        "turns": turns(record, words),
        "orders": (1..=record.cylinders).map(|cylinder| order_of(record, cylinder)).collect::<Vec<_>>(),
        "clips": clips,
        "answers": answers?,
        "trouble": trouble,
        "findings": answer::findings(record, rankings, words),
    }))
}

/// How far to turn the crank from each cylinder to the next, as a sentence.
fn turns(record: &JobRecord, words: &Words) -> Vec<Value> {
    let Ok(order) = firing_order(record) else { return Vec::new() };
    let turn = |order: &FiringOrder, cylinder: u32| {
        let next = order.next(cylinder).ok()?;
        let degrees = order.turn(cylinder, next).ok()?;
        let number = |value: f64| Fact::Number { value, decimals: 0 };
        let facts = [("degrees", number(degrees)), ("number", number(next.into()))];
        Some(json!({ "from": cylinder, "to": next, "text": words.say("page-turn", &facts) }))
    };
    order.cylinders().filter_map(|cylinder| turn(&order, cylinder)).collect()
}

/// The order of work for a cylinder, each visit with whether it is done.
fn order_of(record: &JobRecord, cylinder: u32) -> Vec<Value> {
    let openings: Vec<Opening> = USUAL.iter().filter_map(|name| name.parse().ok()).collect();
    let done = |visit: &PlannedClip| {
        let same = record
            .clips_of(cylinder)
            .filter(|clip| clip.subject.opening == visit.opening && clip.subject.air == visit.air);
        u32::try_from(same.count()).unwrap_or(u32::MAX) >= visit.take
    };
    let visit = |visit: &PlannedClip| json!({ "opening": visit.opening.name(), "air": visit.air.name(), "take": visit.take, "done": done(visit) });
    quiet_and_air_order(&openings, TAKES).iter().map(visit).collect()
}
