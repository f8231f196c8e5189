//! Gains and pitches that move slowly, known once a millisecond.

use super::super::dice::Dice;
use super::super::exact;

/// A quantity that moves slowly, linear between its points.
#[derive(Debug, Clone)]
pub(in crate::simulate) struct Envelope {
    step: usize,
    values: Vec<f64>,
}

/// Points a second.
const POINTS_PER_S: f64 = 1000.0;
/// A wandering level takes a step this often, seconds.
const WANDER_STEP_S: f64 = 0.02;

impl Envelope {
    /// From a function of time in seconds.
    pub fn new(samples: usize, rate_hz: f64, mut value_at: impl FnMut(f64) -> f64) -> Self {
        let step = ((rate_hz / POINTS_PER_S).round() as usize).max(1);
        let points = samples / step + 2;
        Self { step, values: (0..points).map(|k| value_at((k * step) as f64 / rate_hz)).collect() }
    }

    /// An amplitude whose level wanders like a drunkard on a leash: standard deviation in dB, leash in seconds.
    pub fn wander(samples: usize, rate_hz: f64, sd_db: f64, scale_s: f64, dice: &mut Dice) -> Self {
        let keep = exact::exp(-WANDER_STEP_S / scale_s);
        let kick = (1.0 - keep * keep).sqrt();
        let steps = (samples as f64 / rate_hz / WANDER_STEP_S) as usize + 3;
        let mut state = dice.normal();
        let levels: Vec<f64> = (0..steps)
            .map(|_| {
                let now = state;
                state = keep * state + kick * dice.normal();
                sd_db * now
            })
            .collect();
        Self::new(samples, rate_hz, |t| {
            let place = t / WANDER_STEP_S;
            let left = (place as usize).min(steps - 2);
            let share = place - left as f64;
            exact::amplitude_of_db(levels[left] + share * (levels[left + 1] - levels[left]))
        })
    }

    /// Two of the same stretch multiplied.
    pub fn times(mut self, other: &Self) -> Self {
        for (value, other) in self.values.iter_mut().zip(&other.values) {
            *value *= other;
        }
        self
    }

    /// Samples between two points.
    pub fn step(&self) -> usize {
        self.step
    }

    /// The straight lines from point to point, each for `step` samples.
    pub fn lines(&self) -> impl Iterator<Item = Line> {
        let per_step = 1.0 / self.step as f64;
        self.values.windows(2).map(move |pair| Line { from: pair[0], slope: (pair[1] - pair[0]) * per_step })
    }
}

/// A straight line over one step.
#[derive(Debug, Clone, Copy)]
pub(in crate::simulate) struct Line {
    from: f64,
    slope: f64,
}

impl Line {
    /// The value at the step's sample `k`.
    pub fn at(self, k: usize) -> f64 {
        self.from + self.slope * k as f64
    }
}
