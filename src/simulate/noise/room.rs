//! A workshop's reverberation: eight delay lines that feed each other.

use super::super::dice::Dice;
use super::super::exact;

/// A room drawn once for a source.
#[derive(Debug, Clone)]
pub(in crate::simulate) struct Room {
    delays_s: [f64; LINES],
    reverberation_s: f64,
    /// Reverberant over direct energy.
    wet: f64,
}

const LINES: usize = 8;
/// Path lengths between hard walls 3 to 12 m apart, seconds; without common multiples.
const DELAYS_S: [f64; LINES] = [0.0113, 0.0137, 0.0173, 0.0199, 0.0233, 0.0271, 0.0307, 0.0347];
/// One-pole low pass in each line: air and surfaces swallow the high end first.
const DAMPING: f64 = 0.25;

impl Room {
    /// A hard workshop: 0.5 to 1.3 s, the source 2 to 6 m away and so mostly reverberant.
    pub fn draw(dice: &mut Dice) -> Self {
        let size = dice.between(0.8, 1.25);
        Self {
            delays_s: DELAYS_S.map(|delay| delay * size),
            reverberation_s: dice.between(0.5, 1.3),
            wet: exact::power_of_db(dice.between(-3.0, 5.0)),
        }
    }

    /// Adds the room's answer to the samples.
    pub fn apply(&self, samples: &mut [f64], rate_hz: f64) {
        let lengths = self.delays_s.map(|delay| (delay * rate_hz) as usize);
        let mut lines: [Vec<f64>; LINES] = lengths.map(|length| vec![0.0; length]);
        let mut places = [0usize; LINES];
        let mut low = [0.0; LINES];
        // 60 dB within the reverberation time.
        let keep = self.delays_s.map(|delay| exact::amplitude_of_db(-60.0 * delay / self.reverberation_s));
        let lost = keep.iter().map(|k| 1.0 - k * k).sum::<f64>() / LINES as f64;
        let out_gain = (self.wet * lost / LINES as f64).sqrt();
        for sample in samples {
            let dry = *sample;
            let mut heard = [0.0; LINES];
            for k in 0..LINES {
                low[k] += (1.0 - DAMPING) * (lines[k][places[k]] - low[k]);
                heard[k] = keep[k] * low[k];
            }
            // Householder's matrix feeds every line from all without loss.
            let shared = heard.iter().sum::<f64>() * (2.0 / LINES as f64);
            let mut wet = 0.0;
            for k in 0..LINES {
                lines[k][places[k]] = dry + heard[k] - shared;
                places[k] = if places[k] + 1 == lengths[k] { 0 } else { places[k] + 1 };
                wet += if k % 2 == 0 { heard[k] } else { -heard[k] };
            }
            *sample = dry + out_gain * wet;
        }
    }
}
