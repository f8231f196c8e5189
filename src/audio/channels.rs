//! Which channel of a recording is used, and whether that choice mattered.

use super::error::AudioError;
use crate::caveat::Caveat;

/// Which of a recording's channels is read. Channels count from 1, as recorders label them.
///
/// Channels are never averaged: two microphones hear a hiss with different phase and level, so
/// their mean has a level that neither heard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ChannelChoice {
    /// The only channel; where there are several, the first, with a caveat when they differ.
    #[default]
    First,
    /// This one.
    Number(u16),
    /// Two in one pass, as interleaved frames near, far: the microphone at the opening and the
    /// one a step away that tracks the level of the room.
    Pair {
        /// The channel at the opening.
        near: u16,
        /// The channel a step away.
        far: u16,
    },
}

/// The places of the chosen channels within a frame.
#[derive(Debug, Clone, Copy)]
pub(super) enum Picks {
    One(usize),
    Two(usize, usize),
}

impl Picks {
    /// The choice, held against what there is.
    pub(super) fn of(choice: ChannelChoice, channels: u16, file: &str) -> Result<Self, AudioError> {
        let place = |asked: u16| {
            if (1..=channels).contains(&asked) {
                Ok(usize::from(asked) - 1)
            } else {
                Err(AudioError::NoSuchChannel { file: file.to_owned(), asked, there: channels })
            }
        };
        match choice {
            ChannelChoice::First => Ok(Self::One(0)),
            ChannelChoice::Number(asked) => place(asked).map(Self::One),
            ChannelChoice::Pair { near, far } => Ok(Self::Two(place(near)?, place(far)?)),
        }
    }

    /// Copies the chosen channels out of interleaved frames.
    pub(super) fn take(self, frames: &[f32], channels: usize, chosen: &mut Vec<f32>) {
        chosen.clear();
        match self {
            Self::One(at) => chosen.extend(frames.chunks_exact(channels).map(|frame| frame[at])),
            Self::Two(near, far) => {
                chosen.extend(frames.chunks_exact(channels).flat_map(|frame| [frame[near], frame[far]]))
            }
        }
    }
}

/// Watches whether the other channels differ from the first, where nobody chose one.
pub(super) struct ChannelWatch {
    power: Vec<f64>,
    difference: Vec<f64>,
    frames_left: usize,
}

/// Enough to tell (44 s at 48 kHz), and bounded, so that long files are not slowed down.
const WATCHED_FRAMES: usize = 1 << 21;

/// Power of the difference over power of the louder channel above which two channels count as different:
/// −40 dB, well above what rounding and lossy coding do to two equal channels.
const SAME_BELOW: f64 = 1e-4;

impl ChannelWatch {
    pub(super) fn new(channels: u16) -> Self {
        let none = vec![0.0; usize::from(channels)];
        Self { power: none.clone(), difference: none, frames_left: WATCHED_FRAMES }
    }

    /// Looks at a block of interleaved frames.
    pub(super) fn look(&mut self, frames: &[f32]) {
        let channels = self.power.len();
        let frames = &frames[..(frames.len() / channels).min(self.frames_left) * channels];
        self.frames_left -= frames.len() / channels;
        for at in 0..channels {
            let (mut power, mut difference) = (0.0f32, 0.0f32);
            for frame in frames.chunks_exact(channels) {
                let apart = frame[at] - frame[0];
                power += frame[at] * frame[at];
                difference += apart * apart;
            }
            self.power[at] += f64::from(power);
            self.difference[at] += f64::from(difference);
        }
    }

    /// What the user should know about the choice of the first channel.
    pub(super) fn caveat(&self, file: &str) -> Option<Caveat> {
        let (loudest, power) = self.power.iter().copied().enumerate().max_by(|a, b| a.1.total_cmp(&b.1))?;
        if power > 0.0 && self.power[0] == 0.0 {
            return Some(Caveat::new("first-channel-silent").text("file", file).number(
                "channel",
                (loudest + 1) as f64,
                0,
            ));
        }
        let apart = self.difference.iter().copied().fold(0.0, f64::max);
        (apart > SAME_BELOW * power)
            .then(|| Caveat::new("several-channels").text("file", file).number("channels", self.power.len() as f64, 0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(frames: &[f32]) -> Option<&'static str> {
        let mut watch = ChannelWatch::new(2);
        watch.look(frames);
        watch.caveat("a.wav").map(|caveat| caveat.code)
    }

    #[test]
    fn equal_channels_raise_nothing_and_different_ones_do() {
        assert_eq!(watched(&[0.5, 0.5, -0.5, -0.5]), None);
        assert_eq!(watched(&[0.5, 0.501, -0.5, -0.501]), None, "a difference of −54 dB is rounding");
        assert_eq!(watched(&[0.5, 0.4, -0.5, -0.4]), Some("several-channels"));
        assert_eq!(watched(&[0.0, 0.4, 0.0, -0.4]), Some("first-channel-silent"));
        assert_eq!(watched(&[0.0, 0.0]), None);
    }

    #[test]
    fn picks_take_what_was_asked() {
        let frames = [1.0, 2.0, 3.0, 10.0, 20.0, 30.0];
        let mut chosen = Vec::new();
        let pair = ChannelChoice::Pair { near: 3, far: 1 };
        Picks::of(pair, 3, "a.wav").expect("there").take(&frames, 3, &mut chosen);
        assert_eq!(chosen, [3.0, 1.0, 30.0, 10.0]);
        assert!(Picks::of(ChannelChoice::Number(0), 3, "a.wav").is_err());
        assert!(Picks::of(ChannelChoice::Number(4), 3, "a.wav").is_err());
    }
}
