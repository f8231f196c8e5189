//! Recording from a microphone to a file, with levels on the way, keeping what there is whatever happens.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use super::microphone::{Closed, Heard, Input, Listening, Loss, MicError, SoundCard};
use super::writer::{StreamShape, WavRecorder, WriteError};
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
    /// Recorded so far.
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
    Device(Loss),
    /// The file took no more.
    File(WriteError),
}

/// A recording that is on the disk.
#[derive(Debug)]
pub struct Recorded {
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
}

impl Recorded {
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
            Ended::Device(Loss::Failed(said)) => vec![short("device-failed").text("said", said)],
            Ended::Device(Loss::Silent) => vec![short("device-silent")],
            Ended::File(error) => {
                vec![Caveat::new("file-ended").text("said", error.to_string()).number("kept_s", kept_s, 1)]
            }
        };
        if self.closed.lost_frames > 0 {
            let lost_ms = self.closed.lost_frames as f64 / f64::from(self.shape.rate_hz) * 1000.0;
            caveats.push(Caveat::new("sound-lost").number("lost_ms", lost_ms, 0));
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

/// How often a level is reported.
const REPORT_S: f64 = 0.1;
/// How long to wait for sound before the stop flag is looked at again.
const PATIENCE: Duration = Duration::from_millis(50);

/// Records; returns when as much as asked for is on the disk, the flag stops it, or no more comes.
///
/// # Errors
/// [`MicError`] where nothing at all could be recorded; then no file is left behind. What came before a
/// failure is kept, and the failure is in [`Recorded::ended`].
pub fn record(
    card: &dyn SoundCard,
    order: &Order<'_>,
    report: &mut dyn FnMut(&LevelReport),
) -> Result<Recorded, MicError> {
    let mut listening = Listening::start(card, order.input)?;
    let shape = listening.shape();
    let mut writer = WavRecorder::create(order.file, shape)?;
    let wanted_frames = order.length.map(|length| (length.0 * f64::from(shape.rate_hz)).round() as u64);
    let mut meter = Meter::new(shape);
    let ended = loop {
        let left = wanted_frames.map_or(u64::MAX, |wanted| wanted - writer.frames());
        if left == 0 {
            break Ended::Full;
        }
        if order.stop.load(Ordering::Acquire) {
            break Ended::Stopped;
        }
        let lost_frames = listening.lost_frames();
        match listening.next(PATIENCE) {
            Heard::Nothing => {}
            Heard::Lost(loss) => break Ended::Device(loss),
            Heard::Samples(samples) => {
                let most = usize::try_from(left).unwrap_or(usize::MAX).saturating_mul(usize::from(shape.channels));
                let samples = &samples[..samples.len().min(most)];
                if let Err(error) = writer.write(samples) {
                    break Ended::File(error);
                }
                meter.take(samples);
                if let Some(level) = meter.report(writer.frames(), lost_frames) {
                    report(&level);
                }
            }
        }
    };
    let input = listening.input().clone();
    let closed = listening.close();
    finish(
        order.file,
        writer,
        Recorded { file: order.file.to_owned(), input, shape, frames: 0, ended, closed, clipped: meter.clipped },
    )
}

fn finish(file: &Path, writer: WavRecorder, mut recorded: Recorded) -> Result<Recorded, MicError> {
    let frames = writer.frames();
    match writer.finish() {
        Ok(frames) => recorded.frames = frames,
        // What the last whole header tells of is kept; the error is told once.
        Err(error) => {
            recorded.frames = frames;
            recorded.ended = Ended::File(error);
        }
    }
    if recorded.frames > 0 {
        return Ok(recorded);
    }
    // A file without sound would only be in the way.
    fs::remove_file(file).map_err(|error| WriteError::System { file: file.display().to_string(), source: error })?;
    let name = recorded.input.name;
    Err(match recorded.ended {
        Ended::File(error) => MicError::Write(error),
        Ended::Device(Loss::Failed(detail)) => MicError::NoSound { name, detail },
        Ended::Device(Loss::Silent) => MicError::NoSound { name, detail: "nothing came".to_owned() },
        Ended::Full | Ended::Stopped => MicError::NoSound { name, detail: "stopped before any sound came".to_owned() },
    })
}

/// Adds up the level between two reports.
struct Meter {
    shape: StreamShape,
    power: Vec<f64>,
    peak: f32,
    frames: u64,
    clipped: u64,
}

/// From here on a sample counts as clipped: the last step of 16 bit below full scale.
const FULL_SCALE: f32 = 32_767.0 / 32_768.0;

impl Meter {
    fn new(shape: StreamShape) -> Self {
        Self { shape, power: vec![0.0; usize::from(shape.channels)], peak: 0.0, frames: 0, clipped: 0 }
    }

    fn take(&mut self, samples: &[f32]) {
        for frame in samples.chunks_exact(self.power.len()) {
            for (power, sample) in self.power.iter_mut().zip(frame) {
                *power += f64::from(*sample).powi(2);
                self.peak = self.peak.max(sample.abs());
                self.clipped += u64::from(sample.abs() >= FULL_SCALE);
            }
            self.frames += 1;
        }
    }

    /// A report where one is due.
    fn report(&mut self, frames_so_far: u64, lost_frames: u64) -> Option<LevelReport> {
        let rate_hz = f64::from(self.shape.rate_hz);
        if (self.frames as f64) < REPORT_S * rate_hz {
            return None;
        }
        let loudest = self.power.iter().copied().fold(0.0, f64::max) / self.frames as f64;
        let report = LevelReport {
            elapsed: Seconds(frames_so_far as f64 / rate_hz),
            level: Level::of_power(loudest),
            peak: Level::of_power(f64::from(self.peak).powi(2)),
            clipped: self.clipped,
            lost_frames,
        };
        (self.frames, self.peak) = (0, 0.0);
        self.power.fill(0.0);
        Some(report)
    }
}
