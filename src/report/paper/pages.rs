//! Pieces to pages: what belongs together stays together as far as a page is long enough.

use super::Sheet;
use super::piece::Piece;

/// A piece with the distance of its upper edge from that of the text.
pub(super) struct PagePiece {
    pub(super) y: f64,
    pub(super) piece: Piece,
    /// Only for the eye: it stands elsewhere already.
    pub(super) again: bool,
}

/// Pages with their pieces.
pub(super) fn paged(pieces: Vec<Piece>, sheet: Sheet) -> Vec<Vec<PagePiece>> {
    let mut book = Book { depth: sheet.depth, pages: vec![Vec::new()], used: 0.0 };
    let mut group: Vec<Piece> = Vec::new();
    for piece in pieces {
        let stays = piece.stays;
        group.push(piece);
        if !stays {
            book.group(std::mem::take(&mut group));
        }
    }
    book.group(group);
    book.pages
}

struct Book {
    depth: f64,
    pages: Vec<Vec<PagePiece>>,
    used: f64,
}

impl Book {
    fn group(&mut self, group: Vec<Piece>) {
        let Some(first) = group.first() else { return };
        if first.opens_page && self.used > 0.0 {
            self.turn();
        }
        let whole: f64 = group.iter().map(|piece| piece.before + piece.height).sum();
        let head = first.head.as_ref().map_or(0.0, |head| head.height);
        let alone = whole - first.before + head;
        if self.used > 0.0 && self.used + whole > self.depth && alone <= self.depth {
            self.turn();
        }
        for piece in group {
            self.piece(piece);
        }
    }

    fn piece(&mut self, piece: Piece) {
        if self.used > 0.0 && self.used + piece.before + piece.height > self.depth {
            self.turn();
        }
        let fresh = self.used == 0.0;
        if let Some(head) = piece.head.as_ref().filter(|_| fresh) {
            self.put(Piece::clone(head), 0.0, true);
        }
        let before = if fresh { 0.0 } else { piece.before };
        self.put(piece, before, false);
    }

    fn put(&mut self, piece: Piece, before: f64, again: bool) {
        let y = self.used + before;
        self.used = y + piece.height;
        if let Some(page) = self.pages.last_mut() {
            page.push(PagePiece { y, piece, again });
        }
    }

    fn turn(&mut self) {
        self.pages.push(Vec::new());
        self.used = 0.0;
    }
}

#[cfg(test)]
mod tests {
    use std::rc::Rc;

    use super::*;
    use crate::report::paper::PaperSize;

    fn piece(height: f64) -> Piece {
        Piece { height, ..Piece::default() }
    }

    fn heights(pages: &[Vec<PagePiece>]) -> Vec<Vec<f64>> {
        pages.iter().map(|page| page.iter().map(|placed| placed.piece.height).collect()).collect()
    }

    fn sheet() -> Sheet {
        Sheet { depth: 100.0, ..Sheet::of(PaperSize::A4) }
    }

    #[test]
    fn what_belongs_together_moves_together() {
        let heading = Piece { stays: true, ..piece(20.0) };
        let pages = paged(vec![piece(70.0), heading, piece(30.0)], sheet());
        assert_eq!(heights(&pages), [vec![70.0], vec![20.0, 30.0]]);
    }

    #[test]
    fn what_is_longer_than_a_page_is_parted_between_pieces() {
        let line = || Piece { stays: true, ..piece(40.0) };
        let pages = paged(vec![line(), line(), line(), piece(40.0)], sheet());
        assert_eq!(heights(&pages), [vec![40.0, 40.0], vec![40.0, 40.0]]);
        for placed in pages.iter().flatten() {
            assert!(placed.y + placed.piece.height <= 100.0);
        }
    }

    #[test]
    fn a_tables_head_is_said_again_and_space_is_not_wasted() {
        let head = Rc::new(piece(10.0));
        let row = || Piece { head: Some(Rc::clone(&head)), before: 5.0, ..piece(42.0) };
        let pages = paged(vec![piece(10.0), row(), row(), row()], sheet());
        assert_eq!(heights(&pages), [vec![10.0, 42.0], vec![10.0, 42.0, 42.0]]);
        assert!(pages[1][0].again && !pages[1][1].again);
        assert_eq!((pages[1][1].y, pages[1][2].y), (10.0, 57.0));
    }

    #[test]
    fn a_part_begins_a_page_and_leaves_none_empty() {
        let part = || Piece { opens_page: true, ..piece(10.0) };
        assert_eq!(heights(&paged(vec![part(), piece(10.0), part()], sheet())), [vec![10.0, 10.0], vec![10.0]]);
    }
}
