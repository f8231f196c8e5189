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
        // A cylinder of which there is no more to say takes one line: page one has room for eight.
        let brief = card.certainty == Certainty::Nothing && card.lines.is_empty();
        if !(brief && self.card_head(card, group, true)) {
            self.card_head(card, group, false);
            let place = self.structure.inside(group, Tag::P);
            let answer = Text { weight: Weight::Bold, ..BODY };
            self.text(&card.answer, answer, INDENT, 1.5, place);
        }
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
    /// With the answer between them where it is to stand there: false, and nothing done, where it has no room.
    fn card_head(&mut self, card: &Card, group: super::structure::ElementIndex, with_answer: bool) -> bool {
        let firm = matches!(card.certainty, Certainty::Firm | Certainty::Several);
        let title_style = if firm { ANSWER } else { THIRD }.at(self.scale);
        let small = Text { tone: INK, ..BODY }.at(self.scale);
        let line = |text: &str, style: Text| {
            let mut lines = self.typesetter.lines(&[(text, style.weight)], style.size, f64::INFINITY);
            let runs = if lines.is_empty() { Vec::new() } else { lines.swap_remove(0) };
            let width: f64 = runs.iter().map(|run| run.width).sum();
            (runs, width)
        };
        let (title, title_width) = line(&card.title, title_style);
        let (action, action_width) = line(&card.action, small);
        let (loss, loss_width) = line(&card.loss, small);
        let strong = Text { weight: Weight::Bold, ..small };
        let (answer, answer_width) = if with_answer { line(&card.answer, strong) } else { (Vec::new(), -GAP) };
        let answer_at = INDENT + title_width + GAP;
        let action_at = answer_at + answer_width + GAP;
        let room = self.measure - action_at - action_width - 2.0 * GAP;
        if with_answer && loss_width > room {
            return false;
        }
        let heading = self.structure.inside(group, Tag::Hn(level(3), Some(card.title.clone())));
        let answer_place = with_answer.then(|| self.structure.inside(group, Tag::P));
        let loss_place = self.structure.inside(group, Tag::P);
        let mut piece = Piece { before: OVER * self.scale, height: title_style.line, stays: true, ..Piece::default() };
        put(&mut piece.inks, title, INDENT, title_style.baseline(), INK, Some(heading));
        put(&mut piece.inks, answer, answer_at, title_style.baseline(), INK, answer_place);
        put(&mut piece.inks, action, action_at, title_style.baseline(), SOFT, Some(heading));
        if loss_width <= room {
            put(&mut piece.inks, loss, self.measure - loss_width, title_style.baseline(), INK, Some(loss_place));
            self.pieces.push(piece);
        } else {
            self.pieces.push(piece);
            self.text(&card.loss, BODY, INDENT, 0.0, loss_place);
        }
        true
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
