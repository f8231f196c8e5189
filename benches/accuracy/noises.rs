//! What makes noise in a session, and what hisses.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use hissward::audio::{AudioError, ChannelChoice, read_clip};
use hissward::simulate::{Dice, NoiseKind, NoiseMix, NoiseSource, Recording, RecordingError};
use hissward::units::{Hertz, LevelDiff, Seconds};

use super::seeds::Where;

/// The rate of all recordings and cases.
pub const RATE: Hertz = Hertz(48_000.0);

/// Real machines, tools, music and talk, and the sounds that are like a hiss; used in tuning. `steam-engine` is left
/// out: it holds a hiss of its own.
const TUNED_ON: [&str; 9] = [
    "furnace",
    "guitar",
    "metal-gate",
    "pumpjack",
    "restaurant-crowd",
    "saw-ripcut",
    "truck-start",
    "vinyl-hiss",
    "waterfall",
];
/// The same, fetched at the bench's set-up (`machines.py`), of packages that are not reported on.
const TUNED_ON_FETCHED: [&str; 5] = ["chainsaw", "circular-saw", "jet-takeoff", "lift-machinery", "smithy"];
/// Recordings that are only reported on, fetched, of packages that nothing used in tuning comes from: saws, a smithy, an
/// engine, machines, a crowd, and what is like a hiss.
const ONLY_REPORTED_FETCHED: [&str; 9] = [
    "anvil",
    "chainsaw-full",
    "chainsaw-idle",
    "engine",
    "frying",
    "gas-burner",
    "gravel",
    "sewing-machine",
    "town-square",
];
/// Real gas that escapes, used in tuning; and what is only reported on. Without the fetched ones the report has jets.
const HISSES: [&str; 2] = ["nitro-gas", "fuse"];
const HISSES_FETCHED: [&str; 1] = ["tnt-ignite"];
const HISSES_ONLY_REPORTED_FETCHED: [&str; 2] = ["dynamite-fuse", "steam"];
/// One session in so many has a real hiss in place of a jet.
const REAL_HISS_EVERY: f64 = 0.3;
/// A leak's hiss holds its level while the air is on: a recording serves in a jet's place where its level from 1 to 16 kHz, in
/// quarters of a second, has no larger standard deviation than this, dB. The others (a fuse that dies away, a blow-off) serve
/// where a hiss comes and goes.
const STEADY_DB: f64 = 2.0;
const STEADY_PART_S: f64 = 0.25;
/// Levels of a mixture's parts are spread by this, dB (standard deviation).
const PART_SPREAD_DB: f64 = 3.0;

/// A kind of session.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// One simulated machine, tool or street.
    Simulated,
    /// Two or three of them.
    SimulatedMix,
    /// One of the recordings used in tuning.
    Recorded,
    /// One to three of them and of simulated kinds together.
    RecordedMix,
    /// One recording that is only reported on.
    New,
    /// Two or three of these.
    NewMix,
    /// One of these with one or two simulated kinds.
    NewWithSimulated,
}

impl Group {
    /// Whether all of its noise is recorded and none simulated.
    pub fn is_recorded(self) -> bool {
        matches!(self, Self::Recorded | Self::New | Self::NewMix)
    }

    /// The groups of a place, one session after another.
    pub fn of(place: Where) -> &'static [Self] {
        match place {
            Where::Tuning => &[Self::Simulated, Self::SimulatedMix, Self::Recorded, Self::RecordedMix],
            Where::Reporting => &[Self::New, Self::NewMix, Self::NewWithSimulated],
        }
    }

    /// What it is called in tables.
    pub fn name(self) -> &'static str {
        match self {
            Self::Simulated => "one simulated",
            Self::SimulatedMix => "2–3 simulated",
            Self::Recorded => "one recording",
            Self::RecordedMix => "2–3 recordings and simulated",
            Self::New => "one new recording",
            Self::NewMix => "2–3 new recordings",
            Self::NewWithSimulated => "new recording with simulated",
        }
    }
}

