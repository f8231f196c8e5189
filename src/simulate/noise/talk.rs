//! Two people talking: voiced syllables through formants, hissing and popping consonants, pauses.

use std::f64::consts::PI;

use super::super::dice::Dice;
use super::super::exact;
use super::super::filter::{BUTTERWORTH_Q, Chain};
use super::canvas::{Burst, Canvas, Tone};
use super::room::Room;
use super::source::NoiseSource;
use crate::units::{Hertz, Seconds};

pub(super) struct Talk {
    people: [Person; 2],
    room: Room,
}

#[derive(Clone, Copy)]
struct Person {
    pitch_hz: f64,
    /// Length of the throat relative to an average man's.
    throat: f64,
    syllables_per_s: f64,
    loudness: f64,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 13.0;
/// First to third formant of six vowels, hertz, an average man's (common phonetics, no source).
const VOWELS: [[f64; 3]; 6] = [
    [730.0, 1090.0, 2440.0],
    [270.0, 2290.0, 3010.0],
    [300.0, 870.0, 2240.0],
    [530.0, 1840.0, 2480.0],
    [570.0, 840.0, 2410.0],
    [490.0, 1350.0, 1690.0],
];
/// The fourth formant hardly moves, hertz.
const FOURTH_HZ: f64 = 3500.0;

impl Person {
    fn draw(dice: &mut Dice) -> Self {
        let woman = dice.chance(0.35);
        Self {
            pitch_hz: if woman { dice.between(170.0, 240.0) } else { dice.between(90.0, 145.0) },
            throat: if woman { dice.between(0.83, 0.9) } else { dice.between(0.95, 1.05) },
            syllables_per_s: dice.between(4.0, 5.5),
            loudness: dice.amplitude_spread(2.0),
        }
    }

    /// A phrase; gives back when it ends.
    fn phrase(&self, canvas: &mut Canvas, voice: &Tone, mut at_s: f64, dice: &mut Dice) -> f64 {
        let syllables = 4 + dice.below(12);
        for k in 0..syllables {
            // The pitch falls towards the phrase's end and rises on what is stressed.
            let fall = 1.12 - 0.3 * k as f64 / syllables as f64;
            let stress = dice.between(0.5, 1.0);
            let length_s = (1.0 + 0.25 * dice.normal()).clamp(0.5, 1.8) / self.syllables_per_s;
            let onset_s = self.consonant(canvas, at_s, stress, dice).min(0.5 * length_s);
            let pitch_hz = self.pitch_hz * fall * (0.92 + 0.16 * stress);
            self.vowel(canvas, voice, (at_s + onset_s, length_s - onset_s), (pitch_hz, stress), dice);
            at_s += length_s;
        }
        at_s
    }

    /// Gives back how long it lasts.
    fn consonant(&self, canvas: &mut Canvas, at_s: f64, stress: f64, dice: &mut Dice) -> f64 {
        let gain = self.loudness * stress;
        if dice.chance(0.3) {
            hiss(canvas, at_s, 1.3 * gain, dice);
            0.08
        } else if dice.chance(0.5) {
            let pop = Burst { hz: dice.between(1200.0, 4200.0), q: 1.0, decay_s: 0.006 };
            canvas.burst(at_s + 0.02, pop, 1.6 * gain, dice);
            0.045
        } else {
            0.02
        }
    }

    fn vowel(
        &self,
        canvas: &mut Canvas,
        voice: &Tone,
        (at_s, length_s): (f64, f64),
        (pitch_hz, stress): (f64, f64),
        dice: &mut Dice,
    ) {
        let rate_hz = canvas.rate_hz;
        let count = (length_s * rate_hz) as usize;
        let mut chain = Chain::new(rate_hz);
        for (hz, q) in VOWELS[dice.below(VOWELS.len())].into_iter().zip([8.0, 12.0, 14.0]) {
            chain = chain.peak(hz / self.throat, 20.0, q / 4.0);
        }
        let chain = chain.peak(FOURTH_HZ / self.throat, 12.0, 4.0).low_pass(4500.0, BUTTERWORTH_Q);
        let gain = 0.16 * self.loudness * stress;
        let mut phase = 0.0;
        let glide = dice.between(-0.12, 0.08);
        let turn = exact::cos(PI / count.max(1) as f64);
        let (mut before, mut now) = (-exact::sin(PI / count.max(1) as f64), 0.0);
        let mut sound: Vec<f64> = (0..count)
            .map(|n| {
                phase += pitch_hz * (1.0 + glide * n as f64 / count as f64) / rate_hz;
                phase -= phase.floor();
                // A half sine as loudness: opens and closes.
                (before, now) = (now, 2.0 * turn * now - before);
                let breath = 0.06 * dice.normal();
                gain * now.max(0.0).sqrt() * (voice.at(phase) + breath)
            })
            .collect();
        chain.run(&mut sound);
        canvas.add_at(at_s, &sound);
    }
}

/// An s, sh or f: a rush that swells and fades.
fn hiss(canvas: &mut Canvas, at_s: f64, gain: f64, dice: &mut Dice) {
    let count = (dice.between(0.06, 0.14) * canvas.rate_hz) as usize;
    let mut sound = dice.white(count);
    for (n, sample) in sound.iter_mut().enumerate() {
        let phase = n as f64 / count as f64;
        *sample *= gain * 4.0 * phase * (1.0 - phase);
    }
    let mouth_hz = dice.between(3500.0, 7500.0);
    Chain::new(canvas.rate_hz).band_pass(mouth_hz, 1.8).low_pass(11_000.0, BUTTERWORTH_Q).run(&mut sound);
    canvas.add_at(at_s, &sound);
}

impl Talk {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        Self { people: [Person::draw(dice), Person::draw(dice)], room: Room::draw(dice) }
    }
}

impl NoiseSource for Talk {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        // The vocal cords' spectrum falls by some 12 dB per octave; the lips give 6 back.
        let voice = Tone::falling(36, 1.1);
        let mut at_s = -dice.between(0.0, 2.5);
        let mut speaker = dice.below(2);
        while at_s < length.0 {
            at_s = self.people[speaker].phrase(&mut canvas, &voice, at_s, dice) + dice.between(0.2, 1.1);
            if dice.chance(0.6) {
                speaker = 1 - speaker;
            }
        }
        canvas.hall(dice);
        self.room.apply(&mut canvas.samples, rate.0);
        canvas.finish(GAIN_DB)
    }
}
