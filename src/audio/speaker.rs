//! Beeps and tones for somebody who cannot look at the screen.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread;
use std::time::Duration;

use cpal::traits::{DeviceTrait, HostTrait, StreamTrait};
use cpal::{FromSample, SampleFormat, SizedSample, SupportedStreamConfig};

use crate::units::{Hertz, LevelDiff, Seconds};

/// A beep.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tone {
    /// Its pitch.
    pub pitch: Hertz,
    /// How long it sounds.
    pub length: Seconds,
}

/// Where tones come out. A machine without sound output, and one whose output fails, stays silent: a beep is a
/// help, never a condition.
pub struct Speaker {
    wish: Arc<Wish>,
    /// Its end ends the stream.
    _alive: Option<Sender<()>>,
}

/// What is to sound, read by the callback without a lock.
#[derive(Default)]
struct Wish {
    /// Pitch in hertz, as bits.
    pitch: AtomicU32,
    /// Milliseconds still to sound; those of a held tone never run out.
    left_ms: AtomicU32,
    held: AtomicBool,
    /// Share of full scale of steady noise, as bits; comes before any tone.
    noise: AtomicU32,
    works: AtomicBool,
    failed: AtomicBool,
}

/// Loud enough to be heard across an engine, and well below what overdrives a small loudspeaker.
const LOUDNESS: f32 = 0.4;
/// Tones swell and fade within this, so that they do not click.
const FADE_S: f32 = 0.005;
/// How often the stream is looked after.
const LOOK_EVERY: Duration = Duration::from_millis(200);

impl Speaker {
    /// The machine's own output.
    #[must_use]
    pub fn system() -> Self {
        let wish = Arc::new(Wish::default());
        let (alive, ended) = mpsc::channel::<()>();
        let shared = Arc::clone(&wish);
        // Made, kept and dropped on a thread of its own: a sound system that hangs hangs only that.
        thread::spawn(move || {
            let _silence = super::microphone::quiet_library();
            let Some(stream) = open(&shared) else { return };
            shared.works.store(true, Ordering::Release);
            // A device that is gone reports without end: the stream goes at the first failure.
            while matches!(ended.recv_timeout(LOOK_EVERY), Err(RecvTimeoutError::Timeout)) {
                if shared.failed.load(Ordering::Acquire) {
                    break;
                }
            }
            shared.works.store(false, Ordering::Release);
            drop(stream);
        });
        Self { wish, _alive: Some(alive) }
    }

    /// One that says nothing.
    #[must_use]
    pub fn silent() -> Self {
        Self { wish: Arc::default(), _alive: None }
    }

    /// Whether anything comes out at this moment, as far as can be known.
    #[must_use]
    pub fn works(&self) -> bool {
        self.wish.works.load(Ordering::Acquire)
    }

    /// Sounds a beep at once, in place of what sounds now.
    pub fn beep(&self, tone: Tone) {
        self.wish.pitch.store((tone.pitch.0 as f32).to_bits(), Ordering::Release);
        self.wish.held.store(false, Ordering::Release);
        self.wish.left_ms.store((tone.length.0 * 1000.0) as u32, Ordering::Release);
    }

    /// Holds a tone of this pitch until told otherwise; `None` ends it.
    pub fn hold(&self, pitch: Option<Hertz>) {
        if let Some(pitch) = pitch {
            self.wish.pitch.store((pitch.0 as f32).to_bits(), Ordering::Release);
        }
        self.wish.held.store(pitch.is_some(), Ordering::Release);
    }

    /// Steady white noise, so far under the loudest that is played, in place of tones; `None` ends it.
    pub fn noise(&self, under: Option<LevelDiff>) {
        let share = under.map_or(0.0, |under| under.ratio().sqrt() as f32);
        self.wish.noise.store((share * LOUDNESS).to_bits(), Ordering::Release);
    }
}

#[cfg(target_os = "linux")]
fn host() -> Option<cpal::Host> {
    // The default host panics where ALSA lacks.
    cpal::host_from_id(cpal::HostId::Alsa).ok()
}

#[cfg(not(target_os = "linux"))]
fn host() -> Option<cpal::Host> {
    Some(cpal::default_host())
}

fn open(wish: &Arc<Wish>) -> Option<cpal::Stream> {
    let device = host()?.default_output_device()?;
    let config = device.default_output_config().ok()?;
    let stream = match config.sample_format() {
        SampleFormat::I16 => build::<i16>(&device, &config, wish),
        SampleFormat::I32 => build::<i32>(&device, &config, wish),
        SampleFormat::F32 => build::<f32>(&device, &config, wish),
        _ => None,
    }?;
    stream.play().ok()?;
    Some(stream)
}

fn build<T>(device: &cpal::Device, config: &SupportedStreamConfig, wish: &Arc<Wish>) -> Option<cpal::Stream>
where
    T: SizedSample + FromSample<f32>,
{
    let (shared, told) = (Arc::clone(wish), Arc::clone(wish));
    let mut voice = Voice::new(config.sample_rate() as f32, usize::from(config.channels()));
    let fill = move |out: &mut [T], _: &cpal::OutputCallbackInfo| voice.fill(out, &shared, T::from_sample_);
    let fail = move |error: cpal::Error| match error.kind() {
        cpal::ErrorKind::Xrun | cpal::ErrorKind::RealtimeDenied | cpal::ErrorKind::DeviceChanged => {}
        _ => told.failed.store(true, Ordering::Release),
    };
    device.build_output_stream(config.config(), fill, fail, None).ok()
}

