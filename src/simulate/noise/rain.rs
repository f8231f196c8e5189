//! Rain on a sheet-metal roof: a dense rush, and the drops near enough to be heard singly.

use super::super::dice::Dice;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Burst, Canvas, Mode};
use super::source::NoiseSource;
use crate::units::{Hertz, Seconds};

pub(super) struct Rain {
    drops_per_s: f64,
    bright_hz: f64,
    sheet_hz: [f64; 4],
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 2.0;

impl Rain {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        Self {
            drops_per_s: dice.between(40.0, 140.0),
            bright_hz: dice.between(6000.0, 10_000.0),
            sheet_hz: [1.0, 1.7, 2.6, 3.9].map(|ratio| ratio * dice.between(240.0, 380.0)),
        }
    }
}

impl NoiseSource for Rain {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let gusts = canvas.wander(1.0, 2.5, dice).times(&canvas.wander(0.3, 0.15, dice));
        let mut chain =
            Chain::new(rate.0).high_pass(350.0, BUTTERWORTH_Q).soft_low_pass(self.bright_hz).peak(2600.0, 4.0, 0.8);
        for hz in self.sheet_hz {
            chain = chain.peak(hz, 4.0, 3.0);
        }
        canvas.broadband(&chain, &gusts, dice);
        let mut at_s = 0.0;
        while at_s < length.0 {
            at_s += dice.waiting(1.0 / self.drops_per_s);
            let size = dice.waiting(0.9) * dice.amplitude_spread(4.0);
            let splash = Burst { hz: dice.between(1500.0, 8000.0), q: 0.6, decay_s: dice.between(0.0008, 0.003) };
            canvas.burst(at_s, splash, size, dice);
            // Only big drops make the sheet itself ring.
            if size > 1.0 {
                let modes = self.sheet_hz.map(|hz| Mode {
                    hz: hz * dice.between(0.97, 1.03),
                    decay_s: dice.between(0.005, 0.014),
                    gain: dice.between(0.0, 0.6),
                });
                canvas.strike(at_s, &modes, size);
            }
        }
        canvas.finish(GAIN_DB)
    }
}
