//! Whether a recorder leaves steady noise alone: the noise a leak makes, played to it in known steps.
//!
//! What spoils a hiss without a word: noise suppression takes steady sound for a nuisance and fades it out; automatic
//! gain turns loud sound down and quiet sound up; some recorders end by themselves in what they take for silence.

use super::hiss_meter::STEP;
use crate::units::{Level, LevelDiff, Seconds};

/// What is played: how long, and how far under the loudest; `None` is nothing.
pub const STEADY_NOISE: [(Seconds, Option<LevelDiff>); 4] = [
    (Seconds(2.0), None),
    (Seconds(4.0), Some(LevelDiff(-12.0))),
    (Seconds(3.0), Some(LevelDiff(0.0))),
    (Seconds(3.0), Some(LevelDiff(-12.0))),
];
/// The step in it, dB.
const STEP_DB: f64 = 12.0;
/// Noise less than this over the room is too quiet to judge by, dB. Our own figure: the room is then a twentieth of it.
const OVER_ROOM_DB: f64 = 13.0;
/// More than this and the level moved by itself, dB. Our own figure: noise in half a second of the band strays by less
/// than 0.1 dB, a person moving in the room by 1 or 2; suppressors take off 6 to 30.
const MOVED_DB: f64 = 3.0;
/// What counts as silence: −120 dB FS, well under the last bit of 16.
const FAINTEST: f64 = 1e-12;
/// As much sound may lack at the end: the devices' own delay.
const LACKING_S: f64 = 1.0;

/// What a recorder does to steady noise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RecorderFault {
    /// The noise was not heard well enough over the room to judge.
    TooQuiet,
    /// Steady noise fades: noise suppression.
    Fades,
    /// The gain moves: loud and quiet are made alike.
    Pumps,
    /// Recording ended before the noise did.
    EndsEarly,
}

impl RecorderFault {
    /// The name as written in JSON, and after `recorder-` in the catalogue.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::TooQuiet => "too-quiet",
            Self::Fades => "fades",
            Self::Pumps => "pumps",
            Self::EndsEarly => "ends-early",
        }
    }
}

/// What came of the test.
#[derive(Debug, Clone, PartialEq)]
pub struct Steadiness {
    /// The noise over the room when it began.
    pub over_room: LevelDiff,
    /// By how much steady noise sank within its first four seconds.
    pub sank: LevelDiff,
    /// How far it rose where it was made 12 dB louder.
    pub rose: LevelDiff,
    /// How far the end lies from the same noise before the louder part.
    pub returned: LevelDiff,
    /// What is wrong with the recorder; empty where it leaves steady noise alone.
    pub faults: Vec<RecorderFault>,
}

impl Steadiness {
    /// Judges by the levels of [`super::HissMeter`], one every 20 ms, of a recording that began with the room and holds
    /// [`STEADY_NOISE`]. Where the noise begins is looked for: devices and people are late.
    ///
    /// `None` where there is less than a second of sound, or digital silence alone.
    #[must_use]
    pub fn of(levels: &[Option<Level>]) -> Option<Self> {
        let powers: Vec<f64> = levels.iter().map(|level| level.map_or(0.0, Level::power)).collect();
        let steps = |seconds: f64| (seconds / STEP.0).round() as usize;
        let room = middle(powers.get(..steps(1.0))?)?;
        let loud = (0..powers.len().checked_sub(steps(0.2))?)
            .filter_map(|at| middle(&powers[at..at + steps(0.2)]))
            .max_by(f64::total_cmp)?;
        // Between the room (a recorder may give digital silence for it) and the noise's quiet part, 12 dB under its loud one.
        let quiet_part = loud / 10_f64.powf(STEP_DB / 10.0);
        let threshold = (room.max(loud * 1e-6) * quiet_part).sqrt().max(2.0 * room);
        let onset = powers.windows(steps(0.1)).position(|some| some.iter().all(|power| *power >= threshold));
        let Some(onset) = onset.filter(|_| loud > 0.0) else {
            return (loud > 0.0).then(|| Self::unheard(room, loud));
        };
        let at = |from: f64, to: f64| {
            let span = powers.get(onset + steps(from)..(onset + steps(to)).min(powers.len()))?;
            // The room is in it, too.
            middle(span).map(|power| 10.0 * (power - room).max(FAINTEST).log10())
        };
        let room_db = 10.0 * room.max(FAINTEST).log10();
        // Suppressors need a few tenths of a second to take it for noise.
        let begin = at(0.05, 0.3)?;
        let (low, high, again) = (at(3.0, 3.8), at(4.3, 5.0), at(9.0, 9.7));
        let difference = |one: Option<f64>, other: Option<f64>| LevelDiff(one.zip(other).map_or(0.0, |(a, b)| a - b));
        let found = Self {
            over_room: LevelDiff(begin - room_db),
            sank: difference(Some(begin), low),
            rose: difference(high, low),
            returned: difference(again, low),
            faults: Vec::new(),
        };
        let heard_s = (powers.len() - onset) as f64 * STEP.0;
        let whole_s: f64 = STEADY_NOISE.iter().skip(1).map(|(length, _)| length.0).sum();
        let has_silent_end = powers.iter().rev().take(steps(LACKING_S)).all(|power| *power == 0.0);
        let ends_early = heard_s < whole_s - LACKING_S || has_silent_end;
        Some(found.judged(ends_early, [low, high, again].iter().all(Option::is_some)))
    }

