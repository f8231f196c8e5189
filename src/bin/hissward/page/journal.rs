//! What has arrived of each recording, kept in the job's `results/`: so an upload goes on after a restart,
//! and a piece sent twice is known for what it is.

use std::fs;

use hissward::job::{Job, RESULTS_FOLDER, Sha256};
use serde::{Deserialize, Serialize};

use super::error::PageError;

/// The file in `results/`. Without it a recording that was broken off is begun again by the phone, which still has it.
const FILE: &str = "page-uploads.json";
/// Finished uploads remembered, so that a finish sent twice is answered the same.
const MOST_FINISHED: usize = 200;

/// One recording on its way in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// The phone's name for it: 32 hexadecimal digits.
    pub token: String,
    /// The clip it becomes.
    pub clip: String,
    /// Samples per second.
    pub rate_hz: u32,
    /// Channels, in turn in each piece.
    #[serde(default = "one")]
    pub channels: u16,
    /// What the phone asked of its microphone, and what it got.
    #[serde(default)]
    pub settings: Option<String>,
    /// Pieces that are on the disk, in order.
    pub pieces: Vec<Piece>,
    /// The clip is in the job.
    pub committed: bool,
}

/// What a journal of an earlier version meant.
fn one() -> u16 {
    1
}

/// One piece that is on the disk.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Piece {
    /// Its length.
    pub frames: u64,
    /// Hash of its bytes.
    pub sha256: String,
}

impl Entry {
    /// Frames that are on the disk.
    pub fn frames(&self) -> u64 {
        self.pieces.iter().map(|piece| piece.frames).sum()
    }

    /// The number of the piece that is wanted next, counted from 0.
    pub fn next(&self) -> u64 {
        self.pieces.len() as u64
    }
}

/// All recordings that came in by the page.
#[derive(Debug, Default, Serialize, Deserialize)]
pub struct Journal {
    entries: Vec<Entry>,
}

impl Journal {
    /// The journal of a job; none, or one that cannot be read, is an empty one.
    pub fn of(job: &Job) -> Self {
        let file = job.folder().join(RESULTS_FOLDER).join(FILE);
        // The journal is only of what comes in just now: where it is lost, the phone is told to begin that recording again,
        // and what came of it is kept as a recording that a killed program left.
        let text = fs::read_to_string(file).ok();
        let mut journal: Self = text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        // A clip that was committed right before the program was killed stands in job.toml already.
        for entry in &mut journal.entries {
            entry.committed |= job.record().clips.iter().any(|clip| clip.file.as_str() == entry.clip);
        }
        journal
    }

    /// The entry of a recording.
    pub fn entry(&self, token: &str) -> Option<&Entry> {
        self.entries.iter().find(|entry| entry.token == token)
    }

    /// Whether a phone may still send more of this clip.
    pub fn awaits(&self, clip: &str) -> bool {
        self.entries.iter().any(|entry| entry.clip == clip && !entry.committed)
    }

    /// Puts an entry in, in place of an earlier one, and keeps the journal.
    pub fn put(&mut self, entry: Entry, job: &Job) -> Result<(), PageError> {
        self.entries.retain(|other| other.token != entry.token && other.clip != entry.clip);
        self.entries.push(entry);
        let finished = self.entries.iter().filter(|entry| entry.committed).count();
        let mut too_many = finished.saturating_sub(MOST_FINISHED);
        self.entries.retain(|entry| {
            let goes = entry.committed && too_many > 0;
            too_many -= usize::from(goes);
            !goes
        });
        self.keep(job)
    }

    /// Takes an entry out.
    pub fn remove(&mut self, token: &str, job: &Job) -> Result<(), PageError> {
        self.entries.retain(|entry| entry.token != token);
        self.keep(job)
    }

    fn keep(&self, job: &Job) -> Result<(), PageError> {
        let text = serde_json::to_vec(self).map_err(|error| PageError::Inside(error.to_string()))?;
        job.write_result(FILE, &text)?;
        Ok(())
    }
}

/// A token as phones make them.
pub fn check_token(token: &str) -> Result<(), PageError> {
    let fits = token.len() == 32 && token.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte));
    if fits { Ok(()) } else { Err(PageError::unfit("a recording is named by 32 hexadecimal digits")) }
}

/// A hash as sent.
pub fn check_hash(text: &str) -> Result<Sha256, PageError> {
    text.parse().map_err(|_| PageError::unfit("X-Sha256 holds the piece's SHA-256: 64 hexadecimal digits"))
}
