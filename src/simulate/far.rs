//! A second microphone a step away from the opening.
//!
//! In a diffuse field its waveform has little to do with that of the first (5 cm apart already 5 kHz is lost), but the
//! level of each noise follows: same source, another place in the room. Made so: each part of the noise passes a spray
//! of echoes of random sign (another place), a gain and a gentle tilt of its own, drawn once for a case.

use super::dice::Dice;
use super::exact;
use super::filter::Chain;

/// Echoes of a place, and the time over which they are spread, seconds.
const ECHOES: usize = 24;
const ECHO_SPREAD_S: f64 = 0.025;
/// The tilt turns here.
const TILT_HZ: f64 = 3000.0;

/// Where a second microphone is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SecondMicrophone {
    /// A step away, on a stand.
    StepAway,
    /// The other one of the same phone, a hand's breadth from the first.
    SamePhone,
}

/// What it means to be there.
struct PositionModel {
    /// How far parts of the noise are louder or softer there, and brighter or duller: dB (standard deviation).
    part_sd_db: f64,
    tilt_sd_db: f64,
    /// Each part's way changes by this from clip to clip, dB (standard deviation): people and trolleys move, a phone
    /// is held a little otherwise.
    clip_sd_db: f64,
    /// By how much the hiss is weaker there: 6.02 dB per doubling.
    hiss_db: (f64, f64),
}

impl SecondMicrophone {
    fn position(self) -> PositionModel {
        match self {
            // From 5–10 cm to 0.8–1 m.
            Self::StepAway => {
                PositionModel { part_sd_db: 2.0, tilt_sd_db: 1.5, clip_sd_db: 0.3, hiss_db: (-26.0, -18.0) }
            }
            // From 3–5 cm to a phone's length, about 15 cm; the shop is as loud at both.
            Self::SamePhone => {
                PositionModel { part_sd_db: 0.5, tilt_sd_db: 0.5, clip_sd_db: 0.3, hiss_db: (-16.0, -10.0) }
            }
        }
    }
}

/// Where the second microphone stands: a way for each part of the noise.
pub(super) struct FarPlace {
    position: PositionModel,
    rate_hz: f64,
    ways: Vec<Way>,
}

struct Way {
    echoes: Echoes,
    gain: f64,
    tilt: Chain,
}

/// What becomes of a hiss there.
pub(super) struct HissFar {
    echoes: Echoes,
    gain: f64,
}

impl FarPlace {
    pub fn new(kind: SecondMicrophone, rate_hz: f64) -> Self {
        Self { position: kind.position(), rate_hz, ways: Vec::new() }
    }

    /// All parts as they are heard there.
    pub fn hear(&mut self, parts: &[Vec<f64>], dice: &mut Dice) -> Vec<f64> {
        while self.ways.len() < parts.len() {
            self.ways.push(Way {
                echoes: Echoes::draw(self.rate_hz, dice),
                gain: dice.amplitude_spread(self.position.part_sd_db),
                tilt: Chain::new(self.rate_hz).step(TILT_HZ, self.position.tilt_sd_db * dice.normal()),
            });
        }
        let mut sum = vec![0.0; parts.first().map_or(0, Vec::len)];
        for (part, way) in parts.iter().zip(&self.ways) {
            let mut heard = vec![0.0; part.len()];
            way.echoes.add(part, way.gain * dice.amplitude_spread(self.position.clip_sd_db), &mut heard);
            way.tilt.run(&mut heard);
            sum.iter_mut().zip(&heard).for_each(|(sum, heard)| *sum += heard);
        }
        sum
    }

    /// The way of the engine's hiss to there.
    pub fn beside_hiss(&self, dice: &mut Dice) -> HissFar {
        let gain = exact::amplitude_of_db(dice.between(self.position.hiss_db.0, self.position.hiss_db.1));
        HissFar { echoes: Echoes::draw(self.rate_hz, dice), gain }
    }
}

impl HissFar {
    /// The same place for a sound from somewhere in the shop, which is as loud there.
    pub fn elsewhere(&self) -> Self {
        Self { echoes: self.echoes.clone(), gain: 1.0 }
    }

    /// Adds a hiss as it is heard at the opening.
    pub fn add(&self, hiss: &[f64], sound: &mut [f64]) {
        self.echoes.add(hiss, self.gain, sound);
    }
}

/// A spray of echoes whose energy is 1.
#[derive(Clone)]
struct Echoes {
    taps: Vec<(usize, f64)>,
}

impl Echoes {
    fn draw(rate_hz: f64, dice: &mut Dice) -> Self {
        let spread = ECHO_SPREAD_S * rate_hz;
        let height = 1.0 / (ECHOES as f64).sqrt();
        let taps = (0..ECHOES)
            .map(|k| {
                let late = spread * (k as f64 + dice.between(0.0, 1.0)) / ECHOES as f64;
                (late as usize, if dice.chance(0.5) { height } else { -height })
            })
            .collect();
        Self { taps }
    }

    /// Adds the echoes of `sound`; those from before its beginning are taken from its end.
    fn add(&self, sound: &[f64], gain: f64, sum: &mut [f64]) {
        for &(late, height) in &self.taps {
            let late = late % sound.len().max(1);
            let (early, rest) = sum.split_at_mut(late);
            let before = &sound[sound.len() - late..];
            let height = gain * height;
            early.iter_mut().zip(before).for_each(|(sum, sample)| *sum += height * sample);
            rest.iter_mut().zip(sound).for_each(|(sum, sample)| *sum += height * sample);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn another_place_keeps_the_level_and_not_the_waveform() {
        let mut dice = Dice::seeded(4);
        let noise = dice.white(200_000);
        let mut far = vec![0.0; noise.len()];
        Echoes::draw(48_000.0, &mut dice).add(&noise, 1.0, &mut far);
        let power = far.iter().map(|x| x * x).sum::<f64>() / far.len() as f64;
        // White noise of variance 1: relative scatter of a power over 200000 samples is 0.3 %.
        assert!((power - 1.0).abs() < 0.015, "{power}");
        let alike = far.iter().zip(&noise).map(|(a, b)| a * b).sum::<f64>() / far.len() as f64;
        assert!(alike.abs() < 0.25, "waveforms have little in common: {alike}");
    }
}
