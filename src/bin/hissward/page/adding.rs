//! Recordings made elsewhere, taken in by the page as `add` does it.

use std::io::Write;
use std::time::Duration;

use axum::Json;
use axum::extract::{Extension, Path, Query, Request, State};
use futures_util::StreamExt;
use hissward::job::When;
use hissward::opening::Air;
use hissward::pipeline::{Channels, take_in};
use serde::Deserialize;
use serde_json::{Value, json};

use super::app_state::AppState;
use super::error::PageError;
use super::guard::Visitor;
use super::jobs::words_of;
use super::uploads::judged;

/// The largest recording: ten minutes of two channels in 24 bit at 48 kHz.
const LARGEST_BYTES: usize = 180 * 1024 * 1024;
/// How long a shop's network may take for it.
const TIME: Duration = Duration::from_secs(300);

/// What a recording is of: `?opening=exhaust&air=on&cylinder=2&name=exhaust.m4a`.
#[derive(Debug, Deserialize)]
pub struct About {
    opening: String,
    air: String,
    cylinder: Option<u32>,
    name: String,
    #[serde(rename = "in")]
    language: Option<String>,
}

impl About {
    /// The ending of the file's name, as far as it is one: readers of recordings go by content, and by this where they must.
    fn ending(&self) -> String {
        let ending = self.name.rsplit_once('.').map_or("", |(_, ending)| ending);
        let fits = ending.len() <= 5 && ending.bytes().all(|byte| byte.is_ascii_alphanumeric());
        if fits { format!(".{}", ending.to_ascii_lowercase()) } else { String::new() }
    }
}

/// `POST /api/jobs/{job}/add?…`: the body is the recording.
pub async fn add(
    State(state): State<AppState>,
    Extension(visitor): Extension<Visitor>,
    Path(job): Path<String>,
    Query(about): Query<About>,
    request: Request,
) -> Result<Json<Value>, PageError> {
    let words = words_of(about.language.as_deref())?;
    let air: Air =
        about.air.parse().map_err(|error: hissward::opening::AirError| PageError::unfit(error.to_string()))?;
    let inside = |error: std::io::Error| PageError::Inside(error.to_string());
    // Whatever the name was outside, the file on this disk has one of our own.
    let mut file = tempfile::Builder::new().prefix("hissward-").suffix(&about.ending()).tempfile().map_err(inside)?;
    let receiving = async {
        let mut body = request.into_body().into_data_stream();
        let mut got = 0;
        while let Some(block) = body.next().await {
            let block = block.map_err(|_| PageError::unfit("the recording broke off: send it again"))?;
            got += block.len();
            if got > LARGEST_BYTES {
                return Err(PageError::TooLarge { limit_bytes: LARGEST_BYTES });
            }
            file.write_all(&block).map_err(inside)?;
        }
        Ok(())
    };
    tokio::time::timeout(TIME, receiving).await.map_err(|_| PageError::TooSlow)??;
    let said = state
        .in_job_session(&job, move |session| {
            session.write(|writer| {
                let at = writer.record().opening(&about.opening, true);
                let at = at.map_err(|error| PageError::unfit(error.to_string()))?;
                let subject = writer.record().subject(about.cylinder, at, air);
                let files = [file.path().to_owned()];
                let taken = take_in(writer, &files, &subject, Channels::default(), &When::now(), &mut |_, _, _| {})
                    .map_err(|error| PageError::unfit(error.to_string()))?;
                let found = taken.first().ok_or_else(|| PageError::Inside("nothing was taken in".to_owned()))?;
                judged(writer, &found.clip, &found.caveats, &words)
            })
        })
        .await?;
    state.log().line(Some(visitor.address), &format!("{job}: a recording was taken in"));
    state.events().tell(&job, "job", &json!({}));
    Ok(Json(said))
}
