//! Blocks to pieces: the look of the paper.

use std::num::NonZeroU16;
use std::rc::Rc;

use krilla::tagging::{ListNumbering, Tag};

use super::Sheet;
use super::piece::{Ink, Piece};
use super::structure::{ElementIndex, Structure};
use super::tables;
use super::typesetting::{Run, Typesetter};
use crate::plot::{INK, Picture, RULE, SOFT, Tone, Weight};
use crate::report::document::{Block, Document, Figure, Section};
use crate::report::error::ReportError;
use crate::report::letterhead::Letterhead;

/// Size and line height of text, in points.
#[derive(Debug, Clone, Copy)]
pub(super) struct Text {
    pub(super) size: f64,
    pub(super) line: f64,
    pub(super) weight: Weight,
    pub(super) tone: Tone,
}

impl Text {
    const fn new(size: f64, line: f64, weight: Weight, tone: Tone) -> Self {
        Self { size, line, weight, tone }
    }

    /// The same, larger or smaller.
    pub(super) fn at(self, scale: f64) -> Self {
        Self { size: self.size * scale, line: self.line * scale, ..self }
    }

    /// From the upper edge of a line to its baseline.
    pub(super) fn baseline(self) -> f64 {
        // Inter's ascent is 0.97 em; capitals are 0.73 em high.
        self.line / 2.0 + 0.36 * self.size
    }
}

pub(super) const BODY: Text = Text::new(9.4, 12.9, Weight::Regular, INK);
pub(super) const SMALL: Text = Text::new(8.0, 10.8, Weight::Regular, SOFT);
const CAPTION: Text = Text::new(8.4, 11.4, Weight::Regular, SOFT);
const SHOP: Text = Text::new(12.0, 15.5, Weight::Bold, INK);
const TITLE: Text = Text::new(9.4, 13.0, Weight::Regular, SOFT);
const SUBJECT: Text = Text::new(19.0, 23.0, Weight::Bold, INK);
const SECTION: Text = Text::new(12.5, 16.0, Weight::Bold, INK);
pub(super) const THIRD: Text = Text::new(10.2, 13.6, Weight::Bold, INK);
pub(super) const ANSWER: Text = Text::new(12.0, 15.6, Weight::Bold, INK);
/// Sizes that page one is tried at: at the last, body text is 6.6 points.
const SCALES: [f64; 7] = [1.0, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7];
/// Space over the last line, which says what made the paper.
const END_BEFORE: f64 = 18.0;
/// A text of so many lines is parted only after its second and before its last but one.
const WIDOW: usize = 2;
/// Margin that a picture's own sheet has at each side, in its units.
const PICTURE_MARGIN: f64 = 24.0;
/// The most of a page's depth that a picture takes.
const PICTURE_DEPTH: f64 = 0.8;
/// Two pictures of this depth, with captions and a heading, share a page …
const PAIR_DEPTH: f64 = 0.4;
/// … and one that is not much deeper is made to: its smallest letters stay above 2 mm.
const NEARLY_HALF: f64 = 0.52;

/// All pieces, and the tree that says what they are.
pub(super) struct Composed {
    pub(super) pieces: Vec<Piece>,
    pub(super) structure: Structure,
    pub(super) typesetter: Typesetter,
}

/// Composes a document.
pub(super) fn composed(document: &Document, sheet: Sheet) -> Result<Composed, ReportError> {
    let mut composer = Composer {
        pieces: Vec::new(),
        structure: Structure::default(),
        typesetter: Typesetter::new()?,
        measure: sheet.measure,
        depth: sheet.depth,
        scale: 1.0,
    };
    composer.document(document);
    let Composer { pieces, structure, typesetter, .. } = composer;
    Ok(Composed { pieces, structure, typesetter })
}

pub(super) struct Composer {
    pub(super) pieces: Vec<Piece>,
    pub(super) structure: Structure,
    pub(super) typesetter: Typesetter,
    pub(super) measure: f64,
    pub(super) depth: f64,
    /// All sizes are multiplied by this: page one is to fit on one sheet.
    pub(super) scale: f64,
}

