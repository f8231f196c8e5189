//! An angle grinder: started, idling, cutting, let run down.

use std::f64::consts::TAU;

use super::super::dice::Dice;
use super::super::exact;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Canvas, Tone};
use super::room::Room;
use super::source::NoiseSource;
use super::timeline::Timeline;
use crate::units::{Hertz, Seconds};

pub(super) struct Grinder {
    disc_hz: f64,
    teeth: f64,
    workpiece_hz: [f64; 3],
    room: Room,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Act {
    Off,
    Idle,
    /// With how much force, 0 to 1.
    Cut(f64),
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 3.0;
const RUN_UP_S: f64 = 0.4;
const RUN_DOWN_S: f64 = 2.2;
/// Speed lost at full force.
const DROOP: f64 = 0.18;

impl Grinder {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        Self {
            disc_hz: dice.between(140.0, 185.0),
            teeth: 9.0 + dice.below(6) as f64,
            workpiece_hz: [dice.between(1300.0, 2400.0), dice.between(2800.0, 4200.0), dice.between(4800.0, 7500.0)],
            room: Room::draw(dice),
        }
    }

    fn work(length_s: f64, dice: &mut Dice) -> Timeline<Act> {
        let mut act = if dice.chance(0.3) { Act::Off } else { Act::Idle };
        Timeline::fill(-dice.between(1.0, 6.0), length_s, || {
            act = match act {
                Act::Idle if dice.chance(0.85) => Act::Cut(dice.between(0.4, 1.0)),
                Act::Idle => Act::Off,
                Act::Cut(_) if dice.chance(0.25) => Act::Off,
                Act::Cut(_) | Act::Off => Act::Idle,
            };
            let length_s = match act {
                Act::Off => dice.between(2.5, 6.0),
                Act::Idle => dice.between(0.3, 1.2),
                Act::Cut(_) => dice.between(0.8, 4.5),
            };
            (act, length_s)
        })
    }
}

/// Speed and force point by point: both follow what is done with the inertia of disc and hand.
fn motion(canvas: &Canvas, work: &Timeline<Act>, dice: &mut Dice) -> (Vec<f64>, Vec<f64>) {
    let count = (canvas.seconds * 1000.0) as usize + 2;
    let begin_s = work.spans().first().map_or(0.0, |span| span.from_s);
    let (mut speed, mut force) = (0.9_f64, 0.0_f64);
    let (mut speeds, mut forces) = (Vec::with_capacity(count), Vec::with_capacity(count));
    let mut press = 0.0;
    for step in (begin_s * 1000.0) as i64..count as i64 {
        let act = work.at(step as f64 / 1000.0).map_or(Act::Off, |span| span.act);
        // The hand presses unevenly, some times a second.
        press += 0.006 * (-press) + 0.045 * dice.normal();
        let wanted = if let Act::Cut(force) = act { force * (1.0 + 0.35 * press).max(0.1) } else { 0.0 };
        force += (wanted - force) * 0.02;
        let (target, slowness_s) =
            if act == Act::Off { (0.0, RUN_DOWN_S / 2.5) } else { (1.0 - DROOP * force, RUN_UP_S / 2.5) };
        speed += (target - speed) / (slowness_s * 1000.0);
        if step >= 0 {
            speeds.push(speed.max(0.02));
            forces.push(force);
        }
    }
    (speeds, forces)
}

impl NoiseSource for Grinder {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let work = Self::work(length.0, dice);
        let (speeds, forces) = motion(&canvas, &work, dice);
        let at = |values: &[f64], t: f64| values.get((t * 1000.0) as usize).or(values.last()).copied().unwrap_or(0.0);

        let mesh_hz = canvas.envelope(|t| self.disc_hz * self.teeth * at(&speeds, t));
        let mesh_gain = canvas.envelope(|t| 0.28 * at(&speeds, t).powi(2) * (1.0 + at(&forces, t)));
        canvas.tone(&Tone::of_harmonics(&[1.0, 0.6, 0.35, 0.3, 0.12, 0.1]), &mesh_hz, &mesh_gain, dice);
        let disc_hz = canvas.envelope(|t| self.disc_hz * at(&speeds, t));
        let disc_gain = canvas.envelope(|t| 0.35 * at(&speeds, t).powi(2));
        canvas.tone(&Tone::falling(12, 0.9), &disc_hz, &disc_gain, dice);

        let motor =
            Chain::new(rate.0).high_pass(700.0, BUTTERWORTH_Q).peak(3200.0, 5.0, 0.9).low_pass(9000.0, BUTTERWORTH_Q);
        let motor_gain = canvas.envelope(|t| 0.03 + 0.5 * at(&speeds, t).powi(3));
        canvas.broadband(&motor, &motor_gain, dice);

        let mut cut = Chain::new(rate.0).high_pass(1500.0, BUTTERWORTH_Q).low_pass(13_000.0, BUTTERWORTH_Q);
        for hz in self.workpiece_hz {
            cut = cut.peak(hz, 11.0, 9.0);
        }
        let mut phase = 0.0;
        let chatter = canvas.envelope(|t| {
            // The disc is never quite round: once a turn it bites harder.
            phase += TAU * self.disc_hz * at(&speeds, t) / 1000.0;
            at(&forces, t) * (1.0 + 0.45 * exact::sin(phase))
        });
        canvas.broadband(&cut, &chatter.times(&canvas.wander(2.0, 0.03, dice)), dice);
        self.room.apply(&mut canvas.samples, rate.0);
        canvas.finish(GAIN_DB)
    }
}
