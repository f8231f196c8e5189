//! Values to text, JSON, HTML.
//!
//! [`text`] and [`json`] write rankings for a terminal and for programs. The report is made in two steps:
//! [`document`] says everything once, as values; [`html`] writes that as a page.

mod content;
mod document;
mod error;
mod gauge;
mod html;
mod json;
mod sentences;
mod text;

pub use content::{ReportHead, ReportInput, document};
pub use document::{Block, Cell, Certainty, Document, Row, Section, Table};
pub use error::ReportError;
pub use gauge::{gauge_json, gauge_text, rig_json, rig_text};
pub use html::html;
pub use json::json;
pub use text::{TextStyle, headline, text};
