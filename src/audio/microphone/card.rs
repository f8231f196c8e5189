//! The seam to the sound card, and the ring buffer between its callback and the rest of the program.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender};
use std::sync::{Arc, Mutex};
use std::time::Duration;

use super::error::MicError;
use super::input::Input;
use crate::audio::writer::StreamShape;

/// Whatever records sound.
pub trait SoundCard: Send + Sync {
    /// The inputs that a person would recognise.
    ///
    /// # Errors
    /// [`MicError::NoSystem`] where the sound system does not answer.
    fn inputs(&self) -> Result<Vec<Input>, MicError>;

    /// Begins to record from an input, the default one where none is named (by its id or its name).
    ///
    /// # Errors
    /// [`MicError`] where there is none, or it cannot be opened.
    fn start(&self, wanted: Option<&str>) -> Result<OpenStream, MicError>;
}

/// An input that is being recorded from.
pub struct OpenStream {
    /// The input.
    pub input: Input,
    /// Rate, channels and samples that it gives.
    pub shape: StreamShape,
    /// Where its samples arrive, interleaved, full scale ±1.
    pub samples: rtrb::Consumer<f32>,
    /// What its callbacks report.
    pub signals: Arc<Signals>,
    /// Holds the stream.
    pub guard: StreamGuard,
}

/// What callbacks report, without a lock.
#[derive(Debug, Default)]
pub struct Signals {
    callbacks: AtomicU64,
    lost_frames: AtomicU64,
    overruns: AtomicU64,
    changed: AtomicBool,
    failed: AtomicBool,
    failure: Mutex<Option<String>>,
}

impl Signals {
    /// How many blocks have come.
    #[must_use]
    pub fn callbacks(&self) -> u64 {
        self.callbacks.load(Ordering::Acquire)
    }

    /// Frames that found no room in the ring.
    #[must_use]
    pub fn lost_frames(&self) -> u64 {
        self.lost_frames.load(Ordering::Acquire)
    }

    /// Overruns that the system reported: sound lost before it came here.
    #[must_use]
    pub fn overruns(&self) -> u64 {
        self.overruns.load(Ordering::Acquire)
    }

    /// Whether the system moved the stream to another device.
    #[must_use]
    pub fn changed(&self) -> bool {
        self.changed.load(Ordering::Acquire)
    }

    /// What ended the stream, where something did.
    #[must_use]
    pub fn failure(&self) -> Option<String> {
        if !self.failed.load(Ordering::Acquire) {
            return None;
        }
        let said = self.failure.lock().unwrap_or_else(std::sync::PoisonError::into_inner).clone();
        Some(said.unwrap_or_else(|| "the device failed".to_owned()))
    }

    /// Counts an overrun.
    pub fn overrun(&self) {
        self.overruns.fetch_add(1, Ordering::AcqRel);
    }

    /// Notes that another device took over.
    pub fn device_changed(&self) {
        self.changed.store(true, Ordering::Release);
    }

    /// Notes the first failure. A device that is gone may report millions a second: the others cost one load.
    pub fn fail(&self, said: impl FnOnce() -> String) {
        if self.failed.load(Ordering::Acquire) {
            return;
        }
        let mut failure = self.failure.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        if failure.is_none() {
            *failure = Some(said());
        }
        self.failed.store(true, Ordering::Release);
    }
}

/// The callback's end of the ring: nothing here allocates or locks.
pub struct RingProducer {
    ring: rtrb::Producer<f32>,
    signals: Arc<Signals>,
    channels: usize,
}

impl RingProducer {
    /// Takes a block of interleaved samples, made into full scale ±1 by `to_f32`. What finds no room is counted.
    pub fn push<T: Copy>(&mut self, block: &[T], to_f32: impl Fn(T) -> f32) {
        let frames = block.len() / self.channels;
        let taken = frames.min(self.ring.slots() / self.channels);
        if let Ok(chunk) = self.ring.write_chunk_uninit(taken * self.channels) {
            chunk.fill_from_iter(block[..taken * self.channels].iter().map(|sample| to_f32(*sample)));
        }
        if taken < frames {
            self.signals.lost_frames.fetch_add((frames - taken) as u64, Ordering::AcqRel);
        }
        self.signals.callbacks.fetch_add(1, Ordering::AcqRel);
    }
}

/// How much sound the ring holds: a disk that stalls for as long loses nothing.
const RING_S: u32 = 8;

/// A ring for a stream of this shape: the callback's end, the program's end, and what is reported beside it.
#[must_use]
pub fn ring_buffer(shape: StreamShape) -> (RingProducer, rtrb::Consumer<f32>, Arc<Signals>) {
    let channels = usize::from(shape.channels.max(1));
    let (ring, samples) = rtrb::RingBuffer::new(shape.rate_hz as usize * RING_S as usize * channels);
    let signals = Arc::new(Signals::default());
    (RingProducer { ring, signals: Arc::clone(&signals), channels }, samples, signals)
}

/// Holds a stream on a thread of its own, so that a stream that cannot be dropped harms nobody.
pub struct StreamGuard {
    stop: Sender<()>,
    dropped: Receiver<()>,
}

impl StreamGuard {
    /// A guard whose thread ends its stream when `stop` hears something (or is gone), then says `dropped`.
    #[must_use]
    pub fn new(stop: Sender<()>, dropped: Receiver<()>) -> Self {
        Self { stop, dropped }
    }

    /// Ends the stream; `false` where that took longer than `limit`: the thread is then left to itself.
    #[must_use]
    pub fn end(self, limit: Duration) -> bool {
        // A thread that is gone has dropped its stream.
        if self.stop.send(()).is_err() {
            return true;
        }
        !matches!(self.dropped.recv_timeout(limit), Err(std::sync::mpsc::RecvTimeoutError::Timeout))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::audio::writer::SampleKind;

    /// Every lock that the callback could come to, held by this thread: whoever waits for one here waits for ever. All fields
    /// are named, so that a new one does not build until somebody has said here whether it is a lock.
    #[test]
    fn the_callback_waits_for_no_lock() {
        let shape = StreamShape { rate_hz: 48_000, channels: 1, kind: SampleKind::I16 };
        let (mut producer, samples, signals) = ring_buffer(shape);
        let RingProducer { ring: _, signals: of_producer, channels: _ } = &producer;
        assert!(Arc::ptr_eq(of_producer, &signals));
        let Signals { callbacks, lost_frames, overruns, changed, failed, failure } = &*signals;
        let counters: [&AtomicU64; 3] = [callbacks, lost_frames, overruns];
        let flags: [&AtomicBool; 2] = [changed, failed];
        let held = failure.lock().expect("nobody else is here");
        // More than the ring holds, so that the path without room is gone as well.
        for _ in 0..1000 {
            producer.push(&[1_i16; 480], f32::from);
        }
        signals.overrun();
        signals.device_changed();
        assert_eq!(samples.slots(), 384_000);
        assert_eq!(counters.map(|counter| counter.load(Ordering::Acquire)), [1000, 96_000, 1]);
        assert_eq!(flags.map(|flag| flag.load(Ordering::Acquire)), [true, false]);
        // The partner: what does take the lock waits for it.
        let (said, heard) = std::sync::mpsc::channel();
        let other = Arc::clone(&signals);
        let failing = std::thread::spawn(move || {
            other.fail(|| "unplugged".to_owned());
            said.send(()).expect("somebody listens");
        });
        assert!(heard.recv_timeout(Duration::from_millis(200)).is_err(), "it went past a lock that is held");
        drop(held);
        failing.join().expect("it ended");
        assert_eq!(signals.failure().as_deref(), Some("unplugged"));
    }
}
