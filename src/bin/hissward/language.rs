//! The language in which a command speaks.

use hissward::job::JobRecord;
use hissward::words::{FALLBACK, Words};

use crate::console::Failure;

/// The words where no job says which.
pub fn usual() -> Result<Words, Failure> {
    Ok(Words::of(FALLBACK)?)
}

/// The words of a job: in its language, or in English where there are none in it.
pub fn of_job(record: &JobRecord) -> Result<Words, Failure> {
    match record.language.as_deref().map(Words::of) {
        Some(Ok(words)) => Ok(words),
        // A reading is not to be lost over the language it is told in.
        Some(Err(_)) | None => usual(),
    }
}
