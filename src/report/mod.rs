//! Values to text, JSON, HTML, PDF.
//!
//! [`text`], [`json`] and [`csv`] write results for a terminal, for programs and for tables. The report is made in two steps:
//! [`document`] says everything once, as values; [`html`] writes that as a page, [`pdf`] as papers.

mod before_after;
mod compare;
mod content;
mod csv;
mod cylinders;
mod document;
mod error;
mod front;
mod gauge;
mod grid;
mod history;
mod html;
mod input;
mod json;
mod kept;
mod letterhead;
mod paper;
mod readings;
mod sentences;
mod settings;
mod technician;
mod text;
mod track_record;

pub use self::csv::csv;
pub use before_after::{BeforeAfterInput, before_after_document, before_after_picture};
pub use compare::{comparison_json, comparison_text};
pub use content::document;
pub use document::{Block, Card, Cell, Certainty, Document, Figure, PaperWords, Player, Row, Section, Table};
pub use error::ReportError;
pub use front::loss_in_words;
pub use gauge::{ReadingReport, gauge_json, gauge_text, rig_json, rig_text};
pub use history::{history_json, history_text};
pub use html::html;
pub use input::{AmendedNote, Circumstances, ClipNote, ReportHead, ReportInput, ReportSound, ReportSounds};
pub use json::{json, kept_json};
pub use kept::{KeptCall, KeptRanking};
pub use letterhead::{LARGEST_LOGO, LONGEST_LOGO_SIDE, Letterhead, Logo};
pub use paper::{PaperSize, PaperSizeError, pdf};
pub use sentences::next_in_words;
pub use text::{TextStyle, headline, text};
pub use track_record::track_record_text;
