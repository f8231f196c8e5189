//! A picture as values: marks on a sheet, drawn alike by every writer (PNG, SVG, PDF).

use super::ink::{PAPER, Tone};
use super::lettering::{Lettering, Weight};

/// A place on the sheet: right and down from the upper left corner, in units (pixels at plain size).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Down.
    pub y: f64,
}

/// A place from its two numbers.
#[must_use]
pub fn spot(x: f64, y: f64) -> Spot {
    Spot { x, y }
}

/// Which part of a text stands at its spot.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// One thing drawn. Sizes are in units of the sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// An open line through spots.
    Line {
        /// The spots.
        through: Vec<Spot>,
        /// Stroke width.
        width: f64,
        /// Its tone.
        tone: Tone,
    },
    /// A filled polygon.
    Area {
        /// The corners.
        corners: Vec<Spot>,
        /// Its tone.
        tone: Tone,
    },
    /// One line of text.
    Text {
        /// Where: on the baseline.
        at: Spot,
        /// What.
        text: String,
        /// Height of the em.
        size: f64,
        /// The face.
        weight: Weight,
        /// Which part of the text stands there.
        anchor: Anchor,
        /// Its tone.
        tone: Tone,
    },
    /// A raster of greys, stretched over a rectangle.
    Raster {
        /// Upper left corner.
        at: Spot,
        /// Width of the rectangle.
        width: f64,
        /// Height of the rectangle.
        height: f64,
        /// Its pixels.
        greys: Greys,
    },
}

/// Grey pixels, row by row from the upper left: 0 is black, 255 white.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Greys {
    /// Pixels in a row; as many rows as the values fill.
    pub columns: usize,
    /// The pixels.
    pub values: Vec<u8>,
}

impl Greys {
    /// How many rows there are.
    #[must_use]
    pub fn rows(&self) -> usize {
        self.values.len().checked_div(self.columns).unwrap_or(0)
    }
}

/// A finished picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    /// Width in units; pixels of a plain PNG.
    pub width: f64,
    /// Height in units.
    pub height: f64,
    /// The tone of the sheet.
    pub ground: Tone,
    /// What is drawn, first below.
    pub marks: Vec<Mark>,
    /// What it shows, in words: for those who cannot see it.
    pub alt: String,
}

impl Picture {
    /// The same picture for a dark screen: every tone of ours becomes its dark partner, greys of a raster stay.
    #[must_use]
    pub fn in_dark(mut self) -> Self {
        self.ground = self.ground.in_dark();
        for mark in &mut self.marks {
            match mark {
                Mark::Line { tone, .. } | Mark::Area { tone, .. } | Mark::Text { tone, .. } => *tone = tone.in_dark(),
                Mark::Raster { .. } => {}
            }
        }
        self
    }
}

/// How wide a picture is laid out. Its height follows from what it shows.
///
/// Letters are the same size in units at every width, so a narrow picture has fewer openings side by side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PictureSize {
    /// 1200 units: a screen, a page, half a page (180 mm wide, its smallest letters are 2.4 mm).
    Page,
    /// 400 units: a phone held upright.
    Phone,
}

impl PictureSize {
    /// The width in units.
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            Self::Page => 1200.0,
            Self::Phone => 400.0,
        }
    }
}

/// A sheet being drawn on.
pub(super) struct Sheet {
    pub(super) width: f64,
    pub(super) lettering: Lettering,
    marks: Vec<Mark>,
}

impl Sheet {
    pub(super) fn new(width: f64, lettering: Lettering) -> Self {
        Self { width, lettering, marks: Vec::new() }
    }

    pub(super) fn finish(self, height: f64, alt: String) -> Picture {
        Picture { width: self.width, height, ground: PAPER, marks: self.marks, alt }
    }

    pub(super) fn line(&mut self, through: Vec<Spot>, width: f64, tone: Tone) {
        self.marks.push(Mark::Line { through, width, tone });
    }

