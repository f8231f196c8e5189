//! Where noise comes from: a kind of shop noise, several at once, or a recording.

use std::fmt;
use std::str::FromStr;

use super::super::dice::Dice;
use super::super::exact;
use super::{
    blow_gun::BlowGun, compressor::Compressor, fan::Fan, forklift::Forklift, grinder::Grinder, hammering::Hammering,
    impact_wrench::ImpactWrench, radio::Radio, rain::Rain, talk::Talk, traffic::Traffic,
};
use crate::units::{Hertz, LevelDiff, Seconds};

/// A source of noise, which gives another stretch each time it is asked.
///
/// What stays the same from clip to clip (the machine, its speed, the room) belongs to the source;
/// what changes (where in its cycle it is, every blow and word) comes from the dice.
pub trait NoiseSource: Send + Sync {
    /// A stretch of noise of this length, full scale free: levels are set where it is mixed.
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32>;

    /// The same, each thing that makes noise for itself; together they are what [`Self::render`] gives.
    fn parts(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<Vec<f64>> {
        vec![self.render(dice, length, rate).into_iter().map(f64::from).collect()]
    }
}

/// A kind of shop noise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum NoiseKind {
    /// A compressed-air gun or another air tool: a hiss that is not the engine's.
    BlowGun,
    /// A reciprocating compressor that cycles.
    Compressor,
    /// A ventilation fan.
    Fan,
    /// A forklift with its engine running.
    Forklift,
    /// An angle grinder that starts, idles and cuts.
    Grinder,
    /// Hammering, and metal that is dropped.
    Hammering,
    /// An impact wrench.
    ImpactWrench,
    /// Music from a radio.
    Radio,
    /// Rain on a sheet-metal roof.
    Rain,
    /// Two people talking.
    Talk,
    /// Cars passing outside.
    Traffic,
}

/// Why a text is not a kind of noise.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{got}' is not a kind of noise: use {}", names())]
pub struct NoiseKindError {
    got: String,
}

fn names() -> String {
    NoiseKind::ALL.map(NoiseKind::name).join(", ")
}

impl NoiseKind {
    /// Every kind, by name.
    pub const ALL: [Self; 11] = [
        Self::BlowGun,
        Self::Compressor,
        Self::Fan,
        Self::Forklift,
        Self::Grinder,
        Self::Hammering,
        Self::ImpactWrench,
        Self::Radio,
        Self::Rain,
        Self::Talk,
        Self::Traffic,
    ];

    /// The name as written on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::BlowGun => "blow-gun",
            Self::Compressor => "compressor",
            Self::Fan => "fan",
            Self::Forklift => "forklift",
            Self::Grinder => "grinder",
            Self::Hammering => "hammering",
            Self::ImpactWrench => "impact-wrench",
            Self::Radio => "radio",
            Self::Rain => "rain",
            Self::Talk => "talk",
            Self::Traffic => "traffic",
        }
    }

    /// One machine, room or street of this kind.
    #[must_use]
    pub fn draw(self, dice: &mut Dice) -> Box<dyn NoiseSource> {
        match self {
            Self::BlowGun => Box::new(BlowGun::draw(dice)),
            Self::Compressor => Box::new(Compressor::draw(dice)),
            Self::Fan => Box::new(Fan::draw(dice)),
            Self::Forklift => Box::new(Forklift::draw(dice)),
            Self::Grinder => Box::new(Grinder::draw(dice)),
            Self::Hammering => Box::new(Hammering::draw(dice)),
            Self::ImpactWrench => Box::new(ImpactWrench::draw(dice)),
            Self::Radio => Box::new(Radio::draw(dice)),
            Self::Rain => Box::new(Rain::draw(dice)),
            Self::Talk => Box::new(Talk::draw(dice)),
            Self::Traffic => Box::new(Traffic::draw(dice)),
        }
    }
}

impl FromStr for NoiseKind {
    type Err = NoiseKindError;

    fn from_str(text: &str) -> Result<Self, NoiseKindError> {
        Self::ALL
            .into_iter()
            .find(|kind| kind.name() == text)
            .ok_or_else(|| NoiseKindError { got: text.chars().take(80).collect() })
    }
}

impl fmt::Display for NoiseKind {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.name())
    }
}

/// Several sources heard at once.
pub struct NoiseMix {
    parts: Vec<(Box<dyn NoiseSource>, f64)>,
}

impl NoiseMix {
    /// Sources with the level of each relative to the others.
    #[must_use]
    pub fn new(parts: Vec<(Box<dyn NoiseSource>, LevelDiff)>) -> Self {
        Self { parts: parts.into_iter().map(|(part, level)| (part, exact::amplitude_of_db(level.0))).collect() }
    }

    /// One source of each kind, their levels spread by 3 dB (standard deviation).
    #[must_use]
    pub fn of_kinds(kinds: &[NoiseKind], dice: &mut Dice) -> Self {
        let parts = kinds.iter().map(|kind| (kind.draw(dice), LevelDiff(3.0 * dice.normal()))).collect();
        Self::new(parts)
    }
}

impl NoiseSource for NoiseMix {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let mut sum = vec![0.0; (length.0 * rate.0).round() as usize];
        for part in self.parts(dice, length, rate) {
            sum.iter_mut().zip(part).for_each(|(sum, more)| *sum += more);
        }
        sum.iter().map(|&x| x as f32).collect()
    }

    fn parts(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<Vec<f64>> {
        self.parts
            .iter()
            .map(|(part, gain)| part.render(dice, length, rate).into_iter().map(|x| f64::from(x) * gain).collect())
            .collect()
    }
}
