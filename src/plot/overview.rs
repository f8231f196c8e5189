//! The overview: one line per opening and cylinder, for those who want the answer and not the spectra.

use super::captions::{alternative, called};
use super::comparison::in_engine_order;
use super::ink::{AIR, HATCH, INK, MIST, PAPER, RISE, RULE, SOFT};
use super::legend::{self, Keys};
use super::lettering::{Lettering, Weight};
use super::picture::{Anchor, Picture, PictureSize, Sheet, Space, Style, spot};
use super::render::PictureError;
use super::scale::Scales;
use crate::caveat::Fact;
use crate::ranking::{HissReading, Member, OpeningResult, Ranking};
use crate::units::Level;
use crate::words::Words;

const HEADING: Style = Style::new(20.0, Weight::Bold, Anchor::Start, INK);
const CALL: Style = Style::new(18.0, Weight::Regular, Anchor::Start, INK);
const NAME: Style = Style::new(18.0, Weight::Regular, Anchor::Start, INK);
const VALUE: Style = Style::new(17.0, Weight::Regular, Anchor::End, INK);
const TICK: Style = Style::new(16.0, Weight::Regular, Anchor::Middle, SOFT);
/// Height of an opening's line.
const LINE: f64 = 30.0;

/// The hiss level at every opening of every cylinder, one line each on one axis, the answer in dark.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn overview(rankings: &[Ranking], words: &Words, size: PictureSize) -> Result<Picture, PictureError> {
    let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
    let mut drawing = Drawing::new(Sheet::new(size.width(), lettering), rankings, words);
    let openings = in_engine_order(rankings);
    let mut y = drawing.margin;
    for ranking in rankings {
        y = drawing.heading(ranking, y);
        let top = y;
        for opening in &openings {
            if let Some(result) = ranking.openings.iter().find(|result| result.opening == *opening) {
                drawing.grid(y);
                drawing.line(ranking, result, y);
                y += LINE;
            }
        }
        drawing.sheet.line(vec![spot(drawing.track.left, top), spot(drawing.track.right, top)], 1.2, HATCH);
        drawing.sheet.line(vec![spot(drawing.track.left, y), spot(drawing.track.right, y)], 1.2, HATCH);
        y += 14.0;
    }
    y = drawing.axis(y - 14.0) + 14.0;
    let bottom = legend::draw(&mut drawing.sheet, y, drawing.margin, &Keys::of_levels(rankings), words);
    let height = (bottom + drawing.margin).ceil();
    Ok(drawing.sheet.finish(height, alternative(rankings, words)))
}

struct Drawing<'a> {
    sheet: Sheet,
    words: &'a Words,
    scales: Scales,
    margin: f64,
    /// Where the levels lie; its height means nothing.
    track: Space,
    /// Width of the openings' names.
    names: f64,
}

impl<'a> Drawing<'a> {
    fn new(sheet: Sheet, rankings: &[Ranking], words: &'a Words) -> Self {
        let narrow = sheet.width < 600.0;
        let (margin, names, values) = if narrow { (12.0, 116.0, 88.0) } else { (24.0, 290.0, 190.0) };
        let track = Space { left: margin + names, right: sheet.width - margin - values, top: 0.0, bottom: 0.0 };
        Self { sheet, words, scales: Scales::of(rankings), margin, track, names }
    }

    fn narrow(&self) -> bool {
        self.sheet.width < 600.0
    }

    fn heading(&mut self, ranking: &Ranking, top: f64) -> f64 {
        let left = self.margin;
        let subject = self.words.cylinder(ranking.cylinder);
        let wide = self.sheet.lettering.width(&subject, HEADING.size, HEADING.weight);
        let mut y = top + 22.0;
        self.sheet.text(spot(left, y), subject, HEADING);
        let said = called(ranking, self.words);
        let indent = if self.narrow() { 0.0 } else { wide + 14.0 };
        let room = self.sheet.width - self.margin - left - indent;
        for (row, line) in self.sheet.lettering.broken(&said, CALL.size, CALL.weight, room, 4).into_iter().enumerate() {
            if row > 0 || self.narrow() {
                y += 23.0;
            }
            self.sheet.text(spot(left + indent, y), line, CALL);
        }
        y + 10.0
    }

    /// The lines of the axis behind one opening.
    fn grid(&mut self, top: f64) {
        self.sheet.fill(Space { top, bottom: top + LINE, ..self.track }, MIST);
        for level in self.scales.hiss.ticks() {
            let x = self.scales.hiss.x(level, self.track);
            self.sheet.line(vec![spot(x, top), spot(x, top + LINE)], 1.2, RULE);
        }
    }

