//! A sound card that plays a script, for tests and for trying things without a microphone.

use std::sync::Arc;
use std::sync::mpsc;
use std::thread;
use std::time::{Duration, Instant};

use super::card::{OpenStream, SoundCard, StreamGuard, ring_buffer};
use super::error::MicError;
use super::input::{Input, worth_of};
use crate::audio::writer::StreamShape;

/// What happens when the script is at its end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FakeEnd {
    /// It begins again.
    Again,
    /// The device reports failures, as fast as it can.
    Fails(String),
    /// Nothing comes any more, and the stream cannot be dropped: a sound server that was killed.
    Hangs,
}

/// A card with one input that plays the samples it was given.
#[derive(Debug, Clone)]
pub struct FakeCard {
    /// Shape of the stream.
    pub shape: StreamShape,
    /// Interleaved samples, full scale ±1.
    pub samples: Arc<[f32]>,
    /// How many times faster than real time they come.
    pub speed: f64,
    /// What happens at their end.
    pub end: FakeEnd,
}

/// Length of a block.
const BLOCK_S: f64 = 0.01;

impl FakeCard {
    fn input(&self) -> Input {
        let (id, name) = ("fake".to_owned(), "made-up microphone".to_owned());
        let worth = worth_of(&id, &name, Some(self.shape));
        Input { id, name, shape: Some(self.shape), is_default: true, worth }
    }
}

impl SoundCard for FakeCard {
    fn inputs(&self) -> Result<Vec<Input>, MicError> {
        Ok(vec![self.input()])
    }

    fn start(&self, wanted: Option<&str>) -> Result<OpenStream, MicError> {
        let input = self.input();
        if let Some(asked) = wanted.filter(|asked| *asked != input.id && *asked != input.name) {
            return Err(MicError::Unknown { asked: asked.to_owned(), there: input.name });
        }
        let (mut ring, samples, signals) = ring_buffer(self.shape);
        let (stop, stopped) = mpsc::channel::<()>();
        let (say_dropped, dropped) = mpsc::channel();
        let (script, said) = (self.clone(), Arc::clone(&signals));
        thread::spawn(move || {
            let block =
                ((BLOCK_S * f64::from(script.shape.rate_hz)) as usize).max(1) * usize::from(script.shape.channels);
            let begin = Instant::now();
            let mut blocks = 0u32;
            let is_stopped = || !matches!(stopped.try_recv(), Err(mpsc::TryRecvError::Empty));
            'script: loop {
                for part in script.samples.chunks(block) {
                    if is_stopped() {
                        break 'script;
                    }
                    ring.push(part, |sample| sample);
                    blocks += 1;
                    let due = Duration::from_secs_f64(f64::from(blocks) * BLOCK_S / script.speed);
                    thread::sleep(due.saturating_sub(begin.elapsed()));
                }
                match &script.end {
                    FakeEnd::Again if !script.samples.is_empty() => {}
                    FakeEnd::Again => break,
                    FakeEnd::Fails(text) => {
                        while !is_stopped() {
                            said.fail(|| text.clone());
                        }
                        break;
                    }
                    FakeEnd::Hangs => loop {
                        thread::park();
                    },
                }
            }
            drop(ring);
            say_dropped.send(())
        });
        Ok(OpenStream { input, shape: self.shape, samples, signals, guard: StreamGuard::new(stop, dropped) })
    }
}
