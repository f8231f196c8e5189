//! A recording from an input that is listened to already: the sound before it and after it is heard, not kept.

use std::fs;
use std::path::{Path, PathBuf};

use super::dropout::{DropoutDetector, since_start};
use super::microphone::{Closed, Input, Listening, MicError, StreamLoss};
use super::recorder::{Ended, FinishedRecording, LevelReport};
use super::writer::{StreamShape, WavRecorder, WriteError};
use crate::units::{Level, Seconds};

/// A recording under way.
pub struct RecordingSession {
    file: PathBuf,
    input: Input,
    shape: StreamShape,
    writer: WavRecorder,
    wanted_frames: Option<u64>,
    meter: Meter,
    before: Closed,
    dropout: DropoutDetector,
    came_frames: u64,
}

impl RecordingSession {
    /// Begins a file for what is heard from now on; `length` ends it, `None` leaves that to the caller.
    ///
    /// # Errors
    /// [`WriteError`] where the file cannot be made; recordings are never written over.
    pub fn begin(listening: &Listening, file: &Path, length: Option<Seconds>) -> Result<Self, WriteError> {
        let shape = listening.shape();
        Ok(Self {
            file: file.to_owned(),
            input: listening.input().clone(),
            shape,
            writer: WavRecorder::create(file, shape)?,
            wanted_frames: length.map(|length| (length.0 * f64::from(shape.rate_hz)).round() as u64),
            meter: Meter::new(shape),
            before: listening.so_far(),
            dropout: DropoutDetector::default(),
            came_frames: 0,
        })
    }

    /// Keeps interleaved samples, no more than asked for, and says how loud it was where a report is due.
    /// `lost_frames` are those of the stream since it was opened.
    ///
    /// # Errors
    /// [`WriteError`] where the file takes no more; what was written before stays readable.
    pub fn take(&mut self, samples: &[f32], lost_frames: u64) -> Result<Option<LevelReport>, WriteError> {
        self.came_frames += samples.len() as u64 / u64::from(self.shape.channels.max(1));
        self.dropout.note(self.came_frames as f64 / f64::from(self.shape.rate_hz), since_start());
        let left = self.wanted_frames.map_or(u64::MAX, |wanted| wanted.saturating_sub(self.writer.frames()));
        let most = usize::try_from(left).unwrap_or(usize::MAX).saturating_mul(usize::from(self.shape.channels));
        let samples = &samples[..samples.len().min(most)];
        self.writer.write(samples)?;
        self.meter.take(samples);
        Ok(self.meter.report(self.writer.frames(), lost_frames.saturating_sub(self.before.lost_frames)))
    }

    /// Whether as much as asked for is there.
    #[must_use]
    pub fn is_full(&self) -> bool {
        self.wanted_frames.is_some_and(|wanted| self.writer.frames() >= wanted)
    }

    /// How much is there.
    #[must_use]
    pub fn length(&self) -> Seconds {
        Seconds(self.writer.frames() as f64 / f64::from(self.shape.rate_hz))
    }

    /// Ends the recording and waits until it is on the disk. `closed` is how the stream stands, or ended.
    ///
    /// # Errors
    /// [`MicError`] where there is no sound at all: then no file is left behind.
    pub fn finish(self, ended: Ended, closed: Closed) -> Result<FinishedRecording, MicError> {
        let Self { file, input, shape, writer, meter, before, dropout, .. } = self;
        let frames = writer.frames();
        // What the last whole header tells of is kept where the end cannot be written; the first error is told.
        let (frames, ended) = match (writer.finish(), ended) {
            (Ok(frames), ended) => (frames, ended),
            (Err(_), Ended::File(error)) | (Err(error), _) => (frames, Ended::File(error)),
        };
        if frames > 0 {
            let closed = closed.since(before);
            let gap = Seconds(dropout.gap_s());
            return Ok(FinishedRecording { file, input, shape, frames, ended, closed, clipped: meter.clipped, gap });
        }
        // A file without sound would only be in the way.
        fs::remove_file(&file).map_err(|source| WriteError::System { file: file.display().to_string(), source })?;
        let name = input.name;
        Err(match ended {
            Ended::File(error) => MicError::Write(error),
            Ended::Device(StreamLoss::Failed(detail)) => MicError::NoSound { name, detail },
            Ended::Device(StreamLoss::Silent) => MicError::NoSound { name, detail: "nothing came".to_owned() },
            Ended::Full | Ended::Stopped => {
                MicError::NoSound { name, detail: "stopped before any sound came".to_owned() }
            }
        })
    }
}

/// How often a level is reported.
const REPORT_S: f64 = 0.1;

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
