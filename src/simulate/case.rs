//! One cylinder under test whose truth is known.

use super::air::{AirCourse, come_and_go};
use super::dice::Dice;
use super::engine::Engine;
use super::exact;
use super::extra::{ExtraSound, Extras};
use super::far::{FarPlace, HissFar, SecondMicrophone};
use super::microphone::Microphone;
use super::noise::NoiseSource;
use super::plan::Plan;
use super::shop::{Shop, Stretch};
use super::truth::{ClipTruth, Truth};
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
    /// One pulsed clip for every opening and take, no quiet clip.
    Pulsed,
    /// First as [`Self::OffAndOn`], then a pulsed clip of every opening and take.
    OffAndOnThenPulsed,
}

/// What a case is to be like. The defaults are the conditions under which accuracy is measured: three openings,
/// six-second clips (twelve for pulsed air), a floor that drifts by 1 dB, placement that scatters by 2 dB, spill
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
    /// Length of a clip; `None` for 6 s, or 12 s for pulsed air.
    pub length: Option<Seconds>,
    /// Sample rate.
    pub rate: Hertz,
    /// Mean noise from 1 to 16 kHz at the loudest leak's opening, unless the head room asks for less.
    pub noise: Level,
    /// The recorder is turned down until the noise's peaks stay this far below full scale; `None` lets it clip.
    pub head_room: Option<LevelDiff>,
    /// Standard deviation of the noise's level between quiet clip and air clip.
    pub floor_drift_sd: LevelDiff,
    /// Steady drift of the noise from clip to clip, in the order of recording.
    pub floor_slope: LevelDiff,
    /// Where several things make noise: how far each changes for itself between quiet clip and air clip, standard
    /// deviation. It comes on top of the drift that they share.
    pub part_change_sd: LevelDiff,
    /// Standard deviation of the hiss's level from placing the microphone.
    pub placement_sd: LevelDiff,
    /// Spill relative to its leak lies evenly between these.
    pub spill: (LevelDiff, LevelDiff),
    /// What records.
    pub microphone: Microphone,
    /// A second microphone of the same kind.
    pub far: Option<SecondMicrophone>,
    /// What is heard besides the shop and the leaks.
    pub extras: Vec<ExtraSound>,
    /// For which share of each clip called "on" the air is on: late, early or with a tank that runs down.
    pub air_share: f64,
    /// Where the leaks' hiss ends sharply below and above (a muffled path, a recorder's low pass); `None` for what the
    /// engine's ways make of a jet.
    pub hiss_band: Option<(Hertz, Hertz)>,
    /// Whether the leaks' hiss comes and goes in the clips called "on".
    pub comes_and_goes: bool,
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
    /// What the second microphone recorded at the same time, where there is one.
    pub far: Option<Clip>,
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
    /// The hiss is silent where it is to be measured.
    #[error("the hiss is silent between 1 and 16 kHz: use a recording that is heard there")]
    SilentHiss,
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
    pub const FAR: u64 = 6;
    pub const PARTS: u64 = 7;
    pub const EXTRAS: u64 = 8;
    pub const AIR: u64 = 9;
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
            head_room: Some(LevelDiff(3.0)),
            floor_drift_sd: LevelDiff(1.0),
            floor_slope: LevelDiff(0.0),
            part_change_sd: LevelDiff(1.0),
            placement_sd: LevelDiff(2.0),
            spill: (LevelDiff(-25.0), LevelDiff(-10.0)),
            microphone: Microphone::phone(),
            far: None,
            extras: Vec::new(),
            air_share: 1.0,
            hiss_band: None,
            comes_and_goes: false,
        }
    }
}

impl CaseOptions {
    /// Length of a clip.
    #[must_use]
    pub fn clip_length(&self, air: Air) -> Seconds {
        self.length.unwrap_or(if air == Air::Pulsed { Seconds(12.0) } else { Seconds(6.0) })
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
        self.make(noise, None)
    }

