//! The customer's report and the comparison picture, as the commands make them.

use axum::extract::{Path, Query, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use hissward::pipeline::picture_title;
use hissward::plot::{PictureSize, comparison_of_each};
use serde::Deserialize;

use super::app_state::{AppState, off_thread};
use super::error::PageError;
use super::guard::REPORT_POLICY;
use super::job_directory;
use super::jobs::words_of;
use crate::report_files::{ReportChoices, papers};

/// In which language, of which cylinder.
#[derive(Debug, Deserialize)]
pub struct Asked {
    #[serde(rename = "in")]
    language: Option<String>,
    cylinder: Option<u32>,
}

/// The comparison picture of one cylinder: `?in=en&cylinder=2`.
pub async fn picture(
    State(state): State<AppState>,
    Path(name): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let words = words_of(asked.language.as_deref())?;
    let cylinder = asked.cylinder.ok_or_else(|| PageError::unfit("say which cylinder: ?cylinder=2"))?;
    let text = off_thread(move || {
        let job = job_directory::open(&state.directory().find(&name)?)?;
        let rankings = state.answers().rankings(&name, &job)?;
        let normal = picture_title(&job, &rankings, &words).map_err(inside)?.normal;
        let ranking = rankings.into_iter().find(|ranking| ranking.cylinder == Some(cylinder));
        let ranking = ranking.ok_or_else(|| PageError::not_found(format!("a ranking of cylinder {cylinder}")))?;
        let pictures = comparison_of_each(&[ranking], &normal, &words, PictureSize::Phone).map_err(inside)?;
        let first = pictures.first().ok_or_else(|| PageError::not_found("a picture"))?;
        first.to_svg().map_err(inside)
    })
    .await?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], text).into_response())
}

/// The customer's report, standing alone.
pub async fn report(
    State(state): State<AppState>,
    Path(name): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let page = off_thread(move || made(&state, &name, asked.language, "report.html")).await?;
    let mut response = ([(header::CONTENT_TYPE, "text/html; charset=utf-8")], page).into_response();
    response.headers_mut().insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(REPORT_POLICY));
    Ok(response)
}

/// The same on paper.
pub async fn pdf(
    State(state): State<AppState>,
    Path(name): Path<String>,
    Query(asked): Query<Asked>,
) -> Result<Response, PageError> {
    let paper = off_thread(move || made(&state, &name, asked.language, "report.pdf")).await?;
    let named =
        [(header::CONTENT_TYPE, "application/pdf"), (header::CONTENT_DISPOSITION, "inline; filename=\"report.pdf\"")];
    Ok((named, paper).into_response())
}

fn made(state: &AppState, name: &str, language: Option<String>, file: &str) -> Result<Vec<u8>, PageError> {
    let job = job_directory::open(&state.directory().find(name)?)?;
    let rankings = state.answers().rankings(name, &job)?;
    let choices = ReportChoices { language, paper: None, csv: false, json: false, png: false };
    let papers = papers(&job, &rankings, &choices).map_err(|error| PageError::Inside(error.to_string()))?;
    let found = papers.into_iter().find(|(there, _)| *there == file);
    found.map(|(_, bytes)| bytes).ok_or_else(|| PageError::not_found(file))
}

fn inside(error: impl std::fmt::Display) -> PageError {
    PageError::Inside(error.to_string())
}
