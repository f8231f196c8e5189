//! What shop noises are painted with: broadband noise, blows, bursts and tones on a stretch of time.

use std::f64::consts::TAU;

use super::super::dice::Dice;
use super::super::exact;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::envelope::Envelope;

/// A stretch of time on which a noise is painted.
pub(in crate::simulate) struct Canvas {
    pub rate_hz: f64,
    pub seconds: f64,
    pub samples: Vec<f64>,
}

/// One way in which struck metal rings.
#[derive(Debug, Clone, Copy)]
pub(in crate::simulate) struct Mode {
    pub hz: f64,
    /// Time to fall to 1/e.
    pub decay_s: f64,
    pub gain: f64,
}

/// A short rush of noise around a frequency.
#[derive(Debug, Clone, Copy)]
pub(in crate::simulate) struct Burst {
    pub hz: f64,
    pub q: f64,
    /// Time to fall to 1/e.
    pub decay_s: f64,
}

/// Blows and bursts are followed down to this share of their height (−70 dB).
const FOLLOWED_E_FOLDS: f64 = 8.0;
/// Noise filters run this long before a stretch begins, so that it begins settled.
const SETTLING_S: f64 = 0.02;
/// White noise behind the hall's filter is brought to about −31 dB between 1 and 16 kHz.
const HALL_DB: f64 = -13.0;
/// Points of one period of a tone.
const PERIOD_POINTS: usize = 2048;

impl Canvas {
    pub fn new(seconds: f64, rate_hz: f64) -> Self {
        let count = (seconds * rate_hz).round() as usize;
        Self { rate_hz, seconds, samples: vec![0.0; count] }
    }

    /// An envelope over this stretch from a function of time in seconds.
    pub fn envelope(&self, gain_at: impl FnMut(f64) -> f64) -> Envelope {
        Envelope::new(self.samples.len(), self.rate_hz, gain_at)
    }

    /// A level that wanders: standard deviation in dB, time scale in seconds.
    pub fn wander(&self, sd_db: f64, scale_s: f64, dice: &mut Dice) -> Envelope {
        Envelope::wander(self.samples.len(), self.rate_hz, sd_db, scale_s, dice)
    }

    /// Adds Gaussian noise behind a filter.
    pub fn broadband(&mut self, chain: &Chain, gain: &Envelope, dice: &mut Dice) {
        let settling = (SETTLING_S * self.rate_hz) as usize;
        let mut noise = dice.white(self.samples.len() + settling);
        chain.run(&mut noise);
        let settled = noise[settling..].chunks(gain.step());
        for ((chunk, noise), gain) in self.samples.chunks_mut(gain.step()).zip(settled).zip(gain.lines()) {
            for (k, (sample, noise)) in chunk.iter_mut().zip(noise).enumerate() {
                *sample += gain.at(k) * noise;
            }
        }
    }

    /// Adds the hall itself, which is never silent: pumps, doors and wind far off.
    pub fn hall(&mut self, dice: &mut Dice) {
        let steady = self.wander(0.5, 0.8, dice);
        let far = Chain::new(self.rate_hz).high_pass(60.0, BUTTERWORTH_Q).soft_low_pass(450.0).louder(HALL_DB);
        self.broadband(&far, &steady, dice);
    }

    /// Adds a blow: every mode rings from the same moment.
    pub fn strike(&mut self, at_s: f64, modes: &[Mode], gain: f64) {
        let Some(first) = self.index(at_s) else { return };
        for mode in modes.iter().filter(|mode| mode.hz < 0.45 * self.rate_hz) {
            let angle = TAU * mode.hz / self.rate_hz;
            let decay = exact::decay_per_sample(mode.decay_s, self.rate_hz);
            let (turn, shrink) = (2.0 * decay * exact::cos(angle), decay * decay);
            let (mut before, mut now) = (0.0, gain * mode.gain * exact::sin(angle));
            let count = (FOLLOWED_E_FOLDS * mode.decay_s * self.rate_hz) as usize;
            // sin(angle) as first sample makes the ring gain·e^(−t/decay)·sin(ωt) without a step.
            for sample in self.samples.iter_mut().skip(first).take(count) {
                *sample += now;
                (before, now) = (now, turn * now - shrink * before);
            }
        }
    }

