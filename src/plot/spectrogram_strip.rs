//! A spectrogram strip: what a player plays, seen. Time to the right, frequency upwards, darker is louder.

use super::ink::{HATCH, INK, PAPER, SOFT};
use super::lettering::{Lettering, Weight};
use super::picture::{Anchor, Greys, Picture, PictureSize, Sheet, Space, Style, spot};
use super::render::PictureError;
use crate::caveat::Fact;
use crate::spectrum::Spectrogram;
use crate::units::{Hertz, Level, Seconds};
use crate::words::Words;

const TICK: Style = Style::new(16.0, Weight::Regular, Anchor::Middle, SOFT);
const NAME: Style = Style::new(17.0, Weight::Bold, Anchor::Start, INK);
/// The frequencies that get a number, hertz.
const NAMED_HZ: [f64; 6] = [500.0, 1000.0, 2000.0, 4000.0, 8000.0, 16_000.0];
/// White is the level under which this share of all quiet cells lies.
const WHITE_SHARE: f64 = 0.10;
/// Black is the level under which this share of all cells lies.
const BLACK_SHARE: f64 = 0.998;
/// The least range from white to black, dB: a steady noise is not to look dramatic.
const LEAST_RANGE_DB: f64 = 20.0;

/// Which levels are white and black, the same for all strips that are to be compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GreyScale {
    /// White and whatever is quieter.
    pub white: Level,
    /// Black and whatever is louder.
    pub black: Level,
}

impl GreyScale {
    /// A scale that shows these recordings: white is nearly their floor, black nearly their loudest.
    #[must_use]
    pub fn of<'a>(sounds: impl Iterator<Item = &'a Spectrogram>) -> Self {
        let mut levels: Vec<f64> =
            sounds.flat_map(|sound| sound.columns.iter().flatten().flatten()).map(|level| level.0).collect();
        levels.sort_by(f64::total_cmp);
        let at = |share: f64| levels.get(((levels.len() as f64 * share) as usize).min(levels.len().saturating_sub(1)));
        let (Some(low), Some(high)) = (at(WHITE_SHARE), at(BLACK_SHARE)) else {
            return Self { white: Level(-100.0), black: Level(-60.0) };
        };
        let black = high.ceil();
        let white = low.floor().min(black - LEAST_RANGE_DB);
        Self { white: Level(white), black: Level(black) }
    }

    fn grey(self, level: Option<Level>) -> u8 {
        let part = level.map_or(0.0, |level| (level.0 - self.white.0) / (self.black.0 - self.white.0));
        (255.0 * (1.0 - part.clamp(0.0, 1.0))).round() as u8
    }
}

/// A stretch of a strip: one recording with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// What it is, over it.
    pub name: String,
    /// When it begins on the strip's axis of time.
    pub begins: Seconds,
    /// What is heard.
    pub sound: Spectrogram,
}

/// The strip of stretches that are played one after the other; `alt` says what it shows.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn spectrogram_strip(
    stretches: &[Stretch],
    scale: GreyScale,
    alt: String,
    words: &Words,
    size: PictureSize,
) -> Result<Picture, PictureError> {
    let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
    let mut sheet = Sheet::new(size.width(), lettering);
    let narrow = size == PictureSize::Phone;
    let (margin, gutter, height) = if narrow { (12.0, 34.0, 118.0) } else { (24.0, 44.0, 132.0) };
    let whole = Space { left: margin + gutter, right: sheet.width - margin, top: 28.0, bottom: 28.0 + height };
    let ends = stretches.iter().map(|stretch| stretch.begins.0 + stretch.sound.duration.0).fold(0.0, f64::max);
    let x = |seconds: f64| whole.left + seconds / ends.max(f64::MIN_POSITIVE) * whole.width();
    for (place, stretch) in stretches.iter().enumerate() {
        let left = x(stretch.begins.0);
        let space = Space { left, right: x(stretch.begins.0 + stretch.sound.duration.0), ..whole };
        carpet(&mut sheet, space, &stretch.sound, scale);
        sheet.frame(space, 1.2, HATCH);
        let name = sheet.lettering.broken(&stretch.name, NAME.size, NAME.weight, space.width(), 1).concat();
        sheet.text(spot(left, 19.0), name, NAME);
        if place == 0 {
            frequencies(&mut sheet, space, &stretch.sound, words);
        }
    }
    seconds(&mut sheet, whole, ends, &x, words);
    Ok(sheet.finish(whole.bottom + 32.0, alt))
}

/// The levels as greys; the highest band on top.
fn carpet(sheet: &mut Sheet, space: Space, sound: &Spectrogram, scale: GreyScale) {
    let columns = sound.columns.len();
    let bands = sound.edges.len().saturating_sub(1);
    if columns == 0 || bands == 0 {
        sheet.fill(space, PAPER);
        return;
    }
    let values = (0..bands)
        .rev()
        .flat_map(|band| sound.columns.iter().map(move |column| scale.grey(column.get(band).copied().flatten())));
    sheet.raster(space, Greys { columns, values: values.collect() });
}

/// The numbers of the axis of frequency, in kilohertz, and its name.
fn frequencies(sheet: &mut Sheet, space: Space, sound: &Spectrogram, words: &Words) {
    let (Some(Hertz(low)), Some(Hertz(high))) = (sound.edges.first(), sound.edges.last()) else { return };
    let style = Style { anchor: Anchor::End, ..TICK };
    let y = |hz: f64| space.bottom - (hz / low).ln() / (high / low).ln() * (space.bottom - space.top);
    let mut last = f64::INFINITY;
    for hz in NAMED_HZ.into_iter().filter(|hz| hz > low && hz < high) {
        let at = y(hz);
        sheet.line(vec![spot(space.left - 5.0, at), spot(space.left, at)], 1.2, SOFT);
        let khz = words.printed(hz / 1000.0, usize::from(hz < 1000.0));
        if last - at >= 18.0 {
            sheet.text(spot(space.left - 8.0, at + 5.5), khz, style);
            last = at;
        }
    }
    sheet.text(spot(space.left - 8.0, 19.0), words.say("plot-khz", &[]), style);
}

/// The numbers of the axis of time.
fn seconds(sheet: &mut Sheet, whole: Space, ends: f64, x: &dyn Fn(f64) -> f64, words: &Words) {
    let y = whole.bottom;
    let step = if ends > 12.0 { 5.0 } else { 1.0 };
    let mut at = 0.0;
    while at <= ends + 1e-9 {
        let place = x(at);
        sheet.line(vec![spot(place, y), spot(place, y + 5.0)], 1.2, SOFT);
        let number = words.printed(at, 0);
        let text = if at == 0.0 { words.say("plot-seconds", &[("number", Fact::Text(number))]) } else { number };
        let (anchor, place) = match at {
            0.0 => (Anchor::Start, place),
            _ => (Anchor::Middle, place.min(whole.right - 8.0)),
        };
        sheet.text(spot(place, y + 21.0), text, Style { anchor, ..TICK });
        at += step;
    }
}