    /// Makes the case with a hiss that is given (a recording of escaping gas) in place of a jet's. Each stretch of it is
    /// brought to the level asked for; what it met on its way it has met already.
    ///
    /// # Errors
    /// As [`Self::render`]; also where the hiss is silent.
    pub fn render_with_hiss(&self, noise: &dyn NoiseSource, hiss: &dyn NoiseSource) -> Result<Case, SimulateError> {
        self.make(noise, Some(hiss))
    }

    fn make(&self, noise: &dyn NoiseSource, hiss: Option<&dyn NoiseSource>) -> Result<Case, SimulateError> {
        self.check()?;
        let dice = Dice::seeded(self.seed);
        let plans = Plan::of(self, &mut dice.stream(stream::HANDS));
        let mut shop = Shop {
            noise,
            rate: self.rate,
            microphone: self.microphone.chain(self.rate.0),
            part_change_sd_db: self.part_change_sd.0,
            far: self.far.map(|kind| FarPlace::new(kind, self.rate.0)),
        };
        let (mut noise_dice, mut part_dice) = (dice.stream(stream::NOISE), dice.stream(stream::PARTS));
        let mut far_dice = dice.stream(stream::FAR);
        let stretches: Vec<Stretch> = plans
            .iter()
            .map(|plan| {
                let length = self.clip_length(plan.air);
                shop.record(plan.air, length, &mut noise_dice, &mut part_dice, &mut far_dice)
            })
            .collect();
        let gain = self.noise_gain(&plans, &stretches)?;
        let turned_down_db = self.turned_down_db(&plans, &stretches, gain);
        let gain = gain * exact::amplitude_of_db(turned_down_db);
        let noise = Level(self.noise.0 + turned_down_db);
        let engine = Engine::draw(self, noise, &mut dice.stream(stream::ENGINE));
        let far = shop.far.as_ref().map(|far| far.beside_hiss(&mut far_dice));
        let mut extra_dice = dice.stream(stream::EXTRAS);
        let extras = Extras::draw(&self.extras, noise, &shop.microphone, self.rate.0, &mut extra_dice);
        let mut making = Making {
            options: self,
            gain,
            engine: &engine,
            extras,
            extra_dice,
            air_dice: dice.stream(stream::AIR),
            hiss,
            far,
            hiss_dice: dice.stream(stream::HISS),
            own_dice: dice.stream(stream::MICROPHONE),
            far_dice,
        };
        let mut clips = Vec::with_capacity(plans.len());
        for (plan, stretch) in plans.into_iter().zip(stretches) {
            clips.push(making.finish(plan, stretch)?);
        }
        Ok(Case { truth: engine.truth(self, noise), clips })
    }

    fn check(&self) -> Result<(), SimulateError> {
        if self.openings.is_empty() || self.takes == 0 {
            return Err(SimulateError::Nothing);
        }
        if let Some(leak) = self.leaks.iter().find(|leak| !self.openings.contains(&leak.opening)) {
            return Err(SimulateError::Nowhere { opening: leak.opening.clone() });
        }
        let length_s = self.clip_length(Air::On).0;
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

    /// The amplitude that brings the mean noise at the loudest leak's opening to its level.
    fn noise_gain(&self, plans: &[Plan], stretches: &[Stretch]) -> Result<f64, SimulateError> {
        let loudest = self.loudest();
        let powers: Vec<f64> = plans
            .iter()
            .zip(stretches)
            .filter(|(plan, _)| loudest.is_none_or(|opening| *opening == plan.opening))
            .map(|(_, stretch)| stretch.power)
            .collect();
        let mean = powers.iter().sum::<f64>() / powers.len() as f64;
        if mean > 0.0 && mean.is_finite() {
            Ok((exact::power_of_db(self.noise.0) / mean).sqrt())
        } else {
            Err(SimulateError::SilentNoise)
        }
    }

    /// How far the recorder is turned down so that the noise keeps its head room, dB (0 or less).
    fn turned_down_db(&self, plans: &[Plan], stretches: &[Stretch], gain: f64) -> f64 {
        let Some(head_room) = self.head_room else { return 0.0 };
        let peaks = plans.iter().zip(stretches).map(|(plan, stretch)| {
            let peak = stretch.peak() * gain * exact::amplitude_of_db(plan.drift_db);
            exact::db_of_power(peak * peak)
        });
        (-head_room.0 - peaks.fold(f64::NEG_INFINITY, f64::max)).min(0.0)
    }
}

/// What all clips of a case are finished with.
struct Making<'a> {
    options: &'a CaseOptions,
    gain: f64,
    engine: &'a Engine,
    extras: Extras,
    extra_dice: Dice,
    air_dice: Dice,
    hiss: Option<&'a dyn NoiseSource>,
    far: Option<HissFar>,
    hiss_dice: Dice,
    own_dice: Dice,
    far_dice: Dice,
}

