//! A ventilation fan: turbulence, and the tones of its blades.

use super::super::dice::Dice;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Canvas, Tone};
use super::source::NoiseSource;
use crate::units::{Hertz, Seconds};

pub(super) struct Fan {
    turns_hz: f64,
    blades: f64,
    turbulence_hz: f64,
    whine_hz: f64,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 1.0;

impl Fan {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        let turns_hz = if dice.chance(0.5) { dice.between(15.0, 16.2) } else { dice.between(23.0, 24.6) };
        Self {
            turns_hz,
            blades: 5.0 + dice.below(5) as f64,
            turbulence_hz: dice.between(350.0, 900.0),
            whine_hz: turns_hz * (28.0 + dice.below(20) as f64),
        }
    }
}

impl NoiseSource for Fan {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let wander = canvas.wander(0.4, 1.5, dice);
        let turn = dice.between(0.0, 1.0);
        let wobble = Tone::falling(1, 1.0);
        let beat = canvas.envelope(|t| 1.0 + 0.08 * wobble.at((turn + t * self.turns_hz).fract()));
        let chain = Chain::new(rate.0)
            .high_pass(45.0, BUTTERWORTH_Q)
            .soft_low_pass(self.turbulence_hz)
            .peak(self.turbulence_hz * 1.8, 3.0, 1.2)
            .step(6000.0, -5.0)
            .louder(16.0);
        canvas.broadband(&chain, &wander.clone().times(&beat), dice);
        let speed = canvas.wander(0.01, 2.0, dice);
        let blade_hz = canvas.envelope(|_| self.turns_hz * self.blades).times(&speed);
        canvas.tone(&Tone::falling(6, 1.3), &blade_hz, &wander.clone().times(&canvas.envelope(|_| 2.2)), dice);
        let whine_hz = canvas.envelope(|_| self.whine_hz).times(&speed);
        canvas.tone(&Tone::falling(3, 0.8), &whine_hz, &wander.times(&canvas.envelope(|_| 0.12)), dice);
        canvas.finish(GAIN_DB)
    }
}
