//! Which request goes where.

use axum::Json;
use axum::Router;
use axum::extract::{Path, Request, State};
use axum::http::header;
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use hissward::guide::CAUTIONS;
use hissward::words::Words;
use serde_json::{Value, json};

use super::adding;
use super::amending;
use super::answer;
use super::app_state::{AppState, off_thread};
use super::assets;
use super::entrance;
use super::error::PageError;
use super::guard;
use super::job_directory;
use super::jobs::{self, language_of, words_of};
use super::papers;
use super::readings;
use super::uploads;

/// Messages that the page says by itself.
const SPOKEN: [&str; 6] = ["page-", "opening-", "path-", "call-", "decimal-mark", "elsewhere"];

/// The page's router; everything goes through [`guard::watch`].
pub fn router(state: AppState) -> Router {
    Router::new()
        .route("/", get(assets::index))
        .route("/web/{file}", get(assets::asset))
        .route("/api/words/{language}", get(words))
        .route("/api/session", get(entrance::session))
        .route("/api/pair", post(entrance::pair))
        .route("/api/leave", post(entrance::leave))
        .route("/api/further-device", post(entrance::further_device))
        .route("/api/jobs", get(jobs::list).post(jobs::start))
        .route("/api/jobs/{job}", get(jobs::show))
        .route("/api/jobs/{job}/cautions", post(readings::cautions))
        .route("/api/jobs/{job}/rig", post(readings::rig))
        .route("/api/jobs/{job}/gauge", post(readings::gauge))
        .route("/api/jobs/{job}/customer-link", post(entrance::customer_link).delete(entrance::end_customer_link))
        .route("/api/jobs/{job}/events", get(events))
        .route("/api/jobs/{job}/ranking", get(ranking))
        .route("/api/jobs/{job}/picture", get(papers::picture))
        .route("/api/jobs/{job}/report", get(papers::report))
        .route("/api/jobs/{job}/report.pdf", get(papers::pdf))
        .route("/api/jobs/{job}/amend", post(amending::amend))
        .route("/api/jobs/{job}/add", post(adding::add))
        .route("/api/jobs/{job}/leave-out", post(uploads::leave_out))
        .route("/api/jobs/{job}/uploads", post(uploads::begin))
        .route("/api/jobs/{job}/uploads/{token}", get(uploads::stands).delete(uploads::discard))
        .route("/api/jobs/{job}/uploads/{token}/finish", post(uploads::finish))
        .route("/api/jobs/{job}/uploads/{token}/{sequence}", post(uploads::piece))
        .fallback(nothing)
        .layer(from_fn_with_state(state.clone(), guard::watch))
        .with_state(state)
}

async fn nothing() -> PageError {
    PageError::not_found("this address")
}

async fn words(Path(language): Path<String>) -> Result<Json<Value>, PageError> {
    let words = words_of(Some(&language))?;
    let said = words.beginning_with(&SPOKEN);
    let cautions = CAUTIONS.map(|name| words.say(name, &[]));
    Ok(Json(json!({
        "language": words.language(), "languages": Words::languages(), "words": said, "cautions": cautions,
    })))
}

async fn events(State(state): State<AppState>, Path(job): Path<String>) -> Result<Response, PageError> {
    state.directory().find(&job)?;
    Ok(state.events().stream(&job)?.into_response())
}

/// The same bytes as `rank JOB --json`.
async fn ranking(
    State(state): State<AppState>,
    Path(name): Path<String>,
    request: Request,
) -> Result<Response, PageError> {
    let words = words_of(language_of(&request).as_deref())?;
    let text = off_thread(move || {
        let job = job_directory::open(&state.directory().find(&name)?)?;
        answer::as_json(&state.answers().rankings(&name, &job)?, &words)
    })
    .await?;
    Ok(([(header::CONTENT_TYPE, "application/json")], text).into_response())
}
