//! Values to pictures.
//!
//! [`comparison`], [`glance`] and [`spectrogram_strip`] lay marks on a sheet ([`Picture`]); PNG, SVG and papers are written from
//! the same marks.
//! What a colour says is also said by a shape: line styles, hatching, frames, words.

mod before_after;
mod captions;
mod comparison;
mod glance;
mod history;
mod ink;
mod legend;
mod lettering;
mod panels;
mod picture;
mod render;
mod scale;
mod spectrogram_strip;
mod track_record;

pub use before_after::{BeforeAfterRow, TimePoint, before_after};
pub use comparison::{PictureTitle, comparison, comparison_of_each, comparison_titled};
pub use glance::{GlanceMark, GlanceRow, glance};
pub use history::history;
pub use ink::{AIR, HATCH, INK, MIST, PAPER, QUIET, RISE, RULE, SOFT, Tone};
pub(crate) use lettering::pieces as line_pieces;
pub use lettering::{BOLD_FACE, BOLD_WEB_FACE, Lettering, REGULAR_FACE, REGULAR_WEB_FACE, Weight};
pub use picture::{Anchor, Greys, Mark, Picture, PictureSize, Spot, spot};
pub use render::{FONT_FAMILY, PictureError, escaped};
pub use spectrogram_strip::{GreyScale, Stretch, spectrogram_strip};
pub use track_record::track_record;