/// Makes the samples.
struct Voice {
    rate_hz: f32,
    channels: usize,
    phase: f32,
    gain: f32,
    /// Frames of the current millisecond.
    frames: f32,
    /// Of the generator of noise.
    state: u32,
}

impl Voice {
    fn new(rate_hz: f32, channels: usize) -> Self {
        Self { rate_hz, channels: channels.max(1), phase: 0.0, gain: 0.0, frames: 0.0, state: 1 }
    }

    /// Even from −1 to 1 (xorshift of 32 bits, Marsaglia 2003, from memory): what repeats after a day sounds like noise.
    fn white(&mut self) -> f32 {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 17;
        self.state ^= self.state << 5;
        (f64::from(self.state) / f64::from(u32::MAX) * 2.0 - 1.0) as f32
    }

    fn fill<T: Copy>(&mut self, out: &mut [T], wish: &Wish, to_sample: impl Fn(f32) -> T) {
        let step = f32::from_bits(wish.pitch.load(Ordering::Acquire)) / self.rate_hz;
        let held = wish.held.load(Ordering::Acquire);
        let mut left_ms = wish.left_ms.load(Ordering::Acquire);
        let before_ms = left_ms;
        let noise = f32::from_bits(wish.noise.load(Ordering::Acquire));
        for frame in out.chunks_mut(self.channels) {
            let wanted = if held || left_ms > 0 { LOUDNESS } else { 0.0 };
            let most = LOUDNESS / (FADE_S * self.rate_hz);
            self.gain += (wanted - self.gain).clamp(-most, most);
            self.phase = (self.phase + step).fract();
            self.frames += 1.0;
            if self.frames >= self.rate_hz / 1000.0 {
                self.frames = 0.0;
                left_ms = left_ms.saturating_sub(1);
            }
            let sound = match noise {
                0.0 => self.gain * (self.phase * std::f32::consts::TAU).sin(),
                share => share * self.white(),
            };
            frame.fill(to_sample(sound));
        }
        // A beep wished for meanwhile counts whole: then nothing is taken off.
        let _unchanged = wish.left_ms.compare_exchange(before_ms, left_ms, Ordering::AcqRel, Ordering::Acquire);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn played(wish: &Wish, seconds: f32) -> Vec<f32> {
        let mut voice = Voice::new(48_000.0, 1);
        let mut all = Vec::new();
        let mut block = [0.0_f32; 480];
        for _ in 0..(seconds * 100.0) as usize {
            voice.fill(&mut block, wish, |sample| sample);
            all.extend_from_slice(&block);
        }
        all
    }

    #[test]
    fn a_beep_has_its_pitch_and_its_length_and_does_not_click() {
        let speaker = Speaker::silent();
        speaker.beep(Tone { pitch: Hertz(1000.0), length: Seconds(0.1) });
        let sound = played(&speaker.wish, 0.3);
        let last = sound.iter().rposition(|sample| sample.abs() > 1e-3).expect("it sounds");
        // Blocks are 10 ms, the fade 5 ms.
        assert!((4_800..=5_300).contains(&last), "ends after {last} samples");
        let upward = sound[..4_800].windows(2).filter(|pair| pair[0] < 0.0 && pair[1] >= 0.0).count();
        assert!((99..=100).contains(&upward), "{upward} periods in 100 ms");
        // The steepest place of a sine of 1 kHz at 48 kHz: 0.4·2π/48 = 0.0524 a sample.
        let steepest = sound.windows(2).map(|pair| (pair[1] - pair[0]).abs()).fold(0.0, f32::max);
        assert!(steepest < 0.054, "a step of {steepest}");
    }

    #[test]
    fn noise_is_as_far_under_the_loudest_as_asked_for() {
        let speaker = Speaker::silent();
        let power = |under: Option<f64>| {
            speaker.noise(under.map(LevelDiff));
            let sound = played(&speaker.wish, 2.0);
            sound.iter().map(|sample| f64::from(sample * sample)).sum::<f64>() / sound.len() as f64
        };
        // Even noise of amplitude 0.4: 0.4²/3; 96,000 samples of it stray by 0.3 %.
        let loud = power(Some(0.0));
        assert!((loud / (0.16 / 3.0) - 1.0).abs() < 0.01, "{loud}");
        assert!((10.0 * (loud / power(Some(-12.0))).log10() - 12.0).abs() < 0.05);
        assert_eq!(power(None), 0.0);
    }

    #[test]
    fn a_held_tone_goes_on_and_ends_when_told() {
        let speaker = Speaker::silent();
        speaker.hold(Some(Hertz(440.0)));
        assert!(played(&speaker.wish, 1.0).iter().rev().take(480).any(|sample| sample.abs() > 0.3));
        speaker.hold(None);
        assert!(played(&speaker.wish, 0.1).iter().all(|sample| sample.abs() < 1e-6));
    }
}
