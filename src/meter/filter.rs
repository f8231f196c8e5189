//! Second-order filters.

use std::f64::consts::{FRAC_1_SQRT_2, TAU};

/// A second-order filter, direct form 2 transposed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Biquad {
    b: [f64; 3],
    a: [f64; 2],
    state: [f64; 2],
}

impl Biquad {
    /// Lets pass what lies above `hz`: −3 dB there, 12 dB per octave below (Butterworth, bilinear transform).
    pub(super) fn high_pass(hz: f64, rate_hz: f64) -> Self {
        let (cos, alpha) = angles(hz, rate_hz, FRAC_1_SQRT_2);
        Self::scaled([(1.0 + cos) / 2.0, -(1.0 + cos), (1.0 + cos) / 2.0], cos, alpha)
    }

    /// Lets pass what lies below `hz`.
    pub(super) fn low_pass(hz: f64, rate_hz: f64) -> Self {
        let (cos, alpha) = angles(hz, rate_hz, FRAC_1_SQRT_2);
        Self::scaled([(1.0 - cos) / 2.0, 1.0 - cos, (1.0 - cos) / 2.0], cos, alpha)
    }

    fn scaled(b: [f64; 3], cos: f64, alpha: f64) -> Self {
        let a0 = 1.0 + alpha;
        Self { b: b.map(|b| b / a0), a: [-2.0 * cos / a0, (1.0 - alpha) / a0], state: [0.0; 2] }
    }

    pub(super) fn pass(&mut self, x: f64) -> f64 {
        let y = self.b[0] * x + self.state[0];
        self.state[0] = self.b[1] * x - self.a[0] * y + self.state[1];
        self.state[1] = self.b[2] * x - self.a[1] * y;
        y
    }
}

fn angles(hz: f64, rate_hz: f64, q: f64) -> (f64, f64) {
    let angle = TAU * hz / rate_hz;
    (angle.cos(), angle.sin() / (2.0 * q))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Gain in dB for a sine.
    fn gain_db(mut filter: Biquad, hz: f64) -> f64 {
        let n = 48_000;
        let mut sum = 0.0;
        for i in 0..2 * n {
            let y = filter.pass((TAU * hz * f64::from(i) / 48_000.0).sin());
            sum += if i >= n { y * y } else { 0.0 };
        }
        10.0 * (2.0 * sum / f64::from(n)).log10()
    }

    #[test]
    fn half_the_power_passes_at_the_corner_and_a_hundredth_of_the_square_below() {
        // A second-order Butterworth: −3.01 dB at its corner; far below, 40 dB per decade (closed form).
        let high = Biquad::high_pass(1000.0, 48_000.0);
        assert!((gain_db(high, 1000.0) + 3.0103).abs() < 1e-3);
        assert!((gain_db(high, 100.0) + 40.0).abs() < 0.1);
        assert!(gain_db(high, 8000.0).abs() < 0.01);
        let low = Biquad::low_pass(4000.0, 48_000.0);
        assert!((gain_db(low, 4000.0) + 3.0103).abs() < 1e-3);
        assert!(gain_db(low, 100.0).abs() < 0.01);
    }
}
