//! A reciprocating compressor: suction strokes, valve plates and a motor, switching off when the tank is full.

use super::super::dice::Dice;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Burst, Canvas, Mode, Tone};
use super::envelope::Envelope;
use super::room::Room;
use super::source::NoiseSource;
use super::timeline::Timeline;
use crate::units::{Hertz, Seconds};

pub(super) struct Compressor {
    pump_hz: f64,
    mains_hz: f64,
    plates: [Mode; 4],
    suction_hz: f64,
    on_s: f64,
    off_s: f64,
    room: Room,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 2.5;
/// Two cylinders in V: two strokes a turn, unevenly spaced.
const STROKES: [f64; 2] = [0.0, 0.27];
/// The flywheel needs this long to come up, and three times as long to stop.
const RUN_UP_S: f64 = 0.35;
/// The pressure switch lets the head's air off for this long after it stops.
const UNLOADING_S: f64 = 0.8;

impl Compressor {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        let plate_hz = dice.between(900.0, 1500.0);
        Self {
            pump_hz: dice.between(12.0, 18.0),
            mains_hz: dice.between(49.9, 50.1),
            plates: [1.0, 1.93, 3.12, 4.7].map(|ratio| Mode {
                hz: plate_hz * ratio * dice.between(0.95, 1.05),
                decay_s: dice.between(0.0008, 0.0025),
                gain: dice.between(0.4, 1.0),
            }),
            suction_hz: dice.between(350.0, 700.0),
            on_s: dice.between(15.0, 60.0),
            off_s: dice.between(20.0, 60.0),
            room: Room::draw(dice),
        }
    }

    /// Where in its cycle a stretch begins is chance; true where it runs.
    fn cycle(&self, length_s: f64, dice: &mut Dice) -> Timeline<bool> {
        let mut begin_s = -dice.between(0.0, self.on_s + self.off_s);
        let mut running = false;
        // One whole cycle of history, so that what began before is known.
        begin_s -= self.off_s;
        Timeline::fill(begin_s, length_s, || {
            running = !running;
            (running, if running { self.on_s } else { self.off_s })
        })
    }
}

/// Speed as a share of full speed.
fn speed(cycle: &Timeline<bool>, t: f64) -> f64 {
    match cycle.at(t) {
        Some(span) if span.act => ((t - span.from_s) / RUN_UP_S).min(1.0),
        Some(span) => (1.0 - (t - span.from_s) / (3.0 * RUN_UP_S)).max(0.0),
        None => 0.0,
    }
}

/// The head's air let off after the stop, as an amplitude.
fn unloading(cycle: &Timeline<bool>, t: f64) -> f64 {
    match cycle.at(t) {
        Some(span) if !span.act && t - span.from_s < UNLOADING_S => 1.0 - (t - span.from_s) / UNLOADING_S,
        _ => 0.0,
    }
}

impl NoiseSource for Compressor {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let cycle = self.cycle(length.0, dice);
        let strokes = self.strokes(&mut canvas, &cycle, dice);
        let suction = Chain::new(rate.0)
            .high_pass(90.0, BUTTERWORTH_Q)
            .peak(self.suction_hz, 12.0, 1.5)
            .soft_low_pass(1500.0)
            .louder(1.0);
        canvas.broadband(&suction, &strokes.times(&canvas.wander(0.6, 0.1, dice)), dice);
        let motor = canvas.envelope(|t| speed(&cycle, t));
        let cooling = Chain::new(rate.0).high_pass(150.0, BUTTERWORTH_Q).soft_low_pass(1200.0).louder(2.0);
        let cooling_gain = canvas.envelope(|t| 0.03 + 0.4 * speed(&cycle, t).powi(2) + 2.0 * unloading(&cycle, t));
        canvas.broadband(&cooling, &cooling_gain, dice);
        let hum_hz = canvas.envelope(|_| 2.0 * self.mains_hz);
        canvas.tone(&Tone::of_harmonics(&[0.5, 0.2, 0.25, 0.05, 0.1, 0.04]), &hum_hz, &motor, dice);
        self.room.apply(&mut canvas.samples, rate.0);
        canvas.finish(GAIN_DB)
    }
}

impl Compressor {
    /// Paints valve plates and thumps stroke by stroke; gives back how the suction swells.
    fn strokes(&self, canvas: &mut Canvas, cycle: &Timeline<bool>, dice: &mut Dice) -> Envelope {
        let mut moments = Vec::new();
        let mut turn_s = -dice.between(0.0, 1.0) / self.pump_hz;
        while turn_s < canvas.seconds {
            let period_s = 1.0 / (self.pump_hz * speed(cycle, turn_s).max(0.25) * dice.between(0.985, 1.015));
            moments.extend(STROKES.map(|share| (turn_s + share * period_s, period_s)));
            turn_s += period_s;
        }
        for &(at_s, period_s) in &moments {
            let force = speed(cycle, at_s);
            if force < 0.1 {
                continue;
            }
            let thump = [Mode { hz: 75.0, decay_s: 0.025, gain: 5.0 }, Mode { hz: 160.0, decay_s: 0.015, gain: 3.0 }];
            canvas.strike(at_s, &thump, force * dice.amplitude_spread(0.7));
            // The inlet plate opens, the outlet plate later in the same turn.
            for (share, height) in [(0.03, 1.0), (0.45, 0.7)] {
                let clack_s = at_s + (share + 0.01 * dice.normal()) * period_s;
                let height = 2.2 * height * force * dice.amplitude_spread(1.5);
                canvas.strike(clack_s, &self.plates, height);
                canvas.burst(clack_s, Burst { hz: 4500.0, q: 0.5, decay_s: 0.002 }, 2.5 * height, dice);
            }
        }
        canvas.envelope(|t| {
            let swell = |&(at_s, period_s): &(f64, f64)| {
                let phase = (t - at_s) / (0.45 * period_s);
                if (0.0..1.0).contains(&phase) { 4.0 * phase * (1.0 - phase) } else { 0.0 }
            };
            let after = moments.partition_point(|moment| moment.0 <= t);
            let near = &moments[after.saturating_sub(3)..after];
            speed(cycle, t) * near.iter().map(swell).sum::<f64>()
        })
    }
}
