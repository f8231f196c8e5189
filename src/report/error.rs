//! Why a report could not be made.

use crate::plot::PictureError;

/// Why a report could not be made.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// The JSON encoder refused.
    #[error("the ranking could not be written as JSON ({0}): please report this with the command you used")]
    Json(serde_json::Error),
    /// A kept ranking cannot be understood.
    #[error("the kept ranking cannot be read ({0}): delete it, and rank the job again with `hissward rank`")]
    Kept(String),
    /// The shop's logo.
    #[error("the logo cannot be used: {0}")]
    Logo(String),
    /// The PDF writer refused.
    #[error("the paper could not be written ({0}): please report this with the command you used")]
    Paper(String),
    /// Its picture could not be drawn.
    #[error("the report lacks its picture: {0}")]
    Picture(#[from] PictureError),
}
