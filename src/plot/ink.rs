//! The few tones that pictures and papers use. Each difference they make is also made by a shape.

/// An opaque colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tone {
    /// Red, 0–255.
    pub red: u8,
    /// Green, 0–255.
    pub green: u8,
    /// Blue, 0–255.
    pub blue: u8,
}

impl Tone {
    const fn new(red: u8, green: u8, blue: u8) -> Self {
        Self { red, green, blue }
    }

    /// Relative luminance, 0 (black) to 1 (white): WCAG 2.2, definition "relative luminance", memory.
    #[must_use]
    pub fn luminance(self) -> f64 {
        let linear = |channel: u8| {
            let value = f64::from(channel) / 255.0;
            if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(self.red) + 0.7152 * linear(self.green) + 0.0722 * linear(self.blue)
    }

    /// Contrast ratio between two tones, 1 to 21: (L1 + 0.05) / (L2 + 0.05), WCAG 2.2, memory.
    ///
    /// ```
    /// use hissward::plot::{INK, PAPER};
    /// assert!(INK.contrast(PAPER) > 15.0);
    /// ```
    #[must_use]
    pub fn contrast(self, other: Self) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }
}

/// Text and frames.
pub const INK: Tone = Tone::new(0x18, 0x22, 0x2c);
/// Text of second rank.
pub const SOFT: Tone = Tone::new(0x4a, 0x56, 0x61);
/// The background.
pub const PAPER: Tone = Tone::new(0xff, 0xff, 0xff);
/// Grid lines and light frames.
pub const RULE: Tone = Tone::new(0xcd, 0xd4, 0xda);
/// Ground of what stands back.
pub const MIST: Tone = Tone::new(0xee, 0xf1, 0xf4);
/// The line of the air clip, and the dot of a level.
pub const AIR: Tone = Tone::new(0x0a, 0x4b, 0x80);
/// The rise of the air clip over the quiet one.
pub const RISE: Tone = Tone::new(0xb9, 0xd3, 0xe8);
/// The line of the quiet clip.
pub const QUIET: Tone = Tone::new(0x7a, 0x4a, 0x12);
/// Hatching under a bound.
pub const HATCH: Tone = Tone::new(0x9a, 0xa5, 0xae);