    /// A line in strokes of `dash` with gaps of `gap`, which run on round corners.
    pub(super) fn dashed(&mut self, through: &[Spot], (dash, gap): (f64, f64), width: f64, tone: Tone) {
        let mut stroke: Vec<Spot> = Vec::new();
        let mut left = dash;
        let mut drawing = true;
        for pair in through.windows(2) {
            let [from, to] = [pair[0], pair[1]];
            let length = (to.x - from.x).hypot(to.y - from.y);
            let mut done = 0.0;
            while done < length {
                let along =
                    |way: f64| spot(from.x + (to.x - from.x) * way / length, from.y + (to.y - from.y) * way / length);
                if drawing && stroke.is_empty() {
                    stroke.push(along(done));
                }
                let step = left.min(length - done);
                done += step;
                left -= step;
                if drawing {
                    stroke.push(along(done));
                }
                if left <= 1e-9 {
                    if drawing {
                        self.line(std::mem::take(&mut stroke), width, tone);
                    }
                    drawing = !drawing;
                    left = if drawing { dash } else { gap };
                }
            }
        }
        if stroke.len() > 1 {
            self.line(stroke, width, tone);
        }
    }

    pub(super) fn area(&mut self, corners: Vec<Spot>, tone: Tone) {
        self.marks.push(Mark::Area { corners, tone });
    }

    pub(super) fn raster(&mut self, space: Space, greys: Greys) {
        let Space { left, top, .. } = space;
        let height = space.bottom - space.top;
        self.marks.push(Mark::Raster { at: spot(left, top), width: space.width(), height, greys });
    }

    pub(super) fn fill(&mut self, space: Space, tone: Tone) {
        self.area(space.corners(), tone);
    }

    /// The outline of a space, drawn inside its edge.
    pub(super) fn frame(&mut self, space: Space, width: f64, tone: Tone) {
        let Space { left, top, right, bottom } = space;
        self.fill(Space { left, top, right, bottom: top + width }, tone);
        self.fill(Space { left, top: bottom - width, right, bottom }, tone);
        self.fill(Space { left, top, right: left + width, bottom }, tone);
        self.fill(Space { left: right - width, top, right, bottom }, tone);
    }

    /// Slanted lines `step` apart that fill a space.
    pub(super) fn hatch(&mut self, space: Space, step: f64, width: f64, tone: Tone) {
        let Space { left, top, right, bottom } = space;
        let (wide, high) = (right - left, bottom - top);
        let mut run = step / 2.0;
        while run < wide + high {
            // The line x + y = run, from the left or lower edge to the upper or right edge.
            let from = if run <= high { spot(left, top + run) } else { spot(left + run - high, bottom) };
            let to = if run <= wide { spot(left + run, top) } else { spot(right, top + run - wide) };
            self.line(vec![from, to], width, tone);
            run += step;
        }
    }

    pub(super) fn disc(&mut self, centre: Spot, radius: f64, tone: Tone) {
        let corner = |step: u32| {
            let angle = f64::from(step) * std::f64::consts::TAU / 32.0;
            spot(centre.x + radius * angle.cos(), centre.y + radius * angle.sin())
        };
        self.area((0..32).map(corner).collect(), tone);
    }

    pub(super) fn text(&mut self, at: Spot, text: impl Into<String>, style: Style) {
        let Style { size, weight, anchor, tone } = style;
        self.marks.push(Mark::Text { at, text: text.into(), size, weight, anchor, tone });
    }
}

/// How a text looks.
#[derive(Debug, Clone, Copy)]
pub(super) struct Style {
    pub(super) size: f64,
    pub(super) weight: Weight,
    pub(super) anchor: Anchor,
    pub(super) tone: Tone,
}

impl Style {
    pub(super) const fn new(size: f64, weight: Weight, anchor: Anchor, tone: Tone) -> Self {
        Self { size, weight, anchor, tone }
    }
}

/// A rectangle on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Space {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Space {
    pub(super) fn width(self) -> f64 {
        self.right - self.left
    }

    pub(super) fn corners(self) -> Vec<Spot> {
        let Self { left, top, right, bottom } = self;
        vec![spot(left, top), spot(right, top), spot(right, bottom), spot(left, bottom)]
    }
}
