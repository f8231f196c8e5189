//! The comparison picture: a block per cylinder, the openings side by side, each with its hiss level and spectrum.
//!
//! An opening stands at the same place in every block, and all blocks share their axes: the same opening on another
//! cylinder is the best control there is.

use super::captions::{alternative, called, reservation};
use super::ink::{HATCH, INK, MIST, PAPER, RULE, SOFT, Tone};
use super::legend::{self, Keys};
use super::lettering::{Lettering, Weight};
use super::panels;
use super::picture::{Anchor, Picture, PictureSize, Sheet, Space, Style, spot};
use super::render::PictureError;
use super::scale::Scales;
use crate::caveat::Fact;
use crate::opening::{EscapePath, Opening};
use crate::ranking::{Call, HissReading, Member, OpeningResult, Ranking};
use crate::words::Words;

const GAP: f64 = 12.0;
const NARROWEST_COLUMN: f64 = 120.0;
const WIDEST_COLUMN: f64 = 560.0;

const HEADING: Style = Style::new(27.0, Weight::Bold, Anchor::Start, INK);
const CALL: Style = Style::new(20.0, Weight::Regular, Anchor::Start, INK);
const NAME: Style = Style::new(19.0, Weight::Bold, Anchor::Start, INK);
const SMALL: Style = Style::new(16.0, Weight::Regular, Anchor::Start, SOFT);
const SHARE: Style = Style::new(24.0, Weight::Bold, Anchor::Start, INK);
const VALUE: Style = Style::new(18.0, Weight::Bold, Anchor::Middle, INK);

/// What stands over a job's picture.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PictureTitle {
    /// The engine, and the day of the test where it is known.
    pub lines: Vec<String>,
    /// What each cylinder loses, in a few words.
    pub losses: Vec<(u32, String)>,
    /// Cylinders that hold well and hiss as healthy ones do: no leak, so nothing of theirs stands forward.
    pub normal: Vec<u32>,
}

impl PictureTitle {
    /// Whether a call names a leak, and not the hiss of a cylinder that holds well.
    pub(super) fn is_leak(&self, ranking: &Ranking) -> bool {
        let normal = ranking.cylinder.is_some_and(|cylinder| self.normal.contains(&cylinder));
        matches!(ranking.call, Call::Located | Call::Shared) && !normal
    }
}

/// The comparison picture of one or more cylinders (or of loose clips), a block each, on the same axes.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn comparison(rankings: &[Ranking], words: &Words, size: PictureSize) -> Result<Picture, PictureError> {
    drawn(rankings, rankings, &PictureTitle::default(), words, size)
}

/// The same with a title: engine, day, and what each cylinder loses.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn comparison_titled(
    rankings: &[Ranking],
    title: &PictureTitle,
    words: &Words,
    size: PictureSize,
) -> Result<Picture, PictureError> {
    drawn(rankings, rankings, title, words, size)
}

/// A picture for each cylinder, all on the same axes and with the openings at the same places:
/// for papers, where a picture has to stay on its page. `normal` as in [`PictureTitle`].
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn comparison_of_each(
    rankings: &[Ranking],
    normal: &[u32],
    words: &Words,
    size: PictureSize,
) -> Result<Vec<Picture>, PictureError> {
    let title = PictureTitle { normal: normal.to_vec(), ..PictureTitle::default() };
    rankings.iter().map(|ranking| drawn(std::slice::from_ref(ranking), rankings, &title, words, size)).collect()
}

