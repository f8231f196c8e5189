//! Text to glyphs and lines.

use std::cell::Cell;

use krilla::text::{Font, GlyphId, KrillaGlyph};
use rustybuzz::{Face, Feature, UnicodeBuffer};

use crate::plot::{BOLD_FACE, Lettering, PictureError, REGULAR_FACE, Weight, line_pieces};
use crate::report::error::ReportError;

/// Stands for a sign that the font lacks.
const MISSING: char = '□';

/// A text of one face and size, shaped.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub(super) text: String,
    pub(super) glyphs: Vec<KrillaGlyph>,
    pub(super) weight: Weight,
    pub(super) size: f64,
    pub(super) width: f64,
}

/// The two faces, for shaping and for writing.
pub(super) struct Typesetter {
    lettering: Lettering,
    faces: [Face<'static>; 2],
    fonts: [Font; 2],
    missed: Cell<bool>,
}

impl Typesetter {
    pub(super) fn new() -> Result<Self, ReportError> {
        let damaged = || ReportError::Picture(PictureError::Font);
        let face = |bytes: &'static [u8]| Face::from_slice(bytes, 0).ok_or_else(damaged);
        let font = |bytes: &'static [u8]| Font::new(bytes.into(), 0).ok_or_else(damaged);
        Ok(Self {
            lettering: Lettering::embedded().ok_or_else(damaged)?,
            faces: [face(REGULAR_FACE)?, face(BOLD_FACE)?],
            fonts: [font(REGULAR_FACE)?, font(BOLD_FACE)?],
            missed: Cell::new(false),
        })
    }

    pub(super) fn font(&self, weight: Weight) -> Font {
        self.fonts[index(weight)].clone()
    }

    /// Whether a sign was asked for that the font lacks.
    pub(super) fn missed(&self) -> bool {
        self.missed.get()
    }

    /// The text with signs of the font only: what it lacks becomes a box, what steers is left out.
    pub(super) fn printable(&self, text: &str) -> String {
        let known = |letter: &char| self.faces[0].glyph_index(*letter).is_some();
        let mut plain = String::with_capacity(text.len());
        for letter in text.chars() {
            match letter {
                '\n' => plain.push('\n'),
                '\t' => plain.push(' '),
                control if control.is_control() || is_invisible(control) => {}
                letter if known(&letter) => plain.push(letter),
                _ => {
                    self.missed.set(true);
                    plain.push(MISSING);
                }
            }
        }
        // A number stays with its unit.
        plain.replace(" %", "\u{a0}%")
    }

    /// Shapes a printable text. Figures alone are of equal width, so that columns of them stand straight.
    pub(super) fn run(&self, text: &str, size: f64, weight: Weight) -> Run {
        let face = &self.faces[index(weight)];
        let em = f64::from(face.units_per_em());
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        // Beside letters they would tear words apart: the hyphen widens with them.
        let figures = u32::from(!text.contains(char::is_alphabetic));
        let figures = Feature::new(rustybuzz::ttf_parser::Tag::from_bytes(b"tnum"), figures, ..);
        let shaped = rustybuzz::shape(face, &[figures], buffer);
        let starts: Vec<usize> = shaped.glyph_infos().iter().map(|info| info.cluster as usize).collect();
        let mut glyphs = Vec::with_capacity(starts.len());
        let mut width = 0.0;
        for (place, (info, position)) in shaped.glyph_infos().iter().zip(shaped.glyph_positions()).enumerate() {
            let part = |units: i32| (f64::from(units) / em) as f32;
            let start = starts[place];
            let end = starts[place..].iter().copied().find(|next| *next > start).unwrap_or(text.len());
            glyphs.push(KrillaGlyph::new(
                GlyphId::new(info.glyph_id),
                part(position.x_advance),
                part(position.x_offset),
                part(position.y_offset),
                part(position.y_advance),
                start..end,
                None,
            ));
            width += f64::from(position.x_advance) / em * size;
        }
        Run { text: text.to_owned(), glyphs, weight, size, width }
    }

