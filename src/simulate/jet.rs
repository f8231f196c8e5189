//! Hiss of a small jet: filtered Gaussian noise of the published shape.

use super::curve::chain_along;
use super::dice::Dice;
use super::exact;
use super::filter::Chain;
use crate::units::{Hertz, Seconds};

/// Strouhal number of the peak, f·D/U. Source: IEC 60534-8-3:2010 Table 4 (drilled-hole plate).
const PEAK_STROUHAL: f64 = 0.2;
/// Speed in the choked throat at 20 °C, metres per second: √(2γ/(γ+1)·R·T), γ 1.4, R 287.05 J/(kg·K), T 293.15 K.
const THROAT_SPEED_M_PER_S: f64 = 313.33;
/// A third-octave band's width as a share of its midband: G^(1/6) − G^(−1/6), G = 10^(3/10).
const THIRD_OCTAVE_SHARE: f64 = 0.230_768;

/// The filter runs this long before a stretch begins.
const SETTLING_S: f64 = 0.02;

/// A jet of air from a small hole at or above choking pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jet {
    hole_mm: f64,
}

impl Jet {
    /// The jet of a hole with this diameter in millimetres.
    #[must_use]
    pub fn of_hole_mm(hole_mm: f64) -> Self {
        Self { hole_mm }
    }

    /// The hole's diameter, millimetres.
    #[must_use]
    pub fn hole_mm(self) -> f64 {
        self.hole_mm
    }

    /// Where the band levels peak: 0.2 · 313.33 m/s over the hole's diameter.
    ///
    /// Source: IEC 60534-8-3:2010 Table 4; the throat's speed is calculated.
    ///
    /// ```
    /// use hissward::simulate::Jet;
    /// assert!((Jet::of_hole_mm(5.0).peak().0 - 12_533.0).abs() < 1.0);
    /// ```
    #[must_use]
    pub fn peak(self) -> Hertz {
        Hertz(PEAK_STROUHAL * THROAT_SPEED_M_PER_S / (self.hole_mm * 1e-3))
    }

    /// Level of the third-octave band at `band`, dB relative to the whole jet:
    /// −8 − 10 lg{[1 + (f/2fp)^2.5]·[1 + (fp/2f)^1.7]}.
    ///
    /// Source: IEC 60534-8-3:2010 Eq. 19.
    ///
    /// ```
    /// use hissward::simulate::Jet;
    /// let jet = Jet::of_hole_mm(5.0);
    /// assert!((jet.band_db(jet.peak()) - -9.87).abs() < 0.005);
    /// ```
    #[must_use]
    pub fn band_db(self, band: Hertz) -> f64 {
        let ratio = band.0 / self.peak().0;
        let above = 1.0 + exact::power(ratio / 2.0, 2.5);
        let below = 1.0 + exact::power(1.0 / (2.0 * ratio), 1.7);
        -8.0 - exact::db_of_power(above * below)
    }

    /// A stretch of its hiss, the whole jet (beyond hearing too) having a level of 0 dB: the level of each
    /// third-octave band is what [`Self::band_db`] says, from 100 Hz to 0.42 of the rate within 0.3 dB.
    #[must_use]
    pub fn render(self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let settling = (SETTLING_S * rate.0) as usize;
        let mut hiss = dice.white((length.0 * rate.0).round() as usize + settling);
        self.chain(rate.0).run(&mut hiss);
        hiss[settling..].iter().map(|&x| x as f32).collect()
    }

    /// The filter that makes the hiss of white noise with a variance of 1.
    pub(super) fn chain(self, rate_hz: f64) -> Chain {
        // White noise of variance 1 has a density of 2/rate.
        let density_db = exact::db_of_power(2.0 / rate_hz);
        chain_along(rate_hz, |hz| self.band_db(Hertz(hz)) - exact::db_of_power(THIRD_OCTAVE_SHARE * hz) - density_db)
    }
}
