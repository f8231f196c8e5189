//! The noise of a case as its microphones hear it, clip by clip.

use super::dice::Dice;
use super::far::FarPlace;
use super::filter::Chain;
use super::level::band_power;
use super::noise::NoiseSource;
use crate::opening::Air;
use crate::units::{Hertz, Seconds};

/// The shop and what records in it.
pub(super) struct Shop<'a> {
    pub noise: &'a dyn NoiseSource,
    pub rate: Hertz,
    pub microphone: Chain,
    pub part_change_sd_db: f64,
    pub far: Option<FarPlace>,
}

/// Noise as it arrives, before its level is set.
pub(super) struct Stretch {
    pub samples: Vec<f64>,
    /// Mean square from 1 to 16 kHz.
    pub power: f64,
    /// The same time at the second microphone.
    pub far: Option<Vec<f64>>,
}

impl Stretch {
    /// The largest sample of either microphone.
    pub fn peak(&self) -> f64 {
        self.samples.iter().chain(self.far.iter().flatten()).fold(0.0, |peak, sample| sample.abs().max(peak))
    }
}

impl Shop<'_> {
    /// A stretch of noise behind the microphones. With the air off every part is as loud as it was drawn.
    pub fn record(
        &mut self,
        air: Air,
        length: Seconds,
        noise: &mut Dice,
        changes: &mut Dice,
        far_dice: &mut Dice,
    ) -> Stretch {
        let mut parts = self.noise.parts(noise, length, self.rate);
        if parts.len() > 1 && air != Air::Off {
            for part in &mut parts {
                let change = changes.amplitude_spread(self.part_change_sd_db);
                part.iter_mut().for_each(|sample| *sample *= change);
            }
        }
        let far = self.far.as_mut().map(|far| {
            let mut sound = far.hear(&parts, far_dice);
            self.microphone.run(&mut sound);
            sound
        });
        let mut samples = sum(parts);
        self.microphone.run(&mut samples);
        let power = band_power(&samples, self.rate.0);
        Stretch { samples, power, far }
    }
}

/// All parts together, in single precision as every source has it.
fn sum(parts: Vec<Vec<f64>>) -> Vec<f64> {
    let mut parts = parts.into_iter();
    let mut sum = parts.next().unwrap_or_default();
    for part in parts {
        sum.iter_mut().zip(&part).for_each(|(sum, sample)| *sum += sample);
    }
    sum.iter_mut().for_each(|sample| *sample = f64::from(*sample as f32));
    sum
}
