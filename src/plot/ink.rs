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

    /// The partner on a dark screen: as far from its ground as this one is from white paper, or nearly so. A tone that
    /// is none of ours stays.
    #[must_use]
    pub fn in_dark(self) -> Self {
        let partners = [
            (INK, Self::new(0xe6, 0xec, 0xf1)),
            (SOFT, Self::new(0xa9, 0xb5, 0xbf)),
            (PAPER, Self::new(0x14, 0x1b, 0x22)),
            (RULE, Self::new(0x36, 0x42, 0x4c)),
            (MIST, Self::new(0x20, 0x2a, 0x33)),
            (AIR, Self::new(0x7d, 0xc0, 0xf5)),
            (RISE, Self::new(0x1f, 0x4a, 0x6b)),
            (QUIET, Self::new(0xe0, 0xa8, 0x5c)),
            (HATCH, Self::new(0x6c, 0x79, 0x84)),
        ];
        partners.into_iter().find(|(light, _)| *light == self).map_or(self, |(_, dark)| dark)
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dark_tones_are_as_readable_as_light_ones() {
        // WCAG 2.2, 1.4.3: 4.5 : 1 for text; 1.4.11: 3 : 1 for what carries meaning (memory).
        for (text, ground) in [(INK, PAPER), (SOFT, PAPER), (INK, MIST), (SOFT, MIST), (PAPER, INK)] {
            assert!(text.in_dark().contrast(ground.in_dark()) >= 4.5, "{text:?} on {ground:?}");
        }
        for (mark, ground) in [(AIR, PAPER), (QUIET, PAPER), (AIR, RISE)] {
            assert!(mark.in_dark().contrast(ground.in_dark()) >= 3.0, "{mark:?} on {ground:?}");
        }
        let foreign = Tone::new(1, 2, 3);
        assert_eq!(foreign.in_dark(), foreign);
    }
}
