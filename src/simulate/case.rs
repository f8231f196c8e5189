//! One cylinder under test whose truth is known.

use super::dice::Dice;
use super::engine::Engine;
use super::exact;
use super::level::band_power;
use super::microphone::Microphone;
use super::noise::NoiseSource;
use super::truth::{ClipTruth, Truth};
use super::valve::Valve;
use crate::clip::{Clip, ClipError};
use crate::opening::{Air, Opening};
use crate::units::{Hertz, Level, LevelDiff, Seconds};

/// A leak to be built in.
#[derive(Debug, Clone, PartialEq)]
pub struct Leak {
    /// The opening where it is heard first.
    pub opening: Opening,
    /// Its hiss there over the mean noise there, both from 1 to 16 kHz.
    pub hiss_to_noise: LevelDiff,
}

/// How the air is used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Practice {
    /// A quiet clip and an air clip for every opening and take.
    OffAndOn,
    /// One keyed clip for every opening and take, no quiet clip.
    Keyed,
}

/// What a case is to be like. The defaults are the conditions under which accuracy is measured: three openings,
/// six-second clips (twelve for keyed air), a floor that drifts by 1 dB, placement that scatters by 2 dB, spill
/// 10 to 25 dB below its leak.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseOptions {
    /// The seed of everything but the noise source's own make.
    pub seed: u64,
    /// Where the microphone is held.
    pub openings: Vec<Opening>,
    /// What leaks; nothing on a tight cylinder.
    pub leaks: Vec<Leak>,
    /// How the air is used.
    pub practice: Practice,
    /// Takes of each clip.
    pub takes: u32,
    /// Length of a clip; `None` for 6 s, or 12 s for keyed air.
    pub length: Option<Seconds>,
    /// Sample rate.
    pub rate: Hertz,
    /// Mean noise from 1 to 16 kHz at the loudest leak's opening.
    pub noise: Level,
    /// Standard deviation of the noise's level between quiet clip and air clip.
    pub floor_drift_sd: LevelDiff,
    /// Steady drift of the noise from clip to clip, in the order of recording.
    pub floor_slope: LevelDiff,
    /// Standard deviation of the hiss's level from placing the microphone.
    pub placement_sd: LevelDiff,
    /// Spill relative to its leak lies evenly between these.
    pub spill: (LevelDiff, LevelDiff),
    /// What records.
    pub microphone: Microphone,
}

/// A case: its truth and its clips.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// What was built in.
    pub truth: Truth,
    /// The clips in the order of recording.
    pub clips: Vec<CaseClip>,
}

/// A clip and what went into it.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseClip {
    /// What went into it.
    pub truth: ClipTruth,
    /// The samples as recorded: 16 bit.
    pub clip: Clip,
}

/// Why a case cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum SimulateError {
    /// A leak at an opening where no microphone is held.
    #[error("a leak at {opening}, but no clip is made there: add {opening} to the openings")]
    Nowhere {
        /// The opening.
        opening: Opening,
    },
    /// No opening or no take.
    #[error("nothing to make: give at least one opening and one take")]
    Nothing,
    /// A length that makes no sense.
    #[error("clips of {got_s} s cannot be made: use {SHORTEST_S} to {LONGEST_S} s")]
    Length {
        /// The length asked for, seconds.
        got_s: f64,
    },
    /// The noise is silent where it is to be measured.
    #[error("the noise is silent between 1 and 16 kHz: use a noise or recording that is heard there")]
    SilentNoise,
    /// The clip itself is refused.
    #[error(transparent)]
    Clip(#[from] ClipError),
}

/// Shortest and longest clip, seconds.
const SHORTEST_S: f64 = 0.2;
const LONGEST_S: f64 = 600.0;

/// Numbers of the seed's streams.
mod stream {
    pub const ENGINE: u64 = 1;
    pub const NOISE: u64 = 2;
    pub const HISS: u64 = 3;
    pub const HANDS: u64 = 4;
    pub const MICROPHONE: u64 = 5;
}

/// The seed of one cylinder's case where an engine is made of one seed.
#[must_use]
pub fn cylinder_seed(seed: u64, cylinder: u32) -> u64 {
    // A thousand cylinders fit between one engine and the next; the numbers stay small enough for any reader of JSON.
    seed.wrapping_mul(1000).wrapping_add(u64::from(cylinder))
}