/// Some of the rankings, on the axes of all.
fn drawn(
    shown: &[Ranking],
    all: &[Ranking],
    title: &PictureTitle,
    words: &Words,
    size: PictureSize,
) -> Result<Picture, PictureError> {
    let openings = in_engine_order(all);
    let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
    let grid = Grid::of(size.width(), openings.len());
    let sheet = Sheet::new(size.width(), lettering);
    let mut drawing = Drawing { sheet, grid, scales: Scales::of(all), words, openings, title };
    let mut y = drawing.title(drawing.grid.margin);
    for (place, ranking) in shown.iter().enumerate() {
        if place > 0 {
            drawing.sheet.line(vec![spot(grid.margin, y), spot(size.width() - grid.margin, y)], 1.2, RULE);
            y += 20.0;
        }
        y = drawing.block(ranking, y) + 8.0;
    }
    let bottom = legend::draw(&mut drawing.sheet, y, grid.margin, &Keys::of(shown, title), words);
    Ok(drawing.sheet.finish((bottom + grid.margin).ceil(), alternative(shown, title, words)))
}

/// The openings of all rankings, each once: along the way of the gas, neighbours by number, then the rig and others.
pub(super) fn in_engine_order(rankings: &[Ranking]) -> Vec<Opening> {
    let mut openings: Vec<Opening> =
        rankings.iter().flat_map(|ranking| &ranking.openings).map(|result| result.opening.clone()).collect();
    let place = |opening: &Opening| {
        let kind = match opening.path() {
            EscapePath::IntakeValve => 0,
            EscapePath::ExhaustValve => 1,
            EscapePath::RingsOrBore => 2,
            EscapePath::GasketOrCrack => 3,
            EscapePath::GasketToNeighbour => 4,
            EscapePath::Other => 5,
            EscapePath::TestRig => 6,
        };
        (kind, opening.neighbour(), opening.name().to_owned())
    };
    openings.sort_by_key(place);
    openings.dedup();
    openings
}

/// Where the columns stand.
#[derive(Debug, Clone, Copy)]
struct Grid {
    margin: f64,
    /// Left edge of the first column; the numbers of the axes stand before it.
    first: f64,
    column: f64,
    per_row: usize,
    level_height: f64,
    spectrum_height: f64,
}

impl Grid {
    fn of(width: f64, openings: usize) -> Self {
        // Where the openings stand under each other, their panels are lower: less to scroll.
        let narrow = width < 600.0;
        let (margin, gutter) = if narrow { (12.0, 40.0) } else { (24.0, 50.0) };
        let (level_height, spectrum_height) = if narrow { (104.0, 124.0) } else { (140.0, 170.0) };
        let first = margin + gutter;
        let room = width - first - margin;
        let most = (((room + GAP) / (NARROWEST_COLUMN + GAP)) as usize).max(1);
        let rows = openings.div_ceil(most).max(1);
        // Rows as equal as can be: eight openings are 4 + 4 and not 7 + 1.
        let per_row = openings.div_ceil(rows).max(1);
        let column = ((room + GAP) / per_row as f64 - GAP).min(WIDEST_COLUMN);
        Self { margin, first, column, per_row, level_height, spectrum_height }
    }

    fn space(&self, place: usize, top: f64, height: f64) -> Space {
        let left = self.first + place as f64 * (self.column + GAP);
        Space { left, top, right: left + self.column, bottom: top + height }
    }
}

/// How much an opening stands forward: strong is a leak that was found, and nothing else.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Emphasis {
    /// A leak was found here.
    Leak,
    /// The leak may be here; it is not settled.
    Possible,
    /// Nothing was found here.
    Back,
}

impl Emphasis {
    fn of(opening: &Opening, ranking: &Ranking, title: &PictureTitle) -> Self {
        let answer = ranking.answer_set.contains(&Member::Opening(opening.clone()));
        match ranking.call {
            Call::Located | Call::Shared if answer && title.is_leak(ranking) => Self::Leak,
            Call::CannotTell if answer => Self::Possible,
            _ => Self::Back,
        }
    }
}

/// An opening's column in one block.
struct Column<'a> {
    opening: &'a Opening,
    shown: Option<&'a OpeningResult>,
    emphasis: Emphasis,
}

impl Column<'_> {
    fn is_leak(&self) -> bool {
        self.emphasis == Emphasis::Leak
    }
}

