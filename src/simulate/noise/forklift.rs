//! A forklift: a diesel that knocks, revs up and down, a hydraulic pump, forks that rattle, sometimes its reversing beep.

use super::super::dice::Dice;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Burst, Canvas, Mode, Tone};
use super::room::Room;
use super::source::NoiseSource;
use super::timeline::Timeline;
use crate::units::{Hertz, Seconds};

pub(super) struct Forklift {
    idle_firing_hz: f64,
    knock_hz: f64,
    pump_teeth: f64,
    beep_hz: f64,
    room: Room,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Act {
    Idle,
    Drive,
    Lift,
    Reverse,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = -1.0;

impl Forklift {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        Self {
            // Four cylinders fire twice a turn: 800 to 950 turns a minute.
            idle_firing_hz: dice.between(26.0, 32.0),
            knock_hz: dice.between(1500.0, 2600.0),
            pump_teeth: 9.0 + dice.below(5) as f64,
            beep_hz: dice.between(1200.0, 1500.0),
            room: Room::draw(dice),
        }
    }

    fn work(length_s: f64, dice: &mut Dice) -> Timeline<Act> {
        Timeline::fill(-dice.between(0.5, 5.0), length_s, || {
            let act = [Act::Idle, Act::Drive, Act::Lift, Act::Drive, Act::Reverse][dice.below(5)];
            (act, dice.between(1.0, 4.5))
        })
    }

    /// Blow by blow the knock of the combustion.
    fn knocks(&self, canvas: &mut Canvas, revs: &[f64], dice: &mut Dice) {
        let cylinders = [0, 1, 2, 3].map(|_| dice.amplitude_spread(1.5));
        let mut at_s = 0.0;
        let mut cylinder = 0;
        while at_s < canvas.seconds {
            let rev = revs.get((at_s * 1000.0) as usize).copied().unwrap_or(1.0);
            let height = 2.6 * cylinders[cylinder] * dice.amplitude_spread(1.2);
            canvas.burst(at_s, Burst { hz: self.knock_hz, q: 0.9, decay_s: 0.003 }, height, dice);
            let block = [
                Mode { hz: 0.42 * self.knock_hz, decay_s: 0.006, gain: 0.9 },
                Mode { hz: 0.8 * self.knock_hz, decay_s: 0.004, gain: 0.7 },
            ];
            canvas.strike(at_s, &block, height);
            cylinder = (cylinder + 1) % cylinders.len();
            at_s += (1.0 + 0.012 * dice.normal()) / (self.idle_firing_hz * rev);
        }
    }
}

/// Engine speed relative to idle, millisecond by millisecond.
fn revs(canvas: &Canvas, work: &Timeline<Act>) -> Vec<f64> {
    let begin_s = work.spans().first().map_or(0.0, |span| span.from_s);
    let mut rev = 1.2;
    let mut revs = Vec::new();
    for step in (begin_s * 1000.0) as i64..(canvas.seconds * 1000.0) as i64 + 2 {
        let wanted = match work.at(step as f64 / 1000.0).map_or(Act::Idle, |span| span.act) {
            Act::Idle => 1.0,
            Act::Reverse => 1.35,
            Act::Lift => 1.9,
            Act::Drive => 1.7,
        };
        rev += (wanted - rev) * 0.0022;
        if step >= 0 {
            revs.push(rev);
        }
    }
    revs
}

impl NoiseSource for Forklift {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let work = Self::work(length.0, dice);
        let revs = revs(&canvas, &work);
        let rev = |t: f64| revs.get((t * 1000.0) as usize).or(revs.last()).copied().unwrap_or(1.0);
        let doing = |t: f64, act: Act| f64::from(u8::from(work.at(t).is_some_and(|span| span.act == act)));

        // Half orders: each cylinder fires a little differently from the next.
        let pitch = canvas.envelope(|t| 0.5 * self.idle_firing_hz * rev(t));
        let load = canvas.envelope(|t| 1.6 * rev(t));
        let exhaust = [0.3, 1.0, 0.25, 0.8, 0.2, 0.5, 0.15, 0.4, 0.1, 0.25, 0.08, 0.2, 0.05, 0.12, 0.04, 0.08];
        canvas.tone(&Tone::of_harmonics(&exhaust), &pitch, &load, dice);
        self.knocks(&mut canvas, &revs, dice);

        let blower = Chain::new(rate.0).high_pass(120.0, BUTTERWORTH_Q).soft_low_pass(900.0).louder(10.0);
        let blower_gain = canvas.envelope(|t| 0.4 * rev(t).powi(2));
        canvas.broadband(&blower, &blower_gain.times(&canvas.wander(0.6, 0.3, dice)), dice);
        let pump_hz = canvas.envelope(|t| 0.5 * self.idle_firing_hz * self.pump_teeth * 2.0 * rev(t));
        let pump_gain = canvas.envelope(|t| 0.03 + 0.5 * doing(t, Act::Lift));
        canvas.tone(&Tone::of_harmonics(&[1.0, 0.7, 0.5, 0.35, 0.2]), &pump_hz, &pump_gain, dice);
        let beep_hz = canvas.envelope(|_| self.beep_hz);
        let beep = canvas.envelope(|t| if t.fract() < 0.5 { 0.5 * doing(t, Act::Reverse) } else { 0.0 });
        canvas.tone(&Tone::of_harmonics(&[1.0, 0.15, 0.3]), &beep_hz, &beep, dice);
        for span in work.spans().iter().filter(|span| span.act == Act::Lift || span.act == Act::Drive) {
            let forks = [340.0, 815.0, 1370.0, 2240.0, 3600.0].map(|hz| Mode { hz, decay_s: 60.0 / hz, gain: 0.6 });
            canvas.strike(span.from_s + dice.between(0.1, 0.6), &forks, 2.0 * dice.amplitude_spread(3.0));
        }
        self.room.apply(&mut canvas.samples, rate.0);
        canvas.finish(GAIN_DB)
    }
}
