//! Air that is not on throughout the clip called "on", and a hiss that comes and goes.

use super::dice::Dice;
use super::exact;

/// How the air runs in a clip called "on".
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AirCourse {
    /// On from the beginning to the end.
    Throughout,
    /// Opened late: on from this time to the end, seconds.
    Late(f64),
    /// Shut early: on from the beginning to this time, seconds.
    Early(f64),
    /// The tank runs down around this time, seconds.
    Falling(f64),
}

/// The valve needs this long to open or shut, seconds.
const RAMP_S: f64 = 0.02;
/// A tank falls from full pressure to none within this share of the clip.
const FALL_SHARE: f64 = 0.3;
/// Full test pressure over ambient, absolute: 80 psi (FAA AC 43.13-1B) over 14.7 psi, and γ of air.
const FULL_RATIO: f64 = 94.7 / 14.7;
const GAMMA: f64 = 1.4;

impl AirCourse {
    /// Any of the three ways to be on for a share of the clip, equally likely; throughout where the share is 1.
    pub(super) fn draw(share: f64, length_s: f64, dice: &mut Dice) -> Self {
        if share >= 1.0 {
            return Self::Throughout;
        }
        let on_s = share.max(0.0) * length_s;
        match dice.below(3) {
            0 => Self::Late(length_s - on_s),
            1 => Self::Early(on_s),
            _ => Self::Falling(on_s),
        }
    }

    /// The hiss's amplitude at a moment against that of full pressure.
    fn amplitude(self, at_s: f64, length_s: f64) -> f64 {
        match self {
            Self::Throughout => 1.0,
            Self::Late(from_s) => ((at_s - from_s) / RAMP_S).clamp(0.0, 1.0),
            Self::Early(until_s) => ((until_s - at_s) / RAMP_S).clamp(0.0, 1.0),
            Self::Falling(around_s) => {
                let fall_s = FALL_SHARE * length_s;
                let left = ((around_s + fall_s / 2.0 - at_s) / fall_s).clamp(0.0, 1.0);
                (stream_power(1.0 + left * (FULL_RATIO - 1.0)) / stream_power(FULL_RATIO)).sqrt()
            }
        }
    }

    /// Lets a hiss through as the air runs.
    pub(super) fn gate(self, sound: &mut [f64], rate_hz: f64) {
        if self == Self::Throughout {
            return;
        }
        let length_s = sound.len() as f64 / rate_hz;
        // A millisecond is short beside every ramp.
        let step = ((0.001 * rate_hz) as usize).max(1);
        for (k, block) in sound.chunks_mut(step).enumerate() {
            let amplitude = self.amplitude((k * step) as f64 / rate_hz, length_s);
            block.iter_mut().for_each(|sample| *sample *= amplitude);
        }
    }
}

/// Power of the stream ṁ·c²/2 at an absolute pressure over ambient, up to a factor: mass flow goes with the absolute
/// pressure, the speed after expansion with 1 − r^((γ−1)/γ) (isentropic nozzle; acoustic power follows stream power,
/// IEC 60534-8-3).
fn stream_power(ratio: f64) -> f64 {
    ratio * (1.0 - exact::power(1.0 / ratio, (GAMMA - 1.0) / GAMMA)).max(0.0)
}

/// Bursts and gaps of a hiss that comes and goes, seconds; and how far it falls in a gap, dB (common practice, no source).
const BURST_S: (f64, f64) = (0.25, 1.5);
const GAP_S: (f64, f64) = (0.1, 0.7);
const GAP_DB: (f64, f64) = (-40.0, -12.0);

/// Makes a steady hiss come and go; its mean power over the stretch stays what it was.
pub(super) fn come_and_go(sound: &mut [f64], rate_hz: f64, dice: &mut Dice) {
    let power = |sound: &[f64]| sound.iter().map(|x| x * x).sum::<f64>();
    let before = power(sound);
    let gap = exact::amplitude_of_db(dice.between(GAP_DB.0, GAP_DB.1));
    let ramp = ((RAMP_S * rate_hz) as usize).max(1);
    let (mut on, mut left, mut height) = (dice.chance(0.6), 0usize, 0.0);
    let mut steps = 0;
    for sample in sound.iter_mut() {
        if left == 0 {
            if steps > 0 {
                on = !on;
            }
            let (low, high) = if on { BURST_S } else { GAP_S };
            left = ((dice.between(low, high) * rate_hz) as usize).max(1);
            if steps == 0 {
                height = if on { 1.0 } else { gap };
            }
            steps += 1;
        }
        left -= 1;
        let wanted = if on { 1.0 } else { gap };
        height += (wanted - height) / ramp as f64;
        *sample *= height;
    }
    let after = power(sound);
    if after > 0.0 {
        let gain = (before / after).sqrt();
        sound.iter_mut().for_each(|sample| *sample *= gain);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_air_is_on_for_its_share() {
        for course in [AirCourse::Late(1.5), AirCourse::Early(4.5), AirCourse::Falling(4.5)] {
            let mut sound = vec![1.0; 60_000];
            course.gate(&mut sound, 10_000.0);
            let energy = sound.iter().map(|x| x * x).sum::<f64>() / 60_000.0;
            // Late and early: three quarters but for a ramp. Falling: less than that of a fall straight in power is off
            // by, at most half of the fall's 0.3.
            assert!(
                (energy - 0.75).abs() < if matches!(course, AirCourse::Falling(_)) { 0.05 } else { 0.01 },
                "{course:?}: {energy}"
            );
        }
    }

    #[test]
    fn a_hiss_that_comes_and_goes_keeps_its_mean_power() {
        let mut dice = Dice::seeded(9);
        let mut sound = dice.white(60_000);
        let before = sound.iter().map(|x| x * x).sum::<f64>();
        come_and_go(&mut sound, 10_000.0, &mut dice);
        let after = sound.iter().map(|x| x * x).sum::<f64>();
        assert!((after / before - 1.0).abs() < 1e-9);
        let tenths: Vec<f64> = sound.chunks(1_000).map(|part| part.iter().map(|x| x * x).sum::<f64>()).collect();
        let (least, most) = tenths.iter().fold((f64::MAX, 0.0f64), |(l, m), &x| (l.min(x), m.max(x)));
        assert!(most > 8.0 * least, "{least} to {most}");
    }
}
