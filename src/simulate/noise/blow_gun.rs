//! A blow gun or another air tool nearby: a hiss that is not the engine's and starts when it likes.

use super::super::dice::Dice;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::super::jet::Jet;
use super::super::level::chain_power;
use super::canvas::Canvas;
use super::source::NoiseSource;
use super::timeline::Timeline;
use crate::units::{Hertz, Seconds};

pub(super) struct BlowGun {
    nozzle: Jet,
    edge_hz: f64,
    edge_db: f64,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 3.0;
/// The valve opens and shuts within this, seconds.
const VALVE_S: f64 = 0.03;
/// The hall when the gun is shut.
const QUIET: f64 = 0.02;

impl BlowGun {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        Self {
            nozzle: Jet::of_hole_mm(dice.between(1.2, 2.5)),
            edge_hz: dice.between(2500.0, 7000.0),
            edge_db: dice.between(2.0, 8.0),
        }
    }
}

impl NoiseSource for BlowGun {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let mut open = dice.chance(0.5);
        let work = Timeline::fill(-dice.between(0.0, 4.0), length.0, || {
            open = !open;
            // Long sweeps or short puffs.
            let puff_s = if dice.chance(0.5) { dice.between(0.3, 1.0) } else { dice.between(1.5, 6.0) };
            (open, if open { puff_s } else { dice.between(0.5, 4.0) })
        });
        let gun = Chain::new(rate.0)
            .high_pass(300.0, BUTTERWORTH_Q)
            .peak(self.edge_hz, self.edge_db, 5.0)
            .then(&self.nozzle.chain(rate.0));
        let scale = 1.0 / chain_power(&gun).sqrt();
        let gain = canvas.envelope(|t| {
            let pulled = match work.at(t) {
                Some(span) if span.act => ((t - span.from_s) / VALVE_S).min(1.0),
                Some(span) => (1.0 - (t - span.from_s) / VALVE_S).max(0.0),
                None => 0.0,
            };
            (QUIET + pulled) * scale
        });
        // Waved about: the level swings as the nozzle turns to and from the microphone.
        canvas.broadband(&gun, &gain.times(&canvas.wander(1.5, 0.4, dice)), dice);
        canvas.finish(GAIN_DB)
    }
}
