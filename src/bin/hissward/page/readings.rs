//! Gauge readings on the page: the rig's and the cylinders', and the cautions before them.

use axum::Json;
use axum::extract::{Extension, Path, Request, State};
use hissward::job::{GaugeReading, GaugeValue, JobRecord, RigReading, When};
use hissward::pipeline::{kept_reading, rig_reading};
use hissward::report::{gauge_text, rig_text};
use hissward::units::{GaugePressure, Percent};
use hissward::words::Words;
use serde::Deserialize;
use serde_json::{Value, json};

use super::app_state::AppState;
use super::error::PageError;
use super::guard::{Visitor, json_of};

/// Two pressures as typed, each with its unit: `80psi`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Pressures {
    supply: String,
    held: String,
}

/// A cylinder's reading as typed: two pressures, or percent.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    cylinder: u32,
    supply: Option<String>,
    held: Option<String>,
    loss: Option<String>,
    #[serde(default)]
    cold: bool,
}

fn pressure(text: &str) -> Result<f64, PageError> {
    let pressure: GaugePressure =
        text.parse().map_err(|error: hissward::units::QuantityError| PageError::unfit(error.to_string()))?;
    Ok(pressure.as_kpa())
}

impl Typed {
    fn value(&self) -> Result<GaugeValue, PageError> {
        match (&self.supply, &self.held, &self.loss) {
            (Some(supply), Some(held), None) => {
                Ok(GaugeValue::Pressures { supply_kpa: pressure(supply)?, held_kpa: pressure(held)? })
            }
            (supply, None, Some(loss)) => {
                let percent: Percent = loss
                    .parse()
                    .map_err(|error: hissward::units::QuantityError| PageError::unfit(error.to_string()))?;
                let supply_kpa = supply.as_deref().map(pressure).transpose()?;
                Ok(GaugeValue::Loss { percent: percent.0, supply_kpa })
            }
            _ => Err(PageError::unfit("give the two pressures, or the loss in percent")),
        }
    }
}

/// `POST /api/jobs/{job}/cautions`: they were read and confirmed.
pub async fn cautions(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path(job): Path<String>,
) -> Result<Json<Value>, PageError> {
    state
        .in_job_session(&job, |session| {
            session.write(|writer| Ok::<_, PageError>(writer.confirm_cautions(When::now())?))
        })
        .await?;
    told(&state, &visitor, &job, "cautions confirmed");
    Ok(Json(json!({})))
}

/// `POST /api/jobs/{job}/rig`.
pub async fn rig(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path(job): Path<String>,
    request: Request,
) -> Result<Json<Value>, PageError> {
    let typed: Pressures = json_of(request).await?;
    let value = GaugeValue::Pressures { supply_kpa: pressure(&typed.supply)?, held_kpa: pressure(&typed.held)? };
    let reading = RigReading { value, when: Some(When::now()) };
    state
        .in_job_session(&job, move |session| session.write(|writer| Ok::<_, PageError>(writer.set_rig(reading)?)))
        .await?;
    told(&state, &visitor, &job, "rig read");
    Ok(Json(json!({})))
}

/// `POST /api/jobs/{job}/gauge`.
pub async fn gauge(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path(job): Path<String>,
    request: Request,
) -> Result<Json<Value>, PageError> {
    let typed: Typed = json_of(request).await?;
    let cylinder = typed.cylinder;
    let reading = GaugeReading { cylinder, value: typed.value()?, cold: typed.cold, when: Some(When::now()) };
    state
        .in_job_session(&job, move |session| {
            session.write(|writer| Ok::<_, PageError>(writer.add_gauge_reading(reading)?))
        })
        .await?;
    told(&state, &visitor, &job, &format!("gauge of cylinder {cylinder} read"));
    Ok(Json(json!({})))
}

fn told(state: &AppState, visitor: &Visitor, job: &str, what: &str) {
    state.log().line(Some(visitor.address), &format!("{job}: {what}"));
    state.events().tell(job, "job", &json!({}));
}

/// What the rig's reading says; `None` where it was not read.
pub fn rig_of(record: &JobRecord, words: &Words) -> Option<Value> {
    let reading = record.rig.as_ref()?;
    let text = match rig_reading(record, reading) {
        Ok(found) => unwrapped(&rig_text(&found, words, record.units.unwrap_or_default())),
        Err(error) => error.to_string(),
    };
    // What it was, so that the next one can be undone.
    let held = match reading.value {
        GaugeValue::Pressures { supply_kpa, held_kpa } => json!({ "supply_kpa": supply_kpa, "held_kpa": held_kpa }),
        _ => Value::Null,
    };
    Some(json!({ "text": text, "held": held }))
}

/// What each cylinder's last reading says.
pub fn cylinders_of(record: &JobRecord, words: &Words) -> Vec<Value> {
    (1..=record.cylinders).filter_map(|cylinder| cylinder_of(record, cylinder, words)).collect()
}

fn cylinder_of(record: &JobRecord, cylinder: u32, words: &Words) -> Option<Value> {
    let loss = record.latest_gauge(cylinder)?.value.reading().loss().0;
    let text = match kept_reading(record, cylinder) {
        Ok(kept) => kept.map(|kept| gauge_text(&kept, words, record.units.unwrap_or_default())).unwrap_or_default(),
        Err(error) => error.to_string(),
    };
    Some(json!({ "cylinder": cylinder, "loss": words.number(loss, 0), "text": unwrapped(&text) }))
}

/// Text wrapped for a terminal, as a screen wants it: a line a sentence, continuations joined.
fn unwrapped(text: &str) -> String {
    text.trim_end().replace("\n  ", " ")
}
