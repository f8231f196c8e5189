//! What a microphone and its recorder add and take away.

use super::dice::Dice;
use super::exact;
use super::filter::{BUTTERWORTH_Q, Chain};
use crate::units::{Hertz, Level, LevelDiff};

/// A microphone with its recorder: 16 bit, clipping at full scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Microphone {
    /// Level of its own noise over the whole bandwidth.
    pub self_noise: Level,
    /// It hears nothing below.
    pub low_cut: Hertz,
    /// It rolls off above, 12 dB per octave.
    pub high_cut: Hertz,
    /// Where its sound port resonates.
    pub port: Hertz,
    /// By how much.
    pub port_gain: LevelDiff,
    /// Whether the recorder changes its gain by itself.
    pub automatic_gain: bool,
}

/// Full scale of 16 bit.
const FULL_SCALE_16_BIT: f64 = 32_768.0;
/// Numbers beside this are whole: adding and taking it off rounds to the nearest, half to even, on every machine.
const WHOLE_FROM: f64 = 6_755_399_441_055_744.0;
/// Automatic gain looks this often, seconds.
const GAIN_STEP_S: f64 = 0.01;
/// Level that automatic gain aims at, dB FS.
const GAIN_TARGET_DB: f64 = -22.0;
/// Automatic gain stays within this, dB.
const GAIN_MOST_DB: f64 = 18.0;
/// Automatic gain falls this fast and rises this slowly, seconds to 1/e.
const GAIN_ATTACK_S: f64 = 0.05;
const GAIN_RELEASE_S: f64 = 1.5;

impl Microphone {
    /// A phone's: full scale near 120 dB, own noise 30 dB (common practice, no source).
    #[must_use]
    pub fn phone() -> Self {
        Self {
            self_noise: Level(-90.0),
            low_cut: Hertz(80.0),
            high_cut: Hertz(20_000.0),
            port: Hertz(13_000.0),
            port_gain: LevelDiff(3.0),
            automatic_gain: false,
        }
    }

    /// A flat one with hardly any noise.
    #[must_use]
    pub fn flat() -> Self {
        Self {
            self_noise: Level(-110.0),
            low_cut: Hertz(20.0),
            high_cut: Hertz(22_000.0),
            port: Hertz(13_000.0),
            port_gain: LevelDiff(0.0),
            automatic_gain: false,
        }
    }

    /// Its frequency response.
    pub(super) fn chain(&self, rate_hz: f64) -> Chain {
        Chain::new(rate_hz)
            .high_pass(self.low_cut.0, BUTTERWORTH_Q)
            .peak(self.port.0, self.port_gain.0, 2.0)
            .low_pass(self.high_cut.0, BUTTERWORTH_Q)
    }

    /// Takes what arrives (behind [`Self::chain`]) down as 16-bit samples of full scale ±1.
    pub(super) fn record(&self, mut sound: Vec<f64>, rate_hz: f64, dice: &mut Dice) -> Vec<f32> {
        let own = exact::amplitude_of_db(self.self_noise.0);
        for (sample, noise) in sound.iter_mut().zip(dice.white_samples()) {
            *sample += own * noise;
        }
        if self.automatic_gain {
            follow_gain(&mut sound, rate_hz);
        }
        sound.iter().map(|&sample| sixteen_bit(sample)).collect()
    }
}

/// The nearest of the 65536 values, held at full scale.
fn sixteen_bit(sample: f64) -> f32 {
    let whole = (sample * FULL_SCALE_16_BIT + WHOLE_FROM) - WHOLE_FROM;
    // Division by a power of two is exact.
    (whole.clamp(-FULL_SCALE_16_BIT, FULL_SCALE_16_BIT - 1.0) / FULL_SCALE_16_BIT) as f32
}

/// Automatic gain: down fast where it is loud, up slowly where it is quiet.
fn follow_gain(sound: &mut [f64], rate_hz: f64) {
    let step = (GAIN_STEP_S * rate_hz) as usize;
    let attack = 1.0 - exact::exp(-GAIN_STEP_S / GAIN_ATTACK_S);
    let release = 1.0 - exact::exp(-GAIN_STEP_S / GAIN_RELEASE_S);
    let mut gain_db = None;
    for block in sound.chunks_mut(step.max(1)) {
        let power = block.iter().map(|x| x * x).sum::<f64>() / block.len() as f64;
        let wanted_db = (GAIN_TARGET_DB - exact::db_of_power(power.max(1e-12))).clamp(-GAIN_MOST_DB, GAIN_MOST_DB);
        let before_db = gain_db.unwrap_or(wanted_db);
        let now_db: f64 = before_db + (wanted_db - before_db) * if wanted_db < before_db { attack } else { release };
        let (from, to) = (exact::amplitude_of_db(before_db), exact::amplitude_of_db(now_db));
        let slope = (to - from) / block.len() as f64;
        for (k, sample) in block.iter_mut().enumerate() {
            *sample *= from + slope * k as f64;
        }
        gain_db = Some(now_db);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn samples_are_sixteen_bit_and_clip() {
        assert_eq!(sixteen_bit(1.5), 32_767.0 / 32_768.0);
        assert_eq!(sixteen_bit(-1.5), -1.0);
        assert_eq!(sixteen_bit(0.4 / 32_768.0), 0.0);
        assert_eq!(sixteen_bit(-2.6 / 32_768.0), -3.0 / 32_768.0);
        // Half goes to even.
        assert_eq!(sixteen_bit(2.5 / 32_768.0), 2.0 / 32_768.0);
    }

    #[test]
    fn automatic_gain_lifts_the_quiet_and_lowers_the_loud() {
        let level_after = |amplitude: f64| {
            let mut sound: Vec<f64> = (0..96_000).map(|n| if n % 2 == 0 { amplitude } else { -amplitude }).collect();
            follow_gain(&mut sound, 48_000.0);
            20.0 * sound[95_000].abs().log10()
        };
        assert!((level_after(0.5) - GAIN_TARGET_DB).abs() < 0.1);
        assert!((level_after(0.05) - GAIN_TARGET_DB).abs() < 0.1);
        // 50 dB below the target it is out of reach.
        let far_db = GAIN_TARGET_DB - 50.0;
        assert!((level_after(10f64.powf(far_db / 20.0)) - (far_db + GAIN_MOST_DB)).abs() < 0.1);
    }
}
