//! A double tap on the microphone: the key that an oily hand can press.

use crate::units::Hertz;

/// Length of a piece in which the highest sample is looked at.
const PIECE_S: f64 = 0.005;
/// A tap's highest sample: a finger on the microphone all but overdrives it, bangs across a shop do not.
const LOUD: f32 = 0.3;
/// A tap stands this much over what came before it.
const OVER_BEFORE: f32 = 6.0;
/// A tap is over within this: what goes on is a blow gun or a hand on the microphone.
const LONGEST_S: f64 = 0.12;
/// From one tap to the other, at least and at most.
const APART_S: (f64, f64) = (0.12, 0.6);
/// Nothing of the kind before the first and after the second: three blows are hammering.
const ALONE_S: f64 = 0.5;
/// How fast what came before is forgotten, per piece.
const FORGET: f32 = 0.97;

/// Finds double taps.
#[derive(Debug, Clone)]
pub struct DoubleTap {
    piece: usize,
    count: usize,
    peak: f32,
    before: f32,
    /// Pieces since the beginning.
    now: u64,
    loud_since: Option<u64>,
    taps: Vec<u64>,
    spoilt_until: u64,
}

impl DoubleTap {
    /// A detector for sound of one rate.
    #[must_use]
    pub fn new(rate: Hertz) -> Self {
        Self {
            piece: ((PIECE_S * rate.0) as usize).max(1),
            count: 0,
            peak: 0.0,
            before: 0.0,
            now: 0,
            loud_since: None,
            taps: Vec::new(),
            spoilt_until: 0,
        }
    }

    /// Takes samples of one channel; `true` where a double tap was complete in them.
    pub fn push(&mut self, samples: &[f32]) -> bool {
        let mut found = false;
        for &sample in samples {
            self.peak = self.peak.max(sample.abs());
            self.count += 1;
            if self.count == self.piece {
                found |= self.piece_ends();
                (self.peak, self.count) = (0.0, 0);
            }
        }
        found
    }

    fn piece_ends(&mut self) -> bool {
        self.now += 1;
        let pieces = |seconds: f64| (seconds / PIECE_S).round() as u64;
        let is_loud = self.peak >= LOUD && self.peak >= OVER_BEFORE * self.before;
        match self.loud_since {
            None if is_loud => self.loud_since = Some(self.now),
            // The echo of a tap in the microphone's body may take its time.
            Some(since) if self.peak < LOUD / 2.0 => {
                self.loud_since = None;
                self.taps.push(since);
            }
            Some(since) if self.now - since > pieces(LONGEST_S) => {
                self.loud_since = None;
                self.taps.clear();
                self.spoilt_until = self.now + pieces(ALONE_S);
            }
            _ => {}
        }
        if self.loud_since.is_none() {
            self.before = (self.before * FORGET).max(self.peak.min(LOUD / 2.0) * (1.0 - FORGET));
        }
        if self.now < self.spoilt_until {
            self.taps.clear();
            return false;
        }
        self.judge(pieces(APART_S.0), pieces(APART_S.1), pieces(ALONE_S))
    }

    fn judge(&mut self, least: u64, most: u64, alone: u64) -> bool {
        match self.taps[..] {
            [only] if self.now - only > most => self.taps.clear(),
            // A microphone rings: a second loud place so soon is the same tap.
            [first, second] if second - first < least => self.taps.truncate(1),
            [first, second] if second - first > most => self.taps = vec![second],
            [_, second] if self.now - second >= alone && self.loud_since.is_none() => {
                self.taps.clear();
                return true;
            }
            [_, _, ..] if self.taps.len() > 2 => {
                self.taps.clear();
                self.spoilt_until = self.now + alone;
            }
            _ => {}
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RATE: f64 = 48_000.0;

    /// Sound with taps at these times: a decaying thump each.
    fn with_taps(at_s: &[f64], height: f32, floor: f32, seconds: f64) -> Vec<f32> {
        let mut state = 1_u32;
        let mut noise = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 8) as f32 / (1 << 23) as f32 - 1.0
        };
        let mut sound: Vec<f32> = (0..(seconds * RATE) as usize).map(|_| floor * noise()).collect();
        for tap in at_s {
            let from = (tap * RATE) as usize;
            for (n, sample) in sound[from..].iter_mut().take(4_800).enumerate() {
                let t = n as f32 / RATE as f32;
                *sample += height * (-t / 0.015).exp() * (t * std::f32::consts::TAU * 180.0).cos();
            }
        }
        sound
    }

    fn found(sound: &[f32]) -> usize {
        let mut taps = DoubleTap::new(Hertz(RATE));
        sound.chunks(441).filter(|block| taps.push(block)).count()
    }

    #[test]
    fn two_taps_are_heard_in_quiet_and_in_noise() {
        assert_eq!(found(&with_taps(&[1.0, 1.3], 0.9, 0.001, 3.0)), 1);
        assert_eq!(found(&with_taps(&[1.0, 1.5], 0.6, 0.05, 3.0)), 1);
        assert_eq!(found(&with_taps(&[1.0, 1.2, 3.0, 3.4], 0.9, 0.02, 5.0)), 2);
    }

    #[test]
    fn one_tap_three_blows_and_slow_ones_are_not_taken_for_it() {
        assert_eq!(found(&with_taps(&[1.0], 0.9, 0.001, 3.0)), 0);
        assert_eq!(found(&with_taps(&[1.0, 1.3, 1.6], 0.9, 0.001, 4.0)), 0);
        assert_eq!(found(&with_taps(&[1.0, 2.0], 0.9, 0.001, 4.0)), 0);
        let hammering: Vec<f64> = (0..12).map(|n| 0.5 + 0.35 * f64::from(n)).collect();
        assert_eq!(found(&with_taps(&hammering, 0.9, 0.01, 6.0)), 0);
    }

    #[test]
    fn far_bangs_and_a_blow_gun_are_not_taken_for_it() {
        assert_eq!(found(&with_taps(&[1.0, 1.3], 0.2, 0.01, 3.0)), 0);
        let mut gun = with_taps(&[], 0.0, 0.001, 4.0);
        gun[48_000..96_000].iter_mut().for_each(|sample| *sample *= 800.0);
        assert_eq!(found(&gun), 0);
    }
}
