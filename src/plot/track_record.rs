//! The picture of said against found: how often what was said was what was found, by the probability that was said.

use super::ink::{AIR, HATCH, INK, PAPER, RULE, SOFT};
use super::lettering::{Lettering, Weight};
use super::picture::{Anchor, Picture, PictureSize, Sheet, Space, Style, spot};
use super::render::PictureError;
use crate::caveat::Fact;
use crate::history::TrackRecord;
use crate::words::Words;

const HEADING: Style = Style::new(27.0, Weight::Bold, Anchor::Start, INK);
const SMALL: Style = Style::new(16.0, Weight::Regular, Anchor::Start, SOFT);
const LABEL: Style = Style::new(16.0, Weight::Bold, Anchor::Middle, INK);
/// Side of the square.
const MOST_SIDE: f64 = 460.0;

/// Said probability to the right, the share that was right upward, each with its interval of 95 % and how many were
/// opened; on the slanting line what is said holds.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn track_record(record: &TrackRecord, words: &Words, size: PictureSize) -> Result<Picture, PictureError> {
    let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
    let width = size.width().min(640.0);
    let margin = if width < 600.0 { 12.0 } else { 24.0 };
    let mut sheet = Sheet::new(width, lettering);
    let count = |value: usize| Fact::Number { value: value as f64, decimals: 0 };
    let opened = [("opened", count(record.cases.len()))];
    let mut y = margin;
    for line in sheet.lettering.broken(
        &words.say("found-title", &opened),
        HEADING.size,
        HEADING.weight,
        width - 2.0 * margin,
        3,
    ) {
        y += 30.0;
        sheet.text(spot(margin, y), line, HEADING);
    }
    if record.is_few() {
        for line in
            sheet.lettering.broken(&words.say("found-few", &opened), SMALL.size, SMALL.weight, width - 2.0 * margin, 3)
        {
            y += 22.0;
            sheet.text(spot(margin, y), line, SMALL);
        }
    }
    y += 30.0;
    sheet.text(spot(margin, y), words.say("found-axis-right", &[]), SMALL);
    y += 12.0;
    let left = margin + 48.0;
    let side = (width - margin - left).min(MOST_SIDE);
    let space = Space { left, top: y, right: left + side, bottom: y + side };
    axes(&mut sheet, space, words);
    let place = |said: f64, right: f64| spot(space.left + said * side, space.bottom - right * side);
    for bin in &record.bins {
        let Some((said, share)) = bin.said.zip(bin.share.value()) else { continue };
        let (low, high) = (place(said, bin.share.low), place(said, bin.share.high));
        sheet.line(vec![low, high], 2.0, INK);
        for end in [low, high] {
            sheet.line(vec![spot(end.x - 7.0, end.y), spot(end.x + 7.0, end.y)], 2.0, INK);
        }
        sheet.disc(place(said, share), 6.5, AIR);
        // Beside the mark, where the interval's line does not run through it.
        let (anchor, aside) = if said > 0.85 { (Anchor::End, -12.0) } else { (Anchor::Start, 12.0) };
        let at = place(said, share);
        // At the foot the axis has its numbers.
        let down = if share < 0.1 { -12.0 } else { 20.0 };
        let text = words.say("found-of", &[("right", count(bin.share.right)), ("of", count(bin.share.of))]);
        sheet.text(spot(at.x + aside, at.y + down), text, Style { anchor, ..LABEL });
    }
    let bottom = space.bottom + 50.0;
    sheet.text(
        spot(left + side / 2.0, bottom),
        words.say("found-axis-said", &[]),
        Style { anchor: Anchor::Middle, ..SMALL },
    );
    Ok(sheet.finish((bottom + margin).ceil(), alternative(record, words)))
}

fn axes(sheet: &mut Sheet, space: Space, words: &Words) {
    sheet.fill(space, PAPER);
    let side = space.right - space.left;
    for step in 0..=4_u32 {
        let share = f64::from(step) / 4.0;
        let (x, y) = (space.left + share * side, space.bottom - share * side);
        sheet.line(vec![spot(space.left, y), spot(space.right, y)], 1.0, RULE);
        sheet.text(
            spot(space.left - 8.0, y + 5.5),
            words.printed(100.0 * share, 0),
            Style { anchor: Anchor::End, ..SMALL },
        );
        sheet.text(
            spot(x, space.bottom + 22.0),
            words.printed(100.0 * share, 0),
            Style { anchor: Anchor::Middle, ..SMALL },
        );
    }
    sheet.dashed(&[spot(space.left, space.bottom), spot(space.right, space.top)], (7.0, 6.0), 1.4, SOFT);
    sheet.frame(space, 1.2, HATCH);
}

/// The picture in words.
fn alternative(record: &TrackRecord, words: &Words) -> String {
    let number = |value: f64| Fact::Number { value: 100.0 * value, decimals: 0 };
    let rows = record.bins.iter().filter_map(|bin| {
        let (said, share) = bin.said.zip(bin.share.value())?;
        let facts = [
            ("said", number(said)),
            ("share", number(share)),
            ("low", number(bin.share.low)),
            ("high", number(bin.share.high)),
        ];
        Some(words.say("found-alt-row", &facts))
    });
    words.say("found-alt", &[("rows", Fact::Text(rows.collect::<Vec<_>>().join(" ")))])
}
