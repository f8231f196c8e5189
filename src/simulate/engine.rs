//! The engine of a case: its leaks, the ways to its openings, and what spills from one to another.

use super::case::CaseOptions;
use super::dice::Dice;
use super::exact;
use super::filter::Chain;
use super::jet::Jet;
use super::level::{band_power, chain_power};
use super::noise::NoiseSource;
use super::path::{DULL_HZ, Path, bubble};
use super::truth::{LeakTruth, OpeningTruth, Truth};
use crate::opening::Opening;
use crate::units::{Hertz, Level, LevelDiff, Seconds};

/// An engine drawn for a case.
pub(super) struct Engine {
    rate_hz: f64,
    leaks: Vec<LeakTruth>,
    /// Every hiss that is heard at an opening: the leak's own, and spill.
    hisses: Vec<Hiss>,
}

/// One leak as heard at one opening.
struct Hiss {
    at: Opening,
    level_db: f64,
    /// Makes a hiss of its level from white noise.
    chain: Chain,
    /// What a hiss that is given still has before it: the microphone, and what dulls a spill.
    rest: Chain,
    bubbles: bool,
    /// How unsteady it is, dB.
    wander_db: f64,
}

/// Holes of leaks have jets like round holes of this diameter, millimetres: thin gaps of valves and rings.
const HOLE_MM: (f64, f64) = (0.4, 2.5);
/// Quality factors of Butterworth's sections, order 8 and order 4: 1/(2·cos θ) of the poles' angles (calc).
const BUTTERWORTH_8_Q: [f64; 4] = [0.509_796, 0.601_345, 0.899_977, 2.562_915];
const BUTTERWORTH_4_Q: [f64; 2] = [0.541_196, 1.306_563];
/// A leak is nearly steady, dB.
const WANDER_DB: f64 = 0.3;

impl Engine {
    pub(super) fn draw(options: &CaseOptions, noise: Level, dice: &mut Dice) -> Self {
        let rate_hz = options.rate.0;
        let microphone = options.microphone.chain(rate_hz);
        let paths: Vec<Path> = options.openings.iter().map(|opening| Path::draw(opening, dice)).collect();
        let mut leaks = Vec::new();
        let mut hisses = Vec::new();
        for leak in &options.leaks {
            let jet = Jet::of_hole_mm(dice.between(HOLE_MM.0, HOLE_MM.1));
            let level_db = noise.0 + leak.hiss_to_noise.0;
            leaks.push(LeakTruth {
                opening: leak.opening.clone(),
                hiss: Level(level_db),
                hiss_to_noise: LevelDiff(leak.hiss_to_noise.0),
                hole_mm: jet.hole_mm(),
            });
            let own = options.openings.iter().zip(&paths).find(|(opening, _)| **opening == leak.opening);
            let Some((_, path)) = own else { continue };
            let way = match options.hiss_band {
                None => microphone.clone().then(&path.chain(rate_hz)).then(&jet.chain(rate_hz)),
                Some((low, high)) => sharp_band(&microphone, low.0, high.0).then(&jet.chain(rate_hz)),
            };
            for opening in &options.openings {
                let (mut chain, mut rest, mut below_db) = (way.clone(), microphone.clone(), 0.0);
                if *opening != leak.opening {
                    // Spill loses its high end on the way, and level.
                    let dull_hz = dice.between(DULL_HZ.0, DULL_HZ.1);
                    (chain, rest) = (chain.soft_low_pass(dull_hz), rest.soft_low_pass(dull_hz));
                    let (low, high) = options.spill;
                    below_db = dice.between(low.0.min(high.0), low.0.max(high.0));
                }
                hisses.push(Hiss {
                    at: opening.clone(),
                    level_db: level_db + below_db,
                    chain: at_level(chain, level_db + below_db),
                    rest,
                    bubbles: path.bubbles(),
                    wander_db: WANDER_DB,
                });
            }
        }
        leaks.sort_by(|a, b| b.hiss.0.total_cmp(&a.hiss.0).then_with(|| a.opening.cmp(&b.opening)));
        Self { rate_hz, leaks, hisses }
    }

