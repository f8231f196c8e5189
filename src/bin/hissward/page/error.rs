//! Why a request was refused: a status, a code for the script, a sentence for the person.

use axum::Json;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use hissward::audio::WriteError;
use hissward::job::JobError;
use hissward::pipeline::ReadingsError;
use serde_json::json;

/// A refusal. Its sentence says what, where and what to do.
#[derive(Debug, thiserror::Error)]
pub enum PageError {
    /// No session, or one that has ended.
    #[error("this device is not paired with the bench page: open the address with a fresh code")]
    NotPaired,
    /// A customer's link, which only reads.
    #[error("this link only shows the job: changing it needs a paired device")]
    ReadOnly,
    /// A wrong or spent pairing code.
    #[error(
        "that code is not the one shown on the computer (it is good once, for ten minutes): type the one shown now"
    )]
    WrongCode,
    /// Too many wrong codes.
    #[error("too many wrong codes: wait {seconds} s, then type the one shown on the computer")]
    Locked {
        /// Until pairing opens again.
        seconds: u64,
    },
    /// A name of a server that this is not.
    #[error("this address is not one of the bench page: use the one shown on the computer")]
    WrongHost,
    /// A request sent by another site's page.
    #[error("another site's page sent this: nothing was done")]
    ForeignOrigin,
    /// No such thing.
    #[error("{what}: there is no such thing here")]
    NotFound {
        /// What was asked for.
        what: String,
    },
    /// A request that makes no sense.
    #[error("{what}")]
    Unfit {
        /// What is wrong and what to do.
        what: String,
    },
    /// More than is taken.
    #[error("more than {limit_bytes} bytes: sent in smaller pieces")]
    TooLarge {
        /// The most.
        limit_bytes: usize,
    },
    /// More, or more often, than is taken.
    #[error("{what}")]
    TooMuch {
        /// What there is too much of, and what to do.
        what: &'static str,
    },
    /// A body that did not arrive in time.
    #[error("the request did not arrive in time: it is sent again")]
    TooSlow,
    /// A piece that is not the next one.
    #[error("piece {got} is out of order: piece {want} is next")]
    OutOfOrder {
        /// The piece sent.
        got: u64,
        /// The piece wanted.
        want: u64,
    },
    /// A piece whose content is not what its sender said.
    #[error("piece {sequence} came damaged: it is sent again")]
    Damaged {
        /// The piece.
        sequence: u64,
    },
    /// An upload that the server does not know (any more).
    #[error("this recording is not known here (any more): it is begun again")]
    UnknownUpload,
    /// The job folder.
    #[error(transparent)]
    Job(#[from] JobError),
    /// The gauge.
    #[error(transparent)]
    Readings(#[from] ReadingsError),
    /// The recording's file.
    #[error(transparent)]
    Write(#[from] WriteError),
    /// Something of the program itself.
    #[error("{0}")]
    Inside(String),
}

impl PageError {
    /// A request that makes no sense.
    pub fn unfit(what: impl Into<String>) -> Self {
        Self::Unfit { what: what.into() }
    }

    /// Something that is not there.
    pub fn not_found(what: impl Into<String>) -> Self {
        Self::NotFound { what: what.into() }
    }

    fn status(&self) -> StatusCode {
        match self {
            Self::NotPaired => StatusCode::UNAUTHORIZED,
            Self::ReadOnly | Self::WrongCode | Self::ForeignOrigin => StatusCode::FORBIDDEN,
            Self::Locked { .. } | Self::TooMuch { .. } => StatusCode::TOO_MANY_REQUESTS,
            Self::WrongHost => StatusCode::MISDIRECTED_REQUEST,
            Self::NotFound { .. } | Self::UnknownUpload => StatusCode::NOT_FOUND,
            Self::Unfit { .. } | Self::Damaged { .. } | Self::Readings(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Self::TooLarge { .. } => StatusCode::PAYLOAD_TOO_LARGE,
            Self::TooSlow => StatusCode::REQUEST_TIMEOUT,
            Self::OutOfOrder { .. } => StatusCode::CONFLICT,
            Self::Job(JobError::Busy { .. }) => StatusCode::LOCKED,
            Self::Job(JobError::Disk { .. }) | Self::Write(_) => StatusCode::INSUFFICIENT_STORAGE,
            Self::Job(_) => StatusCode::UNPROCESSABLE_ENTITY,
            Self::Inside(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    /// What the script acts on.
    fn code(&self) -> &'static str {
        match self {
            Self::NotPaired => "not-paired",
            Self::ReadOnly => "read-only",
            Self::WrongCode => "wrong-code",
            Self::Locked { .. } => "locked",
            Self::WrongHost => "wrong-host",
            Self::ForeignOrigin => "foreign-origin",
            Self::NotFound { .. } => "not-found",
            Self::Unfit { .. } | Self::Readings(_) => "unfit",
            Self::TooLarge { .. } => "too-large",
            Self::TooMuch { .. } => "too-much",
            Self::TooSlow => "too-slow",
            Self::OutOfOrder { .. } => "out-of-order",
            Self::Damaged { .. } => "damaged",
            Self::UnknownUpload => "unknown-upload",
            Self::Job(JobError::Busy { .. }) => "busy",
            Self::Job(JobError::Disk { .. }) | Self::Write(_) => "disk",
            Self::Job(_) => "job",
            Self::Inside(_) => "inside",
        }
    }
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        let text = self.to_string();
        let mut told = json!({ "code": self.code(), "text": text });
        match &self {
            Self::OutOfOrder { want, .. } => told["want"] = json!(want),
            Self::Damaged { sequence } => told["want"] = json!(sequence),
            Self::Locked { seconds } => told["seconds"] = json!(seconds),
            _ => {}
        }
        let mut response = (self.status(), Json(told)).into_response();
        if let Self::Locked { seconds } = self {
            response.headers_mut().insert(header::RETRY_AFTER, HeaderValue::from(seconds));
        }
        // Kept for the log.
        response.extensions_mut().insert(Told(text));
        response
    }
}

/// What was told, for the log.
#[derive(Clone)]
pub struct Told(pub String);
