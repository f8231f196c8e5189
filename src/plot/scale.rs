//! The axes that every panel of a picture shares, so that heights compare by eye.

use super::picture::Space;
use crate::ranking::{HissReading, Ranking};
use crate::units::{Hertz, Level};

/// The step of grid lines, dB.
const STEP_DB: f64 = 10.0;
/// An axis begins and ends at a multiple of this, dB.
const END_DB: f64 = 5.0;
/// The most decibels an axis shows: what lies deeper (digital silence) is drawn at its foot.
const LARGEST_RANGE_DB: f64 = 80.0;
/// Half a third-octave as a ratio: G^(1/6), G = 10^0.3 (IEC 61260-1:2014, 5.2 and 5.6).
const HALF_BAND_EXPONENT: f64 = 0.05;

/// An axis of levels, from a multiple of five to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LevelAxis {
    low_db: f64,
    high_db: f64,
}

impl LevelAxis {
    /// An axis that holds the levels with room at both ends, 20 dB or more.
    fn holding(levels: impl Iterator<Item = Level>, below_db: f64, above_db: f64) -> Self {
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for Level(db) in levels.filter(|level| level.0.is_finite()) {
            (low, high) = (low.min(db), high.max(db));
        }
        if low > high {
            (low, high) = (-60.0, -40.0);
        }
        let high_db = ((high + above_db) / END_DB).ceil() * END_DB;
        let low_db = ((low - below_db) / END_DB).floor() * END_DB;
        Self { low_db: low_db.min(high_db - 2.0 * STEP_DB).max(high_db - LARGEST_RANGE_DB), high_db }
    }

    /// Where a level stands in a space; what lies outside the axis stands at its end.
    pub(super) fn y(self, level: Level, space: Space) -> f64 {
        space.bottom - self.part(level) * (space.bottom - space.top)
    }

    fn part(self, level: Level) -> f64 {
        ((level.0 - self.low_db) / (self.high_db - self.low_db)).clamp(0.0, 1.0)
    }

    /// The levels that get a line, from low to high: multiples of ten, of twenty on a long axis.
    pub(super) fn ticks(self) -> Vec<Level> {
        let step = if self.high_db - self.low_db > 5.0 * STEP_DB { 2.0 * STEP_DB } else { STEP_DB };
        let first = (self.low_db / step).ceil();
        let count = ((self.high_db / step).floor() - first) as u32;
        (0..=count).map(|place| Level((first + f64::from(place)) * step)).collect()
    }
}

/// A logarithmic axis of frequency.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FrequencyAxis {
    low_hz: f64,
    high_hz: f64,
}

impl FrequencyAxis {
    /// Where a frequency stands in a space.
    pub(super) fn x(self, at: Hertz, space: Space) -> f64 {
        let part = (at.0 / self.low_hz).ln() / (self.high_hz / self.low_hz).ln();
        space.left + part.clamp(0.0, 1.0) * space.width()
    }

    /// Whether a frequency is on the axis, not quite at its ends.
    pub(super) fn holds(self, at: Hertz) -> bool {
        at.0 > self.low_hz * 1.05 && at.0 < self.high_hz / 1.05
    }
}

/// Lower and upper edge of a third-octave band: its exact midband times 10^∓0.05 (IEC 61260-1:2014, 5.6).
pub(super) fn edges(midband: Hertz) -> (Hertz, Hertz) {
    let half = 10f64.powf(HALF_BAND_EXPONENT);
    (Hertz(midband.0 / half), Hertz(midband.0 * half))
}

/// The axes of one picture, or of several that are to be compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scales {
    pub(super) hiss: LevelAxis,
    pub(super) sound: LevelAxis,
    pub(super) frequency: FrequencyAxis,
}

impl Scales {
    /// Axes that hold everything in these rankings.
    pub(super) fn of(rankings: &[Ranking]) -> Self {
        let openings = || rankings.iter().flat_map(|ranking| &ranking.openings);
        let bands = || openings().flat_map(|opening| &opening.bands);
        let hiss = openings().flat_map(|opening| match opening.hiss {
            HissReading::Heard { low, high, .. } => [low, high],
            HissReading::Bound => [opening.at_most; 2],
        });
        // Under the lowest bound there is room for its arrow.
        let hiss = LevelAxis::holding(hiss, 8.0, 2.0);
        let sound = LevelAxis::holding(bands().flat_map(|band| [Some(band.air), band.quiet]).flatten(), 4.0, 1.0);
        let (mut low_hz, mut high_hz) = (f64::INFINITY, 0.0_f64);
        for band in bands() {
            let (low, high) = edges(band.midband);
            (low_hz, high_hz) = (low_hz.min(low.0), high_hz.max(high.0));
        }
        if low_hz >= high_hz {
            (low_hz, high_hz) = (355.0, 17_783.0);
        }
        Self { hiss, sound, frequency: FrequencyAxis { low_hz, high_hz } }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PANEL: Space = Space { left: 0.0, top: 0.0, right: 300.0, bottom: 100.0 };

    #[test]
    fn an_axis_holds_its_levels_and_counts_in_tens() {
        let axis = LevelAxis::holding([Level(-58.2), Level(-45.8)].into_iter(), 8.0, 2.0);
        assert_eq!(axis, LevelAxis { low_db: -70.0, high_db: -40.0 });
        assert_eq!(axis.ticks(), [-70.0, -60.0, -50.0, -40.0].map(Level));
        assert_eq!(axis.y(Level(-40.0), PANEL), 0.0);
        assert_eq!(axis.y(Level(-55.0), PANEL), 50.0);
        assert_eq!(axis.y(Level(-200.0), PANEL), 100.0);
    }

    #[test]
    fn silence_does_not_flatten_the_rest() {
        let axis = LevelAxis::holding([Level(-180.0), Level(-30.0), Level(f64::NEG_INFINITY)].into_iter(), 4.0, 1.0);
        assert_eq!(axis, LevelAxis { low_db: -105.0, high_db: -25.0 });
        assert_eq!(axis.ticks(), [-100.0, -80.0, -60.0, -40.0].map(Level));
    }

    #[test]
    fn octaves_are_equally_wide() {
        let axis = FrequencyAxis { low_hz: 500.0, high_hz: 16_000.0 };
        assert!((axis.x(Hertz(1000.0), PANEL) - 60.0).abs() < 1e-9);
        assert!((axis.x(Hertz(8000.0), PANEL) - 240.0).abs() < 1e-9);
    }

    #[test]
    fn band_edges_are_those_of_the_standard() {
        // IEC 61260-1:2014 band 0 (1000 Hz): 891.251 to 1122.018 Hz.
        let (low, high) = edges(Hertz(1000.0));
        assert!((low.0 - 891.251).abs() < 0.001 && (high.0 - 1122.018).abs() < 0.001);
    }
}
