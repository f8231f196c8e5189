//! Tables: columns as wide as they need, rows never cut, the head said again on each page.

use std::rc::Rc;

use krilla::tagging::{TableHeaderScope, Tag, TagKind};

use super::composing::{BODY, Composer, SMALL, Text};
use super::piece::{Ink, Piece};
use super::structure::ElementIndex;
use super::typesetting::Run;
use crate::plot::{HATCH, INK, MIST, RULE, SOFT, Weight};
use crate::report::document::{Cell, Table};

const CELL: Text = Text { size: 9.0, line: 12.0, ..BODY };
const HEAD: Text = Text { size: 8.4, line: 11.0, tone: SOFT, ..BODY };
/// Between two columns.
const GAP: f64 = 12.0;
/// Over and under the text of a row.
const PAD: f64 = 3.2;
/// Before the first column: room for the bar of a strong row.
const EDGE: f64 = 7.0;
/// The least that a column gets, points.
const NARROWEST: f64 = 44.0;
/// The most of the measure that a column asks for.
const WIDEST: f64 = 0.42;
/// A table that takes no more of a page's depth is not parted.
const SHORT: f64 = 0.4;
/// Stands in a cell without text, so that every row has as many cells.
const NOTHING: &str = "–";

/// Composes a table.
pub(super) fn table(composer: &mut Composer, table: &Table) {
    let place = composer.structure.top(Tag::Table);
    let caption = composer.structure.inside(place, Tag::Caption);
    let caption_from = composer.pieces.len();
    composer.text(&table.caption, Text { size: 8.4, line: 11.4, ..SMALL }, 0.0, 8.0, caption);
    composer.pieces[caption_from..].iter_mut().for_each(|piece| piece.stays = true);
    let columns = Columns::of(composer, table);
    let row = composer.structure.inside(place, Tag::TR);
    let cells: Vec<Cell> = table.head.iter().map(Cell::of).collect();
    let places = elements(composer, row, cells.len(), |_| Tag::TH(TableHeaderScope::Column).into());
    let mut head = columns.row(composer, &cells, &places, HEAD, false);
    head.before = 3.0;
    head.stays = true;
    head.inks.push(line(composer.measure, head.height - 1.2, 1.2, INK));
    let again = Rc::new(for_the_eye(&head));
    composer.pieces.push(head);
    for row in &table.rows {
        let element = composer.structure.inside(place, Tag::TR);
        let tag =
            |column| -> TagKind { if column == 0 { Tag::TH(TableHeaderScope::Row).into() } else { Tag::TD.into() } };
        let places = elements(composer, element, row.cells.len(), tag);
        let mut piece = columns.row(composer, &row.cells, &places, CELL, row.strong);
        piece.head = Some(Rc::clone(&again));
        if row.strong {
            let ground = Ink::Fill { x: 0.0, y: 0.0, width: composer.measure, height: piece.height, tone: MIST };
            let bar = Ink::Fill { x: 0.0, y: 0.0, width: 3.0, height: piece.height, tone: INK };
            piece.inks.splice(0..0, [ground, bar]);
        }
        piece.inks.push(line(composer.measure, piece.height - 0.6, 0.6, if row.strong { HATCH } else { RULE }));
        composer.pieces.push(piece);
    }
    hold_together(composer, caption_from);
}

/// A short table stays on one page; of a long one the last row is not left alone.
fn hold_together(composer: &mut Composer, first: usize) {
    let depth = composer.depth;
    let pieces = &mut composer.pieces[first..];
    let whole: f64 = pieces.iter().map(|piece| piece.before + piece.height).sum();
    let count = pieces.len();
    let from = if whole <= SHORT * depth { 0 } else { count.saturating_sub(2) };
    pieces[from..count.max(1) - 1].iter_mut().for_each(|piece| piece.stays = true);
}

fn elements(
    composer: &mut Composer,
    row: ElementIndex,
    cells: usize,
    tag: impl Fn(usize) -> TagKind,
) -> Vec<ElementIndex> {
    (0..cells).map(|column| composer.structure.inside(row, tag(column))).collect()
}

fn line(measure: f64, y: f64, height: f64, tone: crate::plot::Tone) -> Ink {
    Ink::Fill { x: 0.0, y, width: measure, height, tone }
}

/// The same piece without its places: it stands elsewhere already.
fn for_the_eye(piece: &Piece) -> Piece {
    let mut again = piece.clone();
    for ink in &mut again.inks {
        if let Ink::Text { place, .. } = ink {
            *place = None;
        }
    }
    again
}

/// Where the columns stand and to which side their texts lean.
struct Columns {
    /// Left edge and width of each.
    spans: Vec<(f64, f64)>,
    figures: bool,
}

