//! A sound input as a person knows it.

use crate::audio::writer::StreamShape;

/// The lowest rate at which a hiss can be heard in full: half of it must lie above most of 1–16 kHz.
pub const LOWEST_USEFUL_RATE_HZ: u32 = 32_000;

/// A sound input.
#[derive(Debug, Clone, PartialEq)]
pub struct Input {
    /// Names it to the system, the same from one start to the next.
    pub id: String,
    /// Names it to a person.
    pub name: String,
    /// Native rate, channels and samples; `None` where the device would not say.
    pub shape: Option<StreamShape>,
    /// Whether it is used where nobody chooses.
    pub is_default: bool,
    /// Whether it is good for anything here.
    pub worth: Worth,
}

/// What an input is good for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Worth {
    /// A microphone, or what may be one.
    Useful,
    /// Hears what this machine plays, not the room.
    Monitor,
    /// A telephone headset: its rate ends below the hiss.
    NarrowBand,
    /// Cannot be opened: in use by another program, or gone.
    Blocked,
    /// Opens and gives digital silence: muted, or switched off. Known only after a trial.
    Muted,
}

impl Worth {
    /// The name as written in JSON, and after `mic-` in the catalogue.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Useful => "useful",
            Self::Monitor => "monitor",
            Self::NarrowBand => "narrow-band",
            Self::Blocked => "blocked",
            Self::Muted => "muted",
        }
    }
}

/// What an input is good for, from its names and its native shape.
#[must_use]
pub fn worth_of(id: &str, name: &str, shape: Option<StreamShape>) -> Worth {
    let name = name.to_lowercase();
    // Sound servers name them so; loop-back devices of other systems carry one of these words.
    let is_monitor = id.ends_with(".monitor") || name.starts_with("monitor of") || name.contains("loopback");
    match shape {
        _ if is_monitor => Worth::Monitor,
        None => Worth::Blocked,
        Some(shape) if shape.rate_hz < LOWEST_USEFUL_RATE_HZ => Worth::NarrowBand,
        Some(_) => Worth::Useful,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::audio::writer::SampleKind;

    #[test]
    fn headsets_and_monitors_are_told_from_microphones() {
        let shape = |rate_hz| Some(StreamShape { rate_hz, channels: 1, kind: SampleKind::I16 });
        assert_eq!(worth_of("usb-mic", "USB microphone", shape(48_000)), Worth::Useful);
        assert_eq!(worth_of("usb-mic", "USB microphone", shape(44_100)), Worth::Useful);
        assert_eq!(worth_of("bluez_input", "Headset", shape(16_000)), Worth::NarrowBand);
        assert_eq!(worth_of("bluez_input", "Headset", shape(8_000)), Worth::NarrowBand);
        assert_eq!(worth_of("out.monitor", "Speakers", shape(48_000)), Worth::Monitor);
        assert_eq!(worth_of("x", "Monitor of Speakers", shape(48_000)), Worth::Monitor);
        assert_eq!(worth_of("hw:CARD=A,DEV=0", "Line in", None), Worth::Blocked);
    }
}
