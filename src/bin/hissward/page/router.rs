//! Which request goes where.

use axum::Json;
use axum::Router;
use axum::extract::{Path, Request, State};
use axum::http::{HeaderValue, header};
use axum::middleware::from_fn_with_state;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use hissward::guide::CAUTIONS;
use hissward::pipeline::JobReport;
use hissward::plot::{PictureSize, comparison_of_each};
use hissward::report::{document, html};
use hissward::words::Words;
use serde_json::{Value, json};

use super::answer;
use super::assets;
use super::bench::{Bench, off_thread};
use super::entrance;
use super::error::PageError;
use super::guard::{self, REPORT_POLICY};
use super::jobs::{self, language_of, words_of};
use super::readings;
use super::shelf;
use super::uploads;

/// Messages that the page says by itself.
const SPOKEN: [&str; 6] = ["page-", "opening-", "path-", "call-", "decimal-mark", "elsewhere"];

/// The page's router; everything goes through [`guard::watch`].
pub fn router(bench: Bench) -> Router {
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
        .route("/api/jobs/{job}/picture", get(picture))
        .route("/api/jobs/{job}/report", get(report))
        .route("/api/jobs/{job}/leave-out", post(uploads::leave_out))
        .route("/api/jobs/{job}/uploads", post(uploads::begin))
        .route("/api/jobs/{job}/uploads/{token}", get(uploads::stands).delete(uploads::discard))
        .route("/api/jobs/{job}/uploads/{token}/finish", post(uploads::finish))
        .route("/api/jobs/{job}/uploads/{token}/{sequence}", post(uploads::piece))
        .fallback(nothing)
        .layer(from_fn_with_state(bench.clone(), guard::watch))
        .with_state(bench)
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

async fn events(State(bench): State<Bench>, Path(job): Path<String>) -> Result<Response, PageError> {
    bench.shelf().find(&job)?;
    Ok(bench.events().stream(&job)?.into_response())
}

/// The same bytes as `rank JOB --json`.
async fn ranking(
    State(bench): State<Bench>,
    Path(name): Path<String>,
    request: Request,
) -> Result<Response, PageError> {
    let words = words_of(language_of(&request).as_deref())?;
    let text = off_thread(move || {
        let job = shelf::open(&bench.shelf().find(&name)?)?;
        answer::as_json(&bench.answers().rankings(&name, &job)?, &words)
    })
    .await?;
    Ok(([(header::CONTENT_TYPE, "application/json")], text).into_response())
}

/// The comparison picture of one cylinder: `?in=en&cylinder=2`.
async fn picture(
    State(bench): State<Bench>,
    Path(name): Path<String>,
    request: Request,
) -> Result<Response, PageError> {
    let words = words_of(language_of(&request).as_deref())?;
    let query = request.uri().query().unwrap_or_default();
    let cylinder = query.split('&').find_map(|pair| pair.strip_prefix("cylinder=")).and_then(|text| text.parse().ok());
    let cylinder: u32 = cylinder.ok_or_else(|| PageError::unfit("say which cylinder: ?cylinder=2"))?;
    let text = off_thread(move || {
        let job = shelf::open(&bench.shelf().find(&name)?)?;
        let rankings = bench.answers().rankings(&name, &job)?;
        let ranking = rankings.into_iter().find(|ranking| ranking.cylinder == Some(cylinder));
        let ranking = ranking.ok_or_else(|| PageError::not_found(format!("a ranking of cylinder {cylinder}")))?;
        let inside = |error: hissward::plot::PictureError| PageError::Inside(error.to_string());
        let pictures = comparison_of_each(&[ranking], &words, PictureSize::Phone).map_err(inside)?;
        let first = pictures.first().ok_or_else(|| PageError::not_found("a picture"))?;
        first.to_svg().map_err(inside)
    })
    .await?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], text).into_response())
}

/// The customer's report, standing alone.
async fn report(State(bench): State<Bench>, Path(name): Path<String>, request: Request) -> Result<Response, PageError> {
    let asked = language_of(&request);
    let page = off_thread(move || {
        let job = shelf::open(&bench.shelf().find(&name)?)?;
        let record = job.record();
        let words = words_of(asked.as_deref().or(record.language.as_deref()))?;
        let rankings = bench.answers().rankings(&name, &job)?;
        let inside = |error: hissward::report::ReportError| PageError::Inside(error.to_string());
        let made = JobReport::of(&job, &rankings).map_err(|error| PageError::Inside(error.to_string()))?;
        let letterhead = made.letterhead(None);
        let input = made.input(letterhead.as_ref(), &words, record.units.unwrap_or_default());
        html(&document(&input).map_err(inside)?).map_err(inside)
    })
    .await?;
    let mut response = ([(header::CONTENT_TYPE, "text/html; charset=utf-8")], page).into_response();
    response.headers_mut().insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(REPORT_POLICY));
    Ok(response)
}
