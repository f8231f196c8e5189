//! What page one has of its own: the answer for each cylinder, and lines to be signed on.

use krilla::tagging::Tag;

use super::composing::{ANSWER, BODY, Composer, SMALL, THIRD, Text, level, put};
use super::piece::{Ink, Piece};
use crate::plot::{INK, SOFT, Weight};
use crate::report::document::{Card, Certainty};

/// Where a card's text begins, right of its bar.
const INDENT: f64 = 14.0;
/// Space over a card.
const OVER: f64 = 8.0;
/// Space between two things on one line.
const GAP: f64 = 10.0;

impl Composer {
    /// The answer for one cylinder, beside a bar whose shape says how firm it is; its lines stay together.
    pub(super) fn card(&mut self, card: &Card) {
        let group = self.structure.top(Tag::Div);
        let first = self.pieces.len();
        self.card_head(card, group);
        let place = self.structure.inside(group, Tag::P);
        let answer = Text { weight: Weight::Bold, ..BODY };
        self.text(&card.answer, answer, INDENT, 1.5, place);
        for line in &card.lines {
            let place = self.structure.inside(group, Tag::P);
            self.text(line, BODY, INDENT, 0.5, place);
        }
        let count = self.pieces.len() - first;
        for (row, piece) in self.pieces[first..].iter_mut().enumerate() {
            piece.stays = row + 1 < count;
            let over = if row == 0 { 0.0 } else { piece.before };
            piece.inks.extend(bar(card.certainty, -over, piece.height + over));
        }
    }

    /// Cylinder and what it asks for to the left, what it loses to the right; under each other where they do not fit.
    fn card_head(&mut self, card: &Card, group: super::structure::Place) {
        let firm = matches!(card.certainty, Certainty::Firm | Certainty::Several);
        let title_style = if firm { ANSWER } else { THIRD }.at(self.scale);
        let small = Text { tone: INK, ..BODY }.at(self.scale);
        let heading = self.structure.inside(group, Tag::Hn(level(3), Some(card.title.clone())));
        let loss_place = self.structure.inside(group, Tag::P);
        let line = |text: &str, style: Text| {
            let mut lines = self.typesetter.lines(&[(text, style.weight)], style.size, f64::INFINITY);
            let runs = if lines.is_empty() { Vec::new() } else { lines.swap_remove(0) };
            let width: f64 = runs.iter().map(|run| run.width).sum();
            (runs, width)
        };
        let (title, title_width) = line(&card.title, title_style);
        let (action, action_width) = line(&card.action, small);
        let (loss, loss_width) = line(&card.loss, small);
        let mut piece = Piece { before: OVER * self.scale, height: title_style.line, stays: true, ..Piece::default() };
        put(&mut piece.inks, title, INDENT, title_style.baseline(), INK, Some(heading));
        let action_at = INDENT + title_width + GAP;
        put(&mut piece.inks, action, action_at, title_style.baseline(), SOFT, Some(heading));
        let room = self.measure - action_at - action_width - 2.0 * GAP;
        if loss_width <= room {
            put(&mut piece.inks, loss, self.measure - loss_width, title_style.baseline(), INK, Some(loss_place));
            self.pieces.push(piece);
        } else {
            self.pieces.push(piece);
            self.text(&card.loss, BODY, INDENT, 0.0, loss_place);
        }
    }

    /// Lines to be signed on, side by side, each with its name under it.
    pub(super) fn signature(&mut self, names: &[String]) {
        const BETWEEN: f64 = 24.0;
        const HAND: f64 = 24.0;
        if names.is_empty() {
            return;
        }
        let style = SMALL.at(self.scale);
        let width = (self.measure - BETWEEN * (names.len() as f64 - 1.0)) / names.len() as f64;
        let mut piece = Piece { before: HAND * self.scale, height: 3.0 + style.line, ..Piece::default() };
        for (place, name) in names.iter().enumerate() {
            let x = place as f64 * (width + BETWEEN);
            piece.inks.push(Ink::Fill { x, y: 0.0, width, height: 0.7, tone: INK });
            let tag = self.structure.top(Tag::P);
            let lines = self.typesetter.lines(&[(name, Weight::Regular)], style.size, width);
            for (row, line) in lines.into_iter().enumerate() {
                let down = 3.0 + row as f64 * style.line;
                put(&mut piece.inks, line, x, down + style.baseline(), SOFT, Some(tag));
                piece.height = piece.height.max(down + style.line);
            }
        }
        self.pieces.push(piece);
    }
}

/// The bar beside an answer: solid, double, broken or thin.
fn bar(certainty: Certainty, y: f64, height: f64) -> Vec<Ink> {
    let fill = |x: f64, y: f64, width: f64, height: f64| Ink::Fill { x, y, width, height, tone: INK };
    match certainty {
        Certainty::Firm => vec![fill(0.0, y, 4.5, height)],
        Certainty::Several => vec![fill(0.0, y, 1.8, height), fill(3.6, y, 1.8, height)],
        Certainty::Nothing => vec![fill(0.0, y, 0.9, height)],
        Certainty::Open => {
            let strokes = (height / 5.0).round().max(1.0);
            let step = height / strokes;
            (0..strokes as u32).map(|stroke| fill(0.0, y + f64::from(stroke) * step, 3.0, step * 0.55)).collect()
        }
    }
}
