//! Before and after a repair: each cylinder's losses side by side, what was called, and the hiss over quiet at the
//! opening in question, one spectrum over the other.

use super::ink::{AIR, HATCH, INK, MIST, PAPER, QUIET, RISE, RULE, SOFT};
use super::lettering::{Lettering, Weight};
use super::panels::{AIR_WIDTH, QUIET_DASH, QUIET_WIDTH, frequency_numbers};
use super::picture::{Anchor, Picture, PictureSize, Sheet, Space, Spot, Style, spot};
use super::render::PictureError;
use super::scale::{Scales, edges};
use crate::caveat::Fact;
use crate::opening::Opening;
use crate::ranking::{BandResult, Ranking};
use crate::words::Words;

/// One cylinder at one time.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TimePoint {
    /// The loss and its interval, percent; `None` where no gauge was read.
    pub loss: Option<(f64, f64, f64)>,
    /// What the sound said, in a few words; `None` where nobody listened.
    pub called: Option<String>,
    /// Whether a leak was found, which alone is drawn strong.
    pub leak: bool,
    /// The ranking, where there is one: its bands are drawn.
    pub ranking: Option<Ranking>,
}

/// One cylinder before and after.
#[derive(Debug, Clone, PartialEq)]
pub struct BeforeAfterRow {
    /// The cylinder's name.
    pub name: String,
    /// The opening whose hiss is compared.
    pub opening: Option<Opening>,
    /// Before.
    pub before: TimePoint,
    /// After.
    pub after: TimePoint,
}

const HEADING: Style = Style::new(24.0, Weight::Bold, Anchor::Start, INK);
const LABEL: Style = Style::new(19.0, Weight::Regular, Anchor::Start, INK);
const SMALL: Style = Style::new(16.0, Weight::Regular, Anchor::Start, SOFT);
/// Height of a bar of loss.
const BAR: f64 = 26.0;
/// Height of a spectrum.
const PANEL: f64 = 120.0;
/// From this width of the interval on, percentage points, a loss is given in whole percents, as on the cards.
const WHOLE_FROM: f64 = 2.0;
/// The axis of loss reaches at least this far, percent.
const LEAST_END: f64 = 30.0;
/// The axis of the rise reaches at least this far, dB.
const LEAST_RISE: f64 = 12.0;

/// Draws a block for each cylinder.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn before_after(
    title: &[String],
    rows: &[BeforeAfterRow],
    words: &Words,
    size: PictureSize,
) -> Result<Picture, PictureError> {
    let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
    let mut drawing = Drawing::new(Sheet::new(size.width(), lettering), rows, words);
    let mut y = drawing.title(title, drawing.margin);
    for row in rows {
        y = drawing.block(row, y) + 18.0;
    }
    y = drawing.key(rows, y);
    let alt: Vec<String> = rows.iter().map(|row| drawing.alternative(row)).collect();
    let alt = words.say("plot-before-after-alt", &[("rows", Fact::Text(alt.join(" ")))]);
    Ok(drawing.sheet.finish((y + drawing.margin).ceil(), alt))
}

struct Drawing<'a> {
    sheet: Sheet,
    words: &'a Words,
    scales: Scales,
    margin: f64,
    narrow: bool,
    /// The axes end here.
    end_percent: f64,
    end_db: f64,
}

impl<'a> Drawing<'a> {
    fn new(sheet: Sheet, rows: &[BeforeAfterRow], words: &'a Words) -> Self {
        let narrow = sheet.width < 600.0;
        let both = || rows.iter().flat_map(|row| [(&row.before, row), (&row.after, row)]);
        let most = both().filter_map(|(at, _)| at.loss).map(|(_, _, high)| high).fold(LEAST_END, f64::max);
        let rankings: Vec<Ranking> = both().filter_map(|(at, _)| at.ranking.clone()).collect();
        let rises = both().flat_map(|(at, row)| bands(at, row.opening.as_ref())).filter_map(rise);
        let end_db = rises.filter(|db| db.is_finite()).fold(LEAST_RISE, f64::max);
        Self {
            sheet,
            words,
            scales: Scales::of(&rankings),
            margin: if narrow { 12.0 } else { 24.0 },
            narrow,
            end_percent: ((most / 10.0).ceil() * 10.0).clamp(LEAST_END, 100.0),
            end_db: (end_db / 6.0).ceil() * 6.0,
        }
    }

