//! Sonic conductance: how pneumatics states a flow path (ISO 6358).

use super::nozzle::{R_AIR, flow_function};
use crate::units::{AbsolutePressure, Length, REFERENCE_TEMPERATURE, Temperature};

/// Density of air at the reference state of ISO 6358 (20 °C, 100 kPa), in kg/m³. From memory of the standard.
pub const REFERENCE_DENSITY_KG_M3: f64 = 1.185;

/// A flow path by its sonic conductance C and critical ratio b (ISO 6358, from memory of the standard).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conductance {
    /// Sonic conductance C in m³/(s·Pa); 1 dm³/(s·bar) is 10⁻⁸ of it.
    pub c_m3_per_s_pa: f64,
    /// Critical pressure ratio b: 0.2 to 0.5 for most fittings, 0.528 for an ideal nozzle.
    pub critical_ratio: f64,
}

impl Conductance {
    /// That of an ideal nozzle (Cd 1) of a diameter.
    ///
    /// ```
    /// use hissward::{gauge::Conductance, units::Length};
    /// let hole = Conductance::of_ideal_hole(Length::from_mm(1.0));
    /// assert!((hole.as_dm3_per_s_bar() - 0.1564).abs() < 5e-5);
    /// ```
    #[must_use]
    pub fn of_ideal_hole(diameter: Length) -> Self {
        let choked = flow_function(0.0) / (R_AIR * REFERENCE_TEMPERATURE.0).sqrt();
        Self {
            c_m3_per_s_pa: diameter.hole_area_m2() * choked / REFERENCE_DENSITY_KG_M3,
            critical_ratio: super::nozzle::critical_ratio(),
        }
    }

    /// C in the unit of data sheets, dm³/(s·bar).
    #[must_use]
    pub fn as_dm3_per_s_bar(self) -> f64 {
        self.c_m3_per_s_pa * 1e8
    }

    /// The share of the choked flow at a ratio of downstream to upstream pressure:
    /// 1 up to b, then √(1 − ((r − b)/(1 − b))²).
    #[must_use]
    pub fn share_of_choked(self, ratio: f64) -> f64 {
        let over = (ratio - self.critical_ratio) / (1.0 - self.critical_ratio);
        if over <= 0.0 { 1.0 } else { (1.0 - over.min(1.0).powi(2)).sqrt() }
    }

    /// Mass flow in kg/s: ṁ = C·p₁·ρ₀·√(T₀/T₁) times the share of choked flow.
    #[must_use]
    pub fn mass_flow_kg_s(self, upstream: AbsolutePressure, downstream: AbsolutePressure, at: Temperature) -> f64 {
        let cooling = (REFERENCE_TEMPERATURE.0 / at.0).sqrt();
        let share = self.share_of_choked(downstream.0 / upstream.0);
        self.c_m3_per_s_pa * upstream.0 * REFERENCE_DENSITY_KG_M3 * cooling * share
    }
}
