//! The leak as a hole and a flow.

use super::conductance::REFERENCE_DENSITY_KG_M3;
use super::nozzle::{R_AIR, mass_flow_kg_s};
use super::tester::held_before;
use crate::units::{AbsolutePressure, Length, Temperature};

/// A leak made plain: as large as which hole, and how much air it lets through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leak {
    /// Diameter of a round hole of the restrictor's shape that lets as much through.
    pub equivalent_hole: Length,
    /// Air through the leak in kg/s, for an ideal hole (discharge coefficient 1).
    ///
    /// Real restrictors have 0.81–0.84 (short cylindrical) to 0.92–0.93 (rounded inlet), Weisbach after
    /// Encyclopaedia Britannica 11th ed. vol. 14 "Hydraulics": the true flow is that share of this one.
    pub ideal_flow_kg_s: f64,
}

impl Leak {
    /// The leak that is `area_ratio` times a restrictor, at the pressure it holds when it is alone behind it.
    ///
    /// The hole's diameter is the restrictor's times √ratio: both are taken to have the same discharge coefficient.
    ///
    /// ```
    /// use hissward::gauge::Leak;
    /// use hissward::units::{GaugePressure, Length, REFERENCE_TEMPERATURE, STANDARD_ATMOSPHERE};
    /// let supply = GaugePressure::from_psi(80.0).absolute(STANDARD_ATMOSPHERE);
    /// let leak = Leak::behind(Length::from_mm(1.0), 0.25, supply, STANDARD_ATMOSPHERE, REFERENCE_TEMPERATURE);
    /// assert!((leak.equivalent_hole.as_mm() - 0.5).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn behind(
        restrictor: Length,
        area_ratio: f64,
        supply: AbsolutePressure,
        ambient: AbsolutePressure,
        air: Temperature,
    ) -> Self {
        let equivalent_hole = Length(restrictor.0 * area_ratio.sqrt());
        let held = held_before(supply, area_ratio, ambient);
        Self { equivalent_hole, ideal_flow_kg_s: mass_flow_kg_s(equivalent_hole.hole_area_m2(), held, ambient, air) }
    }

    /// The ideal flow in litres per minute at the reference state of ISO 6358 (20 °C, 100 kPa, 1.185 kg/m³).
    #[must_use]
    pub fn litres_per_minute_reference(&self) -> f64 {
        self.ideal_flow_kg_s / REFERENCE_DENSITY_KG_M3 * 60e3
    }

    /// The ideal flow in litres per minute of air at a pressure and temperature, as dry air.
    #[must_use]
    pub fn litres_per_minute_at(&self, pressure: AbsolutePressure, temperature: Temperature) -> f64 {
        self.ideal_flow_kg_s * R_AIR * temperature.0 / pressure.0 * 60e3
    }
}