struct Drawing<'a> {
    sheet: Sheet,
    grid: Grid,
    scales: Scales,
    words: &'a Words,
    openings: Vec<Opening>,
    title: &'a PictureTitle,
}

impl Drawing<'_> {
    /// One cylinder; returns its lower edge.
    fn block(&mut self, ranking: &Ranking, top: f64) -> f64 {
        let mut y = self.heading(ranking, top);
        let openings = self.openings.clone();
        let columns: Vec<Column<'_>> = openings
            .iter()
            .map(|opening| Column {
                opening,
                shown: ranking.openings.iter().find(|result| result.opening == *opening),
                emphasis: Emphasis::of(opening, ranking, self.title),
            })
            .collect();
        for row in columns.chunks(self.grid.per_row) {
            y = self.row(row, y) + 14.0;
        }
        y
    }

    /// Engine and day over all blocks; returns the lower edge.
    fn title(&mut self, top: f64) -> f64 {
        let (left, right) = (self.grid.margin, self.sheet.width - self.grid.margin);
        let mut y = top;
        for (row, line) in self.title.lines.iter().enumerate() {
            let style = if row == 0 { HEADING } else { CALL };
            for part in self.sheet.lettering.broken(line, style.size, style.weight, right - left, 3) {
                y += if row == 0 { 32.0 } else { 26.0 };
                self.sheet.text(spot(left, y), part, style);
            }
        }
        if y > top { y + 20.0 } else { y }
    }

    /// The cylinder and what it loses, what may be said of it, and what is left for elsewhere; returns the lower edge.
    fn heading(&mut self, ranking: &Ranking, top: f64) -> f64 {
        let words = self.words;
        let left = self.grid.margin;
        let right = self.sheet.width - self.grid.margin;
        let mut y = top + 24.0;
        let subject = words.cylinder(ranking.cylinder);
        self.sheet.text(spot(left, y), subject.clone(), HEADING);
        let taken = self.sheet.lettering.width(&subject, HEADING.size, HEADING.weight);
        let known = self.title.losses.iter().find(|(cylinder, _)| Some(*cylinder) == ranking.cylinder);
        if let Some((_, loss)) = known {
            let room = right - left - taken - 16.0;
            if self.sheet.lettering.width(loss, CALL.size, CALL.weight) <= room {
                self.sheet.text(spot(left + taken + 16.0, y), loss.clone(), CALL);
            } else {
                for line in self.sheet.lettering.broken(loss, CALL.size, CALL.weight, right - left, 3) {
                    y += 26.0;
                    self.sheet.text(spot(left, y), line, CALL);
                }
            }
        }
        y += 4.0;
        let bold = Style { weight: Weight::Bold, ..CALL };
        let style = if self.title.is_leak(ranking) { bold } else { CALL };
        let call = called(ranking, self.title, words);
        for line in self.sheet.lettering.broken(&call, CALL.size, style.weight, right - left, 4) {
            y += 26.0;
            self.sheet.text(spot(left, y), line, style);
        }
        let small = [self.elsewhere(ranking), reservation(ranking, words)];
        for text in small.into_iter().flatten() {
            for line in self.sheet.lettering.broken(&text, SMALL.size, SMALL.weight, right - left, 3) {
                y += 22.0;
                self.sheet.text(spot(left, y), line, SMALL);
            }
        }
        y + 16.0
    }

    /// How likely it is that nothing leaks, or that it leaks elsewhere, where that is worth a word.
    fn elsewhere(&self, ranking: &Ranking) -> Option<String> {
        let percent = |probability: f64| Fact::Text(self.words.percent(probability));
        let facts =
            [("percent", percent(ranking.elsewhere_probability)), ("tight", percent(ranking.tight_probability))];
        let worth = ranking.elsewhere_probability >= 0.005 || ranking.tight_probability >= 0.005;
        worth.then(|| self.words.say("plot-elsewhere", &facts))
    }

    /// A row of openings; returns its lower edge.
    fn row(&mut self, columns: &[Column<'_>], top: f64) -> f64 {
        let mut y = self.names(columns, top) + 8.0;
        self.shares(columns, y);
        y += 34.0;
        y = self.caption("plot-levels", y);
        let levels = |place: usize| self.grid.space(place, y, self.grid.level_height);
        let spaces: Vec<Space> = (0..columns.len()).map(levels).collect();
        let ticks: Vec<_> =
            self.scales.hiss.ticks().into_iter().map(|level| (level, self.scales.hiss.y(level, spaces[0]))).collect();
        panels::level_numbers(&mut self.sheet, self.grid.first - 8.0, &ticks, self.words);
        for (column, space) in columns.iter().zip(&spaces) {
            panels::hiss_panel(&mut self.sheet, *space, &self.scales, column.shown, column.is_leak());
        }
        y = self.values(columns, y + self.grid.level_height) + 8.0;
        y = self.caption("plot-spectra", y);
        let spaces: Vec<Space> =
            spaces.iter().map(|s| Space { top: y, bottom: y + self.grid.spectrum_height, ..*s }).collect();
        let ticks: Vec<_> =
            self.scales.sound.ticks().into_iter().map(|level| (level, self.scales.sound.y(level, spaces[0]))).collect();
        panels::level_numbers(&mut self.sheet, self.grid.first - 8.0, &ticks, self.words);
        for (column, space) in columns.iter().zip(&spaces) {
            panels::spectrum_panel(&mut self.sheet, *space, &self.scales, column.shown, column.is_leak());
            panels::frequency_numbers(&mut self.sheet, *space, &self.scales, self.words);
        }
        y += self.grid.spectrum_height + 20.0;
        let style = Style { anchor: Anchor::End, ..SMALL };
        self.sheet.text(spot(self.grid.first - 8.0, y), self.words.say("plot-khz", &[]), style);
        y + 8.0
    }

    /// What the panels of a row show; returns where they begin.
    fn caption(&mut self, name: &str, top: f64) -> f64 {
        self.sheet.text(spot(self.grid.margin, top + 18.0), self.words.say(name, &[]), SMALL);
        top + 31.0
    }

    /// Opening and escape path over each column, dark where it belongs to the answer; returns the lower edge.
    fn names(&mut self, columns: &[Column<'_>], top: f64) -> f64 {
        let width = self.grid.column - 16.0;
        let words = self.words;
        let lettering = &self.sheet.lettering;
        let fits = |text: &str, style: Style| lettering.width(text, style.size, style.weight) <= width;
        let texts: Vec<(Vec<String>, Vec<String>, f64)> = columns
            .iter()
            .map(|column| {
                let name = words.opening(column.opening);
                let name = if fits(&name, NAME) { name } else { words.short_opening(column.opening) };
                // A word a little too long is set smaller before it is broken.
                let size = if name.split(' ').all(|word| fits(word, NAME)) { NAME.size } else { SMALL.size };
                let path = words.path(column.opening);
                let whole = path.split(' ').all(|word| fits(word, SMALL));
                let path = if whole { path } else { words.short_path(column.opening) };
                let path = match column.opening.path() {
                    EscapePath::Other => Vec::new(),
                    _ => lettering.broken(&path, SMALL.size, SMALL.weight, width, 4),
                };
                (lettering.broken(&name, size, NAME.weight, width, 3), path, size)
            })
            .collect();
        let tall =
            |lines: &(Vec<String>, Vec<String>, f64)| lines.0.len() as f64 * 24.0 + lines.1.len() as f64 * 20.0 + 14.0;
        let height = texts.iter().map(tall).fold(0.0, f64::max);
        for (place, (column, (name, path, size))) in columns.iter().zip(texts).enumerate() {
            let space = self.grid.space(place, top, height);
            let (tone, small): (Tone, Tone) = if column.is_leak() { (PAPER, PAPER) } else { (INK, SOFT) };
            match column.emphasis {
                Emphasis::Leak => self.sheet.fill(space, INK),
                Emphasis::Possible => self.sheet.frame(space, 2.5, INK),
                Emphasis::Back => self.sheet.fill(space, MIST),
            }
            let mut y = top + 2.0;
            for line in name {
                y += 24.0;
                self.sheet.text(spot(space.left + 8.0, y), line, Style { tone, size, ..NAME });
            }
            for line in path {
                y += 20.0;
                self.sheet.text(spot(space.left + 8.0, y), line, Style { tone: small, ..SMALL });
            }
        }
        top + height
    }

    /// The probability of each column, as a number and as a bar.
    fn shares(&mut self, columns: &[Column<'_>], top: f64) {
        for (place, column) in columns.iter().enumerate() {
            let space = self.grid.space(place, top, 26.0);
            let Some(shown) = column.shown else {
                self.sheet.text(spot(space.left, top + 21.0), self.words.say("plot-not-recorded", &[]), SMALL);
                continue;
            };
            let percent = self.words.percent(shown.probability);
            // "under 1 %" is longer than any number, and never needs the eye first.
            // Only a leak that was found stands forward.
            let (weight, fill) = if column.is_leak() { (Weight::Bold, INK) } else { (Weight::Regular, HATCH) };
            let size = if shown.probability < 0.005 { 16.0 } else { SHARE.size };
            let style = Style { size, weight, ..SHARE };
            let wide = self.sheet.lettering.width(&percent, style.size, style.weight);
            self.sheet.text(spot(space.left, top + 22.0), percent, style);
            let bar = Space { left: space.left + wide + 12.0, top: top + 7.0, right: space.right, bottom: top + 21.0 };
            if bar.width() > 24.0 {
                let share = shown.probability.clamp(0.0, 1.0);
                self.sheet.fill(Space { right: bar.left + bar.width() * share, ..bar }, fill);
                self.sheet.frame(bar, 1.2, SOFT);
            }
        }
    }

    /// The hiss levels in numbers; returns the lower edge.
    fn values(&mut self, columns: &[Column<'_>], top: f64) -> f64 {
        let words = self.words;
        let level = |db: f64| Fact::Text(words.printed(db, 1));
        let spilt = columns.iter().any(|column| column.shown.is_some_and(|shown| shown.spill));
        for (place, column) in columns.iter().enumerate() {
            let Some(shown) = column.shown else { continue };
            let space = self.grid.space(place, top, 0.0);
            let middle = f64::midpoint(space.left, space.right);
            let (first, second) = match shown.hiss {
                HissReading::Heard { level: found, low, high } => (
                    words.say("plot-level", &[("level", level(found.0))]),
                    words.say("level-interval", &[("low", level(low.0)), ("high", level(high.0))]),
                ),
                HissReading::Bound => {
                    let facts = [("level", level(shown.at_most.0))];
                    let long = words.say("level-at-most", &facts);
                    let fits = self.sheet.lettering.width(&long, VALUE.size, VALUE.weight) <= space.width();
                    let first = if fits { long } else { words.say("plot-at-most-short", &facts) };
                    let second = if column.is_leak() { "level-not-measured" } else { "level-not-heard" };
                    (first, words.say(second, &[]))
                }
            };
            let small = Style { anchor: Anchor::Middle, ..SMALL };
            self.sheet.text(spot(middle, top + 24.0), first, VALUE);
            self.sheet.text(spot(middle, top + 45.0), second, small);
            if shown.spill {
                let style = Style { weight: Weight::Bold, tone: INK, ..small };
                self.sheet.text(spot(middle, top + 66.0), words.say("level-spill", &[]), style);
            }
        }
        top + if spilt { 74.0 } else { 53.0 }
    }
}
