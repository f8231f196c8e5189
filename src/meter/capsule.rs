//! Air that streams over the microphone, told while it can still be held aside.

use std::collections::VecDeque;

use super::hiss_meter::{MeterReading, STEP};
use super::steadiness::middle;
use crate::units::{Level, LevelDiff, Seconds};

/// How much of the near past is looked at: gusts and bangs are over sooner.
const LOOKED_AT: Seconds = Seconds(1.0);
/// How much of the near past says what quiet sounds like.
const QUIET: Seconds = Seconds(2.0);
/// The power from 60 to 300 Hz rises at least by this over the quiet clip's: a jet that misses the capsule has next to
/// nothing there, wind on it has most of its own there (f^(−5/3): Corcos 1963, after arXiv 1805.09679).
const LOW_RISE: LevelDiff = LevelDiff(6.0);
/// The octave at 1 kHz rises at least by this: what stays below does not reach the bands of hiss.
const OCTAVE_RISE: LevelDiff = LevelDiff(3.0);

/// What is added to the quiet sound has at least so much more power below 300 Hz than in the octave at 1 kHz: wind has 5 to
/// 17 dB more.
const LOW_OVER_OCTAVE: LevelDiff = LevelDiff(3.0);
/// … and at least so much more in the octave at 1 kHz than in that at 8 kHz: wind 12 dB or more, whatever the capsule.
const OCTAVE_FALL: LevelDiff = LevelDiff(5.0);

/// What a stretch of sound is like: medians of its readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Colour {
    /// From 60 to 300 Hz.
    pub low: Level,
    /// The octave at 1 kHz.
    pub octave_1_khz: Level,
    /// The octave at 8 kHz.
    pub octave_8_khz: Level,
}

/// Tells whether air streams over the capsule: the low end rises over the quiet sound, the octave at 1 kHz with it, and
/// what is added falls with frequency as wind does.
///
/// Where the shop itself is as loud at the low end (a fan, a compressor) nothing is told: a warning that is often wrong is
/// soon ignored.
///
/// This warns while recording; what counts is weighed again by the ranking (`air-on-microphone`).
#[derive(Debug, Clone, Default)]
pub struct CapsuleWatch {
    readings: VecDeque<[Option<Level>; 3]>,
}

fn steps(time: Seconds) -> usize {
    (time.0 / STEP.0).round() as usize
}

impl CapsuleWatch {
    /// Takes a reading.
    pub fn push(&mut self, reading: &MeterReading) {
        self.readings.push_back([reading.low, reading.octaves[0], reading.octaves[3]]);
        if self.readings.len() > steps(QUIET) {
            self.readings.pop_front();
        }
    }

    /// What the last two seconds sound like; `None` before a second is full.
    #[must_use]
    pub fn colour(&self) -> Option<Colour> {
        self.of_last(QUIET)
    }

    /// Whether air streams over the capsule now, where it is known what quiet sounds like.
    #[must_use]
    pub fn is_in_the_stream(&self, quiet: Option<&Colour>) -> bool {
        let (Some(quiet), Some(now)) = (quiet, self.of_last(LOOKED_AT)) else { return false };
        let rise = |now: Level, quiet: Level| now.0 - quiet.0;
        let octave_db = added_db(now.octave_1_khz, quiet.octave_1_khz);
        rise(now.low, quiet.low) >= LOW_RISE.0
            && rise(now.octave_1_khz, quiet.octave_1_khz) >= OCTAVE_RISE.0
            && added_db(now.low, quiet.low) - octave_db >= LOW_OVER_OCTAVE.0
            && octave_db - added_db(now.octave_8_khz, quiet.octave_8_khz) >= OCTAVE_FALL.0
    }

    fn of_last(&self, time: Seconds) -> Option<Colour> {
        if self.readings.len() < steps(LOOKED_AT) {
            return None;
        }
        let median = |at: usize| {
            let near = self.readings.iter().rev().take(steps(time));
            let levels: Vec<f64> = near.filter_map(|bands| bands[at]).map(|level| level.0).collect();
            middle(&levels).map(Level)
        };
        Some(Colour { low: median(0)?, octave_1_khz: median(1)?, octave_8_khz: median(2)? })
    }
}

/// The level of what came to the quiet sound, dB FS: powers are subtracted. −∞ where nothing did.
fn added_db(now: Level, quiet: Level) -> f64 {
    let power = |level: Level| 10f64.powf(level.0 / 10.0);
    10.0 * (power(now) - power(quiet)).max(0.0).log10()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn watched(low_db: f64, octave_1_db: f64, octave_8_db: f64) -> CapsuleWatch {
        let mut watch = CapsuleWatch::default();
        let octaves = [octave_1_db, octave_1_db, octave_8_db, octave_8_db].map(|db| Some(Level(db)));
        for _ in 0..50 {
            watch.push(&MeterReading { hiss: None, low: Some(Level(low_db)), octaves, peak: 0.0, clipped: 0 });
        }
        watch
    }

    #[test]
    fn wind_is_told_and_a_hiss_or_a_machine_is_not() {
        let quiet = watched(-45.0, -50.0, -62.0).colour();
        let quiet = quiet.as_ref();
        // Wind whose octave at 1 kHz lies at −45: 12 dB more below 300 Hz, and 10 dB less at 8 kHz.
        assert!(watched(-33.0, -44.0, -55.5).is_in_the_stream(quiet));
        // A leak's hiss has nothing below, and more above.
        assert!(!watched(-45.0, -42.0, -45.0).is_in_the_stream(quiet));
        // A compressor that starts is heard below alone.
        assert!(!watched(-30.0, -49.0, -62.0).is_in_the_stream(quiet));
        // A grinder raises the high end more than the low.
        assert!(!watched(-38.0, -44.0, -48.0).is_in_the_stream(quiet));
        // Nothing is said before it is known what quiet sounds like, or within the first second.
        assert!(!watched(-33.0, -44.0, -55.5).is_in_the_stream(None));
        assert_eq!(CapsuleWatch::default().colour(), None);
    }
}
