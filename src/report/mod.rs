//! Values to text, JSON, HTML.
//!
//! [`text`] and [`json`] write rankings for a terminal and for programs. The report is made in two steps:
//! [`document`] says everything once, as values; [`html`] writes that as a page.

mod compare;
mod content;
mod document;
mod error;
mod gauge;
mod grid;
mod history;
mod html;
mod json;
mod kept;
mod sentences;
mod text;

pub use compare::{comparison_json, comparison_text};
pub use content::{ReportHead, ReportInput, document};
pub use document::{Block, Cell, Certainty, Document, Row, Section, Table};
pub use error::ReportError;
pub use gauge::{gauge_json, gauge_text, rig_json, rig_text};
pub use history::{history_json, history_text};
pub use html::html;
pub use json::{json, kept_json};
pub use kept::{KeptCall, KeptRanking};
pub use text::{TextStyle, text};
