//! The microphone, kept open: live readings, double taps, and recordings from it when the time comes.

use std::path::Path;
use std::time::Duration;

use hissward::audio::{
    Ended, FinishedRecording, LevelReport, Listening, MicError, NextBlock, RecordingSession, SoundCard, StreamLoss,
    WriteError,
};
use hissward::hiss::{ClipAnalyzer, ClipFeatures};
use hissward::meter::{CapsuleWatch, Colour, DoubleTap, HissMeter, LevelEstimate, MeterReading, Settling};
use hissward::units::{Hertz, Seconds};

/// An open microphone.
pub struct LiveInput {
    listening: Listening,
    rate: Hertz,
    channels: usize,
    near: usize,
    mono: Vec<f32>,
    block: Vec<f32>,
    meter: HissMeter,
    capsule: CapsuleWatch,
    taps: DoubleTap,
    take: Option<Take>,
}

/// A recording under way.
struct Take {
    session: RecordingSession,
    listener: ClipAnalyzer,
    settling: Settling,
    clipped: u64,
}

/// What came in one look.
#[derive(Default)]
pub struct Came {
    /// Readings, oldest first.
    pub readings: Vec<MeterReading>,
    /// The level of the recording, where a report is due.
    pub report: Option<LevelReport>,
    /// A double tap was complete.
    pub tapped: bool,
    /// Why no more comes, to the microphone or into the file.
    pub ended: Option<Ended>,
}

impl LiveInput {
    /// Opens a microphone, the default one where none is named; `channel` is the one at the opening, from 1.
    pub fn open(card: &dyn SoundCard, wanted: Option<&str>, channel: Option<u32>) -> Result<Self, MicError> {
        let listening = Listening::start(card, wanted)?;
        let shape = listening.shape();
        let rate = Hertz(f64::from(shape.rate_hz));
        let channels = usize::from(shape.channels);
        let near = channel.map_or(0, |channel| channel.saturating_sub(1) as usize).min(channels - 1);
        Ok(Self {
            listening,
            rate,
            channels,
            near,
            mono: Vec::new(),
            block: Vec::new(),
            meter: HissMeter::new(rate),
            capsule: CapsuleWatch::default(),
            taps: DoubleTap::new(rate),
            take: None,
        })
    }

    /// The microphone's name.
    pub fn name(&self) -> &str {
        &self.listening.input().name
    }

    /// Begins to record into a file, from what comes next.
    /// `name` is what the clip is called in what is said of it.
    pub fn record(&mut self, file: &Path, name: &str, length: Option<Seconds>) -> Result<(), WriteError> {
        let session = RecordingSession::begin(&self.listening, file, length)?;
        let listener = ClipAnalyzer::new(name, self.rate);
        self.take = Some(Take { session, listener, settling: Settling::default(), clipped: 0 });
        Ok(())
    }

    /// How long the recording is; `None` where there is none.
    pub fn recorded(&self) -> Option<Seconds> {
        self.take.as_ref().map(|take| take.session.length())
    }

    /// How well the level of the recording is known so far.
    pub fn estimate(&self) -> Option<LevelEstimate> {
        self.take.as_ref().and_then(|take| take.settling.estimate())
    }

    /// What the last seconds sound like.
    pub fn colour(&self) -> Option<Colour> {
        self.capsule.colour()
    }

    /// Whether air streams over the microphone, against what quiet sounds like.
    pub fn is_in_the_stream(&self, quiet: Option<&Colour>) -> bool {
        self.capsule.is_in_the_stream(quiet)
    }

    /// What has been recorded so far, for a first judgement.
    pub fn sound(&self) -> Option<ClipFeatures> {
        self.take.as_ref().map(|take| take.listener.sound())
    }

    /// Samples at full scale in the recording.
    pub fn clipped(&self) -> u64 {
        self.take.as_ref().map_or(0, |take| take.clipped)
    }

    /// Looks for what has come; waits up to `patience` for it.
    pub fn look(&mut self, patience: Duration) -> Came {
        let mut came = Came::default();
        let lost_frames = self.listening.so_far().lost_frames;
        match self.listening.next(patience) {
            NextBlock::Nothing => return came,
            NextBlock::Lost(loss) => {
                came.ended = Some(Ended::Device(loss));
                return came;
            }
            NextBlock::Samples(samples) => {
                self.block.clear();
                self.block.extend_from_slice(samples);
            }
        }
        self.mono.clear();
        self.mono.extend(self.block.iter().skip(self.near).step_by(self.channels));
        self.meter.push(&self.mono, |reading| came.readings.push(reading));
        came.readings.iter().for_each(|reading| self.capsule.push(reading));
        came.tapped = self.taps.push(&self.mono);
        if let Some(take) = &mut self.take {
            let before = take.session.length();
            match take.session.take(&self.block, lost_frames) {
                Ok(report) => came.report = report,
                Err(error) => came.ended = Some(Ended::File(error)),
            }
            let kept = ((take.session.length().0 - before.0) * self.rate.0).round() as usize;
            take.listener.push(&self.mono[..kept.min(self.mono.len())]);
            came.readings.iter().for_each(|reading| take.settling.push(reading));
            take.clipped = came.report.map_or(take.clipped, |report| report.clipped);
            if came.ended.is_none() && take.session.is_full() {
                came.ended = Some(Ended::Full);
            }
        }
        came
    }

    /// Ends the recording; the microphone stays open. `None` where there is none.
    pub fn end_recording(&mut self, ended: Ended) -> Option<(Result<FinishedRecording, MicError>, ClipFeatures)> {
        let take = self.take.take()?;
        let sound = take.listener.sound();
        Some((take.session.finish(ended, self.listening.so_far()), sound))
    }

    /// Lets the microphone go, within a second whatever it does.
    pub fn close(self) {
        // How it let go is of no more interest: what was recorded is kept already.
        let _ended = self.listening.close();
    }
}

/// A loss in words for a line on the screen.
pub fn said(loss: &StreamLoss) -> String {
    match loss {
        StreamLoss::Failed(said) => said.clone(),
        StreamLoss::Silent => "no more sound".to_owned(),
    }
}
