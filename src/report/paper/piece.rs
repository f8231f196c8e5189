//! A piece of a page that is not to be cut.

use std::rc::Rc;

use super::structure::ElementIndex;
use super::typesetting::Run;
use crate::plot::{Picture, Tone};
use crate::report::letterhead::Logo;

/// What is drawn, from the piece's upper left corner, in points.
#[derive(Clone)]
pub(super) enum Ink {
    /// A text on its baseline.
    Text {
        x: f64,
        baseline: f64,
        run: Run,
        tone: Tone,
        /// What it belongs to; nothing where it is only for the eye (a table's head said again).
        place: Option<ElementIndex>,
    },
    /// A rectangle for the eye alone.
    Fill { x: f64, y: f64, width: f64, height: f64, tone: Tone },
    /// A picture.
    Picture { x: f64, y: f64, scale: f64, picture: Rc<Picture>, place: ElementIndex },
    /// The shop's logo.
    Logo { x: f64, y: f64, width: f64, height: f64, logo: Rc<Logo>, place: ElementIndex },
}

/// A piece of a page.
#[derive(Clone, Default)]
pub(super) struct Piece {
    /// Space over it; not at the head of a page.
    pub(super) before: f64,
    pub(super) height: f64,
    /// Not to be parted from the next.
    pub(super) stays: bool,
    /// Begins a page.
    pub(super) opens_page: bool,
    pub(super) inks: Vec<Ink>,
    /// The head of the table it belongs to, said again where it begins a page.
    pub(super) head: Option<Rc<Piece>>,
    /// A heading for the outline.
    pub(super) outline: Option<String>,
}
