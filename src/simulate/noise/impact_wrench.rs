//! An impact wrench: bursts of hammer blows, some twenty a second, over the exhaust of its air motor.

use super::super::dice::Dice;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Burst, Canvas, Mode, Tone};
use super::room::Room;
use super::source::NoiseSource;
use super::timeline::Timeline;
use crate::units::{Hertz, Seconds};

pub(super) struct ImpactWrench {
    blows_hz: f64,
    socket: [Mode; 7],
    motor_hz: f64,
    room: Room,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 0.5;
/// The motor runs free this long before the hammer begins to strike.
const FREE_S: f64 = 0.25;
/// The motor's exhaust beside the blows.
const EXHAUST: f64 = 0.35;

impl ImpactWrench {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        let lowest_hz = dice.between(1100.0, 1700.0);
        Self {
            blows_hz: dice.between(17.0, 25.0),
            socket: [1.0, 1.52, 2.31, 2.95, 3.8, 4.9, 6.3].map(|ratio| Mode {
                hz: lowest_hz * ratio * dice.between(0.96, 1.04),
                decay_s: dice.between(0.0008, 0.004),
                gain: dice.between(0.3, 1.0),
            }),
            motor_hz: dice.between(260.0, 420.0),
            room: Room::draw(dice),
        }
    }
}

/// How far the trigger is pulled, 0 to 1.
fn trigger(work: &Timeline<bool>, t: f64) -> f64 {
    match work.at(t) {
        Some(span) if span.act => ((t - span.from_s) / 0.06).min(1.0),
        Some(span) => (1.0 - (t - span.from_s) / 0.12).max(0.0),
        None => 0.0,
    }
}

impl NoiseSource for ImpactWrench {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let mut pulled = dice.chance(0.5);
        let work = Timeline::fill(-dice.between(0.0, 3.0), length.0, || {
            pulled = !pulled;
            // Nuts come in rows: short pauses between them, long ones between rows.
            let pause_s = if dice.chance(0.7) { dice.between(0.5, 1.6) } else { dice.between(2.0, 5.0) };
            (pulled, if pulled { dice.between(0.6, 2.8) } else { pause_s })
        });
        for span in work.spans().iter().filter(|span| span.act) {
            let mut blow_s = span.from_s + FREE_S;
            while blow_s < span.to_s {
                let height = 4.5 * dice.amplitude_spread(1.5);
                canvas.strike(blow_s, &self.socket, height);
                let body =
                    [Mode { hz: 170.0, decay_s: 0.018, gain: 0.8 }, Mode { hz: 430.0, decay_s: 0.01, gain: 0.6 }];
                canvas.strike(blow_s, &body, height);
                canvas.burst(blow_s, Burst { hz: 5500.0, q: 0.4, decay_s: 0.0015 }, 2.0 * height, dice);
                blow_s += (1.0 + 0.05 * dice.normal()).max(0.5) / self.blows_hz;
            }
        }
        let exhaust = Chain::new(rate.0).high_pass(900.0, BUTTERWORTH_Q).peak(2800.0, 5.0, 0.8).soft_low_pass(7000.0);
        let gain = canvas.envelope(|t| 0.03 + EXHAUST * trigger(&work, t));
        canvas.broadband(&exhaust, &gain.times(&canvas.wander(0.8, 0.05, dice)), dice);
        let pitch = canvas.envelope(|t| {
            let since_s = work.at(t).map_or(0.0, |span| t - span.from_s);
            // Free it whines, striking it is held back.
            self.motor_hz * if since_s < FREE_S { 1.0 } else { 0.62 }
        });
        let whine = canvas.envelope(|t| 0.25 * trigger(&work, t));
        canvas.tone(&Tone::falling(10, 0.7), &pitch, &whine, dice);
        self.room.apply(&mut canvas.samples, rate.0);
        canvas.finish(GAIN_DB)
    }
}
