//! A report as values: what it says, in order, before it becomes a page or paper.
//!
//! Every writer renders the same document, so that the page and the paper say the same.

use crate::plot::Picture;

/// A whole report.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// The language's code.
    pub language: String,
    /// The title, also that of the file.
    pub title: String,
    /// Under the title: as given by the user.
    pub subject: String,
    /// What it consists of.
    pub sections: Vec<Section>,
    /// The last line: what made it.
    pub colophon: String,
}

/// A part with a heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The heading; the first section, under the title, has none.
    pub title: Option<String>,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// A piece of a section; none is to be cut by a page's end, but a long table between its rows.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Names and values. The values are the user's own text.
    Facts(Vec<(String, String)>),
    /// The answer for one cylinder.
    Finding {
        /// How sure the answer is, as a shape of its frame.
        certainty: Certainty,
        /// The cylinder and the call.
        title: String,
        /// What was found, what it means, what to do next.
        sentences: Vec<String>,
    },
    /// A paragraph.
    Paragraph(String),
    /// Points, each with a lead that stands out, if it has one.
    Points(Vec<(Option<String>, String)>),
    /// A picture, laid out for wide and for narrow pages.
    Figure {
        /// For a desktop and for paper.
        wide: Picture,
        /// For a phone.
        narrow: Picture,
        /// Its caption.
        caption: String,
    },
    /// A table.
    Table(Table),
}

/// How firmly a finding speaks: drawn as a line, so that it shows without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Certainty {
    /// One place holds at least 95 %.
    Firm,
    /// More than one place.
    Several,
    /// Nothing was heard.
    Nothing,
    /// No answer yet.
    Open,
}

/// A table with a caption and a head; the first cell of a row is its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// The caption.
    pub caption: String,
    /// The columns' names.
    pub head: Vec<String>,
    /// The rows.
    pub rows: Vec<Row>,
}

/// A row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Whether it belongs to the answer.
    pub strong: bool,
    /// Its cells.
    pub cells: Vec<Cell>,
}

/// A cell: a text, and a smaller one under it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Cell {
    /// The text.
    pub text: String,
    /// Under it.
    pub under: Option<String>,
}
