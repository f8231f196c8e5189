//! Recording from a microphone to a file, with levels on the way, keeping what there is whatever happens.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use super::microphone::{Closed, Input, Listening, MicError, NextBlock, SoundCard, StreamLoss};
use super::recording_session::RecordingSession;
use super::writer::{StreamShape, WriteError};
use crate::caveat::Caveat;
use crate::units::{Level, Seconds};

/// What to record.
pub struct Order<'a> {
    /// The file to make. Recordings are never written over.
    pub file: &'a Path,
    /// The input, by id or name; `None` for the default one.
    pub input: Option<&'a str>,
    /// How long; `None` until `stop`.
    pub length: Option<Seconds>,
    /// Ends the recording when it becomes true.
    pub stop: &'a AtomicBool,
}

/// How loud it was since the last report.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelReport {
    /// FinishedRecording so far.
    pub elapsed: Seconds,
    /// Level of the loudest channel; `None` in digital silence.
    pub level: Option<Level>,
    /// Level of a square wave as high as the highest sample; `None` in digital silence.
    pub peak: Option<Level>,
    /// Samples at full scale, since the beginning.
    pub clipped: u64,
    /// Frames lost, since the beginning.
    pub lost_frames: u64,
}

/// Why a recording ended.
#[derive(Debug)]
pub enum Ended {
    /// As long as was asked for.
    Full,
    /// By the stop flag.
    Stopped,
    /// The device gave no more sound.
    Device(StreamLoss),
    /// The file took no more.
    File(WriteError),
}

/// A recording that is on the disk.
#[derive(Debug)]
pub struct FinishedRecording {
    /// The file.
    pub file: PathBuf,
    /// The input it came from.
    pub input: Input,
    /// Its shape.
    pub shape: StreamShape,
    /// Its frames.
    pub frames: u64,
    /// Why it ended.
    pub ended: Ended,
    /// How the device let go, and what was lost on the way.
    pub closed: Closed,
    /// Samples at full scale.
    pub clipped: u64,
    /// Sound that did not come although time passed: the machine slept, or stood still. 0 where there is no such gap.
    pub gap: Seconds,
}

impl FinishedRecording {
    /// How long it is.
    #[must_use]
    pub fn length(&self) -> Seconds {
        Seconds(self.frames as f64 / f64::from(self.shape.rate_hz))
    }

    /// What lowers trust in it, and what to do.
    #[must_use]
    pub fn caveats(&self) -> Vec<Caveat> {
        let kept_s = self.length().0;
        let short = |code| Caveat::new(code).text("device", &self.input.name).number("kept_s", kept_s, 1);
        let mut caveats = match &self.ended {
            Ended::Full | Ended::Stopped => Vec::new(),
            Ended::Device(StreamLoss::Failed(said)) => vec![short("device-failed").text("said", said)],
            Ended::Device(StreamLoss::Silent) => vec![short("device-silent")],
            Ended::File(error) => {
                vec![Caveat::new("file-ended").text("said", error.to_string()).number("kept_s", kept_s, 1)]
            }
        };
        if self.closed.lost_frames > 0 {
            let lost_ms = self.closed.lost_frames as f64 / f64::from(self.shape.rate_hz) * 1000.0;
            caveats.push(Caveat::new("sound-lost").number("lost_ms", lost_ms, 0));
        }
        if self.gap.0 > 0.0 {
            caveats.push(Caveat::new("sound-gap").number("gap_s", self.gap.0, 0));
        }
        if self.closed.overruns > 0 {
            caveats.push(Caveat::new("overruns").number("times", self.closed.overruns as f64, 0));
        }
        if self.closed.device_changed {
            caveats.push(Caveat::new("device-changed").text("device", &self.input.name));
        }
        caveats
    }
}

/// How long to wait for sound before the stop flag is looked at again.
const PATIENCE: Duration = Duration::from_millis(50);

/// Records; returns when as much as asked for is on the disk, the flag stops it, or no more comes.
///
/// # Errors
/// [`MicError`] where nothing at all could be recorded; then no file is left behind. What came before a
/// failure is kept, and the failure is in [`FinishedRecording::ended`].
pub fn record(
    card: &dyn SoundCard,
    order: &Order<'_>,
    report: &mut dyn FnMut(&LevelReport),
) -> Result<FinishedRecording, MicError> {
    let mut listening = Listening::start(card, order.input)?;
    let mut session = RecordingSession::begin(&listening, order.file, order.length)?;
    let ended = loop {
        if session.is_full() {
            break Ended::Full;
        }
        if order.stop.load(Ordering::Acquire) {
            break Ended::Stopped;
        }
        let lost_frames = listening.so_far().lost_frames;
        match listening.next(PATIENCE) {
            NextBlock::Nothing => {}
            NextBlock::Lost(loss) => break Ended::Device(loss),
            NextBlock::Samples(samples) => match session.take(samples, lost_frames) {
                Ok(Some(level)) => report(&level),
                Ok(None) => {}
                Err(error) => break Ended::File(error),
            },
        }
    };
    session.finish(ended, listening.close())
}
