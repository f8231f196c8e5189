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
/// Recordings that are only reported on.
const ONLY_REPORTED: [&str; 16] = [
    "ambi-choir",
    "ambi-dark-woosh",
    "ambi-glass-hum",
    "ambi-haunted-hum",
    "ambi-piano",
    "ambi-soft-buzz",
    "drum-roll",
    "loop-drone-g-97",
    "loop-electronic",
    "loop-perc1",
    "loop-perc2",
    "machine-electric-1",
    "machine-electric-2",
    "machine-electric-3",
    "perc-till",
    "vinyl-rewind",
];
/// Real gas that escapes.
const HISSES: [&str; 2] = ["nitro-gas", "fuse"];
/// One session in so many has a real hiss in place of a jet.
const REAL_HISS_EVERY: f64 = 0.3;
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

/// Every recording, read once.
pub struct Sounds {
    tuned_on: Vec<(&'static str, Arc<Recording>)>,
    only_reported: Vec<(&'static str, Arc<Recording>)>,
    hisses: Vec<(&'static str, Arc<Recording>)>,
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
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fixtures/recordings");
    let file = [folder.clone(), folder.join("reporting")].map(|place| place.join(format!("{name}.flac")));
    let there = if file[0].exists() { &file[0] } else { &file[1] };
    load(there)
}

fn load(file: &Path) -> Result<Arc<Recording>, SoundsError> {
    let (clip, _) = read_clip(file, ChannelChoice::First)?;
    Ok(Arc::new(Recording::new(&clip, RATE)?))
}

fn all(names: &[&'static str]) -> Result<Vec<(&'static str, Arc<Recording>)>, SoundsError> {
    names.iter().map(|&name| Ok((name, recording(name)?))).collect()
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
    /// Reads them.
    pub fn read() -> Result<Self, SoundsError> {
        Ok(Self { tuned_on: all(&TUNED_ON)?, only_reported: all(&ONLY_REPORTED)?, hisses: all(&HISSES)? })
    }

    /// A shop of a group.
    pub fn shop(&self, group: Group, dice: &mut Dice) -> Shop {
        let (simulated, tuned_on, new) = match group {
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
        let loudness = parts.into_iter().map(|(_, part)| balanced(part, dice)).collect();
        let noise = NoiseMix::new(loudness);
        let hiss = dice.chance(REAL_HISS_EVERY).then(|| &self.hisses[dice.below(self.hisses.len())]);
        names.extend(hiss.map(|(name, _)| format!("hiss: {name}")));
        Shop { noise, hiss: hiss.map(|(_, recording)| Arc::clone(recording)), names }
    }
}

/// A part at a level that does not depend on how loud its recording happens to be from 1 to 16 kHz.
fn balanced(part: Box<dyn NoiseSource>, dice: &mut Dice) -> (Box<dyn NoiseSource>, LevelDiff) {
    let mut probe_dice = dice.stream(7_000);
    let probe = part.render(&mut probe_dice, Seconds(6.0), RATE);
    let level_db = 10.0 * super::plain::power_between(&probe, RATE.0, super::plain::BAND_HZ).max(1e-12).log10();
    let level = LevelDiff(PART_SPREAD_DB * dice.normal() - level_db);
    (part, level)
}

/// So many different places out of `count`.
fn chosen(count: usize, wanted: usize, dice: &mut Dice) -> Vec<usize> {
    let mut left: Vec<usize> = (0..count).collect();
    (0..wanted.min(count)).map(|_| left.remove(dice.below(left.len()))).collect()
}
