//! The two panels of an opening: its hiss level, and its spectrum with air on against quiet.

use super::ink::{AIR, HATCH, INK, MIST, PAPER, QUIET, RISE, RULE, SOFT, Tone};
use super::lettering::Weight;
use super::picture::{Anchor, Sheet, Space, Spot, Style, spot};
use super::scale::{Scales, edges};
use crate::ranking::{BandResult, HissReading, OpeningResult};
use crate::units::{Hertz, Level};
use crate::words::Words;

/// Dash and gap of the quiet line.
pub(super) const QUIET_DASH: (f64, f64) = (7.0, 4.5);
/// Width of the quiet and the air line.
pub(super) const QUIET_WIDTH: f64 = 2.2;
/// Width of the air line.
pub(super) const AIR_WIDTH: f64 = 2.8;
/// The frequencies that get a number, hertz.
const NAMED_HZ: [f64; 6] = [500.0, 1000.0, 2000.0, 4000.0, 8000.0, 16_000.0];

const TICK: Style = Style::new(16.0, Weight::Regular, Anchor::Middle, SOFT);

/// A panel's ground, grid and frame.
fn ground(sheet: &mut Sheet, space: Space, rows: &[f64], strong: bool) {
    sheet.fill(space, PAPER);
    for y in rows {
        if (space.top + 2.0..space.bottom - 2.0).contains(y) {
            sheet.line(vec![spot(space.left, *y), spot(space.right, *y)], 1.0, RULE);
        }
    }
    let (width, tone) = if strong { (2.5, INK) } else { (1.2, HATCH) };
    sheet.frame(space, width, tone);
}

/// The numbers of a level axis, right of which the panels begin.
pub(super) fn level_numbers(sheet: &mut Sheet, right: f64, ticks: &[(Level, f64)], words: &Words) {
    for (level, y) in ticks {
        let style = Style { anchor: Anchor::End, ..TICK };
        sheet.text(spot(right, y + 5.5), words.printed(level.0, 0), style);
    }
}

/// The hiss level with its interval, or its bound.
pub(super) fn hiss_panel(
    sheet: &mut Sheet,
    space: Space,
    scales: &Scales,
    shown: Option<&OpeningResult>,
    strong: bool,
) {
    let rows: Vec<f64> = scales.hiss.ticks().iter().map(|level| scales.hiss.y(*level, space)).collect();
    ground(sheet, space, &rows, strong);
    let Some(opening) = shown else { return };
    let middle = f64::midpoint(space.left, space.right);
    let y = |level: Level| scales.hiss.y(level, space);
    match opening.hiss {
        HissReading::Heard { level, low, high } => interval(sheet, middle, (y(high), y(level), y(low))),
        HissReading::Bound => bound(sheet, middle, y(opening.at_most), space.bottom),
    }
}

/// Half the width of a level's box and of a bound's lid.
const HALF: f64 = 24.0;

/// A box from end to end of the interval, with a bar at the level.
pub(super) fn interval(sheet: &mut Sheet, x: f64, (high, level, low): (f64, f64, f64)) {
    let space = Space { left: x - HALF, top: high, right: x + HALF, bottom: low };
    sheet.fill(space, RISE);
    sheet.frame(space, 2.0, INK);
    sheet.fill(Space { left: x - HALF - 8.0, top: level - 1.5, right: x + HALF + 8.0, bottom: level + 1.5 }, AIR);
}

/// A lid with an arrow down, hatched beneath.
pub(super) fn bound(sheet: &mut Sheet, x: f64, y: f64, foot: f64) {
    let under = Space { left: x - HALF, top: y, right: x + HALF, bottom: foot - 2.0 };
    if under.bottom > under.top {
        sheet.hatch(under, 7.0, 1.2, HATCH);
    }
    // Nothing was heard: it stands back behind what was.
    sheet.line(vec![spot(x - HALF, y), spot(x + HALF, y)], 2.0, SOFT);
    let tip = (y + 26.0).min(foot - 3.0);
    if tip > y + 10.0 {
        sheet.line(vec![spot(x, y), spot(x, tip - 8.0)], 2.0, SOFT);
        sheet.area(vec![spot(x - 7.0, tip - 11.0), spot(x + 7.0, tip - 11.0), spot(x, tip)], SOFT);
    }
}

