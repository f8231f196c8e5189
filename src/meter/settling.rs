//! How well the level of a clip is known while it is recorded, and how much longer that would take.

use super::hiss_meter::MeterReading;
use crate::units::{Level, LevelDiff, Seconds};

/// Readings averaged into one step: 100 ms.
const READINGS: usize = 5;
const STEP_S: f64 = 0.1;
/// A clip is at least as long as this: fitness and floor want it.
const LEAST: Seconds = Seconds(5.0);
/// A level known as well as this is settled; from one clip to the next a shop moves by more.
const SETTLED_DB: f64 = 0.3;
/// Standard error of a median over that of a mean, for normal values.
const MEDIAN_LOSS: f64 = 1.2533;
/// Standard deviation of normal values over their median absolute deviation.
const MAD_TO_SD: f64 = 1.4826;
/// Neighbouring steps that go together this much or more are taken as this much: the estimate needs some steps.
const MOST_ALIKE: f64 = 0.9;

/// The level so far.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LevelEstimate {
    /// Median level.
    pub level: Level,
    /// Its standard error.
    pub error: LevelDiff,
    /// How much longer until it is settled; nothing where it is.
    pub more: Seconds,
}

impl LevelEstimate {
    /// Whether it is known well enough.
    #[must_use]
    pub fn is_settled(&self) -> bool {
        self.more.0 <= 0.0
    }
}

/// Gathers the levels of a clip.
#[derive(Debug, Clone, Default)]
pub struct Settling {
    steps_db: Vec<f64>,
    sum: f64,
    count: usize,
}

impl Settling {
    /// Takes a reading.
    pub fn push(&mut self, reading: &MeterReading) {
        self.sum += reading.hiss.map_or(0.0, Level::power);
        self.count += 1;
        if self.count == READINGS {
            // Digital silence has no level; such a step says nothing.
            self.steps_db.extend(Level::of_power(self.sum / READINGS as f64).map(|level| level.0));
            (self.sum, self.count) = (0.0, 0);
        }
    }

    /// How it stands; `None` before a second of sound.
    ///
    /// The standard error of the median is 1.2533·σ/√n with σ = 1.4826·MAD; steps that resemble their neighbours
    /// (correlation r) count as n·(1 − r)/(1 + r) (closed form for a first-order process). So many more steps as
    /// bring it to 0.3 dB are missing: n·(error/0.3)² − n.
    #[must_use]
    pub fn estimate(&self) -> Option<LevelEstimate> {
        let n = self.steps_db.len() as f64;
        if n < 1.0 / STEP_S {
            return None;
        }
        let level = median(&mut self.steps_db.clone());
        let sd = MAD_TO_SD * median(&mut self.steps_db.iter().map(|step| (step - level).abs()).collect::<Vec<_>>());
        let alike = self.alikeness().clamp(0.0, MOST_ALIKE);
        let error = MEDIAN_LOSS * sd / (n * (1.0 - alike) / (1.0 + alike)).sqrt();
        let needed_s = (n * (error / SETTLED_DB).powi(2)).max(LEAST.0 / STEP_S) * STEP_S;
        Some(LevelEstimate {
            level: Level(level),
            error: LevelDiff(error),
            more: Seconds((needed_s - n * STEP_S).max(0.0)),
        })
    }

    /// Correlation of each step with the next, by signs about the median, which bangs do not move.
    fn alikeness(&self) -> f64 {
        let middle = median(&mut self.steps_db.clone());
        let signs: Vec<f64> = self.steps_db.iter().map(|step| (step - middle).signum()).collect();
        let pairs = signs.len().saturating_sub(1).max(1) as f64;
        let agreement = signs.windows(2).map(|pair| pair[0] * pair[1]).sum::<f64>() / pairs;
        // For normal values the correlation is sin(π/2 · agreement of signs) (arcsine law).
        (std::f64::consts::FRAC_PI_2 * agreement).sin()
    }
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let half = values.len() / 2;
    match values.len() {
        0 => 0.0,
        n if n % 2 == 1 => values[half],
        _ => f64::midpoint(values[half - 1], values[half]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn settling(levels_db: impl Iterator<Item = f64>) -> Settling {
        let mut settling = Settling::default();
        for level in levels_db {
            let reading =
                MeterReading { hiss: Some(Level(level)), low: None, octaves: [None; 4], peak: 0.0, clipped: 0 };
            (0..READINGS).for_each(|_| settling.push(&reading));
        }
        settling
    }

    /// Uniform in ±1, the same always.
    fn dice(n: u64) -> f64 {
        let mixed = (n + 1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        let mixed = (mixed ^ (mixed >> 31)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        (mixed >> 11) as f64 / (1u64 << 52) as f64 - 1.0
    }

    #[test]
    fn steady_sound_settles_as_soon_as_the_clip_is_long_enough() {
        let at = |steps: u64| settling((0..steps).map(|n| -50.0 + 0.1 * dice(n))).estimate().expect("a level");
        assert!(!at(40).is_settled() && (at(40).more.0 - 1.0).abs() < 1e-9);
        assert!(at(50).is_settled());
        assert!((at(50).level.0 + 50.0).abs() < 0.05);
    }

    #[test]
    fn restless_sound_needs_longer_and_says_how_long() {
        // Blocks of one second, each somewhere within ±4 dB: neighbours go together.
        let at = |steps: u64| settling((0..steps).map(|n| -50.0 + 4.0 * dice(n / 10))).estimate().expect("a level");
        let early = at(60);
        assert!(!early.is_settled() && early.more.0 > 10.0, "{early:?}");
        assert!(at(240).error.0 < early.error.0, "{:?}", at(240));
    }

    #[test]
    fn the_error_of_independent_steps_is_that_of_a_median() {
        // Uniform ±1 dB: MAD 0.5, so σ 0.7413, error 1.2533·0.7413/√400 = 0.0465 dB.
        let error = settling((0..400).map(dice)).estimate().expect("a level").error.0;
        assert!((error - 0.0465).abs() < 0.012, "{error}");
    }

    #[test]
    fn bangs_do_not_unsettle() {
        let with_bangs = (0..60).map(|n| if n % 10 == 3 { -20.0 } else { -50.0 + 0.1 * dice(n) });
        let estimate = settling(with_bangs).estimate().expect("a level");
        assert!(estimate.is_settled() && (estimate.level.0 + 50.0).abs() < 0.1, "{estimate:?}");
    }
}
