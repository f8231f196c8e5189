//! A report as values: what it says, in order, before it becomes a page or paper.
//!
//! Every writer renders the same document, so that the page and the paper say the same.

use super::letterhead::Letterhead;
use crate::plot::Picture;

/// A whole report.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// The language's code.
    pub language: String,
    /// Whose paper it is, where the shop has given a head.
    pub letterhead: Option<Letterhead>,
    /// The title, also that of the file.
    pub title: String,
    /// Under the title: as given by the user.
    pub subject: String,
    /// What it consists of.
    pub sections: Vec<Section>,
    /// What the appendix is called, where a page has it closed at first.
    pub appendix: String,
    /// The last line: what made it.
    pub colophon: String,
    /// What papers say at the foot of a page, and where they cannot show what the page can.
    pub paper: PaperWords,
}

/// Words that only papers need.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PaperWords {
    /// At the foot of each page, with `#` for its number and `##` for how many there are.
    pub page_of: String,
    /// Where signs of the user's text are not in the paper's font.
    pub signs_missing: String,
}

/// A part with a heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// The heading; the first section, under the title, has none.
    pub title: Option<String>,
    /// Whether the appendix begins here. What stands before it is page one: on paper one sheet, on a page what is
    /// open at once.
    pub opens_part: bool,
    /// What stands in it.
    pub blocks: Vec<Block>,
}

/// A piece of a section; none is to be cut by a page's end, but a long table between its rows and a long text
/// between its lines.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Names and values. The values are the user's own text.
    Facts(Vec<(String, String)>),
    /// The answers, one for each cylinder, what needs doing first first.
    Cards(Vec<Card>),
    /// A paragraph that stands out: the whole in a sentence.
    Answer(String),
    /// What is to be written by hand on the paper: names of lines.
    Signature(Vec<String>),
    /// A heading of third rank.
    Heading(String),
    /// A paragraph.
    Paragraph(String),
    /// Points, each with a lead that stands out, if it has one.
    Points(Vec<(Option<String>, String)>),
    /// Steps to be taken in this order.
    Steps(Vec<String>),
    /// A picture, laid out for wide and for narrow pages.
    Figure(Figure),
    /// What a player plays: seen, and on a page heard.
    Sound {
        /// The strip.
        figure: Figure,
        /// The player.
        player: Player,
    },
    /// A table.
    Table(Table),
}

/// The answer for one cylinder, to be read in seconds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Card {
    /// How sure the answer is, as a shape of its frame.
    pub certainty: Certainty,
    /// The cylinder.
    pub title: String,
    /// What it asks for, in two or three words.
    pub action: String,
    /// How much is lost, with its interval.
    pub loss: String,
    /// Where the air goes.
    pub answer: String,
    /// How sure that is, and what else has to be said here.
    pub lines: Vec<String>,
}

/// A picture with its caption.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// For a desktop and for paper.
    pub wide: Picture,
    /// For a phone.
    pub narrow: Picture,
    /// Its caption.
    pub caption: String,
}

/// A sound to be played.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Player {
    /// What it plays, for those who cannot see the page.
    pub label: String,
    /// The sound's type (`audio/flac`).
    pub kind: &'static str,
    /// The sound's file.
    pub file: Vec<u8>,
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
    /// Whether the columns after the first hold figures, which stand to the right; words stand to the left.
    pub figures: bool,
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

impl Cell {
    /// A cell with one text.
    #[must_use]
    pub fn of(text: impl Into<String>) -> Self {
        Self { text: text.into(), under: None }
    }

    /// A cell with a smaller text under the first.
    #[must_use]
    pub fn with(text: impl Into<String>, under: impl Into<String>) -> Self {
        Self { text: text.into(), under: Some(under.into()) }
    }
}
