//! Seeded chance: the same seed rolls the same numbers on every machine.

use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rand_distr::StandardNormal;

use super::exact;

/// A seeded source of chance (ChaCha with 8 rounds), which can be split into independent streams.
///
/// ```
/// use hissward::simulate::Dice;
/// let (mut one, mut other) = (Dice::seeded(7), Dice::seeded(7));
/// assert_eq!(one.normal(), other.normal());
/// assert_ne!(Dice::seeded(7).stream(1).normal(), Dice::seeded(7).stream(2).normal());
/// ```
#[derive(Debug, Clone)]
pub struct Dice {
    rng: ChaCha8Rng,
}

/// Mean of the sum of eight bytes: 8 · 255 / 2.
const BYTES_MEAN: f64 = 1020.0;
/// One over its standard deviation: √(12 / (8 · (256² − 1))).
const BYTES_SCALE: f64 = 0.004_784_173_5;

/// The sum of a word's eight bytes.
fn byte_sum(word: u64) -> f64 {
    const EVEN: u64 = 0x00ff_00ff_00ff_00ff;
    let pairs = (word & EVEN) + ((word >> 8) & EVEN);
    // The product's top sixteen bits hold the sum of the four pairs.
    f64::from((pairs.wrapping_mul(0x0001_0001_0001_0001) >> 48) as u32)
}

impl Dice {
    /// Dice that roll what the seed says.
    #[must_use]
    pub fn seeded(seed: u64) -> Self {
        Self { rng: ChaCha8Rng::seed_from_u64(seed) }
    }

    /// Dice of the same seed that roll independently of all other streams, from their beginning.
    ///
    /// A thing that is added to a simulation takes a stream of its own, so that the rest of it stays as it was.
    #[must_use]
    pub fn stream(&self, number: u64) -> Self {
        let mut rng = ChaCha8Rng::from_seed(self.rng.get_seed());
        rng.set_stream(number);
        Self { rng }
    }

    /// A standard normal number.
    pub fn normal(&mut self) -> f64 {
        self.rng.sample(StandardNormal)
    }

    /// White noise of variance 1: independent numbers that are normal but for their tails.
    ///
    /// Each is the sum of eight random bytes (kurtosis 2.85, never beyond 4.9 standard deviations): three times as
    /// fast as exact normals, whole numbers until the last step, and Gaussian behind any filter.
    pub(super) fn white(&mut self, count: usize) -> Vec<f64> {
        self.white_samples().take(count).collect()
    }

    /// The same, sample by sample without end.
    pub(super) fn white_samples(&mut self) -> impl Iterator<Item = f64> {
        std::iter::repeat_with(|| (byte_sum(self.rng.next_u64()) - BYTES_MEAN) * BYTES_SCALE)
    }

    /// A number spread evenly from `low` to below `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.rng.random::<f64>()
    }

    /// True in a share `probability` of all rolls.
    pub fn chance(&mut self, probability: f64) -> bool {
        self.rng.random::<f64>() < probability
    }

    /// A whole number from 0 to below `count` (0 where there is none).
    pub fn below(&mut self, count: usize) -> usize {
        let at = (self.rng.random::<f64>() * count as f64) as usize;
        at.min(count.saturating_sub(1))
    }

    /// Waiting time until the next event of a process without memory, of the given mean.
    pub fn waiting(&mut self, mean: f64) -> f64 {
        // random() is below 1, so the logarithm's argument is above 0.
        -mean * exact::ln(1.0 - self.rng.random::<f64>())
    }

    /// An amplitude factor whose level is spread around 0 dB with a standard deviation.
    pub fn amplitude_spread(&mut self, sd_db: f64) -> f64 {
        exact::amplitude_of_db(sd_db * self.normal())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_words_bytes_are_summed() {
        assert_eq!(byte_sum(0x0102_0304_0506_0708), 36.0);
        assert_eq!(byte_sum(u64::MAX), 8.0 * 255.0);
    }

    #[test]
    fn white_noise_has_the_moments_promised() {
        let count = 1_000_000;
        let noise = Dice::seeded(3).white(count);
        let moment = |power: i32| noise.iter().map(|x| x.powi(power)).sum::<f64>() / count as f64;
        // Four standard errors: 1/√n, √(1.85/n) and about √(70/n).
        assert!(moment(1).abs() < 0.004);
        assert!((moment(2) - 1.0).abs() < 0.0055);
        assert!((moment(4) - 2.85).abs() < 0.035);
        let neighbours = noise.windows(2).map(|pair| pair[0] * pair[1]).sum::<f64>() / count as f64;
        assert!(neighbours.abs() < 0.004, "white: neighbours do not know each other");
    }
}