impl Making<'_> {
    fn finish(&mut self, plan: Plan, stretch: Stretch) -> Result<CaseClip, SimulateError> {
        let options = self.options;
        let (rate, microphone) = (options.rate, &options.microphone);
        let gain = self.gain * exact::amplitude_of_db(plan.drift_db);
        let Stretch { samples: mut sound, power, far: mut far_sound } = stretch;
        sound.iter_mut().chain(far_sound.iter_mut().flatten()).for_each(|sample| *sample *= gain);
        let heard = if plan.air == Air::Off { None } else { self.engine.hiss(&plan.opening) };
        let hiss = heard.map(|heard| Level(heard.0 + plan.placement_db));
        let share = if plan.air == Air::On { options.air_share } else { 1.0 };
        let course = AirCourse::draw(share, options.clip_length(plan.air).0, &mut self.air_dice);
        let gate = |sound: &mut [f64]| match &plan.valve {
            Some(valve) => valve.gate(sound, rate.0),
            None => course.gate(sound, rate.0),
        };
        if heard.is_some() {
            let mut hiss = match self.hiss {
                None => self.engine.render(&plan.opening, sound.len(), &mut self.hiss_dice),
                Some(given) => {
                    let heard = self.engine.render_given(&plan.opening, given, sound.len(), &mut self.hiss_dice);
                    heard.ok_or(SimulateError::SilentHiss)?
                }
            };
            if options.comes_and_goes && plan.air == Air::On {
                come_and_go(&mut hiss, rate.0, &mut self.air_dice);
            }
            gate(&mut hiss);
            let placement = exact::amplitude_of_db(plan.placement_db);
            sound.iter_mut().zip(&hiss).for_each(|(sample, hiss)| *sample += placement * hiss);
            if let (Some(far), Some(far_sound)) = (&self.far, &mut far_sound) {
                // The second microphone stays where it is: the hand's placement does not reach it.
                far.add(&hiss, far_sound);
            }
        }
        let extra = self.extras.render(&plan.opening, plan.air, sound.len(), rate.0, &mut self.extra_dice);
        let with_air = extra.with_air.map(|mut sound| {
            gate(&mut sound);
            sound
        });
        for more in with_air.iter().chain(&extra.always) {
            sound.iter_mut().zip(more).for_each(|(sample, more)| *sample += more);
        }
        if let (Some(far), Some(far_sound), Some(tool)) = (&self.far, &mut far_sound, &extra.always) {
            // It is somewhere in the shop: as loud at one microphone as at the other.
            far.elsewhere().add(tool, far_sound);
        }
        let name = format!("{}-{}-t{}", plan.opening, plan.air.name(), plan.take);
        let far_samples = far_sound.map(|sound| microphone.record(sound, rate.0, &mut self.far_dice));
        let far = far_samples.map(|samples| Clip::new(samples, rate, format!("{name}-far"))).transpose()?;
        let samples = microphone.record(sound, rate.0, &mut self.own_dice);
        let truth = ClipTruth {
            opening: plan.opening,
            air: plan.air,
            take: plan.take,
            visit: plan.visit,
            hiss,
            noise: Level(exact::db_of_power(power * gain * gain)),
            placement: LevelDiff(plan.placement_db),
            drift: LevelDiff(plan.drift_db),
            valve: plan.valve,
            course,
            extra: extra.level,
            length: options.clip_length(plan.air),
        };
        Ok(CaseClip { truth, clip: Clip::new(samples, rate, name)?, far })
    }
}
