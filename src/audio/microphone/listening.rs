//! Listening to an input under guard: ends at the first failure, and when nothing comes any more.

use std::thread;
use std::time::{Duration, Instant};

use super::card::{OpenStream, Signals, SoundCard};
use super::error::MicError;
use super::input::Input;
use crate::audio::writer::StreamShape;

/// A device that gives nothing for this long is gone: no sound system waits longer between blocks.
pub const SILENT_DEVICE: Duration = Duration::from_millis(2500);
/// The first block may come late: sound servers wake their devices first.
const FIRST_BLOCK: Duration = Duration::from_secs(5);
/// How long a stream may take to be dropped.
const DROP_LIMIT: Duration = Duration::from_secs(1);
/// Who has not looked for so long was asleep or stopped: the device's silence meanwhile says nothing.
const AWAY: Duration = Duration::from_millis(1000);
/// How often the ring is looked into: short against the 100 ms from sound to screen.
const LOOK_EVERY: Duration = Duration::from_millis(8);

/// Why a device gives no more sound.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StreamLoss {
    /// It reported a failure: unplugged, or its server ended.
    Failed(String),
    /// It fell silent without a word.
    Silent,
}

impl std::fmt::Display for StreamLoss {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Failed(said) => said,
            Self::Silent => "nothing came any more",
        })
    }
}

/// What came.
#[derive(Debug, PartialEq)]
pub enum NextBlock<'a> {
    /// Interleaved samples of all channels.
    Samples(&'a [f32]),
    /// Nothing yet.
    Nothing,
    /// Nothing any more.
    Lost(StreamLoss),
}

/// How a stream stands, or ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Closed {
    /// Frames lost here, for want of room in the ring.
    pub lost_frames: u64,
    /// Overruns that the system reported.
    pub overruns: u64,
    /// Whether the system moved the stream to another device on the way.
    pub device_changed: bool,
    /// Whether the device let go in time.
    pub let_go: bool,
}

impl Closed {
    fn of(signals: &Signals, let_go: bool) -> Self {
        Self {
            lost_frames: signals.lost_frames(),
            overruns: signals.overruns(),
            device_changed: signals.changed(),
            let_go,
        }
    }

    /// What came to pass since an earlier look at the same stream.
    #[must_use]
    pub fn since(self, before: Self) -> Self {
        Self {
            lost_frames: self.lost_frames.saturating_sub(before.lost_frames),
            overruns: self.overruns.saturating_sub(before.overruns),
            device_changed: self.device_changed && !before.device_changed,
            let_go: self.let_go,
        }
    }
}

/// An input that is listened to.
pub struct Listening {
    live: OpenStream,
    block: Vec<f32>,
    callbacks: u64,
    last_callback: Instant,
    last_look: Instant,
}

impl Listening {
    /// Opens an input, the default one where none is named.
    ///
    /// # Errors
    /// [`MicError`] where there is none, or it cannot be opened.
    pub fn start(card: &dyn SoundCard, wanted: Option<&str>) -> Result<Self, MicError> {
        let live = card.start(wanted)?;
        Ok(Self { live, block: Vec::new(), callbacks: 0, last_callback: Instant::now(), last_look: Instant::now() })
    }

    /// The input.
    #[must_use]
    pub fn input(&self) -> &Input {
        &self.live.input
    }

    /// Rate, channels and samples of the stream.
    #[must_use]
    pub fn shape(&self) -> StreamShape {
        self.live.shape
    }

    /// What was lost so far.
    #[must_use]
    pub fn so_far(&self) -> Closed {
        Closed::of(&self.live.signals, true)
    }

    /// What has come since the last call; waits up to `patience` for it. At most a tenth of a second of sound
    /// at once, and all that came is given before a loss is told.
    pub fn next(&mut self, patience: Duration) -> NextBlock<'_> {
        let begin = Instant::now();
        loop {
            if self.last_look.elapsed() >= AWAY {
                self.last_callback = Instant::now();
            }
            self.last_look = Instant::now();
            let failure = self.live.signals.failure();
            if self.take() {
                return NextBlock::Samples(&self.block);
            }
            if let Some(said) = failure {
                return NextBlock::Lost(StreamLoss::Failed(said));
            }
            let callbacks = self.live.signals.callbacks();
            if callbacks != self.callbacks {
                self.callbacks = callbacks;
                self.last_callback = Instant::now();
            }
            let limit = if callbacks == 0 { FIRST_BLOCK } else { SILENT_DEVICE };
            if self.last_callback.elapsed() >= limit {
                return NextBlock::Lost(StreamLoss::Silent);
            }
            if begin.elapsed() >= patience {
                return NextBlock::Nothing;
            }
            thread::sleep(LOOK_EVERY);
        }
    }

    /// Moves what lies in the ring into the block; `false` where nothing does.
    fn take(&mut self) -> bool {
        let channels = usize::from(self.live.shape.channels);
        let most = self.live.shape.rate_hz as usize / 10 * channels;
        let there = self.live.samples.slots().min(most) / channels * channels;
        self.block.resize(there, 0.0);
        let taken = there > 0 && self.live.samples.pop_entire_slice(&mut self.block).is_ok();
        if taken {
            self.callbacks = self.live.signals.callbacks();
            self.last_callback = Instant::now();
        }
        taken
    }

    /// Ends the stream, within a second whatever the device does.
    #[must_use]
    pub fn close(self) -> Closed {
        let OpenStream { signals, guard, .. } = self.live;
        let let_go = guard.end(DROP_LIMIT);
        Closed::of(&signals, let_go)
    }
}
