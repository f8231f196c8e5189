//! The engine at a glance: how much each cylinder loses, and whether the sound says where.

use super::ink::{AIR, HATCH, INK, MIST, PAPER, RULE, SOFT};
use super::lettering::{Lettering, Weight};
use super::picture::{Anchor, Picture, PictureSize, Sheet, Space, Style, spot};
use super::render::PictureError;
use crate::caveat::Fact;
use crate::words::Words;

/// What the sound says of a cylinder.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GlanceMark {
    /// A leak was located, or more than one: drawn strong, and nothing else is.
    Leak,
    /// Nothing was heard.
    Nothing,
    /// A hiss was heard, and it is what every healthy engine has.
    Normal,
    /// The recordings do not settle it.
    NotSettled,
    /// Nobody listened.
    Unheard,
}

/// One cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct GlanceRow {
    /// The cylinder's name.
    pub name: String,
    /// The loss and its interval, percent; `None` where no gauge was read.
    pub loss: Option<(f64, f64, f64)>,
    /// Where a leak is, in a word or two.
    pub place: Option<String>,
    /// What the sound says.
    pub mark: GlanceMark,
}

const NAME: Style = Style::new(24.0, Weight::Regular, Anchor::Start, INK);
const VALUE: Style = Style::new(24.0, Weight::Bold, Anchor::Start, INK);
const TICK: Style = Style::new(19.0, Weight::Regular, Anchor::Middle, SOFT);
/// From this width of the interval on, percentage points, a loss is given in whole percents, as on the cards.
const WHOLE_FROM: f64 = 2.0;
/// The least that the axis reaches to, percent: small losses are to look small.
const LEAST_END: f64 = 30.0;
/// Width of the interval's strokes.
const WHISKER: f64 = 2.4;

/// Draws one bar for each cylinder.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn glance(rows: &[GlanceRow], words: &Words, size: PictureSize) -> Result<Picture, PictureError> {
    let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
    let mut drawing = Drawing::new(Sheet::new(size.width(), lettering), rows, words);
    let mut y = drawing.margin;
    for row in rows {
        y = drawing.row(row, y);
    }
    y = drawing.axis(drawing.margin, y);
    y = drawing.key(rows, y);
    let alt: Vec<String> = rows.iter().map(|row| drawing.alternative(row)).collect();
    let alt = words.say("plot-glance-alt", &[("rows", Fact::Text(alt.join(" ")))]);
    Ok(drawing.sheet.finish((y + drawing.margin).ceil(), alt))
}

/// Between a bar's end and what is said of it.
const BESIDE: f64 = 16.0;
/// The most by which the bars give way to what is said of them.
const MOST_MORE: f64 = 180.0;
/// What is said is written no smaller than this share of its size.
const SMALLEST_SHARE: f64 = 0.78;

fn weight_of(mark: GlanceMark) -> Weight {
    if mark == GlanceMark::Leak { Weight::Bold } else { Weight::Regular }
}

struct Drawing<'a> {
    sheet: Sheet,
    words: &'a Words,
    margin: f64,
    /// Where the bars lie; its height means nothing.
    track: Space,
    /// The axis ends here, percent.
    end: f64,
    /// Height of a cylinder's line, and of its bar.
    line: f64,
    bar: f64,
    narrow: bool,
}

impl<'a> Drawing<'a> {
    fn new(sheet: Sheet, rows: &[GlanceRow], words: &'a Words) -> Self {
        let narrow = sheet.width < 600.0;
        let margin = if narrow { 12.0 } else { 24.0 };
        let (names, values) = if narrow { (0.0, 0.0) } else { (150.0, 330.0) };
        let track = Space { left: margin + names, right: sheet.width - margin - values, top: 0.0, bottom: 0.0 };
        let most = rows.iter().filter_map(|row| row.loss).map(|(_, _, high)| high).fold(LEAST_END, f64::max);
        let end = ((most / 10.0).ceil() * 10.0).clamp(LEAST_END, 100.0);
        let (line, bar) = match (narrow, rows.len() > 4) {
            (true, _) => (50.0, 16.0),
            (false, true) => (38.0, 24.0),
            (false, false) => (44.0, 28.0),
        };
        let mut drawing = Self { sheet, words, margin, track, end, line, bar, narrow };
        if !narrow {
            // Two openings at one cylinder want more room than one.
            let widest = rows.iter().map(|row| drawing.width_of(&drawing.said(row), row)).fold(0.0, f64::max);
            drawing.track.right -= (widest + BESIDE - values).clamp(0.0, MOST_MORE);
        }
        drawing
    }