impl Composer {
    fn document(&mut self, document: &Document) {
        let appendix = document.sections.iter().position(|section| section.opens_part);
        let (front, rest) = document.sections.split_at(appendix.unwrap_or(document.sections.len()));
        self.scale = self.scale_of_front(document, front);
        self.front(document, front);
        self.scale = 1.0;
        for section in rest {
            self.section(section);
        }
        let end = self.structure.top(Tag::P);
        self.text(&document.colophon, SMALL, 0.0, END_BEFORE, end);
        if self.typesetter.missed() {
            let note = self.structure.top(Tag::P);
            self.text(&document.paper.signs_missing, SMALL, 0.0, 4.0, note);
        }
    }

    fn front(&mut self, document: &Document, sections: &[Section]) {
        if let Some(letterhead) = &document.letterhead {
            self.letterhead(letterhead);
        }
        self.title(&document.title, &document.subject);
        for section in sections {
            self.section(section);
        }
    }

    /// The largest scale at which page one fits on its sheet; where none does it runs on at full size.
    fn scale_of_front(&mut self, document: &Document, sections: &[Section]) -> f64 {
        SCALES
            .into_iter()
            .find(|scale| {
                let kept = (std::mem::take(&mut self.pieces), std::mem::take(&mut self.structure));
                self.scale = *scale;
                self.front(document, sections);
                // Where there is no appendix the last line stands on the same sheet.
                let end = if sections.len() == document.sections.len() { END_BEFORE + SMALL.line } else { 0.0 };
                let height = self.pieces.iter().map(|piece| piece.before + piece.height).sum::<f64>() + end;
                (self.pieces, self.structure) = kept;
                height <= self.depth
            })
            .unwrap_or(1.0)
    }

    /// Name and address to the left, the logo to the right.
    fn letterhead(&mut self, letterhead: &Letterhead) {
        const LOGO_WIDTH: f64 = 150.0;
        const LOGO_HEIGHT: f64 = 46.0;
        let group = self.structure.top(Tag::Div);
        let mut piece = Piece::default();
        let room = self.measure - LOGO_WIDTH - 20.0;
        let texts =
            std::iter::once((&letterhead.name, SHOP)).chain(letterhead.address.iter().map(|line| (line, SMALL)));
        for (text, style) in texts {
            let place = self.structure.inside(group, Tag::P);
            for line in self.typesetter.lines(&[(text, style.weight)], style.size, room) {
                put(&mut piece.inks, line, 0.0, piece.height + style.baseline(), style.tone, Some(place));
                piece.height += style.line;
            }
        }
        if let Some(logo) = &letterhead.logo {
            let height = LOGO_HEIGHT.min(LOGO_WIDTH / logo.aspect());
            let width = height * logo.aspect();
            let alt = self.typesetter.printable(&letterhead.name);
            let place = self.structure.inside(group, Tag::Figure(Some(alt)));
            let logo = Rc::new(logo.clone());
            piece.inks.push(Ink::Logo { x: self.measure - width, y: 0.0, width, height, logo, place });
            piece.height = piece.height.max(height);
        }
        self.pieces.push(piece);
    }

    fn title(&mut self, title: &str, subject: &str) {
        let before = if self.pieces.is_empty() { 0.0 } else { 14.0 };
        self.rule(before, 5.0, INK);
        let place = self.structure.top(Tag::P);
        self.text(title, TITLE, 0.0, 10.0, place);
        self.stay();
        let place = self.structure.top(Tag::Hn(level(1), Some(subject.chars().take(200).collect())));
        self.text(subject, SUBJECT, 0.0, 1.0, place);
    }

