//! Music from a small radio: chords, a tune, a bass and drums, through a little loudspeaker.

use super::super::dice::Dice;
use super::super::exact;
use super::super::filter::Chain;
use super::canvas::{Burst, Canvas, Mode, Tone};
use super::room::Room;
use super::source::NoiseSource;
use crate::units::{Hertz, Seconds};

pub(super) struct Radio {
    beats_per_s: f64,
    root_hz: f64,
    /// Steps of the chords' roots above the key's, in half tones, and whether each is minor.
    chords: [(f64, bool); 4],
    speaker_low_hz: f64,
    speaker_high_hz: f64,
    room: Room,
}

/// Brings the band from 1 to 16 kHz to 0 dB.
const GAIN_DB: f64 = 3.0;
/// Chord sequences of common songs.
const SEQUENCES: [[(f64, bool); 4]; 4] = [
    [(0.0, false), (7.0, false), (9.0, true), (5.0, false)],
    [(0.0, false), (5.0, false), (7.0, false), (5.0, false)],
    [(9.0, true), (5.0, false), (0.0, false), (7.0, false)],
    [(0.0, true), (3.0, false), (10.0, false), (7.0, false)],
];
const BEATS_A_BAR: usize = 4;

impl Radio {
    pub(super) fn draw(dice: &mut Dice) -> Self {
        Self {
            beats_per_s: dice.between(85.0, 135.0) / 60.0,
            root_hz: dice.between(196.0, 330.0),
            chords: SEQUENCES[dice.below(SEQUENCES.len())],
            speaker_low_hz: dice.between(130.0, 220.0),
            speaker_high_hz: dice.between(7000.0, 12_000.0),
            room: Room::draw(dice),
        }
    }

    fn chord_hz(&self, bar: usize) -> [f64; 3] {
        let (root, minor) = self.chords[bar % self.chords.len()];
        [0.0, if minor { 3.0 } else { 4.0 }, 7.0].map(|third| half_tones(self.root_hz, root + third))
    }
}

fn half_tones(hz: f64, steps: f64) -> f64 {
    hz * exact::power(2.0, steps / 12.0)
}

/// A plucked or blown note.
struct Note<'a> {
    tone: &'a Tone,
    at_s: f64,
    hz: f64,
    /// Time to fall to 1/e.
    decay_s: f64,
    length_s: f64,
    gain: f64,
}

impl Note<'_> {
    fn play(&self, canvas: &mut Canvas) {
        // A note that began before the stretch is joined where it stands.
        let missed_s = (-self.at_s).max(0.0);
        if missed_s >= self.length_s {
            return;
        }
        let rate_hz = canvas.rate_hz;
        let decay = exact::decay_per_sample(self.decay_s, rate_hz);
        let count = ((self.length_s - missed_s) * rate_hz) as usize;
        let attack = (0.006 * rate_hz).max(1.0);
        let mut height = self.gain * exact::exp(-missed_s / self.decay_s);
        let mut phase = (self.hz * missed_s).fract();
        let turn = self.hz / rate_hz;
        let samples: Vec<f64> = (0..count)
            .map(|n| {
                height *= decay;
                let edge = (n as f64 / attack).min((count - n) as f64 / attack).min(1.0);
                let sample = height * edge * self.tone.at(phase);
                phase += turn;
                phase -= if phase >= 1.0 { 1.0 } else { 0.0 };
                sample
            })
            .collect();
        canvas.add_at(self.at_s.max(0.0), &samples);
    }
}

/// The instruments' tones.
struct Instruments {
    strings: Tone,
    lead: Tone,
    bass: Tone,
}

impl NoiseSource for Radio {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut canvas = Canvas::new(length.0, rate.0);
        let instruments =
            Instruments { strings: Tone::falling(14, 1.2), lead: Tone::falling(14, 1.1), bass: Tone::falling(6, 1.0) };
        let beat_s = 1.0 / self.beats_per_s;
        let first_beat = dice.below(64);
        let mut beat = first_beat;
        let mut at_s = -dice.between(0.0, 1.0) * beat_s;
        // The bar in which the stretch begins is played from its start.
        let into_bar = beat % BEATS_A_BAR;
        at_s -= into_bar as f64 * beat_s;
        beat -= into_bar;
        while at_s < length.0 {
            let chord = self.chord_hz(beat / BEATS_A_BAR);
            self.melody(&mut canvas, &instruments, beat, at_s, chord, dice);
            drums(&mut canvas, beat, at_s, beat_s, dice);
            beat += 1;
            at_s += beat_s;
        }
        let speaker = Chain::new(rate.0)
            .high_pass(self.speaker_low_hz, 0.9)
            .peak(1100.0, 3.0, 1.0)
            .peak(3400.0, 4.0, 1.5)
            .low_pass(self.speaker_high_hz, 0.54)
            .low_pass(self.speaker_high_hz, 1.31);
        speaker.run(&mut canvas.samples);
        canvas.hall(dice);
        self.room.apply(&mut canvas.samples, rate.0);
        canvas.finish(GAIN_DB)
    }
}

impl Radio {
    fn melody(
        &self,
        canvas: &mut Canvas,
        instruments: &Instruments,
        beat: usize,
        at_s: f64,
        chord: [f64; 3],
        dice: &mut Dice,
    ) {
        let beat_s = 1.0 / self.beats_per_s;
        if beat.is_multiple_of(BEATS_A_BAR) {
            for hz in chord {
                let length_s = beat_s * BEATS_A_BAR as f64;
                Note { tone: &instruments.strings, at_s, hz, decay_s: 1.5, length_s, gain: 0.5 }.play(canvas);
            }
        }
        let bass_hz = chord[0] / 4.0;
        Note { tone: &instruments.bass, at_s, hz: bass_hz, decay_s: 0.5, length_s: beat_s * 0.9, gain: 1.2 }
            .play(canvas);
        for half in [0.0, 0.5] {
            if dice.chance(0.7) {
                let hz = chord[dice.below(3)] * [1.0, 2.0][dice.below(2)];
                let at_s = at_s + half * beat_s;
                let gain = 0.9 * dice.amplitude_spread(1.5);
                Note { tone: &instruments.lead, at_s, hz, decay_s: 0.3, length_s: beat_s * 0.48, gain }.play(canvas);
            }
        }
    }
}

fn drums(canvas: &mut Canvas, beat: usize, at_s: f64, beat_s: f64, dice: &mut Dice) {
    if beat.is_multiple_of(2) {
        let kick = [Mode { hz: 58.0, decay_s: 0.09, gain: 3.0 }, Mode { hz: 130.0, decay_s: 0.03, gain: 1.5 }];
        canvas.strike(at_s, &kick, 1.0);
    } else {
        canvas.strike(at_s, &[Mode { hz: 195.0, decay_s: 0.05, gain: 1.2 }], 1.0);
        canvas.burst(at_s, Burst { hz: 2600.0, q: 0.4, decay_s: 0.06 }, 2.2 * dice.amplitude_spread(0.8), dice);
    }
    for half in [0.0, 0.5] {
        let hat = Burst { hz: 9000.0, q: 0.9, decay_s: if dice.chance(0.15) { 0.12 } else { 0.025 } };
        canvas.burst(at_s + half * beat_s, hat, 1.3 * dice.amplitude_spread(1.5), dice);
    }
}
