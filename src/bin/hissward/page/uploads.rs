//! Recordings from a phone: begun, sent piece by piece, made clips.

use axum::Json;
use axum::extract::{Extension, Path, Request, State};
use hissward::caveat::Caveat;
use hissward::job::{ClipRecord, Job, JobWriter};
use hissward::opening::{Air, Opening};
use hissward::pipeline::{ClipVerdict, leave_out_unfit, verdict_of};
use hissward::words::Words;
use serde::Deserialize;
use serde_json::{Value, json};

use super::app_state::AppState;
use super::error::PageError;
use super::guard::{Visitor, body_of, json_of};
use super::job_session::{Arrival, Ending, UploadStatus};
use super::jobs::{language_of, words_of};
use super::journal::{check_hash, check_token};

/// The largest piece: two and a half seconds at 96 kHz.
pub const PIECE_BYTES: usize = 1024 * 1024;
/// Rates that browsers record at.
const RATES_HZ: std::ops::RangeInclusive<u32> = 8_000..=192_000;
/// The longest name of a microphone, and of its settings.
const LONGEST_DEVICE: usize = 200;

/// What a phone says before it records.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Begun {
    token: String,
    cylinder: Option<u32>,
    opening: String,
    air: String,
    rate_hz: u32,
    #[serde(default = "one_channel")]
    channels: u16,
    device: String,
    #[serde(default)]
    settings: String,
    /// Processing that the phone did not switch off: `echo`, `noise`, `gain`.
    #[serde(default)]
    processing: Vec<String>,
}

/// Words of a phone, as they may stand in a job.
fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).take(LONGEST_DEVICE).collect()
}

fn one_channel() -> u16 {
    1
}

impl Begun {
    /// The phone's own words for what it left on, checked.
    fn processing(&self) -> Result<Option<String>, PageError> {
        let known = |name: &String| matches!(name.as_str(), "echo" | "noise" | "gain" | "unknown");
        if !self.processing.iter().all(known) {
            return Err(PageError::unfit("processing is echo, noise, gain or unknown"));
        }
        Ok((!self.processing.is_empty()).then(|| self.processing.join(" ")))
    }

    fn settings(&self) -> Option<String> {
        Some(plain(&self.settings)).filter(|settings| !settings.trim().is_empty())
    }

    fn device(&self) -> String {
        let name = plain(&self.device);
        if name.trim().is_empty() { "phone".to_owned() } else { name }
    }
}

/// `POST /api/jobs/{job}/uploads`: begins a recording, or says where it stands.
pub async fn begin(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path(job): Path<String>,
    request: Request,
) -> Result<Json<UploadStatus>, PageError> {
    let begun: Begun = json_of(request).await?;
    check_token(&begun.token)?;
    if !RATES_HZ.contains(&begun.rate_hz) {
        return Err(PageError::unfit(format!("{} Hz is not a valid rate for a microphone", begun.rate_hz)));
    }
    if !matches!(begun.channels, 1 | 2) {
        return Err(PageError::unfit("a recording has one channel, or two"));
    }
    let opening: Opening =
        begun.opening.parse().map_err(|error: hissward::opening::OpeningError| PageError::unfit(error.to_string()))?;
    let air: Air =
        begun.air.parse().map_err(|error: hissward::opening::AirError| PageError::unfit(error.to_string()))?;
    let (device, settings, processing) = (begun.device(), begun.settings(), begun.processing()?);
    let (token, rate_hz, channels, cylinder) = (begun.token, begun.rate_hz, begun.channels, begun.cylinder);
    let status = state
        .in_job_session(&job, move |session| {
            let record = hissward::job::Job::open(session.folder())?;
            let subject = record.record().subject(cylinder, opening, air);
            let visit = Some(record.record().next_visit());
            session.begin(&Arrival { token, subject, rate_hz, channels, device, settings, processing, visit })
        })
        .await?;
    state.log().line(Some(visitor.address), &format!("{job}: {} begins", status.clip));
    state.events().tell(&job, "begun", &json!({ "clip": status.clip }));
    Ok(Json(status))
}

/// `GET /api/jobs/{job}/uploads/{token}`: where a recording stands.
pub async fn stands(
    State(state): State<AppState>,
    Path((job, token)): Path<(String, String)>,
) -> Result<Json<UploadStatus>, PageError> {
    check_token(&token)?;
    Ok(Json(state.in_job_session(&job, move |session| session.status(&token)).await?))
}

