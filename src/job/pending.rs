//! What a killed program left: recordings to keep, imports to clear away.

use std::path::PathBuf;

use crate::job::error::{Doing, JobError};
use crate::job::names::FileName;
use crate::job::record::{PendingClip, PendingKind};
use crate::job::replace::remove_if_there;
use crate::job::store::JobWriter;

/// A recording that was never finished.
///
/// Its file is as the recorder left it: mend its header where that lags behind the samples, measure it, then hand it to
/// [`JobWriter::finish_recording`] with `cut_short`, or to [`JobWriter::discard_recording`].
#[derive(Debug, Clone, PartialEq)]
pub struct Leftover {
    /// What was to be recorded.
    pub clip: PendingClip,
    /// Where the sound is; `None` where no file was begun.
    pub path: Option<PathBuf>,
    /// How much there is, bytes.
    pub bytes: u64,
}

impl JobWriter {
    /// Recordings that were begun and never finished, in the order in which they were begun.
    /// Ask right after opening: one that is being recorded now stands among them.
    ///
    /// # Errors
    /// [`JobError`] where `clips/` cannot be looked into.
    pub fn leftovers(&self) -> Result<Vec<Leftover>, JobError> {
        let recordings = self.record().pending.iter().filter(|pending| pending.kind == PendingKind::Recording);
        recordings
            .map(|clip| {
                let path = self.begun_file(&clip.file)?;
                let bytes = match &path {
                    Some(path) => path.metadata().doing("looking at the recording", path)?.len(),
                    None => 0,
                };
                Ok(Leftover { clip: clip.clone(), path, bytes })
            })
            .collect()
    }

    /// The file of a pending clip: unfinished, or finished and not yet listed.
    pub(crate) fn begun_file(&self, file: &FileName) -> Result<Option<PathBuf>, JobError> {
        let clips = self.clips_folder()?;
        for name in [file.unfinished(), file.as_str().to_owned()] {
            let path = clips.join(name);
            match path.symlink_metadata() {
                Ok(found) if found.is_file() => return Ok(Some(path)),
                Ok(_) => return Err(JobError::Unfit { path, what: "is not a plain file: remove it".to_owned() }),
                Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
                Err(error) => return Err(error).doing("looking at the recording", path),
            }
        }
        Ok(None)
    }

    /// Removes what killed imports left: their sources still exist elsewhere.
    pub(crate) fn clear_dead_imports(&mut self) -> Result<(), JobError> {
        let imports = self.record().pending.iter().filter(|pending| pending.kind == PendingKind::Import);
        let dead: Vec<PendingClip> = imports.cloned().collect();
        self.clear_pending(&dead)
    }

    /// Removes the files of pending clips, then the clips' entries: in this order a full disk stands in nobody's way.
    pub(crate) fn clear_pending(&mut self, dead: &[PendingClip]) -> Result<(), JobError> {
        if dead.is_empty() {
            return Ok(());
        }
        let clips = self.clips_folder()?;
        for pending in dead {
            for file in std::iter::once(&pending.file).chain(&pending.original_file) {
                remove_if_there(&clips.join(file.unfinished()))?;
                remove_if_there(&clips.join(file.as_str()))?;
            }
        }
        self.change(|record| {
            record.pending.retain(|pending| !dead.iter().any(|dead| dead.file == pending.file));
            Ok(())
        })
    }
}