    fn section(&mut self, section: &Section) {
        let first = self.pieces.len();
        if section.opens_part {
            self.rule(0.0, 5.0, INK);
        }
        if let Some(title) = &section.title {
            if !section.opens_part {
                self.rule(15.0, 0.7, RULE);
            }
            let place = self.structure.top(Tag::Hn(level(2), Some(title.clone())));
            let start = self.pieces.len();
            self.text(title, SECTION, 0.0, 7.0, place);
            if let Some(piece) = self.pieces.get_mut(start) {
                piece.outline = Some(title.clone());
            }
            self.stay();
        }
        if let Some(piece) = self.pieces.get_mut(first) {
            piece.opens_page = section.opens_part;
        }
        for block in &section.blocks {
            self.block(block);
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Facts(facts) => self.facts(facts),
            Block::Cards(cards) => cards.iter().for_each(|card| self.card(card)),
            Block::Answer(text) => {
                let place = self.structure.top(Tag::P);
                self.text(text, THIRD, 0.0, 4.0, place);
            }
            Block::Signature(lines) => self.signature(lines),
            Block::Heading(text) => {
                let place = self.structure.top(Tag::Hn(level(3), Some(text.clone())));
                self.text(text, THIRD, 0.0, 10.0, place);
                self.stay();
            }
            Block::Paragraph(text) => {
                let place = self.structure.top(Tag::P);
                self.text(text, BODY, 0.0, 5.0, place);
            }
            Block::Points(points) => {
                let spans = points.iter().map(|(lead, text)| {
                    let lead = lead.as_ref().map(|lead| format!("{lead}: "));
                    (String::from("•"), lead, text.as_str())
                });
                self.list(&spans.collect::<Vec<_>>(), ListNumbering::Disc, 9.0);
            }
            Block::Steps(steps) => {
                let spans =
                    steps.iter().enumerate().map(|(place, step)| (format!("{}.", place + 1), None, step.as_str()));
                self.list(&spans.collect::<Vec<_>>(), ListNumbering::Decimal, 15.0);
            }
            Block::Figure(figure) => self.figure(figure, false),
            Block::Sound { figure, .. } => self.figure(figure, true),
            Block::Table(table) => tables::table(self, table),
        }
    }

    /// A rule across the measure that stays with what follows.
    fn rule(&mut self, before: f64, height: f64, tone: Tone) {
        let ink = Ink::Fill { x: 0.0, y: 0.0, width: self.measure, height, tone };
        let before = before * self.scale;
        self.pieces.push(Piece { before, height, stays: true, inks: vec![ink], ..Piece::default() });
    }

    /// The last piece is not to be parted from the next.
    pub(super) fn stay(&mut self) {
        if let Some(piece) = self.pieces.last_mut() {
            piece.stays = true;
        }
    }

    /// A text from `x` to the end of the measure, a piece a line.
    pub(super) fn text(&mut self, text: &str, style: Text, x: f64, before: f64, place: ElementIndex) {
        self.spans(&[(text, style.weight)], style, x, before, place);
    }

    fn spans(&mut self, spans: &[(&str, Weight)], style: Text, x: f64, before: f64, place: ElementIndex) {
        let style = style.at(self.scale);
        let lines = self.typesetter.lines(spans, style.size, self.measure - x);
        let count = lines.len();
        for (row, line) in lines.into_iter().enumerate() {
            let mut piece = Piece { height: style.line, ..Piece::default() };
            piece.before = if row == 0 { before * self.scale } else { 0.0 };
            piece.stays = row + 1 < count && (row + 1 < WIDOW || count - row - 1 < WIDOW);
            put(&mut piece.inks, line, x, style.baseline(), style.tone, Some(place));
            self.pieces.push(piece);
        }
    }

    fn facts(&mut self, facts: &[(String, String)]) {
        const NAMES: f64 = 112.0;
        if facts.is_empty() {
            return;
        }
        let body_text = BODY.at(self.scale);
        let list = self.structure.top(Tag::L(ListNumbering::None));
        for (row, (name, value)) in facts.iter().enumerate() {
            let item = self.structure.inside(list, Tag::LI);
            let label = self.structure.inside(item, Tag::Lbl);
            let body = self.structure.inside(item, Tag::LBody);
            let first = self.pieces.len();
            self.text(value, BODY, NAMES, if row == 0 { 6.0 } else { 1.5 }, body);
            let name = self.typesetter.lines(&[(name, Weight::Regular)], body_text.size, NAMES - 8.0);
            for (row, line) in name.into_iter().enumerate() {
                if self.pieces.len() <= first + row {
                    self.pieces.push(Piece { height: body_text.line, ..Piece::default() });
                }
                if let Some(piece) = self.pieces.get_mut(first + row) {
                    put(&mut piece.inks, line, 0.0, body_text.baseline(), SOFT, Some(label));
                }
            }
        }
    }

