//! Isentropic flow of air through a nozzle, choked and not.
//!
//! Formulas: St. Venant and Wantzel, as in any text on gas dynamics; numbers checked against the tables of
//! published values in `tests/gauge/tables.rs`.

use crate::units::{AbsolutePressure, Temperature};

/// Ratio of the specific heats of air, γ.
pub const GAMMA: f64 = 1.4;

/// Specific gas constant of dry air, J/(kg·K).
pub const R_AIR: f64 = 287.05;

/// Downstream over upstream pressure at and below which a nozzle chokes: (2/(γ+1))^(γ/(γ−1)).
///
/// ```
/// assert!((hissward::gauge::critical_ratio() - 0.528282).abs() < 5e-7);
/// ```
#[must_use]
pub fn critical_ratio() -> f64 {
    (2.0 / (GAMMA + 1.0)).powf(GAMMA / (GAMMA - 1.0))
}

/// The flow function Ψ = ṁ·√(R·T)/(Cd·A·p₁) at a ratio r of downstream to upstream pressure (both absolute).
///
/// Above the critical ratio Ψ = √(2γ/(γ−1)·(r^(2/γ) − r^((γ+1)/γ))); below it the nozzle is choked and Ψ stays
/// at its greatest value, 0.68473. No flow (0) for r ≥ 1: the nozzle does not run backwards here.
///
/// ```
/// assert!((hissward::gauge::flow_function(0.9) - 0.42258).abs() < 5e-6);
/// ```
#[must_use]
pub fn flow_function(ratio: f64) -> f64 {
    if ratio >= 1.0 {
        return 0.0;
    }
    let ratio = ratio.max(critical_ratio());
    // r^(2/γ) − r^((γ+1)/γ) = r^(2/γ)·(1 − r^((γ−1)/γ)); exp_m1 keeps the digits where r is close to 1.
    let falls_short = -((GAMMA - 1.0) / GAMMA * ratio.ln()).exp_m1();
    (2.0 * GAMMA / (GAMMA - 1.0) * ratio.powf(2.0 / GAMMA) * falls_short).sqrt()
}

/// Mass flow in kg/s through an effective area Cd·A in m², from stagnation conditions upstream.
///
/// ṁ = Cd·A·p₁·Ψ(p₂/p₁)/√(R·T₁).
///
/// A 0.040 in restrictor, Cd 1, choked at 80 psi over the standard atmosphere, lets 1.25 g/s through:
///
/// ```
/// use hissward::gauge::mass_flow_kg_s;
/// use hissward::units::{GaugePressure, Length, REFERENCE_TEMPERATURE, STANDARD_ATMOSPHERE};
/// let supply = GaugePressure::from_psi(80.0).absolute(STANDARD_ATMOSPHERE);
/// let area_m2 = Length::from_inches(0.040).hole_area_m2();
/// let flow = mass_flow_kg_s(area_m2, supply, STANDARD_ATMOSPHERE, REFERENCE_TEMPERATURE);
/// assert!((flow - 1.2495e-3).abs() < 5e-8);
/// ```
#[must_use]
pub fn mass_flow_kg_s(
    effective_area_m2: f64,
    upstream: AbsolutePressure,
    downstream: AbsolutePressure,
    temperature: Temperature,
) -> f64 {
    effective_area_m2 * upstream.0 * flow_function(downstream.0 / upstream.0) / (R_AIR * temperature.0).sqrt()
}
