//! What a meter remembers: the last seconds, the highest, the quiet floor.

use std::collections::VecDeque;

use crate::units::{Level, LevelDiff, Seconds};

use super::hiss_meter::{MeterReading, STEP};

/// How far back the trail goes.
const TRAIL: Seconds = Seconds(10.0);
/// How long the peak is held before it falls.
const HOLD: Seconds = Seconds(3.0);
/// How much of the near past makes the level that is shown: steady enough to read, short enough to follow a hand.
const SHOWN: Seconds = Seconds(0.06);
/// How much of the near past makes the quiet floor.
const FLOOR: Seconds = Seconds(2.0);
/// A quiet floor is a low quantile: what bangs meanwhile does not count.
const FLOOR_QUANTILE: f64 = 0.25;

/// The last ten seconds of a meter.
#[derive(Debug, Clone, Default)]
pub struct Trail {
    levels: VecDeque<Option<Level>>,
    floor: Option<Level>,
    peak: Option<(Level, usize)>,
}

fn steps(time: Seconds) -> usize {
    (time.0 / STEP.0).round() as usize
}

impl Trail {
    /// Takes a reading.
    pub fn push(&mut self, reading: &MeterReading) {
        self.levels.push_back(reading.hiss);
        if self.levels.len() > steps(TRAIL) {
            self.levels.pop_front();
        }
        let now = self.now();
        let aged = self.peak.map(|(level, age)| (level, age + 1)).filter(|(_, age)| *age <= steps(HOLD));
        self.peak = match (now, aged) {
            (Some(level), None) => Some((level, 0)),
            (Some(level), Some((held, _))) if level.0 >= held.0 => Some((level, 0)),
            (_, aged) => aged,
        };
    }

    /// The level now: mean power of the last 60 ms.
    #[must_use]
    pub fn now(&self) -> Option<Level> {
        mean(self.levels.iter().rev().take(steps(SHOWN)))
    }

    /// The highest level of the last seconds.
    #[must_use]
    pub fn peak(&self) -> Option<Level> {
        self.peak.map(|(level, _)| level)
    }

    /// Forgets the peak.
    pub fn drop_peak(&mut self) {
        self.peak = None;
    }

    /// Takes what is heard now for quiet: a low quantile of the last two seconds. `false` where nothing was heard yet.
    pub fn remember_quiet(&mut self) -> bool {
        let mut near: Vec<f64> = self.levels.iter().rev().take(steps(FLOOR)).flatten().map(|level| level.0).collect();
        near.sort_by(f64::total_cmp);
        let at = (FLOOR_QUANTILE * near.len() as f64) as usize;
        self.floor = near.get(at).copied().map(Level).or(self.floor);
        !near.is_empty()
    }

    /// The quiet floor, where it was taken.
    #[must_use]
    pub fn quiet(&self) -> Option<Level> {
        self.floor
    }

    /// How far the level now lies over the quiet floor.
    #[must_use]
    pub fn above_quiet(&self) -> Option<LevelDiff> {
        Some(LevelDiff(self.now()?.0 - self.floor?.0))
    }

    /// The trail in so many columns, oldest first; a column is the loudest of its part, `None` before there was sound.
    #[must_use]
    pub fn columns(&self, count: usize) -> Vec<Option<Level>> {
        let all = steps(TRAIL);
        let missing = all - self.levels.len().min(all);
        (0..count)
            .map(|column| {
                let (from, to) = (column * all / count, ((column + 1) * all / count).max(column * all / count + 1));
                let part =
                    self.levels.range(from.saturating_sub(missing)..to.saturating_sub(missing).min(self.levels.len()));
                part.flatten().copied().max_by(|one, other| one.0.total_cmp(&other.0))
            })
            .collect()
    }
}

fn mean<'a>(levels: impl Iterator<Item = &'a Option<Level>>) -> Option<Level> {
    let (mut sum, mut count) = (0.0, 0);
    for level in levels {
        sum += level.map_or(0.0, Level::power);
        count += 1;
    }
    if count == 0 { None } else { Level::of_power(sum / f64::from(count)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(level_db: f64) -> MeterReading {
        MeterReading { hiss: Some(Level(level_db)), low: None, octaves: [None; 4], peak: 0.0, clipped: 0 }
    }

    #[test]
    fn the_level_stands_over_the_quiet_floor_and_the_peak_is_held_for_three_seconds() {
        let mut trail = Trail::default();
        assert!(!trail.remember_quiet(), "nothing heard yet");
        (0..100).for_each(|_| trail.push(&reading(-60.0)));
        // Bangs in one reading of eight do not lift the floor.
        (0..100).for_each(|n| trail.push(&reading(if n % 8 == 0 { -20.0 } else { -60.0 })));
        assert!(trail.remember_quiet());
        assert_eq!(trail.quiet(), Some(Level(-60.0)));
        (0..10).for_each(|_| trail.push(&reading(-48.0)));
        let above = trail.above_quiet().expect("both are known").0;
        assert!((above - 12.0).abs() < 1e-9, "{above}");
        trail.drop_peak();
        (0..5).for_each(|_| trail.push(&reading(-48.0)));
        (0..149).for_each(|_| trail.push(&reading(-60.0)));
        assert!(trail.peak().expect("held").0 > -49.0);
        (0..5).for_each(|_| trail.push(&reading(-60.0)));
        assert!((trail.peak().expect("a peak").0 + 60.0).abs() < 1e-9);
    }

    #[test]
    fn the_trail_shows_when_it_was_loud() {
        let mut trail = Trail::default();
        (0..500).for_each(|n| trail.push(&reading(if n < 250 { -60.0 } else { -40.0 })));
        let columns = trail.columns(10);
        assert_eq!(columns[4], Some(Level(-60.0)));
        assert_eq!(columns[5], Some(Level(-40.0)));
        let mut young = Trail::default();
        (0..50).for_each(|_| young.push(&reading(-50.0)));
        let columns = young.columns(10);
        assert_eq!((columns[8], columns[9]), (None, Some(Level(-50.0))));
    }
}