    fn width_of(&self, said: &str, row: &GlanceRow) -> f64 {
        self.sheet.lettering.width(said, self.size(), weight_of(row.mark))
    }

    fn size(&self) -> f64 {
        if self.narrow { 18.0 } else { NAME.size }
    }

    fn x(&self, percent: f64) -> f64 {
        self.track.left + (percent / self.end).clamp(0.0, 1.0) * self.track.width()
    }

    /// One cylinder; returns its lower edge.
    fn row(&mut self, row: &GlanceRow, top: f64) -> f64 {
        let bottom = top + self.line;
        // Over the bar on a phone, beside it elsewhere.
        let bar_bottom = if self.narrow { bottom - 4.0 } else { top + f64::midpoint(self.line, self.bar) };
        let bar = Space { top: bar_bottom - self.bar, bottom: bar_bottom, ..self.track };
        let base = if self.narrow { top + 20.0 } else { top + self.line / 2.0 + 8.5 };
        let weight = weight_of(row.mark);
        let size = self.size();
        let said = self.said(row);
        self.sheet.text(spot(self.margin, base), row.name.clone(), Style { size, weight, ..NAME });
        let (x, anchor) =
            if self.narrow { (self.track.right, Anchor::End) } else { (self.track.right + BESIDE, Anchor::Start) };
        let room = if self.narrow { self.track.width() - 110.0 } else { self.sheet.width - self.margin - x };
        let smaller = size * (room / self.width_of(&said, row)).clamp(SMALLEST_SHARE, 1.0);
        let said = self.sheet.lettering.broken(&said, smaller, weight, room, 1).concat();
        self.sheet.text(spot(x, base), said, Style { size: smaller, weight, anchor, ..VALUE });
        self.sheet.fill(bar, PAPER);
        self.sheet.line(vec![spot(bar.left, bar.bottom), spot(bar.right, bar.bottom)], 1.0, RULE);
        if let Some(loss) = row.loss {
            self.loss(row.mark, loss, bar);
        }
        bottom
    }

    fn loss(&mut self, mark: GlanceMark, (value, low, high): (f64, f64, f64), bar: Space) {
        let filled = Space { right: self.x(value).max(bar.left + 3.0), ..bar };
        match mark {
            GlanceMark::Leak => self.sheet.fill(filled, AIR),
            GlanceMark::Nothing | GlanceMark::Normal => {
                self.sheet.fill(filled, MIST);
                self.sheet.frame(filled, 1.4, HATCH);
            }
            GlanceMark::Unheard => self.sheet.frame(filled, 1.6, SOFT),
            GlanceMark::NotSettled => {
                let Space { left, top, right, bottom } = filled;
                let round =
                    [spot(left, top), spot(right, top), spot(right, bottom), spot(left, bottom), spot(left, top)];
                self.sheet.dashed(&round, (7.0, 5.0), 2.0, SOFT);
            }
        }
        // The interval, readable on the strong bar and beside it.
        let middle = f64::midpoint(bar.top, bar.bottom);
        let (from, to) = (self.x(low), self.x(high));
        if to - from > 2.0 {
            let inside = filled.right.min(to);
            let on_bar = if mark == GlanceMark::Leak { PAPER } else { INK };
            self.sheet.line(vec![spot(from, middle), spot(inside.max(from), middle)], WHISKER, on_bar);
            self.sheet.line(vec![spot(inside, middle), spot(to, middle)], WHISKER, INK);
            let cap = self.bar / 4.0;
            self.sheet.line(vec![spot(from, middle - cap), spot(from, middle + cap)], WHISKER, on_bar);
            self.sheet.line(vec![spot(to, middle - cap), spot(to, middle + cap)], WHISKER, INK);
        }
    }

