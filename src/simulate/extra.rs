//! What is heard in a clip besides the shop and the leak: another air tool, wind on the capsule, the rig's own hiss, the
//! usual blow-by of the rings.

use super::dice::Dice;
use super::engine::{at_level, waver};
use super::exact;
use super::filter::Chain;
use super::jet::Jet;
use super::path::Path;
use super::wind::Wind;
use crate::opening::{Air, Opening};
use crate::units::{Level, LevelDiff};

/// A sound besides the shop's and the leak's, at one opening.
#[derive(Debug, Clone, PartialEq)]
pub struct ExtraSound {
    /// Where the microphone is when it is heard.
    pub opening: Opening,
    /// In which clips.
    pub airs: Vec<Air>,
    /// Its level over the case's noise, both from 1 to 16 kHz.
    pub over_noise: LevelDiff,
    /// What it is.
    pub kind: ExtraKind,
}

/// What an extra sound is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ExtraKind {
    /// A steady hiss of the shop's own: the valve does not matter to it.
    AirTool,
    /// Air that streams past the capsule; it follows the engine's air.
    Wind,
    /// A hose or coupler of the rig: it follows the air, and no engine part colours it.
    Rig,
    /// Blow-by of sound rings, through the crankcase: it follows the air.
    BlowBy,
}

impl ExtraKind {
    /// Whether it stops where the air is shut.
    #[must_use]
    pub fn follows_air(self) -> bool {
        self != Self::AirTool
    }
}

/// Round holes with the same jets, millimetres: air tools and couplers, and ring gaps.
const TOOL_MM: (f64, f64) = (0.5, 3.0);
const RING_MM: (f64, f64) = (0.3, 1.0);
/// How unsteady a hiss is, dB.
const WANDER_DB: f64 = 0.3;

/// Extra sounds as drawn for a case, each once: the same tool hisses in all clips that it is heard in.
pub(super) struct Extras {
    drawn: Vec<(ExtraSound, Maker)>,
}

enum Maker {
    Hiss(Chain),
    Wind(Wind, Chain),
}

impl Extras {
    /// Draws them. `noise`: the case's noise, which levels are counted from.
    pub fn draw(extras: &[ExtraSound], noise: Level, microphone: &Chain, rate_hz: f64, dice: &mut Dice) -> Self {
        // The rig is one: its hiss has one colour at all openings.
        let rig = Jet::of_hole_mm(dice.between(TOOL_MM.0, TOOL_MM.1));
        let drawn = extras.iter().map(|extra| {
            let level_db = noise.0 + extra.over_noise.0;
            let hiss = |jet: Jet| microphone.clone().then(&jet.chain(rate_hz));
            let maker = match extra.kind {
                ExtraKind::Wind => {
                    let wind = Wind::draw(rate_hz, dice);
                    let chain = at_level(microphone.clone().then(wind.chain()), level_db);
                    Maker::Wind(wind, chain)
                }
                ExtraKind::Rig => Maker::Hiss(at_level(hiss(rig), level_db)),
                ExtraKind::AirTool => {
                    Maker::Hiss(at_level(hiss(Jet::of_hole_mm(dice.between(TOOL_MM.0, TOOL_MM.1))), level_db))
                }
                ExtraKind::BlowBy => {
                    let way = hiss(Jet::of_hole_mm(dice.between(RING_MM.0, RING_MM.1)));
                    let crankcase = Path::draw(&extra.opening, dice).chain(rate_hz);
                    Maker::Hiss(at_level(way.then(&crankcase), level_db))
                }
            };
            (extra.clone(), maker)
        });
        Self { drawn: drawn.collect() }
    }

    /// All that is heard in a clip: what follows the air, what does not, and the level of both together.
    pub fn render(&self, opening: &Opening, air: Air, count: usize, rate_hz: f64, dice: &mut Dice) -> ExtraSamples {
        let mut heard = ExtraSamples { with_air: None, always: None, level: None };
        let mut power = 0.0;
        for (extra, maker) in
            self.drawn.iter().filter(|(extra, _)| extra.opening == *opening && extra.airs.contains(&air))
        {
            let mut sound = dice.white(count);
            match maker {
                Maker::Hiss(chain) => {
                    chain.run(&mut sound);
                    waver(&mut sound, WANDER_DB, rate_hz, dice);
                }
                Maker::Wind(wind, chain) => {
                    chain.run(&mut sound);
                    wind.gusts(&mut sound, rate_hz, dice);
                }
            }
            power += sound_level(maker);
            let place = if extra.kind.follows_air() { &mut heard.with_air } else { &mut heard.always };
            match place {
                Some(sum) => sum.iter_mut().zip(&sound).for_each(|(sum, x)| *sum += x),
                None => *place = Some(sound),
            }
        }
        heard.level = (power > 0.0).then(|| Level(exact::db_of_power(power)));
        heard
    }
}

/// Extra sounds in one clip.
pub(super) struct ExtraSamples {
    pub with_air: Option<Vec<f64>>,
    pub always: Option<Vec<f64>>,
    pub level: Option<Level>,
}

fn sound_level(maker: &Maker) -> f64 {
    let (Maker::Hiss(chain) | Maker::Wind(_, chain)) = maker;
    super::level::chain_power(chain)
}