    /// Marks before texts that hang from them.
    fn list(&mut self, items: &[(String, Option<String>, &str)], numbering: ListNumbering, hang: f64) {
        if items.is_empty() {
            return;
        }
        let list = self.structure.top(Tag::L(numbering));
        for (row, (mark, lead, text)) in items.iter().enumerate() {
            let item = self.structure.inside(list, Tag::LI);
            let label = self.structure.inside(item, Tag::Lbl);
            let body = self.structure.inside(item, Tag::LBody);
            let first = self.pieces.len();
            let mut spans: Vec<(&str, Weight)> = lead.iter().map(|lead| (lead.as_str(), Weight::Bold)).collect();
            spans.push((text, Weight::Regular));
            self.spans(&spans, BODY, hang, if row == 0 { 4.0 } else { 3.0 }, body);
            let body_text = BODY.at(self.scale);
            let run = self.typesetter.run(mark, body_text.size, Weight::Regular);
            if let Some(piece) = self.pieces.get_mut(first) {
                // The mark is read before its text.
                let ink = Ink::Text { x: 0.0, baseline: body_text.baseline(), run, tone: INK, place: Some(label) };
                piece.inks.insert(0, ink);
            }
        }
    }

    /// A picture with its caption: under it, or over it where the caption names what is heard.
    fn figure(&mut self, figure: &Figure, caption_first: bool) {
        let alt = self.typesetter.printable(&figure.wide.alt);
        let place = self.structure.top(Tag::Figure(Some(alt)));
        let words = self.structure.inside(place, Tag::Caption);
        if caption_first {
            let style = Text { weight: Weight::Bold, tone: INK, ..CAPTION };
            self.text(&figure.caption, style, 0.0, 9.0, words);
            self.stay();
            self.picture(&figure.wide, 2.0, place);
        } else {
            self.picture(&figure.wide, 3.0, place);
            self.stay();
            let first = self.pieces.len();
            // The picture's own margin is space enough.
            self.text(&figure.caption, CAPTION, 0.0, -3.0, words);
            let last = self.pieces.len();
            self.pieces[first..last.max(1) - 1].iter_mut().for_each(|piece| piece.stays = true);
        }
    }

    fn picture(&mut self, picture: &Picture, before: f64, place: ElementIndex) {
        // Its own margins stand outside the measure, so that its text lines up with the page's.
        let wide = self.measure / (picture.width - 2.0 * PICTURE_MARGIN);
        let share = picture.height * wide / self.depth;
        let most = if (PAIR_DEPTH..NEARLY_HALF).contains(&share) { PAIR_DEPTH } else { PICTURE_DEPTH };
        let scale = wide.min(most * self.depth / picture.height) * self.scale;
        let x = -PICTURE_MARGIN * scale;
        let ink = Ink::Picture { x, y: 0.0, scale, picture: Rc::new(picture.clone()), place };
        self.pieces.push(Piece {
            before: before * self.scale,
            height: picture.height * scale,
            inks: vec![ink],
            ..Piece::default()
        });
    }
}

/// Puts a line's runs one after the other.
pub(super) fn put(inks: &mut Vec<Ink>, line: Vec<Run>, x: f64, baseline: f64, tone: Tone, place: Option<ElementIndex>) {
    let mut x = x;
    for run in line {
        let width = run.width;
        inks.push(Ink::Text { x, baseline, run, tone, place });
        x += width;
    }
}

/// A heading's level.
pub(super) fn level(rank: u16) -> NonZeroU16 {
    NonZeroU16::new(rank).unwrap_or(NonZeroU16::MIN)
}
