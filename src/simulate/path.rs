//! What lies between the leak and the microphone, opening by opening.

use super::dice::Dice;
use super::filter::{BUTTERWORTH_Q, Chain};
use crate::opening::{EscapePath, Opening};

/// The way of a hiss through one engine's parts, drawn once for an engine: gap, port, pipe or crankcase.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    resonances: Vec<Resonance>,
    /// Second-order ends of what passes, hertz.
    low_passes_hz: Vec<f64>,
    high_pass_hz: f64,
    bubbles: bool,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Resonance {
    hz: f64,
    gain_db: f64,
    q: f64,
}

/// Speed of sound at 20 °C, metres per second.
const SOUND_M_PER_S: f64 = 343.2;

impl Path {
    /// Draws the way to an opening. Shapes are common practice, no source: an exhaust pipe muffles, a crankcase
    /// booms and holds the hiss below 4 kHz, an intake throat does neither, a coolant filler bubbles.
    #[must_use]
    pub fn draw(opening: &Opening, dice: &mut Dice) -> Self {
        match opening.path() {
            EscapePath::ExhaustValve => Self::pipe(dice),
            EscapePath::RingsOrBore => Self::crankcase(dice),
            EscapePath::GasketOrCrack => Self::coolant(dice),
            EscapePath::GasketToNeighbour => Self::tube(dice.between(0.05, 0.09), 5.0, 14_000.0),
            EscapePath::TestRig => {
                Self { resonances: Vec::new(), low_passes_hz: Vec::new(), high_pass_hz: 150.0, bubbles: false }
            }
            EscapePath::IntakeValve | EscapePath::Other => Self::tube(dice.between(0.12, 0.3), 3.0, 11_000.0),
        }
    }

    /// A short open tube behind a gap: quarter-wave resonances at odd multiples, little else.
    fn tube(length_m: f64, gain_db: f64, low_pass_hz: f64) -> Self {
        let first_hz = SOUND_M_PER_S / (4.0 * length_m);
        let resonances = (0..4)
            .map(|k| Resonance { hz: first_hz * f64::from(2 * k + 1), gain_db: gain_db / f64::from(k + 1), q: 3.0 })
            .filter(|r| r.hz < 8000.0)
            .collect();
        Self { resonances, low_passes_hz: vec![low_pass_hz], high_pass_hz: 200.0, bubbles: false }
    }

    /// Exhaust manifold and pipe: resonances close together, and a muffler's low pass.
    fn pipe(dice: &mut Dice) -> Self {
        let spacing_hz = SOUND_M_PER_S / (2.0 * dice.between(0.6, 1.6));
        let resonances = (1..=6)
            .map(|k| Resonance {
                hz: spacing_hz * f64::from(k) * dice.between(0.95, 1.05),
                gain_db: 7.0 - f64::from(k),
                q: 4.0,
            })
            .collect();
        Self { resonances, low_passes_hz: vec![dice.between(2500.0, 5000.0)], high_pass_hz: 80.0, bubbles: false }
    }

    /// Past the rings into the crankcase and up to the filler: a cavity that booms and shuts out the high end.
    fn crankcase(dice: &mut Dice) -> Self {
        let boom = Resonance { hz: dice.between(130.0, 320.0), gain_db: 12.0, q: 3.0 };
        let cavity = Resonance { hz: dice.between(600.0, 1100.0), gain_db: 6.0, q: 2.5 };
        let throat = Resonance { hz: dice.between(1500.0, 2600.0), gain_db: 4.0, q: 2.5 };
        Self {
            resonances: vec![boom, cavity, throat],
            low_passes_hz: vec![dice.between(2800.0, 4000.0)],
            high_pass_hz: 60.0,
            bubbles: false,
        }
    }

    /// Through the coolant: bubbles that burst at the filler.
    fn coolant(dice: &mut Dice) -> Self {
        let bubble = Resonance { hz: dice.between(400.0, 900.0), gain_db: 9.0, q: 3.0 };
        Self {
            resonances: vec![bubble],
            low_passes_hz: vec![dice.between(2500.0, 4500.0)],
            high_pass_hz: 120.0,
            bubbles: true,
        }
    }

    /// Whether the hiss comes in bubbles.
    pub(super) fn bubbles(&self) -> bool {
        self.bubbles
    }

    /// The way as a filter.
    pub(super) fn chain(&self, rate_hz: f64) -> Chain {
        let mut chain = Chain::new(rate_hz).high_pass(self.high_pass_hz, BUTTERWORTH_Q);
        for resonance in &self.resonances {
            chain = chain.peak(resonance.hz, resonance.gain_db, resonance.q);
        }
        self.low_passes_hz.iter().fold(chain, |chain, &hz| chain.low_pass(hz, BUTTERWORTH_Q))
    }
}

/// What a hiss loses on its way to another opening besides level: 6 dB per octave above a frequency between these, hertz.
pub(super) const DULL_HZ: (f64, f64) = (1800.0, 4500.0);

/// Makes a steady hiss bubble: short humps without memory, five to fifteen a second; its power stays.
pub(super) fn bubble(hiss: &mut [f64], rate_hz: f64, dice: &mut Dice) {
    let mean_gap_s = 1.0 / dice.between(5.0, 15.0);
    let mut gain = vec![0.15; hiss.len()];
    let mut at_s = dice.waiting(mean_gap_s);
    while ((at_s * rate_hz) as usize) < hiss.len() {
        let height = dice.amplitude_spread(3.0);
        let count = (dice.between(0.03, 0.12) * rate_hz) as usize;
        for (k, gain) in gain.iter_mut().skip((at_s * rate_hz) as usize).take(count).enumerate() {
            let phase = k as f64 / count as f64;
            *gain += height * 4.0 * phase * (1.0 - phase);
        }
        at_s += dice.waiting(mean_gap_s);
    }
    let mean_square = gain.iter().map(|g| g * g).sum::<f64>() / gain.len().max(1) as f64;
    let scale = 1.0 / mean_square.sqrt();
    hiss.iter_mut().zip(&gain).for_each(|(sample, gain)| *sample *= gain * scale);
}