    /// Adds a rush of noise that dies away.
    pub fn burst(&mut self, at_s: f64, burst: Burst, gain: f64, dice: &mut Dice) {
        let decay = exact::decay_per_sample(burst.decay_s, self.rate_hz);
        let mut height = gain;
        let count = (FOLLOWED_E_FOLDS * burst.decay_s * self.rate_hz) as usize;
        let mut noise = dice.white(count);
        for sample in &mut noise {
            height *= decay;
            *sample *= height;
        }
        Chain::new(self.rate_hz).band_pass(burst.hz, burst.q).run(&mut noise);
        self.add_at(at_s, &noise);
    }

    /// Adds samples from a moment on; what lies outside is left out.
    pub fn add_at(&mut self, at_s: f64, samples: &[f64]) {
        let Some(first) = self.index(at_s) else { return };
        for (sample, more) in self.samples.iter_mut().skip(first).zip(samples) {
            *sample += more;
        }
    }

    /// Adds a periodic tone whose frequency and gain move.
    pub fn tone(&mut self, tone: &Tone, pitch_hz: &Envelope, gain: &Envelope, dice: &mut Dice) {
        let mut phase = dice.between(0.0, 1.0);
        let per_sample = 1.0 / self.rate_hz;
        for ((chunk, pitch_hz), gain) in self.samples.chunks_mut(gain.step()).zip(pitch_hz.lines()).zip(gain.lines()) {
            for (k, sample) in chunk.iter_mut().enumerate() {
                *sample += gain.at(k) * tone.at(phase);
                phase += pitch_hz.at(k) * per_sample;
                // A pitch is below the sample rate, so one period at most is taken off.
                phase -= if phase >= 1.0 { 1.0 } else { 0.0 };
            }
        }
    }

    /// The finished stretch, `gain_db` louder.
    pub fn finish(self, gain_db: f64) -> Vec<f32> {
        let gain = exact::amplitude_of_db(gain_db);
        self.samples.iter().map(|&x| (x * gain) as f32).collect()
    }

    fn index(&self, at_s: f64) -> Option<usize> {
        (0.0..self.seconds).contains(&at_s).then_some((at_s * self.rate_hz) as usize)
    }
}

/// One period of a tone.
pub(in crate::simulate) struct Tone {
    points: Vec<f64>,
}

impl Tone {
    /// A tone of harmonics: `gains[k]` belongs to k + 1 times the pitch.
    pub fn of_harmonics(gains: &[f64]) -> Self {
        let sine: Vec<f64> = (0..PERIOD_POINTS).map(|k| exact::sin(TAU * k as f64 / PERIOD_POINTS as f64)).collect();
        let mut points = vec![0.0; PERIOD_POINTS + 1];
        for (harmonic, gain) in gains.iter().enumerate() {
            // Phases spread by the square keep the period from being one sharp peak.
            let shift = harmonic * harmonic * 97;
            for (k, point) in points.iter_mut().enumerate() {
                *point += gain * sine[(k * (harmonic + 1) + shift) % PERIOD_POINTS];
            }
        }
        Self { points }
    }

    /// Harmonics that fall by a power of their number.
    pub fn falling(count: usize, exponent: f64) -> Self {
        let gains: Vec<f64> = (1..=count).map(|k| exact::power(k as f64, -exponent)).collect();
        Self::of_harmonics(&gains)
    }

    /// The tone at a phase from 0 to below 1.
    pub fn at(&self, phase: f64) -> f64 {
        let place = phase * PERIOD_POINTS as f64;
        let left = (place as usize).min(PERIOD_POINTS - 1);
        let share = place - left as f64;
        self.points[left] + share * (self.points[left + 1] - self.points[left])
    }
}
