//! Mistakes put right on the page: clips moved, swapped, left out; a reading taken back; the job's own data.

use axum::Json;
use axum::extract::{Extension, Path, Request, State};
use hissward::caveat::Fact;
use hissward::job::{ClipChange, Counts, Datum, FileName, GaugeChange, GaugeValue, JobWriter, RigReading, When};
use hissward::opening::Air;
use hissward::pipeline::Mistake;
use hissward::words::Words;
use serde::Deserialize;
use serde_json::{Value, json};

use super::app_state::AppState;
use super::error::PageError;
use super::guard::{Visitor, json_of};

/// What is to be changed; what is not said stays.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Typed {
    /// Clips that are changed.
    #[serde(default)]
    clips: Vec<String>,
    opening: Option<String>,
    cylinder: Option<u32>,
    air: Option<String>,
    /// Why they are not to count.
    leave_out: Option<String>,
    #[serde(default)]
    take_in: bool,
    /// The two clips change places.
    #[serde(default)]
    swap: bool,
    /// The reading of this cylinder is taken back.
    reading_back: Option<u32>,
    /// The rig's reading is taken back.
    #[serde(default)]
    rig_back: bool,
    /// The rig's reading is this one again.
    rig: Option<Held>,
    /// The job's own data.
    about: Option<About>,
}

/// Pressures as kept.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(deny_unknown_fields)]
struct Held {
    supply_kpa: f64,
    held_kpa: f64,
}

/// What of the job's own data is changed: an empty text takes it away, what is not said stays.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct About {
    engine: Option<String>,
    customer: Option<String>,
    tested_by: Option<String>,
    notes: Option<String>,
}

impl About {
    fn data(self) -> Vec<Datum> {
        let or_none = |text: String| Some(text.trim().to_owned()).filter(|text| !text.is_empty());
        let texts = [
            self.engine.map(|text| Datum::Engine(text.trim().to_owned())),
            self.customer.map(|text| Datum::Customer(or_none(text))),
            self.tested_by.map(|text| Datum::TestedBy(or_none(text))),
            self.notes.map(|text| Datum::Notes(or_none(text))),
        ];
        texts.into_iter().flatten().collect()
    }
}

/// Why a reading does not count that was undone here.
const UNDONE: &str = "undone on the page";

/// `POST /api/jobs/{job}/amend`.
pub async fn amend(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path(job): Path<String>,
    request: Request,
) -> Result<Json<Value>, PageError> {
    let typed: Typed = json_of(request).await?;
    let files = typed.clips.iter().map(|file| file.parse()).collect::<Result<Vec<FileName>, _>>();
    let files = files.map_err(|error: hissward::job::FileNameError| PageError::unfit(error.to_string()))?;
    let air = typed.air.as_deref().map(str::parse::<Air>).transpose();
    let air = air.map_err(|error| PageError::unfit(error.to_string()))?;
    let counts = match (typed.leave_out, typed.take_in) {
        (Some(_), true) => return Err(PageError::unfit("leave out or take in, not both")),
        (Some(reason), false) => Some(Counts::LeftOut(reason)),
        (None, true) => Some(Counts::TakenIn),
        (None, false) => None,
    };
    let (opening, cylinder, swap, reading_back) = (typed.opening, typed.cylinder, typed.swap, typed.reading_back);
    let (rig_back, rig, about) = (typed.rig_back, typed.rig, typed.about);
    state
        .in_job_session(&job, move |session| {
            session.write(|writer| {
                let now = When::now();
                if let Some(cylinder) = reading_back {
                    return Ok(writer.amend_gauge(cylinder, &GaugeChange::TakenBack(UNDONE.to_owned()), &now)?);
                }
                if rig_back {
                    return Ok(writer.take_rig_back(UNDONE, &now)?);
                }
                if let Some(held) = rig {
                    return rig_again(writer, held, now);
                }
                if let Some(about) = about {
                    return Ok(writer.amend_data(&about.data(), &now)?);
                }
                if swap {
                    let [one, other] = &files[..] else { return Err(PageError::unfit("two clips change places")) };
                    return Ok(writer.swap_clips(one, other, &now)?);
                }
                let opening = opening.map(|name| writer.record().opening(&name, true)).transpose();
                let opening = opening.map_err(|error| PageError::unfit(error.to_string()))?;
                let change = ClipChange { opening, cylinder, air, counts };
                Ok::<_, PageError>(writer.amend_clips(&files, &change, &now)?)
            })
        })
        .await?;
    state.log().line(Some(visitor.address), &format!("{job}: something was put right"));
    state.events().tell(&job, "job", &json!({}));
    Ok(Json(json!({})))
}

fn rig_again(writer: &mut JobWriter, held: Held, now: When) -> Result<(), PageError> {
    let value = GaugeValue::Pressures { supply_kpa: held.supply_kpa, held_kpa: held.held_kpa };
    Ok(writer.set_rig(RigReading { value, when: Some(now) })?)
}

/// A likely mistake: its sentence, and what to send to [`amend`] to put it right.
pub fn for_screen(mistake: &Mistake, words: &Words) -> Value {
    let clips: Vec<&str> = mistake.clips().into_iter().map(FileName::as_str).collect();
    let name = |at: usize| Fact::Text(clips.get(at).copied().unwrap_or_default().to_owned());
    let cylinder = if let Mistake::AirNotOpen { cylinder, .. } = mistake { *cylinder } else { 0 };
    let number = Fact::Number { value: cylinder.into(), decimals: 0 };
    let text = words.say(mistake.code(), &[("file", name(0)), ("other", name(1)), ("cylinder", number)]);
    let action = match mistake {
        Mistake::Swapped { .. } => json!({ "clips": clips, "swap": true }),
        // The later of two alike is the first that the sentence names.
        Mistake::SameRecording { .. } => json!({ "clips": &clips[..1], "leave_out": text }),
        Mistake::OddTake { .. } | Mistake::AirNotOpen { .. } | Mistake::Gone { .. } => {
            json!({ "clips": clips, "leave_out": text })
        }
    };
    let does = if matches!(mistake, Mistake::Swapped { .. }) { "swap" } else { "leave-out" };
    json!({ "text": text, "action": action, "does": does })
}
