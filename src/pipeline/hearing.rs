//! A recording read and listened to, block by block; of two channels, whether they are two microphones and which is nearer.

use std::path::Path;

use crate::audio::{self, ChannelChoice, Recording};
use crate::caveat::Caveat;
use crate::clip::ClipError;
use crate::hiss::{ClipAnalyzer, ClipFeatures, are_two_microphones, second_is_nearer};
use crate::opening::Air;

use super::ranking::{RankError, SHORTEST};

/// A clip that has been listened to, and what its file gave to say.
#[derive(Debug, Clone, PartialEq)]
pub struct AnalyzedClip {
    /// What is kept of it.
    pub sound: ClipFeatures,
    /// What lowers trust in its file.
    pub caveats: Vec<Caveat>,
    /// Whether it holds two microphones and nobody said which is which.
    pub either_way: bool,
}

/// Reads a recording and listens to it; of a pair of channels, the near one is tracked by the far one.
///
/// Where nobody chose a channel and there are two, both are read. Copies of one sound count as one microphone.
///
/// # Errors
/// [`RankError`] where it cannot be read, holds what is no sound, or is shorter than [`SHORTEST`].
pub fn listen_to(path: &Path, choice: ChannelChoice) -> Result<AnalyzedClip, RankError> {
    let recording = audio::open(path, choice)?;
    let listened = match choice {
        ChannelChoice::First if recording.channels() == 2 => {
            either_way(audio::open(path, ChannelChoice::Pair { near: 1, far: 2 })?)?
        }
        ChannelChoice::Pair { .. } => chosen_pair(recording)?,
        _ => one_channel(recording)?,
    };
    if listened.sound.duration().0 < SHORTEST.0 {
        let file = listened.sound.name().to_owned();
        return Err(RankError::TooShort { file, got: listened.sound.duration(), needed: SHORTEST });
    }
    // Worked out here, where clips are worked on side by side.
    let _floor = listened.sound.floor();
    Ok(listened)
}

fn one_channel(mut recording: Recording) -> Result<AnalyzedClip, RankError> {
    let mut listener = ClipAnalyzer::new(recording.name(), recording.rate());
    let mut empty = true;
    while let Some(block) = recording.next_block()? {
        empty &= block.is_empty();
        listener.push(block);
    }
    if empty {
        return Err(ClipError::Empty { name: recording.name().to_owned() }.into());
    }
    Ok(AnalyzedClip { sound: coded(listener, &recording), caveats: recording.caveats(), either_way: false })
}

fn chosen_pair(recording: Recording) -> Result<AnalyzedClip, RankError> {
    let Pair { first, second, caveats, .. } = Pair::read(recording, false)?;
    Ok(AnalyzedClip { sound: first.tracked_by(second), caveats, either_way: false })
}

fn either_way(recording: Recording) -> Result<AnalyzedClip, RankError> {
    let Pair { first, second, difference, caveats } = Pair::read(recording, true)?;
    let two = difference.is_some_and(|difference| are_two_microphones(&first, &second, &difference));
    let sound = match two {
        true => first.tracked_by(second),
        // One microphone, in both channels or in one of them.
        false if first.mean_square() >= second.mean_square() => first,
        false if first.peak() > 0.0 => first,
        false => second,
    };
    Ok(AnalyzedClip { sound, caveats, either_way: two })
}

/// Two channels of a recording.
struct Pair {
    first: ClipFeatures,
    second: ClipFeatures,
    /// The first minus the second.
    difference: Option<ClipFeatures>,
    caveats: Vec<Caveat>,
}

impl Pair {
    fn read(mut recording: Recording, with_difference: bool) -> Result<Self, RankError> {
        let new = || ClipAnalyzer::new(recording.name(), recording.rate());
        let (mut first, mut second) = (new(), new());
        let mut difference = with_difference.then(new);
        let (mut one, mut other, mut apart) = (Vec::new(), Vec::new(), Vec::new());
        let mut empty = true;
        while let Some(block) = recording.next_block()? {
            empty &= block.is_empty();
            let part = |samples: &mut Vec<f32>, place: usize| {
                samples.clear();
                samples.extend(block.iter().skip(place).step_by(2));
            };
            part(&mut one, 0);
            part(&mut other, 1);
            first.push(&one);
            second.push(&other);
            if let Some(difference) = &mut difference {
                apart.clear();
                apart.extend(one.iter().zip(&other).map(|(a, b)| a - b));
                difference.push(&apart);
            }
        }
        if empty {
            return Err(ClipError::Empty { name: recording.name().to_owned() }.into());
        }
        Ok(Self {
            first: coded(first, &recording),
            second: coded(second, &recording),
            difference: difference.map(ClipAnalyzer::into_sound),
            caveats: recording.caveats(),
        })
    }
}

/// What was listened to, with the coding it came in where that throws sound away.
fn coded(listener: ClipAnalyzer, recording: &Recording) -> ClipFeatures {
    let format = recording.format();
    let sound = listener.into_sound();
    if format.lossy { sound.coded_as(format.coding.clone()) } else { sound }
}

/// Which of two microphones was found to be the nearer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nearer {
    /// The first channel.
    First,
    /// The second channel.
    Second,
    /// No air clip tells them apart.
    Neither,
}

impl Nearer {
    /// The sentence about it.
    pub fn caveat(self) -> Caveat {
        let nearer = |near: f64, far: f64| Caveat::new("two-microphones").number("near", near, 0).number("far", far, 0);
        match self {
            Self::First => nearer(1.0, 2.0),
            Self::Second => nearer(2.0, 1.0),
            Self::Neither => Caveat::new("two-microphones-alike"),
        }
    }
}

/// Tells which of two microphones is the nearer, and gives the clips with it first. `groups` says for each clip to which
/// openings it belongs (numbered) and what the air did. `None` where no clip holds two microphones that nobody told apart.
pub fn nearer_first(listened: &[&AnalyzedClip], groups: &[(Vec<usize>, Air)]) -> Option<(Nearer, Vec<AnalyzedClip>)> {
    if !listened.iter().any(|clip| clip.either_way) {
        return None;
    }
    let count = groups.iter().flat_map(|(of, _)| of).max().map_or(0, |most| most + 1);
    let with = |group: usize, air: Air| -> Vec<&ClipFeatures> {
        let of_group = listened.iter().zip(groups).filter(|(_, (of, what))| of.contains(&group) && *what == air);
        of_group.map(|(clip, _)| &clip.sound).collect()
    };
    let openings: Vec<(Vec<&ClipFeatures>, Vec<&ClipFeatures>)> =
        (0..count).map(|group| (with(group, Air::Off), with(group, Air::On))).collect();
    let nearer = match second_is_nearer(&openings) {
        Some(true) => Nearer::Second,
        Some(false) => Nearer::First,
        None => Nearer::Neither,
    };
    let turn = |clip: AnalyzedClip| match (nearer, clip.either_way) {
        (Nearer::Second, true) => AnalyzedClip { sound: clip.sound.swapped(), ..clip },
        _ => clip,
    };
    Some((nearer, listened.iter().map(|clip| turn((*clip).clone())).collect()))
}