    /// The value, and where the leak is or what else the sound says.
    fn said(&self, row: &GlanceRow) -> String {
        // As many digits as the cards give: the same loss reads alike everywhere.
        let loss = row.loss.map(|(value, low, high)| {
            let number = Fact::Text(self.words.printed(value, usize::from(high - low < WHOLE_FROM)));
            self.words.say("percent", &[("percent", number)])
        });
        let place = match row.mark {
            GlanceMark::Leak => row.place.clone(),
            GlanceMark::Nothing => None,
            GlanceMark::Normal => Some(self.words.say("plot-glance-normal", &[])),
            GlanceMark::NotSettled => Some(self.words.say("plot-glance-open", &[])),
            GlanceMark::Unheard => Some(self.words.say("plot-glance-unheard", &[])),
        };
        let loss = loss.unwrap_or_else(|| self.words.say("report-not-read", &[]));
        [Some(loss), place].into_iter().flatten().collect::<Vec<_>>().join(" · ")
    }

    fn alternative(&self, row: &GlanceRow) -> String {
        format!("{}: {}.", row.name, self.said(row))
    }

    /// Lines and numbers of the axis; returns the lower edge.
    fn axis(&mut self, top: f64, bottom: f64) -> f64 {
        let step = if self.end > 60.0 { 20.0 } else { 10.0 };
        let size = if self.narrow { 16.0 } else { TICK.size };
        let mut at = 0.0;
        while at <= self.end + 1e-9 {
            let x = self.x(at);
            if self.narrow {
                self.sheet.line(vec![spot(x, bottom), spot(x, bottom + 5.0)], 1.2, SOFT);
            } else {
                let dots = [spot(x, top), spot(x, bottom + 4.0)];
                self.sheet.dashed(&dots, (2.0, 6.0), 1.0, HATCH);
            }
            let number = self.words.printed(at, 0);
            let last = at + step > self.end + 1e-9;
            let text = if last { self.words.say("percent", &[("percent", Fact::Text(number))]) } else { number };
            let x = if self.narrow { x.clamp(self.track.left + 8.0, self.track.right - 20.0) } else { x };
            self.sheet.text(spot(x, bottom + 24.0), text, Style { size, ..TICK });
            at += step;
        }
        bottom + 32.0
    }

    /// What the bars' looks mean, as far as they are there; returns the lower edge.
    fn key(&mut self, rows: &[GlanceRow], top: f64) -> f64 {
        const BOX: f64 = 34.0;
        let signs = [
            (GlanceMark::Leak, "plot-glance-leak"),
            (GlanceMark::Nothing, "plot-glance-nothing"),
            (GlanceMark::Normal, "plot-glance-normal"),
            (GlanceMark::NotSettled, "plot-glance-open"),
            (GlanceMark::Unheard, "plot-glance-unheard"),
        ];
        let style = Style { size: if self.narrow { 16.0 } else { 19.0 }, anchor: Anchor::Start, ..TICK };
        let (mut x, mut y) = (self.track.left, top + 8.0);
        for (mark, name) in signs {
            if !rows.iter().any(|row| row.mark == mark && row.loss.is_some()) {
                continue;
            }
            let text = self.words.say(name, &[]);
            let wide = BOX + 8.0 + self.sheet.lettering.width(&text, style.size, style.weight) + 26.0;
            if x > self.track.left && x + wide > self.sheet.width - self.margin {
                (x, y) = (self.track.left, y + 26.0);
            }
            let space = Space { left: x, top: y, right: x + BOX, bottom: y + 16.0 };
            match mark {
                GlanceMark::Leak => self.sheet.fill(space, AIR),
                GlanceMark::Nothing | GlanceMark::Normal => {
                    self.sheet.fill(space, MIST);
                    self.sheet.frame(space, 1.4, HATCH);
                }
                GlanceMark::Unheard => self.sheet.frame(space, 1.6, SOFT),
                GlanceMark::NotSettled => {
                    let Space { left, top, right, bottom } = space;
                    let round =
                        [spot(left, top), spot(right, top), spot(right, bottom), spot(left, bottom), spot(left, top)];
                    self.sheet.dashed(&round, (6.0, 4.0), 2.0, SOFT);
                }
            }
            self.sheet.text(spot(x + BOX + 8.0, y + 14.5), text, style);
            x += wide;
        }
        y + 20.0
    }
}