impl Columns {
    fn of(composer: &Composer, table: &Table) -> Self {
        let count = table.head.len().max(1);
        let room = composer.measure - EDGE - GAP * (count as f64 - 1.0) - 4.0;
        let setter = &composer.typesetter;
        let cap = WIDEST * composer.measure;
        let width = |text: &str, style: Text, weight: Weight| {
            setter.width(&setter.printable(text), style.size, weight).min(cap)
        };
        let wanted: Vec<f64> = (0..count)
            .map(|column| {
                // A head may break between its words.
                let head = table.head.get(column).map_or("", String::as_str).split(' ');
                let head = head.map(|word| width(word, HEAD, Weight::Regular)).fold(0.0, f64::max);
                let cells = table.rows.iter().filter_map(|row| row.cells.get(column).map(|cell| (row, cell)));
                let texts = cells.map(|(row, cell)| {
                    let weight = if row.strong { Weight::Bold } else { Weight::Regular };
                    let under = cell.under.as_ref().map_or(0.0, |under| width(under, SMALL, Weight::Regular));
                    width(&cell.text, CELL, weight).max(under)
                });
                // A hair more, or rounding breaks what just fits.
                texts.fold(head.max(NARROWEST), f64::max) + 0.5
            })
            .collect();
        // What a column needs for its words to stay whole.
        let least: Vec<f64> = (0..count)
            .map(|column| {
                let head = table.head.get(column).map(|head| (head.as_str(), HEAD, Weight::Regular));
                let cells = table.rows.iter().filter_map(|row| row.cells.get(column).map(|cell| (row, cell)));
                let texts = cells.flat_map(|(row, cell)| {
                    let weight = if row.strong { Weight::Bold } else { Weight::Regular };
                    let under = cell.under.as_deref().map(|under| (under, SMALL, Weight::Regular));
                    std::iter::once((cell.text.as_str(), CELL, weight)).chain(under)
                });
                let word = |(text, style, weight): (&str, Text, Weight)| {
                    text.split([' ', '-', '/']).map(|word| width(word, style, weight)).fold(0.0, f64::max)
                };
                head.into_iter().chain(texts).map(word).fold(NARROWEST, f64::max) + 0.5
            })
            .collect();
        let least = if least.iter().sum::<f64>() <= room { least } else { vec![NARROWEST; count] };
        let sum: f64 = wanted.iter().sum();
        let widths: Vec<f64> = if sum <= room {
            wanted.iter().map(|width| width + (room - sum) / count as f64).collect()
        } else {
            let over = |(width, least): (&f64, &f64)| (width - least).max(0.0);
            let spare: f64 = wanted.iter().zip(&least).map(over).sum();
            let share = ((room - least.iter().sum::<f64>()) / spare).max(0.0);
            wanted.iter().zip(&least).map(|pair| pair.1.min(*pair.0) + over(pair) * share).collect()
        };
        let mut x = EDGE;
        let spans = widths.into_iter().map(|width| {
            let span = (x, width);
            x += width + GAP;
            span
        });
        Self { spans: spans.collect(), figures: table.figures }
    }

    /// One row.
    fn row(&self, composer: &Composer, cells: &[Cell], places: &[ElementIndex], style: Text, strong: bool) -> Piece {
        let mut piece = Piece::default();
        let weight = if strong { Weight::Bold } else { style.weight };
        let mut tallest: f64 = 0.0;
        for (column, ((cell, place), (x, width))) in cells.iter().zip(places).zip(&self.spans).enumerate() {
            let mut y = PAD;
            let text = if cell.text.is_empty() { NOTHING } else { &cell.text };
            let parts = [Some((text, Text { weight, ..style })), cell.under.as_deref().map(|under| (under, SMALL))];
            for (text, style) in parts.into_iter().flatten() {
                for line in composer.typesetter.lines(&[(text, style.weight)], style.size, *width) {
                    let used: f64 = line.iter().map(visible).sum();
                    let shift = if self.figures && column > 0 { (width - used).max(0.0) } else { 0.0 };
                    super::composing::put(
                        &mut piece.inks,
                        line,
                        x + shift,
                        y + style.baseline(),
                        style.tone,
                        Some(*place),
                    );
                    y += style.line;
                }
            }
            tallest = tallest.max(y + PAD);
        }
        piece.height = tallest;
        piece
    }
}

/// A run's width without the blank at its end.
fn visible(run: &Run) -> f64 {
    let hanging = run.glyphs.iter().rev().take(run.text.len() - run.text.trim_end().len());
    run.width - hanging.map(|glyph| f64::from(glyph.x_advance) * run.size).sum::<f64>()
}