/// Third-octave levels, air on against quiet; the bands that count are barred at the foot, the others greyed.
pub(super) fn spectrum_panel(
    sheet: &mut Sheet,
    space: Space,
    scales: &Scales,
    shown: Option<&OpeningResult>,
    strong: bool,
) {
    sheet.fill(space, PAPER);
    let bands: &[BandResult] = shown.map_or(&[], |opening| &opening.bands);
    // Neighbours overlap by a hair, or the edge between them would show in SVG.
    let across = |band: &BandResult| {
        let (low, high) = edges(band.midband);
        (scales.frequency.x(low, space), (scales.frequency.x(high, space) + 0.3).min(space.right))
    };
    for band in bands {
        let (left, right) = across(band);
        if !band.used {
            sheet.fill(Space { left, right, ..space }, MIST);
        } else if let Some(quiet) = band.quiet.filter(|quiet| band.air > *quiet) {
            let (top, bottom) = (scales.sound.y(band.air, space), scales.sound.y(quiet, space));
            sheet.fill(Space { left, top, right, bottom }, RISE);
        }
    }
    for level in scales.sound.ticks() {
        let y = scales.sound.y(level, space);
        if y > space.top + 2.0 && y < space.bottom - 2.0 {
            sheet.line(vec![spot(space.left, y), spot(space.right, y)], 1.0, RULE);
        }
    }
    let stairs =
        |of: &dyn Fn(&BandResult) -> Option<Level>| staircases(bands, of, &across, &|l| scales.sound.y(l, space));
    for stair in stairs(&|band| band.quiet) {
        sheet.dashed(&stair, QUIET_DASH, QUIET_WIDTH, QUIET);
    }
    for stair in stairs(&|band| Some(band.air)) {
        sheet.line(stair, AIR_WIDTH, AIR);
    }
    for band in bands {
        let (left, right) = across(band);
        if let (None, Some(hiss), false) = (band.quiet, band.hiss, band.upper_bound) {
            sheet.disc(spot(f64::midpoint(left, right), scales.sound.y(hiss, space)), 3.6, INK);
        }
        if band.used {
            used_bar(sheet, left, right, space.bottom);
        }
    }
    let (width, tone): (f64, Tone) = if strong { (2.5, INK) } else { (1.2, HATCH) };
    sheet.frame(space, width, tone);
}

/// The bar under a band that counts.
pub(super) fn used_bar(sheet: &mut Sheet, left: f64, right: f64, foot: f64) {
    sheet.fill(Space { left, top: foot - 5.0, right, bottom: foot }, SOFT);
}

/// Lines that step from band to band, broken where a level is missing.
fn staircases(
    bands: &[BandResult],
    level_of: &dyn Fn(&BandResult) -> Option<Level>,
    across: &dyn Fn(&BandResult) -> (f64, f64),
    y: &dyn Fn(Level) -> f64,
) -> Vec<Vec<Spot>> {
    let mut lines = vec![Vec::new()];
    for band in bands {
        let (left, right) = across(band);
        match (level_of(band), lines.last_mut()) {
            (Some(level), Some(line)) => line.extend([spot(left, y(level)), spot(right, y(level))]),
            _ => lines.push(Vec::new()),
        }
    }
    lines.retain(|line| line.len() > 1);
    lines
}

/// The numbers under a spectrum, in kilohertz.
pub(super) fn frequency_numbers(sheet: &mut Sheet, space: Space, scales: &Scales, words: &Words) {
    for hz in NAMED_HZ.into_iter().filter(|hz| scales.frequency.holds(Hertz(*hz))) {
        let x = scales.frequency.x(Hertz(hz), space);
        sheet.line(vec![spot(x, space.bottom), spot(x, space.bottom + 5.0)], 1.2, SOFT);
        // The half is left out where it would touch its neighbour.
        if hz >= 1000.0 || space.width() > 200.0 {
            let khz = words.printed(hz / 1000.0, usize::from(hz < 1000.0));
            // The last number stays under its own panel.
            sheet.text(spot(x.min(space.right - 9.0), space.bottom + 20.0), khz, TICK);
        }
    }
}
