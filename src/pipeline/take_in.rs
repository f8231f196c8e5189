//! Recordings made elsewhere into a job: read by [`crate::audio`], kept by [`crate::job`].

use std::path::{Path, PathBuf};

use crate::audio::{self, AudioError, ChannelChoice, Recording, SampleKind, StreamShape, WavRecorder, WriteError};
use crate::caveat::Caveat;
use crate::clip::ClipError;
use crate::job::{ClipRecord, ImportPlan, JobError, JobWriter, MadeWith, Measured, Slot, Subject, When};

/// The container that is taken as it is, byte for byte.
const AS_IT_IS: &str = "WAV";

/// Which channels of the files are used, counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Channels {
    /// At the opening; the first where nothing is said.
    pub near: Option<u16>,
    /// A second microphone a step away.
    pub far: Option<u16>,
}

impl Channels {
    /// What of this recording is kept: both of two channels where nobody chose one.
    fn of(self, recording: &Recording) -> Self {
        if self == Self::default() && recording.channels() == 2 { Self { near: Some(1), far: Some(2) } } else { self }
    }

    /// What of a file is read.
    #[must_use]
    pub fn choice(self) -> ChannelChoice {
        match (self.near, self.far) {
            (None, None) => ChannelChoice::First,
            (Some(near), None) => ChannelChoice::Number(near),
            (near, Some(far)) => ChannelChoice::Pair { near: near.unwrap_or(1), far },
        }
    }

    fn used(self) -> u16 {
        if self.far.is_some() { 2 } else { 1 }
    }
}

/// A recording that is in the job now.
#[derive(Debug, Clone, PartialEq)]
pub struct TakenIn {
    /// Its record.
    pub clip: ClipRecord,
    /// What lowers trust in the file it came from.
    pub caveats: Vec<Caveat>,
}

/// Why recordings were not taken in; then none of them was.
#[derive(Debug, thiserror::Error)]
pub enum TakeInError {
    /// The job.
    #[error(transparent)]
    Job(#[from] JobError),
    /// A recording.
    #[error(transparent)]
    Audio(#[from] AudioError),
    /// What is in a recording.
    #[error(transparent)]
    Clip(#[from] ClipError),
    /// The decoded clip.
    #[error(transparent)]
    Write(#[from] WriteError),
}

/// Takes recordings into a job as takes of one subject: all of them or, on any error, none.
///
/// A WAV becomes the clip as it is. Any other format is kept as it came, beside a 32-bit float WAV of the channels used.
/// `watch` is told, block by block, which file is read, its frames so far and in all (where it says so).
///
/// # Errors
/// [`TakeInError`] where a file cannot be read, has no sound or no such channel, the subject cannot be, or the disk says no.
pub fn take_in(
    job: &mut JobWriter,
    files: &[PathBuf],
    subject: &Subject,
    channels: Channels,
    now: &When,
    watch: &mut dyn FnMut(&Path, u64, Option<u64>),
) -> Result<Vec<TakenIn>, TakeInError> {
    let mut plans = Vec::new();
    for file in files {
        // Looked at before anything is reserved: most bad files show here, and the job is not touched.
        let recording = audio::open(file, channels.choice())?;
        let as_it_is = recording.format().container == AS_IT_IS;
        let (channel, far_channel) =
            if as_it_is { (channels.near.unwrap_or(1), channels.far) } else { (1, channels.far.map(|_| 2)) };
        let one_channel = as_it_is && recording.channels() > 1 && channels.near == Some(1) && channels.far.is_none();
        let made_by = recording.made_by().clone();
        let format = recording.format();
        let made_with = MadeWith {
            device: made_by.device,
            application: made_by.application,
            coding: format.lossy.then(|| format.coding.clone()),
        };
        plans.push(ImportPlan {
            source: file.clone(),
            subject: subject.clone(),
            visit: None,
            when: now.clone(),
            as_it_is,
            channel: channel.into(),
            far_channel: far_channel.map(u32::from),
            one_channel,
            made_with,
        });
    }
    let mut caveats = Vec::new();
    let clips = job.import(&plans, |plan, slot| {
        let recording = audio::open(&plan.source, channels.choice())?;
        let kept = if plan.as_it_is { channels } else { channels.of(&recording) };
        let recording = if kept == channels { recording } else { audio::open(&plan.source, kept.choice())? };
        let (measured, found) = read_through(recording, kept, plan, slot, watch)?;
        caveats.push(found);
        Ok::<Measured, TakeInError>(measured)
    })?;
    Ok(clips.into_iter().zip(caveats).map(|(clip, caveats)| TakenIn { clip, caveats }).collect())
}

/// Reads a recording to its end, and writes the WAV where it is not taken as it is.
fn read_through(
    mut recording: Recording,
    channels: Channels,
    plan: &ImportPlan,
    slot: &Slot,
    watch: &mut dyn FnMut(&Path, u64, Option<u64>),
) -> Result<(Measured, Vec<Caveat>), TakeInError> {
    // Rates are checked to lie between 8 and 192 kHz when a recording is opened.
    let rate_hz = recording.rate().0.round() as u32;
    let shape = StreamShape { rate_hz, channels: channels.used(), kind: SampleKind::F32 };
    let mut writer = if plan.as_it_is { None } else { Some(WavRecorder::create(slot.path(), shape)?) };
    let name = recording.name().to_owned();
    let total = recording.total_frames();
    let mut frames = 0_u64;
    while let Some(block) = recording.next_block()? {
        if let Some(writer) = &mut writer {
            writer.write(block)?;
        }
        frames += block.len() as u64 / u64::from(channels.used());
        watch(&plan.source, frames, total);
    }
    if frames == 0 {
        return Err(ClipError::Empty { name }.into());
    }
    if let Some(writer) = writer {
        writer.finish()?;
    }
    let measured = Measured {
        seconds: frames as f64 / recording.rate().0,
        sample_rate_hz: rate_hz,
        channels: if plan.as_it_is { recording.channels() } else { channels.used() }.into(),
        cut_short: false,
        overruns: 0,
    };
    Ok((measured, recording.caveats()))
}