impl Default for CaseOptions {
    fn default() -> Self {
        let openings = ["intake", "exhaust", "oil-filler"].iter().filter_map(|name| name.parse().ok()).collect();
        Self {
            seed: 1,
            openings,
            leaks: Vec::new(),
            practice: Practice::OffAndOn,
            takes: 1,
            length: None,
            rate: Hertz(48_000.0),
            noise: Level(-42.0),
            floor_drift_sd: LevelDiff(1.0),
            floor_slope: LevelDiff(0.0),
            placement_sd: LevelDiff(2.0),
            spill: (LevelDiff(-25.0), LevelDiff(-10.0)),
            microphone: Microphone::phone(),
        }
    }
}

impl CaseOptions {
    /// Length of a clip.
    #[must_use]
    pub fn clip_length(&self) -> Seconds {
        self.length.unwrap_or(match self.practice {
            Practice::OffAndOn => Seconds(6.0),
            Practice::Keyed => Seconds(12.0),
        })
    }

    /// Makes the case in this noise.
    ///
    /// # Errors
    /// [`SimulateError`] where the options contradict each other or the noise is silent.
    ///
    /// ```
    /// use hissward::simulate::{CaseOptions, Dice, Leak, NoiseKind};
    /// use hissward::units::{LevelDiff, Seconds};
    /// let leak = Leak { opening: "exhaust".parse()?, hiss_to_noise: LevelDiff(-5.0) };
    /// let options = CaseOptions { leaks: vec![leak], length: Some(Seconds(0.5)), ..CaseOptions::default() };
    /// let rain = NoiseKind::Rain.draw(&mut Dice::seeded(1));
    /// let case = options.render(rain.as_ref())?;
    /// assert_eq!(case.clips.len(), 6);
    /// assert_eq!(case.truth.leaks[0].hiss - case.truth.noise, LevelDiff(-5.0));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn render(&self, noise: &dyn NoiseSource) -> Result<Case, SimulateError> {
        self.check()?;
        let dice = Dice::seeded(self.seed);
        let engine = Engine::draw(self, &mut dice.stream(stream::ENGINE));
        let plans = self.plan(&mut dice.stream(stream::HANDS));
        let mut takes = self.record_noise(&plans, noise, &mut dice.stream(stream::NOISE));
        let gain = self.noise_gain(&plans, &takes)?;
        let mut hiss_dice = dice.stream(stream::HISS);
        let mut own_dice = dice.stream(stream::MICROPHONE);
        let mut clips = Vec::with_capacity(plans.len());
        for (plan, take) in plans.into_iter().zip(takes.drain(..)) {
            clips.push(self.finish(plan, take, gain, &engine, (&mut hiss_dice, &mut own_dice))?);
        }
        Ok(Case { truth: engine.truth(self), clips })
    }

    fn check(&self) -> Result<(), SimulateError> {
        if self.openings.is_empty() || self.takes == 0 {
            return Err(SimulateError::Nothing);
        }
        if let Some(leak) = self.leaks.iter().find(|leak| !self.openings.contains(&leak.opening)) {
            return Err(SimulateError::Nowhere { opening: leak.opening.clone() });
        }
        let length_s = self.clip_length().0;
        if !(SHORTEST_S..=LONGEST_S).contains(&length_s) {
            return Err(SimulateError::Length { got_s: length_s });
        }
        Ok(crate::clip::check_rate(self.rate, "simulated clips")?)
    }

    /// The loudest leak's opening.
    fn loudest(&self) -> Option<&Opening> {
        let louder = |a: &&Leak, b: &&Leak| a.hiss_to_noise.0.total_cmp(&b.hiss_to_noise.0);
        self.leaks.iter().max_by(louder).map(|leak| &leak.opening)
    }

    /// Who records what in which order, with what hand.
    fn plan(&self, dice: &mut Dice) -> Vec<Plan> {
        let mut plans = Vec::new();
        for take in 1..=self.takes {
            for opening in &self.openings {
                let airs: &[Air] = match self.practice {
                    Practice::Keyed => &[Air::Keyed],
                    // quiet, air, air, quiet, … cancels a steady drift.
                    Practice::OffAndOn if plans.len() % 4 == 0 => &[Air::Off, Air::On],
                    Practice::OffAndOn => &[Air::On, Air::Off],
                };
                for &air in airs {
                    let drift = if air == Air::Off { 0.0 } else { self.floor_drift_sd.0 * dice.normal() };
                    plans.push(Plan {
                        opening: opening.clone(),
                        air,
                        take,
                        placement_db: self.placement_sd.0 * dice.normal(),
                        drift_db: drift + self.floor_slope.0 * plans.len() as f64,
                        valve: (air == Air::Keyed).then(|| Valve::draw(self.clip_length().0, dice)),
                        visit: plans.len(),
                    });
                }
            }
        }
        plans
    }

    /// A stretch of noise for every clip, as it arrives behind the microphone, with its power.
    fn record_noise(&self, plans: &[Plan], noise: &dyn NoiseSource, dice: &mut Dice) -> Vec<Stretch> {
        let microphone = self.microphone.chain(self.rate.0);
        plans
            .iter()
            .map(|_| {
                let stretch = noise.render(dice, self.clip_length(), self.rate);
                let mut samples: Vec<f64> = stretch.iter().map(|&x| f64::from(x)).collect();
                microphone.run(&mut samples);
                let power = band_power(&samples, self.rate.0);
                Stretch { samples, power }
            })
            .collect()
    }

    /// The amplitude that brings the mean noise at the loudest leak's opening to its level.
    fn noise_gain(&self, plans: &[Plan], takes: &[Stretch]) -> Result<f64, SimulateError> {
        let loudest = self.loudest();
        let powers: Vec<f64> = plans
            .iter()
            .zip(takes)
            .filter(|(plan, _)| loudest.is_none_or(|opening| *opening == plan.opening))
            .map(|(_, take)| take.power)
            .collect();
        let mean = powers.iter().sum::<f64>() / powers.len() as f64;
        if mean > 0.0 && mean.is_finite() {
            Ok((exact::power_of_db(self.noise.0) / mean).sqrt())
        } else {
            Err(SimulateError::SilentNoise)
        }
    }

    fn finish(
        &self,
        plan: Plan,
        take: Stretch,
        noise_gain: f64,
        engine: &Engine,
        (hiss_dice, own_dice): (&mut Dice, &mut Dice),
    ) -> Result<CaseClip, SimulateError> {
        let rate_hz = self.rate.0;
        let gain = noise_gain * exact::amplitude_of_db(plan.drift_db);
        let mut sound = take.samples;
        sound.iter_mut().for_each(|sample| *sample *= gain);
        let heard = if plan.air == Air::Off { None } else { engine.hiss(&plan.opening) };
        let hiss = heard.map(|heard| Level(heard.0 + plan.placement_db));
        if heard.is_some() {
            let mut hiss = engine.render(&plan.opening, sound.len(), hiss_dice);
            if let Some(valve) = &plan.valve {
                valve.gate(&mut hiss, rate_hz);
            }
            let placement = exact::amplitude_of_db(plan.placement_db);
            sound.iter_mut().zip(&hiss).for_each(|(sample, hiss)| *sample += placement * hiss);
        }
        let samples = self.microphone.record(sound, rate_hz, own_dice);
        let name = format!("{}-{}-t{}", plan.opening, plan.air.name(), plan.take);
        let truth = ClipTruth {
            opening: plan.opening,
            air: plan.air,
            take: plan.take,
            visit: plan.visit,
            hiss,
            noise: Level(exact::db_of_power(take.power * gain * gain)),
            placement: LevelDiff(plan.placement_db),
            drift: LevelDiff(plan.drift_db),
            valve: plan.valve,
            length: self.clip_length(),
        };
        Ok(CaseClip { truth, clip: Clip::new(samples, self.rate, name)? })
    }
}

/// What is to be recorded, and by what hand.
struct Plan {
    opening: Opening,
    air: Air,
    take: u32,
    visit: usize,
    placement_db: f64,
    drift_db: f64,
    valve: Option<Valve>,
}

/// Noise as it arrives, and its mean square from 1 to 16 kHz.
struct Stretch {
    samples: Vec<f64>,
    power: f64,
}