/// `POST /api/jobs/{job}/uploads/{token}/{sequence}`: one piece, with its SHA-256 in `X-Sha256`.
pub async fn piece(
    State(state): State<AppState>,
    Path((job, token, sequence)): Path<(String, String, u64)>,
    request: Request,
) -> Result<Json<UploadStatus>, PageError> {
    check_token(&token)?;
    let told = request.headers().get("x-sha256").and_then(|hash| hash.to_str().ok()).unwrap_or_default();
    let told = check_hash(told)?;
    let bytes = body_of(request.into_body(), PIECE_BYTES).await?;
    let taken = state.in_job_session(&job, move |session| session.piece(&token, sequence, told, &bytes)).await?;
    if let (Some(level), Some(subject)) = (taken.level, taken.subject) {
        let told = json!({
            "clip": taken.status.clip, "seconds": taken.status.seconds, "cylinder": subject.cylinder,
            "opening": subject.opening.name(), "air": subject.air.name(), "level": level,
        });
        state.events().tell(&job, "level", &told);
    }
    Ok(Json(taken.status))
}

/// What a phone says at the end.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Ended {
    pieces: u64,
    #[serde(default)]
    cut_short: bool,
    #[serde(default)]
    gaps: u32,
}

/// `POST /api/jobs/{job}/uploads/{token}/finish`: the recording becomes a clip.
pub async fn finish(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path((job, token)): Path<(String, String)>,
    request: Request,
) -> Result<Json<Value>, PageError> {
    check_token(&token)?;
    let words = words_of(language_of(&request).as_deref())?;
    let Ended { pieces, cut_short, gaps } = json_of(request).await?;
    let ending = Ending { pieces, cut_short, gaps };
    let ((status, clip), verdict) = state
        .in_job_session(&job, move |session| {
            let done = session.finish(&token, ending)?;
            let verdict = match &done.1 {
                Some(clip) => session.write(|writer| judged(writer, clip, &[], &words))?,
                // Asked again: the same verdict, and whether it counts stays as it is by now.
                None => verdict_again(&Job::open(session.folder())?, &done.0.clip, &words)?,
            };
            Ok((done, verdict))
        })
        .await?;
    if let Some(clip) = &clip {
        state.log().line(Some(visitor.address), &format!("{job}: {} is in, {:.1} s", clip.file, clip.seconds));
        state.events().tell(&job, "job", &json!({ "clip": status.clip }));
    }
    let mut told = json!(status);
    told["verdict"] = verdict;
    Ok(Json(told))
}

/// The verdict on a clip before it counts, for the screen; one that is unfit is left out, and stays in the job.
pub fn judged(writer: &mut JobWriter, clip: &ClipRecord, told: &[Caveat], words: &Words) -> Result<Value, PageError> {
    let verdict = verdict_of(writer, clip, told).map_err(|error| PageError::unfit(error.to_string()))?;
    leave_out_unfit(writer, clip, &verdict, words)?;
    Ok(for_screen(clip, &verdict, words))
}

fn verdict_again(job: &Job, file: &str, words: &Words) -> Result<Value, PageError> {
    let clip = job.record().clips.iter().find(|clip| clip.file.as_str() == file);
    let clip = clip.ok_or_else(|| PageError::not_found(file))?;
    let verdict = verdict_of(job, clip, &[]).map_err(|error| PageError::unfit(error.to_string()))?;
    Ok(for_screen(clip, &verdict, words))
}

fn for_screen(clip: &ClipRecord, verdict: &ClipVerdict, words: &Words) -> Value {
    let first = verdict.against().or(verdict.caveats.first()).map(|caveat| words.caveat(caveat));
    let (text, remedy) = first.unzip();
    json!({ "file": clip.file.as_str(), "fit": verdict.is_fit(), "text": text, "remedy": remedy })
}

/// `DELETE /api/jobs/{job}/uploads/{token}`: thrown away.
pub async fn discard(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path((job, token)): Path<(String, String)>,
) -> Result<Json<Value>, PageError> {
    check_token(&token)?;
    state.in_job_session(&job, move |session| session.discard(&token)).await?;
    state.log().line(Some(visitor.address), &format!("{job}: a recording was thrown away"));
    state.events().tell(&job, "job", &json!({}));
    Ok(Json(json!({})))
}

/// Why a clip is not to be used; nothing takes it in again.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct LeaveOut {
    file: String,
    reason: Option<String>,
}

/// `POST /api/jobs/{job}/leave-out`.
pub async fn leave_out(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path(job): Path<String>,
    request: Request,
) -> Result<Json<Value>, PageError> {
    let LeaveOut { file, reason } = json_of(request).await?;
    let name = file.parse().map_err(|error: hissward::job::FileNameError| PageError::unfit(error.to_string()))?;
    state
        .in_job_session(&job, move |session| {
            session.write(|writer| Ok::<_, PageError>(writer.leave_out(&name, reason)?))
        })
        .await?;
    state.log().line(Some(visitor.address), &format!("{job}: {file} left out or taken in again"));
    state.events().tell(&job, "job", &json!({}));
    Ok(Json(json!({})))
}
