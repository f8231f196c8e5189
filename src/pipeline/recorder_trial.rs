//! A recorder tried with steady noise: played in known steps, recorded, and judged.

use std::path::Path;
use std::time::{Duration, Instant};

use crate::audio::{AudioError, ChannelChoice, Input, Listening, MicError, NextBlock, SoundCard, Speaker, open};
use crate::meter::{HissMeter, STEADY_NOISE, STEP, Steadiness};
use crate::units::{Hertz, LevelDiff, Seconds};

/// What may come late: devices and rooms.
const AFTER: Seconds = Seconds(0.6);
const PATIENCE: Duration = Duration::from_millis(20);

/// How long the noise of a trial takes with the quiet before it.
#[must_use]
pub fn recorder_trial_length() -> Seconds {
    Seconds(STEADY_NOISE.iter().map(|(length, _)| length.0).sum())
}

/// What is to sound so long after the beginning.
fn wanted(elapsed_s: f64) -> Option<LevelDiff> {
    let mut left = elapsed_s;
    for (length, under) in STEADY_NOISE {
        if left < length.0 {
            return under;
        }
        left -= length.0;
    }
    None
}

/// Plays the noise, for another device to record.
pub fn play_recorder_trial(speaker: &Speaker) {
    let begun = Instant::now();
    while begun.elapsed().as_secs_f64() < recorder_trial_length().0 {
        speaker.noise(wanted(begun.elapsed().as_secs_f64()));
        std::thread::sleep(PATIENCE);
    }
    speaker.noise(None);
}

/// Plays the noise while an input listens. `None` where digital silence came.
///
/// # Errors
/// [`MicError`] where the input cannot be opened or nothing came.
pub fn try_recorder(card: &dyn SoundCard, speaker: &Speaker, input: &Input) -> Result<Option<Steadiness>, MicError> {
    let mut listening = Listening::start(card, Some(&input.id))?;
    let shape = listening.shape();
    let channels = usize::from(shape.channels).max(1);
    let mut meter = HissMeter::new(Hertz(f64::from(shape.rate_hz)));
    let whole_s = recorder_trial_length().0 + AFTER.0;
    let (begun, mut levels, mut mono) = (Instant::now(), Vec::new(), Vec::new());
    while begun.elapsed().as_secs_f64() < whole_s && (levels.len() as f64) * STEP.0 < whole_s {
        speaker.noise(wanted(begun.elapsed().as_secs_f64()));
        match listening.next(PATIENCE) {
            NextBlock::Nothing => {}
            // What came until then is judged: a recorder that ends early is what is looked for.
            NextBlock::Lost(_) => break,
            NextBlock::Samples(samples) => {
                mono.clear();
                mono.extend(samples.iter().step_by(channels));
                meter.push(&mono, |reading| levels.push(reading.hiss));
            }
        }
    }
    speaker.noise(None);
    // How it let go says nothing about what it gave.
    let _closed = listening.close();
    if levels.is_empty() {
        return Err(MicError::NoSound { name: input.name.clone(), detail: "nothing came".to_owned() });
    }
    Ok(Steadiness::of(&levels))
}

/// Judges a recording that another device made of the noise.
///
/// # Errors
/// [`AudioError`] where it cannot be read.
pub fn judge_recorder_trial(file: &Path) -> Result<Option<Steadiness>, AudioError> {
    let mut recording = open(file, ChannelChoice::default())?;
    let mut meter = HissMeter::new(recording.rate());
    let mut levels = Vec::new();
    while let Some(samples) = recording.next_block()? {
        meter.push(samples, |reading| levels.push(reading.hiss));
    }
    Ok(Steadiness::of(&levels))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::audio::{FakeCard, FakeEnd, SampleKind, StreamShape};
    use crate::meter::RecorderFault;

    /// What a recorder with this gain over time makes of the noise, its own faint noise with it.
    fn recorded(seconds: f64, gain_db: impl Fn(f64) -> f64) -> Vec<f32> {
        let mut state = 1_u32;
        let mut even = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (f64::from(state) / f64::from(u32::MAX) * 2.0 - 1.0) * 0.2
        };
        let sample = |at: usize| {
            let t = at as f64 / 48_000.0;
            let sound = wanted(t - 0.2).map_or(0.0, |under| under.ratio().sqrt());
            let amplitude = (sound + 0.001) * 10_f64.powf(gain_db(t) / 20.0);
            (amplitude * even()) as f32
        };
        (0..(seconds * 48_000.0) as usize).map(sample).collect()
    }

    fn faults(samples: Vec<f32>, end: FakeEnd) -> Vec<RecorderFault> {
        let shape = StreamShape { rate_hz: 48_000, channels: 1, kind: SampleKind::I16 };
        let card = FakeCard { shape, samples: Arc::from(samples), speed: 20.0, end };
        let inputs = card.inputs().expect("an input");
        try_recorder(&card, &Speaker::silent(), &inputs[0]).expect("it listens").expect("sound").faults
    }

    #[test]
    fn recorders_are_told_apart_by_their_sound() {
        assert_eq!(faults(recorded(13.0, |_| 0.0), FakeEnd::Again), []);
        let fading = recorded(13.0, |t| if t > 2.2 { (-20.0 * (t - 2.2)).max(-15.0) } else { 0.0 });
        assert_eq!(faults(fading, FakeEnd::Again), [RecorderFault::Fades]);
        let pumping = recorded(13.0, |t| if (6.2..9.2).contains(&t) { -9.0 } else { 0.0 });
        assert_eq!(faults(pumping, FakeEnd::Again), [RecorderFault::Pumps]);
        let gone = FakeEnd::Fails("ended".to_owned());
        assert_eq!(faults(recorded(7.0, |_| 0.0), gone), [RecorderFault::EndsEarly]);
    }
}
