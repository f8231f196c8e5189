//! The hand on the air valve, following the beep.

use super::dice::Dice;
use crate::units::Seconds;

/// When the valve of a pulsed clip really opened and shut.
#[derive(Debug, Clone, PartialEq)]
pub struct Valve {
    /// How late the person is throughout.
    pub late: Seconds,
    /// Edges after the beep: opened, shut, opened, …
    pub edges: Vec<Seconds>,
}

/// The beep's rhythm: 1 s shut, 1 s open, beginning shut.
const HALF_PERIOD_S: f64 = 1.0;
/// The valve needs this long to open or shut.
const RAMP_S: f64 = 0.02;
/// People are late by between these, seconds.
const LATE_S: (f64, f64) = (0.1, 0.5);
/// Each edge strays by this, seconds (standard deviation).
const STRAY_SD_S: f64 = 0.1;

impl Valve {
    /// A person's hand over a clip of this length.
    pub(super) fn draw(length_s: f64, dice: &mut Dice) -> Self {
        let late_s = dice.between(LATE_S.0, LATE_S.1);
        let mut edges = Vec::new();
        let mut before_s = 0.0;
        let mut beat_s = HALF_PERIOD_S;
        // An edge that the beep asks for after the clip's end is never made.
        while beat_s < length_s {
            let edge_s = (beat_s + late_s + STRAY_SD_S * dice.normal()).max(before_s + RAMP_S);
            edges.push(Seconds(edge_s));
            before_s = edge_s;
            beat_s += HALF_PERIOD_S;
        }
        Self { late: Seconds(late_s), edges }
    }

    /// Lets sound through where the valve is open.
    pub(super) fn gate(&self, sound: &mut [f64], rate_hz: f64) {
        let mut edge = 0;
        for (n, sample) in sound.iter_mut().enumerate() {
            let t = n as f64 / rate_hz;
            while self.edges.get(edge + 1).is_some_and(|next| next.0 <= t) {
                edge += 1;
            }
            let since_s = self.edges.get(edge).map_or(-1.0, |at| t - at.0);
            let moved = (since_s / RAMP_S).clamp(0.0, 1.0);
            // Even edges open, odd ones shut.
            *sample *= if edge % 2 == 0 { moved } else { 1.0 - moved };
        }
    }

    /// Whether the air is fully open at a moment after the beep.
    #[must_use]
    pub fn is_open(&self, at: Seconds) -> bool {
        let past = self.edges.iter().filter(|edge| edge.0 <= at.0).count();
        past % 2 == 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_gate_follows_its_edges() {
        let valve = Valve { late: Seconds(0.2), edges: [1.2, 2.3, 3.1].map(Seconds).to_vec() };
        let mut sound = vec![1.0; 40_000];
        valve.gate(&mut sound, 10_000.0);
        let at = |t: f64| sound[(t * 10_000.0) as usize];
        assert_eq!([at(0.5), at(1.19), at(1.5), at(2.29), at(2.5), at(3.5)], [0.0, 0.0, 1.0, 1.0, 0.0, 1.0]);
        assert!((at(1.21) - 0.5).abs() < 0.01, "half open half a ramp after the edge");
        assert!((at(2.31) - 0.5).abs() < 0.01);
        assert!(valve.is_open(Seconds(2.0)) && !valve.is_open(Seconds(2.9)) && !valve.is_open(Seconds(1.0)));
    }

    #[test]
    fn people_are_late_and_stray_as_promised() {
        let mut dice = Dice::seeded(5);
        let valves: Vec<Valve> = (0..400).map(|_| Valve::draw(12.0, &mut dice)).collect();
        assert!(valves.iter().all(|valve| valve.edges.len() == 11 && (0.1..0.5).contains(&valve.late.0)));
        let strays: Vec<f64> = valves
            .iter()
            .flat_map(|valve| valve.edges.iter().enumerate().map(|(k, edge)| edge.0 - (k + 1) as f64 - valve.late.0))
            .collect();
        let sd = (strays.iter().map(|x| x * x).sum::<f64>() / strays.len() as f64).sqrt();
        // Standard error of the deviation over 4400 edges: 0.1/√8800 ≈ 0.0011.
        assert!((sd - STRAY_SD_S).abs() < 0.004, "{sd}");
    }
}
