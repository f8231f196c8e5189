//! Hammering on steel, and metal that is dropped and bounces.

use super::super::dice::Dice;
use super::canvas::{Burst, Canvas, Mode};
use super::room::Room;
use super::source::NoiseSource;
use crate::units::{Hertz, Seconds};

pub(super) struct Hammering {
    plate: Vec<Mode>,
    blows_hz: f64,
    room: Room,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 6.0;
/// Things happen this often, seconds.
const MEAN_GAP_S: f64 = 1.6;

impl Hammering {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        let lowest_hz = dice.between(250.0, 500.0);
        Self {
            plate: piece_of_metal(lowest_hz, 14, 0.16, dice),
            blows_hz: dice.between(1.6, 2.8),
            room: Room::draw(dice),
        }
    }

    /// A row of blows; gives back when it ends.
    fn row(&self, canvas: &mut Canvas, mut at_s: f64, dice: &mut Dice) -> f64 {
        for _ in 0..2 + dice.below(7) {
            let height = 1.4 * dice.amplitude_spread(2.5);
            canvas.strike(at_s, &self.plate, height);
            canvas.burst(at_s, Burst { hz: 3500.0, q: 0.4, decay_s: 0.003 }, 4.0 * height, dice);
            at_s += (1.0 + 0.06 * dice.normal()).max(0.6) / self.blows_hz;
        }
        at_s
    }
}

/// A piece that rings in ways without harmony, the higher the shorter.
fn piece_of_metal(lowest_hz: f64, count: usize, decay_s: f64, dice: &mut Dice) -> Vec<Mode> {
    let mut hz = lowest_hz;
    (0..count)
        .map(|_| {
            let mode = Mode {
                hz,
                decay_s: decay_s * dice.between(0.5, 1.3) * (lowest_hz / hz).sqrt(),
                gain: dice.between(0.2, 1.0),
            };
            hz *= dice.between(1.12, 1.5);
            mode
        })
        .collect()
}

/// A spanner or a bolt on concrete: each bounce lower, sooner and softer than the last; gives back when it ends.
fn drop_metal(canvas: &mut Canvas, mut at_s: f64, dice: &mut Dice) -> f64 {
    let lowest_hz = dice.between(900.0, 2600.0);
    let piece = piece_of_metal(lowest_hz, 8, 0.07, dice);
    let mut gap_s = dice.between(0.15, 0.35);
    let mut height = 1.6 * dice.amplitude_spread(4.0);
    let springy = dice.between(0.55, 0.75);
    while gap_s > 0.012 {
        canvas.strike(at_s, &piece, height * dice.amplitude_spread(2.0));
        canvas.burst(at_s, Burst { hz: 5000.0, q: 0.4, decay_s: 0.001 }, 3.0 * height, dice);
        at_s += gap_s;
        gap_s *= springy;
        height *= springy;
    }
    at_s
}

impl NoiseSource for Hammering {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let mut at_s = -dice.between(0.0, 3.0);
        while at_s < length.0 {
            let end_s =
                if dice.chance(0.6) { self.row(&mut canvas, at_s, dice) } else { drop_metal(&mut canvas, at_s, dice) };
            at_s = end_s + dice.waiting(MEAN_GAP_S);
        }
        canvas.hall(dice);
        self.room.apply(&mut canvas.samples, rate.0);
        canvas.finish(GAIN_DB)
    }
}
