//! Simulated clips into a job, through the same door as recorded ones.

use crate::audio::{SampleKind, StreamShape, WavRecorder, WriteError};
use crate::job::{JobError, JobWriter, Measured, RecordingPlan, Subject, When};
use crate::simulate::{Case, CaseClip};

/// Why simulated clips are not in a job.
#[derive(Debug, thiserror::Error)]
pub enum SimulatedError {
    /// The job.
    #[error(transparent)]
    Job(#[from] JobError),
    /// A clip's file.
    #[error(transparent)]
    Write(#[from] WriteError),
}

/// What stands for the microphone's name in the job.
const DEVICE: &str = "simulated";

/// Writes a case's clips into a job as recordings of one cylinder, 16-bit WAV, in their order of work. Where there is a
/// second microphone it becomes the second channel.
///
/// # Errors
/// [`SimulatedError`] for the first clip that cannot be written; those before it are in the job.
pub fn take_in_case(job: &mut JobWriter, cylinder: u32, case: &Case, now: &When) -> Result<(), SimulatedError> {
    case.clips.iter().try_for_each(|clip| take_in_clip(job, cylinder, clip, now))
}

fn take_in_clip(job: &mut JobWriter, cylinder: u32, clip: &CaseClip, now: &When) -> Result<(), SimulatedError> {
    let subject = Subject { cylinder: Some(cylinder), opening: clip.truth.opening.clone(), air: clip.truth.air };
    let channels: u16 = if clip.far.is_some() { 2 } else { 1 };
    let visit = Some(job.record().next_visit());
    let plan = RecordingPlan {
        subject,
        visit,
        since: now.clone(),
        channel: 1,
        far_channel: clip.far.as_ref().map(|_| 2),
        device: Some(DEVICE.to_owned()),
        processing: None,
    };
    let slot = job.start_recording(plan)?;
    let sample_rate_hz = clip.clip.rate().0.round() as u32;
    let shape = StreamShape { rate_hz: sample_rate_hz, channels, kind: SampleKind::I16 };
    let mut recorder = WavRecorder::create(slot.path(), shape)?;
    match &clip.far {
        None => recorder.write(clip.clip.samples())?,
        Some(far) => {
            let frames = clip.clip.samples().iter().zip(far.samples());
            let interleaved: Vec<f32> = frames.flat_map(|(near, far)| [*near, *far]).collect();
            recorder.write(&interleaved)?;
        }
    }
    recorder.finish()?;
    let seconds = clip.clip.duration().0;
    let measured = Measured { seconds, sample_rate_hz, channels: channels.into(), cut_short: false, overruns: 0 };
    job.finish_recording(&slot.file, &measured)?;
    Ok(())
}
