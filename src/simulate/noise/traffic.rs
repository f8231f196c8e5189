//! Cars passing outside an open door: tyres that swell and fade, the high end only when close; engines below.

use super::super::dice::Dice;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Canvas, Tone};
use super::source::NoiseSource;
use crate::units::{Hertz, Seconds};

pub(super) struct Traffic {
    mean_gap_s: f64,
    road_m: f64,
    tyres_hz: f64,
}

struct Pass {
    middle_s: f64,
    speed_m_per_s: f64,
    distance_m: f64,
    loudness: f64,
    firing_hz: f64,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 7.0;
/// Cars this long before and after a stretch are still heard in it.
const HEARD_S: f64 = 6.0;
/// The road that never sleeps, relative to a car close by.
const DISTANT: f64 = 0.05;

impl Traffic {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        Self {
            mean_gap_s: dice.between(2.5, 7.0),
            road_m: dice.between(6.0, 12.0),
            tyres_hz: dice.between(750.0, 1150.0),
        }
    }

    fn passes(&self, length_s: f64, dice: &mut Dice) -> Vec<Pass> {
        let mut passes = Vec::new();
        let mut middle_s = -HEARD_S + dice.waiting(self.mean_gap_s);
        while middle_s < length_s + HEARD_S {
            let lane_m = if dice.chance(0.5) { 0.0 } else { 3.5 };
            passes.push(Pass {
                middle_s,
                speed_m_per_s: dice.between(9.0, 16.0),
                distance_m: self.road_m + lane_m,
                loudness: dice.amplitude_spread(3.0),
                firing_hz: dice.between(55.0, 95.0),
            });
            middle_s += dice.waiting(self.mean_gap_s).max(0.8);
        }
        passes
    }
}

impl Pass {
    /// Share of the amplitude that reaches the door, 1 at the road's own distance.
    fn nearness(&self, t: f64, road_m: f64) -> f64 {
        let along_m = self.speed_m_per_s * (t - self.middle_s);
        road_m / (self.distance_m * self.distance_m + along_m * along_m).sqrt()
    }

    /// Share of the pitch that comes towards (above 1) or goes away (below 1).
    fn doppler(&self, t: f64) -> f64 {
        let along_m = self.speed_m_per_s * (t - self.middle_s);
        let away = along_m / (self.distance_m * self.distance_m + along_m * along_m).sqrt();
        1.0 / (1.0 + away * self.speed_m_per_s / 343.2)
    }
}

impl NoiseSource for Traffic {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let passes = self.passes(length.0, dice);
        let sum = |t: f64, steepness: i32| -> f64 {
            passes
                .iter()
                .map(|pass| (pass.loudness * pass.nearness(t, self.road_m).powi(steepness)).powi(2))
                .sum::<f64>()
                .sqrt()
        };
        let tyres = Chain::new(rate.0)
            .high_pass(60.0, BUTTERWORTH_Q)
            .peak(self.tyres_hz, 10.0, 1.0)
            .low_pass(2600.0, BUTTERWORTH_Q);
        let rumble = canvas.envelope(|t| sum(t, 1) + DISTANT);
        canvas.broadband(&tyres, &rumble.times(&canvas.wander(0.5, 0.2, dice)), dice);
        // The high end falls faster with distance: the ground, the car's own body and the door's edge.
        let rush = Chain::new(rate.0).high_pass(1800.0, BUTTERWORTH_Q).soft_low_pass(3500.0).louder(2.0);
        let close = canvas.envelope(|t| sum(t, 2) + 0.2 * DISTANT);
        canvas.broadband(&rush, &close.times(&canvas.wander(0.5, 0.1, dice)), dice);
        for pass in &passes {
            let pitch = canvas.envelope(|t| pass.firing_hz * pass.doppler(t));
            let gain = canvas.envelope(|t| 0.8 * pass.loudness * pass.nearness(t, self.road_m));
            canvas.tone(&Tone::falling(8, 1.0), &pitch, &gain, dice);
        }
        canvas.finish(GAIN_DB)
    }
}
