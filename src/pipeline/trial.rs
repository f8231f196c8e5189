//! A short trial of a microphone: what really comes from it, whatever it says of itself.

use std::time::{Duration, Instant};

use crate::audio::{Input, Listening, MicError, NextBlock, SoundCard, Worth};
use crate::hiss::ClipAnalyzer;
use crate::units::{Hertz, Level, Seconds};

/// Sound to judge by: enough averages that no ripple of the spectrum looks like an edge.
const JUDGED: Seconds = Seconds(0.8);
/// Sound before it that is thrown away: devices begin with silence and clicks.
const DISCARDED: Seconds = Seconds(0.2);
/// A device that has not given as much by then is left alone.
const LIMIT: Duration = Duration::from_secs(4);
const PATIENCE: Duration = Duration::from_millis(50);

/// An input whose sound ends below this is no use: of the third-octave bands from 1 to 16 kHz it lacks those where a
/// small leak is loudest. Telephone headsets end at 3.4 or 7 kHz, the better ones at 14 kHz.
pub const LOWEST_USEFUL_BANDWIDTH: Hertz = Hertz(10_000.0);
/// Under this there is no sound at all, only the last bit of 16: muted, or switched off.
const MUTED_DB: f64 = -96.0;

/// What came from a microphone in a short trial.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trial {
    /// The highest frequency in it: where something cut it off, else half the rate. `None` where it was muted.
    pub bandwidth: Option<Hertz>,
    /// How loud it was, 0 dB a square wave at full scale; `None` in digital silence.
    pub level: Option<Level>,
}

impl Trial {
    /// What the input is good for, now that it has been heard.
    ///
    /// ```
    /// use hissward::{audio::Worth, pipeline::Trial, units::{Hertz, Level}};
    /// let headset = Trial { bandwidth: Some(Hertz(7_000.0)), level: Some(Level(-50.0)) };
    /// assert_eq!(headset.worth(), Worth::NarrowBand);
    /// assert_eq!(Trial { bandwidth: None, level: None }.worth(), Worth::Muted);
    /// ```
    #[must_use]
    pub fn worth(&self) -> Worth {
        match self.bandwidth {
            None => Worth::Muted,
            Some(bandwidth) if bandwidth.0 < LOWEST_USEFUL_BANDWIDTH.0 => Worth::NarrowBand,
            Some(_) => Worth::Useful,
        }
    }
}

/// Listens to an input for a second.
///
/// # Errors
/// [`MicError`] where it cannot be opened or gives no sound.
pub fn try_input(card: &dyn SoundCard, input: &Input) -> Result<Trial, MicError> {
    let mut listening = Listening::start(card, Some(&input.id))?;
    let shape = listening.shape();
    let rate = Hertz(f64::from(shape.rate_hz));
    let (discarded, wanted) = ((DISCARDED.0 * rate.0) as usize, ((DISCARDED.0 + JUDGED.0) * rate.0) as usize);
    let channels = usize::from(shape.channels).max(1);
    let mut listener = ClipAnalyzer::new(input.name.clone(), rate);
    let (begin, mut came, mut mono) = (Instant::now(), 0, Vec::new());
    let ended = loop {
        if came >= wanted {
            break None;
        }
        if begin.elapsed() >= LIMIT {
            break Some(format!("{:.1} s of sound in {} s", came as f64 / rate.0, LIMIT.as_secs()));
        }
        match listening.next(PATIENCE) {
            NextBlock::Nothing => {}
            NextBlock::Lost(loss) => break Some(loss.to_string()),
            NextBlock::Samples(samples) => {
                let skipped = discarded.saturating_sub(came).saturating_mul(channels);
                came += samples.len() / channels;
                mono.clear();
                mono.extend(samples.iter().skip(skipped).step_by(channels));
                listener.push(&mono);
            }
        }
    };
    // How it let go says nothing about what it gave.
    let _closed = listening.close();
    if let Some(detail) = ended {
        return Err(MicError::NoSound { name: input.name.clone(), detail });
    }
    let sound = listener.sound();
    let level = Level::of_power(sound.mean_square());
    let is_muted = level.is_none_or(|level| level.0 < MUTED_DB);
    Ok(Trial { bandwidth: (!is_muted).then(|| sound.bandwidth()), level })
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::audio::{FakeCard, FakeEnd, SampleKind, StreamShape};

    fn card(samples: Vec<f32>, end: FakeEnd) -> FakeCard {
        let shape = StreamShape { rate_hz: 48_000, channels: 2, kind: SampleKind::I16 };
        FakeCard { shape, samples: Arc::from(samples), speed: 20.0, end }
    }

    fn tried(card: &FakeCard) -> Result<Trial, MicError> {
        let inputs = card.inputs()?;
        try_input(card, &inputs[0])
    }

    /// Noise on the first channel, silence on the second.
    fn noise(amplitude: f32) -> Vec<f32> {
        let mut state = 1_u32;
        let next = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            [(f64::from(state) / f64::from(u32::MAX) * 2.0 - 1.0) as f32 * amplitude, 0.0]
        };
        std::iter::repeat_with(next).take(96_000).flatten().collect()
    }

    #[test]
    fn what_comes_decides_what_a_microphone_is_good_for() {
        let heard = tried(&card(noise(0.1), FakeEnd::Again)).expect("sound");
        assert_eq!((heard.bandwidth, heard.worth()), (Some(Hertz(24_000.0)), Worth::Useful));
        // Uniform noise of amplitude a has a mean square of a²/3: -24.77 dB.
        assert!(heard.level.is_some_and(|level| (level.0 + 24.77).abs() < 0.1), "{heard:?}");
        let muted = tried(&card(vec![0.0; 96_000], FakeEnd::Again)).expect("silence is no error");
        assert_eq!((muted, muted.worth()), (Trial { bandwidth: None, level: None }, Worth::Muted));
        let gone = tried(&card(noise(0.1)[..9_600].to_vec(), FakeEnd::Fails("pulled out".to_owned())));
        assert!(matches!(gone, Err(MicError::NoSound { detail, .. }) if detail == "pulled out"));
    }
}