    fn line(&mut self, ranking: &Ranking, result: &OpeningResult, top: f64) {
        let answer = ranking.answer_set.contains(&Member::Opening(result.opening.clone()));
        let base = top + 21.0;
        self.name(result, top, answer);
        let x = |level: Level| self.scales.hiss.x(level, self.track);
        let (upper, lower) = (top + 6.0, top + LINE - 6.0);
        match result.hiss {
            HissReading::Heard { level, low, high } => {
                let space = Space { left: x(low), right: x(high), top: upper, bottom: lower };
                let at = x(level);
                self.sheet.fill(space, RISE);
                self.sheet.frame(space, 2.0, INK);
                self.sheet
                    .fill(Space { left: at - 1.5, right: at + 1.5, top: top + 2.0, bottom: top + LINE - 2.0 }, AIR);
            }
            HissReading::Bound => {
                let (at, middle) = (x(result.at_most), f64::midpoint(upper, lower));
                self.sheet.hatch(
                    Space { left: self.track.left, right: at, top: upper, bottom: lower },
                    7.0,
                    1.2,
                    HATCH,
                );
                self.sheet.line(vec![spot(at, upper), spot(at, lower)], 3.0, INK);
                let tip = (at - 26.0).max(self.track.left + 3.0);
                if tip < at - 10.0 {
                    self.sheet.line(vec![spot(at, middle), spot(tip + 8.0, middle)], 3.0, INK);
                    self.sheet.area(
                        vec![spot(tip + 11.0, middle - 7.0), spot(tip + 11.0, middle + 7.0), spot(tip, middle)],
                        INK,
                    );
                }
            }
        }
        let weight = if answer { Weight::Bold } else { Weight::Regular };
        let style = Style { weight, size: if self.narrow() { 16.0 } else { VALUE.size }, ..VALUE };
        self.sheet.text(spot(self.sheet.width - self.margin, base), self.value(result), style);
    }

    fn name(&mut self, result: &OpeningResult, top: f64, answer: bool) {
        let base = top + 21.0;
        let weight = if answer { Weight::Bold } else { Weight::Regular };
        let tone = if answer { PAPER } else { INK };
        let mut style = Style { weight, tone, ..NAME };
        let room = self.names - 14.0;
        let fits = |text: &str, size: f64| self.sheet.lettering.width(text, size, weight) <= room;
        let mut name = self.words.opening(&result.opening);
        if !fits(&name, style.size) {
            name = self.words.short_opening(&result.opening);
            style.size = if fits(&name, style.size) { style.size } else { 16.0 };
        }
        let name = self.sheet.lettering.broken(&name, style.size, weight, room, 1).concat();
        if answer {
            let left = self.margin;
            self.sheet
                .fill(Space { left, right: left + self.names - 2.0, top: top + 1.0, bottom: top + LINE - 1.0 }, INK);
        }
        self.sheet.text(spot(self.margin + 6.0, base), name, style);
    }

    fn value(&self, result: &OpeningResult) -> String {
        let printed = |level: Level| Fact::Text(self.words.printed(level.0, 1));
        let narrow = self.narrow();
        match result.hiss {
            HissReading::Heard { level, .. } if narrow => self.words.printed(level.0, 1),
            HissReading::Heard { level, .. } => self.words.say("plot-level", &[("level", printed(level))]),
            HissReading::Bound if narrow => self.words.say("plot-at-most-short", &[("level", printed(result.at_most))]),
            HissReading::Bound => self.words.say("plot-at-most", &[("level", printed(result.at_most))]),
        }
    }

    /// Numbers and name of the axis under the last line; returns the lower edge.
    fn axis(&mut self, top: f64) -> f64 {
        let mut last = f64::NEG_INFINITY;
        for level in self.scales.hiss.ticks() {
            let x = self.scales.hiss.x(level, self.track);
            self.sheet.line(vec![spot(x, top), spot(x, top + 5.0)], 1.2, SOFT);
            let x = x.clamp(self.track.left + 14.0, self.track.right - 14.0);
            // A number that would touch its neighbour is left out.
            if x - last >= 40.0 {
                self.sheet.text(spot(x, top + 21.0), self.words.printed(level.0, 0), TICK);
                last = x;
            }
        }
        let style = Style { anchor: Anchor::Start, ..TICK };
        let name = self.words.say("plot-levels", &[]);
        let room = self.names - 4.0;
        let mut y = top + 21.0;
        for (row, line) in self.sheet.lettering.broken(&name, TICK.size, TICK.weight, room, 2).into_iter().enumerate() {
            y = top + 21.0 + 20.0 * row as f64;
            self.sheet.text(spot(self.margin + 6.0, y), line, style);
        }
        y
    }
}
