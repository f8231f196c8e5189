//! Recordings from a microphone into a job: begun, kept whatever ends them, and found again after a crash.

use crate::audio::{self, AudioError, ChannelChoice, Ended, FinishedRecording, WriteError};
use crate::caveat::Caveat;
use crate::job::{ClipRecord, FileName, JobError, JobWriter, Measured, Microphone};

use super::ranking::SHORTEST;

/// Why a recording is not in the job.
#[derive(Debug, thiserror::Error)]
pub enum KeepError {
    /// The job.
    #[error(transparent)]
    Job(#[from] JobError),
    /// The file of a recording that was broken off.
    #[error(transparent)]
    Write(#[from] WriteError),
    /// The sound in it.
    #[error(transparent)]
    Audio(#[from] AudioError),
}

/// Puts a recording that is on the disk into the job; one that ended before its time, by whatever or whomever, is
/// marked as cut short.
///
/// # Errors
/// [`KeepError`] where the job cannot be changed; the file then stays, and the next start finds it.
pub fn keep_recording(
    job: &mut JobWriter,
    file: &FileName,
    recorded: &FinishedRecording,
) -> Result<ClipRecord, KeepError> {
    let cut_short = !matches!(recorded.ended, Ended::Full);
    let measured = Measured {
        seconds: recorded.length().0,
        sample_rate_hz: recorded.shape.rate_hz,
        channels: recorded.shape.channels.into(),
        cut_short,
        // Sound that found no room here is lost just as well.
        overruns: u32::try_from(recorded.closed.overruns)
            .unwrap_or(u32::MAX)
            .saturating_add(u32::from(recorded.closed.lost_frames > 0))
            .saturating_add(u32::from(recorded.gap.0 > 0.0)),
    };
    Ok(job.finish_recording(file, &measured)?)
}

/// A recording that a killed program left.
#[derive(Debug, Clone, PartialEq)]
pub enum Recovery {
    /// Kept, as far as it goes, and marked as cut short.
    Kept(Box<ClipRecord>),
    /// There was no sound in it.
    Empty(FileName),
}

impl Recovery {
    /// What to say of it.
    #[must_use]
    pub fn caveat(&self) -> Caveat {
        match self {
            Self::Kept(clip) => {
                Caveat::new("recovered").text("file", clip.file.as_str()).number("kept_s", clip.seconds, 1)
            }
            Self::Empty(file) => Caveat::new("nothing-recovered").text("file", file.as_str()),
        }
    }
}

/// Looks for recordings that a killed program left and keeps what sound there is. Call it right after opening.
/// `awaited` says which are left alone, because more of them may come.
///
/// # Errors
/// [`KeepError`] where the disk or the job says no.
pub fn recover_recordings(
    job: &mut JobWriter,
    awaited: &dyn Fn(&FileName) -> bool,
) -> Result<Vec<Recovery>, KeepError> {
    let mut found = Vec::new();
    for left in job.leftovers()? {
        let file = left.clip.file.clone();
        if awaited(&file) {
            continue;
        }
        let whole = left.path.as_deref().map(audio::recover);
        let (path, length) = match (left.path, whole) {
            (Some(path), Some(Ok(recovered))) if recovered.length.0 >= SHORTEST.0 => (path, recovered.length),
            (Some(_), Some(Err(error))) if !matches!(error, WriteError::Hopeless { .. }) => return Err(error.into()),
            _ => {
                job.discard_recording(&file)?;
                found.push(Recovery::Empty(file));
                continue;
            }
        };
        let recording = audio::open(&path, ChannelChoice::First)?;
        let measured = Measured {
            seconds: length.0,
            sample_rate_hz: recording.rate().0.round() as u32,
            channels: recording.channels().into(),
            cut_short: true,
            overruns: 0,
        };
        found.push(Recovery::Kept(Box::new(job.finish_recording(&file, &measured)?)));
    }
    Ok(found)
}

/// Remembers the microphone for the job, channels included, where that is not what the job says already.
///
/// # Errors
/// [`JobError`] where the job cannot be changed.
pub fn remember_microphone(job: &mut JobWriter, device: &str) -> Result<(), JobError> {
    let known = job.record().microphone.as_ref();
    if known.is_some_and(|known| known.device == device) {
        return Ok(());
    }
    let device = device.to_owned();
    job.change(|record| {
        let (channel, far_channel) =
            record.microphone.take().map_or((None, None), |old| (old.channel, old.far_channel));
        record.microphone = Some(Microphone { device, channel, far_channel });
        Ok(())
    })
}