    fn title(&mut self, title: &[String], top: f64) -> f64 {
        let mut y = top;
        for (row, line) in title.iter().enumerate() {
            let style = if row == 0 { HEADING } else { LABEL };
            for part in self.sheet.lettering.broken(line, style.size, style.weight, self.width(), 3) {
                y += 28.0;
                self.sheet.text(spot(self.margin, y), part, style);
            }
        }
        if title.is_empty() { y } else { y + 16.0 }
    }

    fn width(&self) -> f64 {
        self.sheet.width - 2.0 * self.margin
    }

    /// One cylinder; returns its lower edge.
    fn block(&mut self, row: &BeforeAfterRow, top: f64) -> f64 {
        let right = self.sheet.width - self.margin;
        self.sheet.line(vec![spot(self.margin, top), spot(right, top)], 1.2, RULE);
        let mut y = top + 30.0;
        self.sheet.text(spot(self.margin, y), row.name.clone(), HEADING);
        let columns = if self.narrow { self.margin + self.width() } else { self.margin + 0.52 * self.width() };
        y += 12.0;
        for (name, at) in [("plot-before", &row.before), ("plot-after", &row.after)] {
            y = self.loss(name, at, y, columns);
        }
        if !self.narrow {
            return y.max(self.spectrum(row, top + 10.0, columns + 70.0));
        }
        self.spectrum(row, y, self.margin + 34.0)
    }

    /// The loss at one time as a bar with its interval, and what was called; returns the lower edge.
    fn loss(&mut self, name: &str, at: &TimePoint, top: f64, end: f64) -> f64 {
        let names = 82.0;
        let values = 92.0;
        let track = Space { left: self.margin + names, right: end - values, top, bottom: top + BAR };
        let x = |percent: f64| track.left + (percent / self.end_percent).clamp(0.0, 1.0) * track.width();
        self.sheet.text(spot(self.margin, top + 20.0), self.words.say(name, &[]), LABEL);
        self.sheet.line(vec![spot(track.left, track.bottom), spot(track.right, track.bottom)], 1.0, RULE);
        let value = match at.loss {
            Some((value, low, high)) => {
                let filled = Space { right: x(value).max(track.left + 3.0), ..track };
                self.sheet.fill(filled, if at.leak { AIR } else { MIST });
                self.sheet.frame(filled, 1.4, if at.leak { AIR } else { HATCH });
                let middle = f64::midpoint(track.top, track.bottom);
                let on_bar = if at.leak { PAPER } else { INK };
                let split = filled.right.clamp(x(low), x(high));
                self.sheet.line(vec![spot(x(low), middle), spot(split, middle)], 2.4, on_bar);
                self.sheet.line(vec![spot(split, middle), spot(x(high), middle)], 2.4, INK);
                let number = Fact::Text(self.words.printed(value, usize::from(high - low < WHOLE_FROM)));
                self.words.say("percent", &[("percent", number)])
            }
            None => self.words.say("report-not-read", &[]),
        };
        let size = if at.loss.is_some() { LABEL.size } else { SMALL.size };
        let style = Style { weight: Weight::Bold, anchor: Anchor::End, size, ..LABEL };
        self.sheet.text(spot(end, top + 20.0), value, style);
        let said = at.called.clone().unwrap_or_else(|| self.words.say("plot-glance-unheard", &[]));
        let mut y = top + BAR;
        let lines = self.sheet.lettering.broken(&said, SMALL.size, SMALL.weight, end - track.left, 2);
        for line in lines {
            y += 21.0;
            self.sheet.text(spot(track.left, y), line, SMALL);
        }
        y + 12.0
    }

