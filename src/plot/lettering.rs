//! The font of pictures and papers: how wide a text is, and how it breaks into lines.

use ab_glyph::{Font, FontRef, ScaleFont};

/// The regular face of Inter (OFL 1.1), for pictures and PDF.
pub const REGULAR_FACE: &[u8] = include_bytes!("font/inter-regular.ttf");
/// The bold face of Inter (OFL 1.1), for pictures and PDF.
pub const BOLD_FACE: &[u8] = include_bytes!("font/inter-bold.ttf");
/// The regular face for pages, as WOFF 2.
pub const REGULAR_WEB_FACE: &[u8] = include_bytes!("font/inter-regular.woff2");
/// The bold face for pages, as WOFF 2.
pub const BOLD_WEB_FACE: &[u8] = include_bytes!("font/inter-bold.woff2");

/// How heavy a text is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Weight {
    /// The regular face.
    Regular,
    /// The bold face.
    Bold,
}

/// The two faces, read once per drawing.
pub struct Lettering {
    regular: FontRef<'static>,
    bold: FontRef<'static>,
}

impl Lettering {
    /// Reads the embedded faces; `None` where they are damaged, which a test rules out.
    #[must_use]
    pub fn embedded() -> Option<Self> {
        let regular = FontRef::try_from_slice(REGULAR_FACE).ok()?;
        let bold = FontRef::try_from_slice(BOLD_FACE).ok()?;
        Some(Self { regular, bold })
    }

    /// The face of a weight.
    pub(super) fn face(&self, weight: Weight) -> &FontRef<'static> {
        match weight {
            Weight::Regular => &self.regular,
            Weight::Bold => &self.bold,
        }
    }

    /// The face's height that makes one em `size` units high, in `ab_glyph`'s measure.
    pub(super) fn height_of_em(&self, size: f64, weight: Weight) -> f32 {
        let face = self.face(weight);
        let em = face.units_per_em().unwrap_or(1.0);
        (size as f32) * face.height_unscaled() / em
    }

    /// The width of a text whose em is `size` units, in the same units.
    #[must_use]
    pub fn width(&self, text: &str, size: f64, weight: Weight) -> f64 {
        let face = self.face(weight).as_scaled(self.height_of_em(size, weight));
        text.chars().map(|c| f64::from(face.h_advance(face.glyph_id(c)))).sum()
    }

    /// The text in at most `lines` lines of at most `width` units, broken at spaces and after hyphens,
    /// inside a word only where it is too long for a line; what still does not fit ends in "…".
    #[must_use]
    pub fn broken(&self, text: &str, size: f64, weight: Weight, width: f64, lines: usize) -> Vec<String> {
        let fits = |line: &str| self.width(line.trim_end(), size, weight) <= width;
        let mut rows = vec![String::new()];
        for piece in pieces(text) {
            let Some(row) = rows.last_mut() else { break };
            if fits(&format!("{row}{piece}")) {
                row.push_str(piece);
                continue;
            }
            if !row.is_empty() {
                rows.push(String::new());
            }
            for letter in piece.chars() {
                let Some(row) = rows.last_mut() else { break };
                if fits(&format!("{row}{letter}")) || row.is_empty() {
                    row.push(letter);
                } else {
                    rows.push(letter.to_string());
                }
            }
        }
        if rows.len() > lines {
            rows.truncate(lines);
            if let Some(last) = rows.last_mut() {
                while !last.is_empty() && !fits(&format!("{last}…")) {
                    last.pop();
                }
                last.push('…');
            }
        }
        rows.iter_mut().for_each(|row| *row = row.trim_end().to_owned());
        rows
    }
}

/// A text in pieces that a line may end after (Unicode UAX 14), spaces kept with the piece before.
pub(crate) fn pieces(text: &str) -> Vec<&str> {
    let ends = unicode_linebreak::linebreaks(text).map(|(end, _)| end);
    ends.scan(0, |start, end| text.get(std::mem::replace(start, end)..end)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_follow_the_face() {
        let lettering = Lettering::embedded().expect("the embedded faces can be read");
        let one = lettering.width("hiss", 16.0, Weight::Regular);
        assert!((lettering.width("hiss", 32.0, Weight::Regular) / one - 2.0).abs() < 1e-4);
        assert!(lettering.width("hiss", 16.0, Weight::Bold) > one);
        // Advance of "h" in Inter Regular: 1211 of 2048 units (fonttools 4 on the embedded file).
        assert!((lettering.width("h", 2048.0, Weight::Regular) - 1211.0).abs() < 1.0);
    }

    #[test]
    fn lines_hold_the_width_and_lose_nothing() {
        let lettering = Lettering::embedded().expect("the embedded faces can be read");
        let text = "Kühlmitteleinfüllöffnung am Ausgleichsbehälter";
        let rows = lettering.broken(text, 19.0, Weight::Bold, 120.0, 9);
        assert!(rows.iter().all(|row| lettering.width(row, 19.0, Weight::Bold) <= 120.0), "{rows:?}");
        assert_eq!(rows.concat().replace(' ', ""), text.replace(' ', ""));
        let cut = lettering.broken(text, 19.0, Weight::Bold, 120.0, 1);
        assert_eq!(cut.len(), 1);
        assert!(cut[0].ends_with('…') && lettering.width(&cut[0], 19.0, Weight::Bold) <= 120.0, "{cut:?}");
    }
}
