//! The report as papers: PDF, A4 or Letter, tagged (PDF/UA-1), nothing cut at the end of a page.
//!
//! In three steps: blocks become [`Piece`]s that are not to be cut (`composing`, `cards`, `tables`), pieces become pages
//! (`pages`), pages become a file (`writing`).

mod cards;
mod composing;
mod pages;
mod piece;
mod structure;
mod tables;
mod typesetting;
mod writing;

use std::str::FromStr;

use super::document::Document;
use super::error::ReportError;

/// The size of a sheet of paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum PaperSize {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 × 11 in (ANSI/ASME Y14.1, size A).
    Letter,
}

/// A text that names no paper.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("'{got}' is not a paper size: use a4 or letter")]
pub struct PaperSizeError {
    got: String,
}

impl FromStr for PaperSize {
    type Err = PaperSizeError;

    fn from_str(text: &str) -> Result<Self, PaperSizeError> {
        match text {
            "a4" => Ok(Self::A4),
            "letter" => Ok(Self::Letter),
            _ => Err(PaperSizeError { got: text.chars().take(40).collect() }),
        }
    }
}

/// Points (1/72 in) in a millimetre.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

impl PaperSize {
    /// Width and height in points.
    #[must_use]
    pub fn points(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0 * POINTS_PER_MM, 297.0 * POINTS_PER_MM),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// Where text stands on a sheet, in points.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Sheet {
    width: f64,
    height: f64,
    left: f64,
    top: f64,
    /// Width of the text.
    measure: f64,
    /// Height of the text.
    depth: f64,
}

impl Sheet {
    fn of(size: PaperSize) -> Self {
        let (width, height) = size.points();
        let (left, top, foot) = (17.0 * POINTS_PER_MM, 15.0 * POINTS_PER_MM, 19.0 * POINTS_PER_MM);
        Self { width, height, left, top, measure: width - 2.0 * left, depth: height - top - foot }
    }
}

/// Writes a document as PDF.
///
/// # Errors
/// [`ReportError`] where the embedded font is damaged or the writer refuses.
pub fn pdf(document: &Document, size: PaperSize) -> Result<Vec<u8>, ReportError> {
    let sheet = Sheet::of(size);
    let composed = composing::composed(document, sheet)?;
    let pages = pages::paged(composed.pieces, sheet);
    writing::written(document, sheet, &composed.typesetter, composed.structure, &pages)
}