    /// All hiss at an opening.
    pub(super) fn hiss(&self, opening: &Opening) -> Option<Level> {
        let power: f64 = self.heard_at(opening).map(|hiss| exact::power_of_db(hiss.level_db)).sum();
        (power > 0.0).then(|| Level(exact::db_of_power(power)))
    }

    /// A stretch of all hiss at an opening.
    pub(super) fn render(&self, opening: &Opening, count: usize, dice: &mut Dice) -> Vec<f64> {
        let mut sum = vec![0.0; count];
        for hiss in self.heard_at(opening) {
            let mut noise = dice.white(count);
            hiss.chain.run(&mut noise);
            if hiss.bubbles {
                bubble(&mut noise, self.rate_hz, dice);
            } else {
                waver(&mut noise, hiss.wander_db, self.rate_hz, dice);
            }
            sum.iter_mut().zip(&noise).for_each(|(sum, noise)| *sum += noise);
        }
        sum
    }

    /// A stretch of all hiss at an opening, made from a source that hisses; `None` where that is silent.
    pub(super) fn render_given(
        &self,
        opening: &Opening,
        given: &dyn NoiseSource,
        count: usize,
        dice: &mut Dice,
    ) -> Option<Vec<f64>> {
        let mut sum = vec![0.0; count];
        for hiss in self.heard_at(opening) {
            let stretch = given.render(dice, Seconds(count as f64 / self.rate_hz), Hertz(self.rate_hz));
            let mut sound: Vec<f64> = stretch.iter().map(|&x| f64::from(x)).collect();
            hiss.rest.run(&mut sound);
            let power = band_power(&sound, self.rate_hz);
            if !(power > 0.0 && power.is_finite()) {
                return None;
            }
            let gain = (exact::power_of_db(hiss.level_db) / power).sqrt();
            sum.iter_mut().zip(&sound).for_each(|(sum, sample)| *sum += gain * sample);
        }
        Some(sum)
    }

    pub(super) fn truth(&self, options: &CaseOptions, noise: Level) -> Truth {
        let openings = options
            .openings
            .iter()
            .map(|opening| OpeningTruth {
                opening: opening.clone(),
                leaks: self.leaks.iter().any(|leak| leak.opening == *opening),
                hiss: self.hiss(opening),
            })
            .collect();
        Truth { seed: options.seed, noise, leaks: self.leaks.clone(), openings }
    }

    fn heard_at(&self, opening: &Opening) -> impl Iterator<Item = &Hiss> {
        self.hisses.iter().filter(move |hiss| hiss.at == *opening)
    }
}

/// Steep at both ends: 48 dB per octave above, 24 below.
fn sharp_band(microphone: &Chain, low_hz: f64, high_hz: f64) -> Chain {
    let below = BUTTERWORTH_8_Q.iter().fold(microphone.clone(), |chain, &q| chain.low_pass(high_hz, q));
    BUTTERWORTH_4_Q.iter().fold(below, |chain, &q| chain.high_pass(low_hz, q))
}

/// The chain with its gain set so that white noise becomes a hiss of this level from 1 to 16 kHz.
pub(super) fn at_level(chain: Chain, level_db: f64) -> Chain {
    let now_db = exact::db_of_power(chain_power(&chain));
    chain.louder(level_db - now_db)
}

/// Lets the level waver a little, a few times a second.
pub(super) fn waver(hiss: &mut [f64], sd_db: f64, rate_hz: f64, dice: &mut Dice) {
    let step = ((0.1 * rate_hz) as usize).max(1);
    let mut from = dice.amplitude_spread(sd_db);
    for chunk in hiss.chunks_mut(step) {
        let to = dice.amplitude_spread(sd_db);
        let slope = (to - from) / step as f64;
        for (k, sample) in chunk.iter_mut().enumerate() {
            *sample *= from + slope * k as f64;
        }
        from = to;
    }
}