    fn unheard(room: f64, loud: f64) -> Self {
        let over_room = LevelDiff(10.0 * (loud / room.max(FAINTEST)).log10());
        let none = LevelDiff(0.0);
        Self { over_room, sank: none, rose: none, returned: none, faults: vec![RecorderFault::TooQuiet] }
    }

    fn judged(mut self, ends_early: bool, is_whole: bool) -> Self {
        let fades = self.sank.0 >= MOVED_DB;
        let pumps =
            (self.rose.0 - STEP_DB).abs() >= MOVED_DB || self.returned.0.abs() >= MOVED_DB || self.sank.0 <= -MOVED_DB;
        let faults = [
            (RecorderFault::TooQuiet, self.over_room.0 < OVER_ROOM_DB),
            (RecorderFault::EndsEarly, ends_early),
            (RecorderFault::Fades, fades),
            // What fades moves at the step, too: one fault, not two.
            (RecorderFault::Pumps, is_whole && pumps && !fades),
        ];
        self.faults = faults.into_iter().filter(|(_, is)| *is).map(|(fault, _)| fault).collect();
        if self.faults.contains(&RecorderFault::TooQuiet) {
            // Nothing else can be said of noise that was hardly there.
            self.faults.truncate(1);
        }
        self
    }
}

/// The middle one; of two the higher.
pub(super) fn middle(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len() / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What a recorder makes of the noise: levels from gain over time, room −70 dB, noise at `loud_db`.
    fn levels(loud_db: f64, late_s: f64, gain_db: impl Fn(f64) -> f64) -> Vec<Option<Level>> {
        let whole_s = 12.0 + late_s + 0.5;
        let count = (whole_s / STEP.0) as usize;
        let level = |at: usize| {
            let t = at as f64 * STEP.0 - late_s;
            let mut begin = 0.0;
            let mut noise = 0.0;
            for (length, under) in STEADY_NOISE {
                if (begin..begin + length.0).contains(&t) {
                    noise = under.map_or(0.0, |under| 10_f64.powf((loud_db + under.0) / 10.0));
                }
                begin += length.0;
            }
            let power = (noise + 1e-7) * 10_f64.powf(gain_db(t) / 10.0);
            Level::of_power(power)
        };
        (0..count).map(level).collect()
    }

    fn faults(levels: &[Option<Level>]) -> Vec<RecorderFault> {
        Steadiness::of(levels).expect("sound").faults
    }

    #[test]
    fn an_honest_recorder_has_no_fault_however_late_it_is() {
        for late_s in [0.0, 0.3, 2.0] {
            let found = Steadiness::of(&levels(-20.0, late_s, |_| 0.0)).expect("sound");
            assert_eq!(found.faults, [], "{found:?}");
            assert!((found.rose.0 - 12.0).abs() < 0.01 && found.sank.0.abs() < 0.01, "{found:?}");
            // −20 − 12 dB over −70 dB, the room's own power taken off: 38 dB.
            assert!((found.over_room.0 - 38.0).abs() < 0.01, "{found:?}");
        }
    }

    #[test]
    fn suppression_gain_and_an_early_end_are_told_apart() {
        // Suppression: within a second steady noise sinks by 15 dB, and stays there.
        let fading = levels(-20.0, 0.2, |t| -15.0 * (1.0 - (-(t - 2.0).max(0.0) / 0.8).exp()));
        assert_eq!(faults(&fading), [RecorderFault::Fades]);
        // Gain: a quick limiter takes off 8 of the 12 dB.
        let pumping = levels(-20.0, 0.2, |t| if (6.0..9.2).contains(&t) { -8.0 } else { 0.0 });
        assert_eq!(faults(&pumping), [RecorderFault::Pumps]);
        // Gain that creeps up in what it takes for quiet.
        let creeping = levels(-20.0, 0.2, |t| ((t - 2.0).max(0.0) * 2.0).min(8.0));
        assert_eq!(faults(&creeping), [RecorderFault::Pumps]);
        let short = &levels(-20.0, 0.2, |_| 0.0)[..300];
        assert_eq!(faults(short), [RecorderFault::EndsEarly]);
    }

    #[test]
    fn what_is_hardly_heard_is_not_judged() {
        assert_eq!(faults(&levels(-60.0, 0.2, |_| 0.0)), [RecorderFault::TooQuiet]);
        assert_eq!(faults(&levels(-200.0, 0.2, |_| 0.0)), [RecorderFault::TooQuiet]);
        assert_eq!(Steadiness::of(&[None; 600]), None);
        assert_eq!(Steadiness::of(&[]), None);
    }
}