    /// A text of several weights in lines of at most `width`; line breaks of the text are kept.
    pub(super) fn lines(&self, spans: &[(&str, Weight)], size: f64, width: f64) -> Vec<Vec<Run>> {
        let mut lines: Vec<Vec<(String, Weight)>> = vec![Vec::new()];
        let mut used = 0.0;
        for (text, weight) in spans {
            for (place, paragraph) in self.printable(text).split('\n').enumerate() {
                if place > 0 {
                    lines.push(Vec::new());
                    used = 0.0;
                }
                for piece in self.pieces(paragraph, size, *weight, width) {
                    let wide = self.width(&piece, size, *weight);
                    let bare = self.width(piece.trim_end(), size, *weight);
                    if used > 0.0 && used + bare > width {
                        lines.push(Vec::new());
                        used = 0.0;
                    }
                    used += wide;
                    if let Some(line) = lines.last_mut() {
                        match line.last_mut() {
                            Some((text, of)) if of == weight => text.push_str(&piece),
                            _ => line.push((piece, *weight)),
                        }
                    }
                }
            }
        }
        let count = lines.len();
        let shaped = lines.into_iter().enumerate().map(|(place, line)| {
            // A word at a line's end keeps its blank for who reads the text aloud; the last line needs none.
            let last = place + 1 == count;
            let runs = line.len();
            line.into_iter()
                .enumerate()
                .map(|(row, (text, weight))| {
                    let text = if last && row + 1 == runs { text.trim_end() } else { &text };
                    self.run(text, size, weight)
                })
                .collect()
        });
        shaped.collect()
    }

    /// What a line may end after; a word too long for a line also ends between letters.
    fn pieces(&self, text: &str, size: f64, weight: Weight, width: f64) -> Vec<String> {
        line_pieces(text)
            .into_iter()
            .flat_map(|word| {
                if self.width(word.trim_end(), size, weight) <= width {
                    return vec![word.to_owned()];
                }
                let mut parts = self.lettering.broken(word.trim_end(), size, weight, width, usize::MAX);
                if let Some(last) = parts.last_mut().filter(|_| word.ends_with(' ')) {
                    last.push(' ');
                }
                parts
            })
            .collect()
    }

    /// How wide a printable text is, as it is shaped.
    pub(super) fn width(&self, text: &str, size: f64, weight: Weight) -> f64 {
        self.run(text, size, weight).width
    }
}

fn index(weight: Weight) -> usize {
    match weight {
        Weight::Regular => 0,
        Weight::Bold => 1,
    }
}

/// Signs without a shape of their own: joiners, marks of direction, variation selectors, soft hyphens.
fn is_invisible(letter: char) -> bool {
    matches!(u32::from(letter), 0xad | 0x200b..=0x200f | 0x202a..=0x202e | 0x2060..=0x206f | 0xfe00..=0xfe0f | 0xfeff)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typesetter() -> Typesetter {
        Typesetter::new().expect("the embedded faces can be read")
    }

    #[test]
    fn lines_hold_the_measure_and_lose_nothing() {
        let setter = typesetter();
        let text = "Air in the cylinder can turn the crank without warning: lock it, take spanners off.";
        let lines = setter.lines(&[("Mind: ", Weight::Bold), (text, Weight::Regular)], 9.4, 150.0);
        assert!(lines.len() > 2);
        for line in &lines {
            let shown: f64 = line.iter().map(|run| run.width).sum();
            // A blank at the end hangs over; kerning takes a little off.
            assert!(shown <= 150.0 + setter.width(" ", 9.4, Weight::Regular), "{shown}");
        }
        let joined: String = lines.iter().flatten().map(|run| run.text.as_str()).collect();
        assert_eq!(joined, format!("Mind: {text}"));
    }

    #[test]
    fn what_the_font_lacks_is_a_box_and_is_told() {
        let setter = typesetter();
        assert_eq!(setter.printable("Öl ≤ 3\u{202e}\u{1b}"), "Öl ≤ 3");
        assert!(!setter.missed());
        assert_eq!(setter.printable("שלום 🛥"), "□□□□ □");
        assert!(setter.missed());
    }

    #[test]
    fn figures_are_equally_wide() {
        let setter = typesetter();
        let width = |text: &str| setter.run(text, 10.0, Weight::Regular).width;
        assert!((width("111.1") - width("888.8")).abs() < 1e-9);
    }
}