    /// How far the air clip rose over the quiet one in each band, then and now; returns the lower edge.
    fn spectrum(&mut self, row: &BeforeAfterRow, top: f64, left: f64) -> f64 {
        let Some(opening) = &row.opening else { return top };
        let facts = [("where", Fact::Text(self.words.at(opening)))];
        let right = self.sheet.width - self.margin;
        let mut y = top + 18.0;
        let name = self.words.say("plot-rise", &facts);
        for line in self.sheet.lettering.broken(&name, SMALL.size, SMALL.weight, right - left, 2) {
            self.sheet.text(spot(left, y), line, SMALL);
            y += 21.0;
        }
        let space = Space { left, right, top: y - 8.0, bottom: y - 8.0 + PANEL };
        let level = |db: f64| space.bottom - (db / self.end_db).clamp(0.0, 1.0) * PANEL;
        self.sheet.fill(space, PAPER);
        let mut db = 0.0;
        while db <= self.end_db + 1e-9 {
            let at = level(db);
            self.sheet.line(vec![spot(left, at), spot(right, at)], 1.0, RULE);
            let style = Style { anchor: Anchor::End, ..SMALL };
            self.sheet.text(spot(left - 6.0, at + 5.5), self.words.printed(db, 0), style);
            db += if self.end_db > 18.0 { 12.0 } else { 6.0 };
        }
        let stair = |at: &TimePoint| -> Vec<Spot> {
            let steps = bands(at, Some(opening)).filter_map(|band| {
                let (low, high) = edges(band.midband);
                let y = level(rise(band).filter(|db| db.is_finite())?);
                Some([spot(self.scales.frequency.x(low, space), y), spot(self.scales.frequency.x(high, space), y)])
            });
            steps.flatten().collect()
        };
        let (before, after) = (stair(&row.before), stair(&row.after));
        if before.len() > 1 {
            let mut under = before.clone();
            if let (Some(first), Some(last)) = (before.first(), before.last()) {
                under.extend([spot(last.x, space.bottom), spot(first.x, space.bottom)]);
            }
            self.sheet.area(under, RISE);
            self.sheet.dashed(&before, QUIET_DASH, QUIET_WIDTH, QUIET);
        }
        if after.len() > 1 {
            self.sheet.line(after, AIR_WIDTH, AIR);
        }
        self.sheet.frame(space, 1.2, HATCH);
        frequency_numbers(&mut self.sheet, space, &self.scales, self.words);
        let style = Style { anchor: Anchor::End, ..SMALL };
        self.sheet.text(spot(left - 6.0, space.bottom + 22.0), self.words.say("plot-khz", &[]), style);
        space.bottom + 30.0
    }

    /// Which line is which; returns the lower edge.
    fn key(&mut self, rows: &[BeforeAfterRow], top: f64) -> f64 {
        let drawn = |at: &dyn Fn(&BeforeAfterRow) -> bool| rows.iter().any(at);
        if !drawn(&|row| row.opening.is_some()) {
            return top;
        }
        let y = top + 14.0;
        let mut x = self.margin;
        for (name, before) in [("plot-before", true), ("plot-after", false)] {
            let line = [spot(x, y), spot(x + 40.0, y)];
            if before {
                self.sheet.dashed(&line, QUIET_DASH, QUIET_WIDTH, QUIET);
            } else {
                self.sheet.line(line.to_vec(), AIR_WIDTH, AIR);
            }
            let text = self.words.say(name, &[]);
            let wide = self.sheet.lettering.width(&text, SMALL.size, SMALL.weight);
            self.sheet.text(spot(x + 50.0, y + 5.5), text, SMALL);
            x += 50.0 + wide + 30.0;
        }
        y + 14.0
    }

    fn alternative(&self, row: &BeforeAfterRow) -> String {
        let side = |at: &TimePoint| {
            let loss = at.loss.map(|(value, low, high)| {
                let number = Fact::Text(self.words.printed(value, usize::from(high - low < WHOLE_FROM)));
                self.words.say("percent", &[("percent", number)])
            });
            [loss, at.called.clone()].into_iter().flatten().collect::<Vec<_>>().join(", ")
        };
        format!("{}: {} → {}.", row.name, side(&row.before), side(&row.after))
    }
}

/// The bands of an opening at one time.
fn bands<'a>(at: &'a TimePoint, opening: Option<&'a Opening>) -> impl Iterator<Item = &'a BandResult> {
    let openings = at.ranking.iter().flat_map(|ranking| &ranking.openings);
    openings.filter(move |result| Some(&result.opening) == opening).flat_map(|result| &result.bands)
}

/// How far a band's air clip lies over its quiet clip, dB, not below nothing.
fn rise(band: &BandResult) -> Option<f64> {
    Some((band.air.0 - band.quiet?.0).max(0.0))
}
