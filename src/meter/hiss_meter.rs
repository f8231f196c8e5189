//! The level where hiss lies, every 20 ms.

use super::filter::Biquad;
use crate::units::{Hertz, Level, Seconds};

/// From one reading to the next.
pub const STEP: Seconds = Seconds(0.02);
/// Octave bands that are shown, by their midbands in hertz.
pub const OCTAVES: [f64; 4] = [1000.0, 2000.0, 4000.0, 8000.0];

/// Below the hiss, where wind shows, hertz.
const LOW_HZ: (f64, f64) = (60.0, 300.0);
/// The lowest frequency of hiss.
const LOWEST_HZ: f64 = 891.25;
/// The highest, where the rate allows.
const HIGHEST_HZ: f64 = 17_782.8;
/// A filter's corner stays below this share of the rate.
const MOST_OF_RATE: f64 = 0.45;
/// From here on a sample counts as clipped: the last step of 16 bit below full scale.
const FULL_SCALE: f32 = 32_767.0 / 32_768.0;
/// Half an octave.
const HALF_OCTAVE: f64 = std::f64::consts::SQRT_2;

/// What was heard in one step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeterReading {
    /// Level from 1 to 16 kHz; `None` in digital silence.
    pub hiss: Option<Level>,
    /// Level from 60 to 300 Hz, below the hiss: wind on the capsule has most of its own there.
    pub low: Option<Level>,
    /// Level of each octave, to be held against another such: their skirts overlap.
    pub octaves: [Option<Level>; OCTAVES.len()],
    /// The highest sample, full scale 1, all frequencies.
    pub peak: f32,
    /// Samples at full scale.
    pub clipped: u32,
}

/// Measures as samples come.
#[derive(Debug, Clone)]
pub struct HissMeter {
    step: usize,
    whole: [Biquad; 4],
    octaves: [[Biquad; 4]; OCTAVES.len()],
    low: [Biquad; 4],
    sums: [f64; 1 + OCTAVES.len()],
    low_sum: f64,
    peak: f32,
    clipped: u32,
    count: usize,
}

impl HissMeter {
    /// A meter for sound of one rate.
    #[must_use]
    pub fn new(rate: Hertz) -> Self {
        let most_hz = MOST_OF_RATE * rate.0;
        let pass = |low_hz: f64, high_hz: f64| {
            let high = Biquad::high_pass(low_hz.min(most_hz), rate.0);
            let low = Biquad::low_pass(high_hz.min(most_hz), rate.0);
            [high, high, low, low]
        };
        Self {
            step: ((STEP.0 * rate.0).round() as usize).max(1),
            whole: pass(LOWEST_HZ, HIGHEST_HZ),
            octaves: OCTAVES.map(|hz| pass(hz / HALF_OCTAVE, hz * HALF_OCTAVE)),
            low: pass(LOW_HZ.0, LOW_HZ.1),
            sums: [0.0; 1 + OCTAVES.len()],
            low_sum: 0.0,
            peak: 0.0,
            clipped: 0,
            count: 0,
        }
    }

    /// Takes samples of one channel, and tells each reading as it is complete.
    pub fn push(&mut self, samples: &[f32], mut told: impl FnMut(MeterReading)) {
        for &sample in samples {
            let through = |chain: &mut [Biquad; 4]| {
                let y = chain.iter_mut().fold(f64::from(sample), |x, filter| filter.pass(x));
                y * y
            };
            self.sums[0] += through(&mut self.whole);
            for (sum, chain) in self.sums[1..].iter_mut().zip(&mut self.octaves) {
                *sum += through(chain);
            }
            self.low_sum += through(&mut self.low);
            self.peak = self.peak.max(sample.abs());
            self.clipped += u32::from(sample.abs() >= FULL_SCALE);
            self.count += 1;
            if self.count == self.step {
                let mean = self.sums.map(|sum| Level::of_power(sum / self.step as f64));
                told(MeterReading {
                    hiss: mean[0],
                    low: Level::of_power(self.low_sum / self.step as f64),
                    octaves: std::array::from_fn(|at| mean[1 + at]),
                    peak: self.peak,
                    clipped: self.clipped,
                });
                self.low_sum = 0.0;
                (self.sums, self.peak, self.clipped, self.count) = ([0.0; 1 + OCTAVES.len()], 0.0, 0, 0);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::TAU;

    fn sine(hz: f64, amplitude: f64, seconds: f64) -> Vec<f32> {
        let n = (seconds * 48_000.0) as usize;
        (0..n).map(|i| (amplitude * (TAU * hz * i as f64 / 48_000.0).sin()) as f32).collect()
    }

    fn readings(samples: &[f32]) -> Vec<MeterReading> {
        let mut all = Vec::new();
        HissMeter::new(Hertz(48_000.0)).push(samples, |reading| all.push(reading));
        all
    }

    #[test]
    fn a_sine_reads_half_its_amplitude_squared() {
        let all = readings(&sine(4000.0, 0.1, 0.5));
        assert_eq!(all.len(), 25);
        // 10 lg(0.1²/2) = −23.01 dB FS; the filters' skirts cost 0.02 dB at 4 kHz.
        let level = all[20].hiss.expect("sound").0;
        assert!((level + 23.01).abs() < 0.05, "{level}");
        let octaves = all[20].octaves.map(|octave| octave.expect("sound").0);
        assert!(octaves[2] - octaves[1] > 10.0 && octaves[2] - octaves[3] > 10.0, "{octaves:?}");
        assert!((all[20].peak - 0.1).abs() < 1e-4 && all[20].clipped == 0);
    }

    #[test]
    fn hum_and_a_guiding_tone_do_not_count() {
        // A tone of 400 Hz lies 1.16 octaves below the corner: four poles leave 28 dB less.
        let tone = readings(&sine(400.0, 0.1, 0.5))[20].hiss.expect("sound").0;
        assert!(tone < -23.01 - 25.0, "{tone}");
        let hum = readings(&sine(100.0, 0.5, 0.5))[20].hiss.expect("sound").0;
        assert!(hum < -80.0, "{hum}");
    }

    #[test]
    fn silence_is_no_number_and_clipping_is_counted() {
        assert_eq!(readings(&[0.0; 960])[0].hiss, None);
        assert_eq!(readings(&[1.0; 960])[0].clipped, 960);
    }
}