type Named = Vec<(&'static str, Arc<Recording>)>;

/// Real gas that escapes.
struct Hisses {
    all: Named,
    /// Those that hold their level.
    steady: Named,
}

impl Hisses {
    fn of(all: Named) -> Self {
        let steady = all.iter().filter(|(_, recording)| is_steady(recording)).cloned().collect();
        Self { all, steady }
    }
}

/// Whether a recording holds its level from 1 to 16 kHz.
fn is_steady(recording: &Recording) -> bool {
    let part = (STEADY_PART_S * RATE.0) as usize;
    let level_db =
        |samples: &[f32]| 10.0 * super::plain::power_between(samples, RATE.0, super::plain::BAND_HZ).max(1e-12).log10();
    let levels: Vec<f64> = recording.samples().chunks_exact(part).map(level_db).collect();
    let mean = levels.iter().sum::<f64>() / levels.len().max(1) as f64;
    let variance = levels.iter().map(|level| (level - mean).powi(2)).sum::<f64>() / levels.len().max(1) as f64;
    variance.sqrt() <= STEADY_DB
}

/// Every recording, read once.
pub struct Sounds {
    tuned_on: Named,
    only_reported: Named,
    hisses: Hisses,
    hisses_only_reported: Hisses,
    /// Names of those that were not fetched.
    pub lacking: Vec<&'static str>,
}

/// Why the recordings are not there.
#[derive(Debug, thiserror::Error)]
pub enum SoundsError {
    /// Cannot be read.
    #[error(transparent)]
    Audio(#[from] AudioError),
    /// Cannot serve.
    #[error(transparent)]
    Recording(#[from] RecordingError),
}

/// A recording of the fixtures.
pub fn recording(name: &str) -> Result<Arc<Recording>, SoundsError> {
    load(&PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fixtures/recordings").join(format!("{name}.flac")))
}

/// Where the bench's set-up puts what it fetches.
fn fetched(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/accuracy/machines").join(format!("{name}.flac"))
}

fn load(file: &Path) -> Result<Arc<Recording>, SoundsError> {
    let (clip, _) = read_clip(file, ChannelChoice::First)?;
    Ok(Arc::new(Recording::new(&clip, RATE)?))
}

/// Recordings of the fixtures, and those of the fetched ones that are there.
fn all(
    kept: &[&'static str],
    fetched_ones: &[&'static str],
    lacking: &mut Vec<&'static str>,
) -> Result<Named, SoundsError> {
    let mut found = kept.iter().map(|&name| Ok((name, recording(name)?))).collect::<Result<Named, SoundsError>>()?;
    for &name in fetched_ones {
        let file = fetched(name);
        if file.exists() {
            found.push((name, load(&file)?));
        } else {
            lacking.push(name);
        }
    }
    Ok(found)
}

/// A recording that several sessions share.
struct Shared(Arc<Recording>);

impl NoiseSource for Shared {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        self.0.render(dice, length, rate)
    }
}

/// What is heard in a session.
pub struct Shop {
    /// The noise.
    pub noise: NoiseMix,
    /// A hiss in place of the simulated jet.
    pub hiss: Option<Arc<Recording>>,
    /// Names of all parts.
    pub names: Vec<String>,
}

impl Sounds {
    /// Reads them: those of the fixtures, and what the bench's set-up fetched.
    pub fn read() -> Result<Self, SoundsError> {
        let mut lacking = Vec::new();
        Ok(Self {
            tuned_on: all(&TUNED_ON, &TUNED_ON_FETCHED, &mut lacking)?,
            only_reported: all(&[], &ONLY_REPORTED_FETCHED, &mut lacking)?,
            hisses: Hisses::of(all(&HISSES, &HISSES_FETCHED, &mut lacking)?),
            hisses_only_reported: Hisses::of(all(&[], &HISSES_ONLY_REPORTED_FETCHED, &mut lacking)?),
            lacking,
        })
    }

    /// Reads those of the fixtures alone: the same on every machine.
    pub fn kept() -> Result<Self, SoundsError> {
        let mut none = Vec::new();
        Ok(Self {
            tuned_on: all(&TUNED_ON, &[], &mut none)?,
            only_reported: Vec::new(),
            hisses: Hisses::of(all(&HISSES, &[], &mut none)?),
            hisses_only_reported: Hisses::of(Vec::new()),
            lacking: none,
        })
    }

    /// The hisses of a group's place.
    fn hisses(&self, group: Group) -> &Hisses {
        let reported = matches!(group, Group::New | Group::NewMix | Group::NewWithSimulated);
        if reported { &self.hisses_only_reported } else { &self.hisses }
    }

    /// A real hiss, where there is one.
    pub fn any_hiss(&self, group: Group, dice: &mut Dice) -> Option<Arc<Recording>> {
        let hisses = &self.hisses(group).all;
        hisses.get(dice.below(hisses.len())).map(|(_, recording)| Arc::clone(recording))
    }

    /// A shop of a group.
    pub fn shop(&self, group: Group, dice: &mut Dice) -> Shop {
        self.shop_at(group, dice, RATE)
    }

    /// The same shop at another rate. Recordings are played at that rate, and so sound higher: how a shop's noise falls
    /// off beyond hearing nobody recorded.
    pub fn shop_at(&self, group: Group, dice: &mut Dice, rate: Hertz) -> Shop {
        let (simulated, tuned_on, new) = match group {
            // Nothing was fetched: what is simulated stands in.
            Group::New | Group::NewMix | Group::NewWithSimulated if self.only_reported.is_empty() => {
                (1 + dice.below(3), 0, 0)
            }
            Group::Simulated => (1, 0, 0),
            Group::SimulatedMix => (2 + dice.below(2), 0, 0),
            Group::Recorded => (0, 1, 0),
            Group::RecordedMix => [(1, 1, 0), (0, 2, 0), (1, 2, 0), (2, 1, 0)][dice.below(4)],
            Group::New => (0, 0, 1),
            Group::NewMix => (0, 0, 2 + dice.below(2)),
            Group::NewWithSimulated => (1 + dice.below(2), 0, 1),
        };
        let mut parts: Vec<(String, Box<dyn NoiseSource>)> = Vec::new();
        let kinds = chosen(NoiseKind::ALL.len(), simulated, dice);
        for kind in kinds.into_iter().map(|at| NoiseKind::ALL[at]) {
            parts.push((kind.name().to_owned(), kind.draw(dice)));
        }
        for (from, count) in [(&self.tuned_on, tuned_on), (&self.only_reported, new)] {
            for at in chosen(from.len(), count, dice) {
                parts.push((from[at].0.to_owned(), Box::new(Shared(Arc::clone(&from[at].1)))));
            }
        }
        let mut names: Vec<String> = parts.iter().map(|(name, _)| name.clone()).collect();
        let loudness = parts.into_iter().map(|(_, part)| balanced(part, dice, rate)).collect();
        let noise = NoiseMix::new(loudness);
        let hisses = &self.hisses(group).steady;
        let hiss = dice.chance(REAL_HISS_EVERY).then(|| hisses.get(dice.below(hisses.len()))).flatten();
        names.extend(hiss.map(|(name, _)| format!("hiss: {name}")));
        Shop { noise, hiss: hiss.map(|(_, recording)| Arc::clone(recording)), names }
    }
}

/// A part at a level that does not depend on how loud its recording happens to be from 1 to 16 kHz.
fn balanced(part: Box<dyn NoiseSource>, dice: &mut Dice, rate: Hertz) -> (Box<dyn NoiseSource>, LevelDiff) {
    let mut probe_dice = dice.stream(7_000);
    let probe = part.render(&mut probe_dice, Seconds(6.0), rate);
    let level_db = 10.0 * super::plain::power_between(&probe, rate.0, super::plain::BAND_HZ).max(1e-12).log10();
    let level = LevelDiff(PART_SPREAD_DB * dice.normal() - level_db);
    (part, level)
}

/// So many different places out of `count`.
fn chosen(count: usize, wanted: usize, dice: &mut Dice) -> Vec<usize> {
    let mut left: Vec<usize> = (0..count).collect();
    (0..wanted.min(count)).map(|_| left.remove(dice.below(left.len()))).collect()
}
