//! What the signs of a picture mean: only those that it shows.

use super::comparison::PictureTitle;
use super::ink::{AIR, HATCH, INK, MIST, PAPER, QUIET, RISE, RULE, SOFT};
use super::lettering::Weight;
use super::panels;
use super::picture::{Anchor, Sheet, Space, Style, spot};
use crate::ranking::{Call, HissReading, Member, Ranking};
use crate::words::Words;

const LABEL: Style = Style::new(16.0, Weight::Regular, Anchor::Start, INK);
/// Width of a sign.
const SIGN: f64 = 44.0;
/// Height of a line of signs.
const LINE: f64 = 34.0;

/// One sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Key {
    Leak,
    Open,
    Heard,
    Bound,
    Air,
    Quiet,
    Rise,
    Hiss,
    Used,
}

impl Key {
    fn message(self) -> &'static str {
        match self {
            Self::Leak => "plot-key-leak",
            Self::Open => "plot-key-open",
            Self::Heard => "plot-key-heard",
            Self::Bound => "plot-key-bound",
            Self::Air => "plot-key-air",
            Self::Quiet => "plot-key-quiet",
            Self::Rise => "plot-key-rise",
            Self::Hiss => "plot-key-hiss",
            Self::Used => "plot-key-used",
        }
    }

    fn sign(self, sheet: &mut Sheet, left: f64, middle: f64) {
        let right = left + SIGN - 10.0;
        let centre = f64::midpoint(left, right);
        let line = [spot(left, middle), spot(right, middle)];
        match self {
            Self::Leak => {
                sheet.fill(Space { left, top: middle - 9.0, right, bottom: middle + 9.0 }, INK);
                let style = Style { anchor: Anchor::Middle, weight: Weight::Bold, tone: PAPER, ..LABEL };
                sheet.text(spot(centre, middle + 5.5), "Aa", style);
            }
            Self::Open => {
                sheet.frame(Space { left, top: middle - 9.0, right, bottom: middle + 9.0 }, 2.5, INK);
                let style = Style { anchor: Anchor::Middle, weight: Weight::Bold, ..LABEL };
                sheet.text(spot(centre, middle + 5.5), "Aa", style);
            }
            Self::Heard => {
                let space = Space { left: left + 5.0, top: middle - 10.0, right: right - 5.0, bottom: middle + 10.0 };
                sheet.fill(space, RISE);
                sheet.frame(space, 2.0, INK);
                sheet.fill(Space { left, top: middle - 2.0, right, bottom: middle + 2.0 }, AIR);
            }
            Self::Bound => {
                // A short arrow: the lid, its hatching and its point.
                let under = Space { left: left + 5.0, top: middle - 10.0, right: right - 5.0, bottom: middle + 12.0 };
                sheet.hatch(under, 6.0, 1.2, HATCH);
                sheet.line(vec![spot(left + 5.0, middle - 10.0), spot(right - 5.0, middle - 10.0)], 2.0, SOFT);
                sheet.line(vec![spot(centre, middle - 10.0), spot(centre, middle + 4.0)], 2.0, SOFT);
                sheet.area(
                    vec![
                        spot(centre - 7.0, middle + 1.0),
                        spot(centre + 7.0, middle + 1.0),
                        spot(centre, middle + 12.0),
                    ],
                    SOFT,
                );
            }
            Self::Air => sheet.line(line.to_vec(), panels::AIR_WIDTH, AIR),
            Self::Quiet => sheet.dashed(&line, panels::QUIET_DASH, panels::QUIET_WIDTH, QUIET),
            Self::Rise => {
                let space = Space { left, top: middle - 8.0, right, bottom: middle + 8.0 };
                sheet.fill(space, RISE);
                sheet.line(vec![spot(left, middle - 8.0), spot(right, middle - 8.0)], panels::AIR_WIDTH, AIR);
                let foot = [spot(left, middle + 8.0), spot(right, middle + 8.0)];
                sheet.dashed(&foot, panels::QUIET_DASH, panels::QUIET_WIDTH, QUIET);
            }
            Self::Hiss => sheet.disc(spot(centre, middle), 3.6, INK),
            Self::Used => {
                sheet.fill(Space { left, top: middle - 8.0, right: left + 8.0, bottom: middle + 5.0 }, MIST);
                panels::used_bar(sheet, left + 8.0, right, middle + 5.0);
                sheet.line(vec![spot(left, middle + 5.0), spot(right, middle + 5.0)], 1.2, SOFT);
            }
        }
    }
}

/// The signs that some rankings need.
pub(super) struct Keys(Vec<Key>);

impl Keys {
    pub(super) fn of(rankings: &[Ranking], title: &PictureTitle) -> Self {
        let openings = || rankings.iter().flat_map(|ranking| &ranking.openings);
        let bands = || openings().flat_map(|opening| &opening.bands);
        let heard = |reading: &HissReading| matches!(reading, HissReading::Heard { .. });
        let mut keys = Vec::new();
        let mut add = |key: Key, shown: bool| {
            if shown {
                keys.push(key);
            }
        };
        add(Key::Leak, rankings.iter().any(|ranking| title.is_leak(ranking)));
        add(
            Key::Open,
            rankings.iter().any(|one| {
                one.call == Call::CannotTell && one.answer_set.iter().any(|member| matches!(member, Member::Opening(_)))
            }),
        );
        add(Key::Heard, openings().any(|opening| heard(&opening.hiss)));
        add(Key::Bound, openings().any(|opening| !heard(&opening.hiss)));
        add(Key::Air, bands().next().is_some());
        add(Key::Quiet, bands().any(|band| band.quiet.is_some()));
        add(Key::Rise, bands().any(|band| band.used && band.quiet.is_some_and(|quiet| band.air > quiet)));
        add(Key::Hiss, bands().any(|band| band.quiet.is_none() && band.hiss.is_some() && !band.upper_bound));
        add(Key::Used, bands().any(|band| band.used));
        Self(keys)
    }
}

/// Draws the legend in as many lines as it needs; returns its lower edge.
pub(super) fn draw(sheet: &mut Sheet, top: f64, margin: f64, keys: &Keys, words: &Words) -> f64 {
    let right = sheet.width - margin;
    sheet.line(vec![spot(margin, top), spot(right, top)], 1.2, RULE);
    let (mut x, mut y) = (margin, top + 24.0);
    for key in &keys.0 {
        let label = words.say(key.message(), &[]);
        let room = right - margin - SIGN;
        let lines = sheet.lettering.broken(&label, LABEL.size, LABEL.weight, room, 2);
        let wide = lines.iter().map(|line| sheet.lettering.width(line, LABEL.size, LABEL.weight)).fold(0.0, f64::max);
        if x > margin && x + SIGN + wide > right {
            (x, y) = (margin, y + LINE);
        }
        key.sign(sheet, x, y);
        for (row, line) in lines.iter().enumerate() {
            sheet.text(spot(x + SIGN, y + 5.5 + row as f64 * 20.0), line.clone(), LABEL);
        }
        if lines.len() > 1 {
            (x, y) = (margin, y + LINE + 20.0);
        } else {
            x += SIGN + wide + 28.0;
        }
    }
    let mut bottom = if x > margin { y + 14.0 } else { y - LINE + 14.0 };
    // What a decibel is here, once and small.
    let note = words.say("plot-small-print", &[]);
    for line in sheet.lettering.broken(&note, LABEL.size, LABEL.weight, right - margin, 3) {
        bottom += 21.0;
        sheet.text(spot(margin, bottom), line, Style { tone: SOFT, ..LABEL });
    }
    bottom + 4.0
}
