//! What a machine or a person does, one thing after another.

/// Spans of time, each with what is done in it, in order and without gaps.
#[derive(Debug, Clone)]
pub(in crate::simulate) struct Timeline<A> {
    spans: Vec<Span<A>>,
}

/// One thing that is done.
#[derive(Debug, Clone, Copy)]
pub(in crate::simulate) struct Span<A> {
    pub from_s: f64,
    pub to_s: f64,
    pub act: A,
}

impl<A: Copy> Timeline<A> {
    /// From `begin_s` (before zero, so that a stretch begins in the middle of things) until `end_s`;
    /// `next` says what follows and how long it lasts.
    pub fn fill(begin_s: f64, end_s: f64, mut next: impl FnMut() -> (A, f64)) -> Self {
        let mut spans = Vec::new();
        let mut from_s = begin_s;
        while from_s < end_s {
            let (act, length_s) = next();
            let to_s = from_s + length_s.max(0.01);
            spans.push(Span { from_s, to_s, act });
            from_s = to_s;
        }
        Self { spans }
    }

    pub fn spans(&self) -> &[Span<A>] {
        &self.spans
    }

    /// What is done at a moment, and since when.
    pub fn at(&self, t: f64) -> Option<Span<A>> {
        let after = self.spans.partition_point(|span| span.from_s <= t);
        self.spans.get(after.checked_sub(1)?).copied()
    }
}
