//! The tester as two nozzles in a row: the restrictor between the gauges, and the leak to ambient.
//!
//! What flows through the restrictor flows out through the leak, at the same total temperature. So the two
//! readings fix the leak's effective area as a multiple of the restrictor's, whatever the restrictor is.

use super::nozzle::{critical_ratio, flow_function};
use crate::units::{AbsolutePressure, GaugePressure};

/// Halvings of the bracket when solving for the held pressure: more than a double has bits.
const HALVINGS: usize = 80;

/// Effective area of the leak over that of the restrictor, (Cd·A)/(Cd·A), from absolute pressures.
///
/// (p_s·Ψ(p_c/p_s)) / (p_c·Ψ(p_a/p_c)). Zero where nothing is lost; infinite where nothing is held.
///
/// 60 of 80 psi (a loss of 25 %) is a leak 1.0586 times the restrictor:
///
/// ```
/// use hissward::gauge::area_ratio;
/// use hissward::units::AbsolutePressure;
/// let psi = AbsolutePressure::from_psi;
/// assert!((area_ratio(psi(94.696), psi(74.696), psi(14.696)) - 1.0586).abs() < 5e-5);
/// ```
#[must_use]
pub fn area_ratio(supply: AbsolutePressure, held: AbsolutePressure, ambient: AbsolutePressure) -> f64 {
    let through_restrictor = supply.0 * flow_function(held.0 / supply.0);
    let through_leak = held.0 * flow_function(ambient.0 / held.0);
    if through_restrictor == 0.0 { 0.0 } else { through_restrictor / through_leak }
}

/// The pressure held before a leak `ratio` times the restrictor: [`area_ratio`] solved back, by bisection.
#[must_use]
pub fn held_before(supply: AbsolutePressure, ratio: f64, ambient: AbsolutePressure) -> AbsolutePressure {
    if ratio <= 0.0 {
        return supply;
    }
    let (mut low, mut high) = (ambient.0, supply.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        // The ratio falls as more is held.
        if area_ratio(supply, AbsolutePressure(middle), ambient) > ratio {
            low = middle;
        } else {
            high = middle;
        }
    }
    AbsolutePressure(f64::midpoint(low, high))
}

/// The share of the supply that is not held, in percent of gauge pressures: 100·(p_s − p_c)/p_s
/// (FAA AC 43.13-1B ch. 8, differential pressure test, step (i)).
#[must_use]
pub fn loss_percent(supply: GaugePressure, held: GaugePressure) -> f64 {
    100.0 * (supply - held).0 / supply.0
}

/// The cylinder pressure above which the leak to ambient is choked: 13.12 psi at 14.696 psi ambient.
#[must_use]
pub fn leak_chokes_above(ambient: AbsolutePressure) -> GaugePressure {
    AbsolutePressure(ambient.0 / critical_ratio()).gauge(ambient)
}

/// The cylinder pressure below which the restrictor is choked: 35.33 psi at 80 psi supply, 14.696 psi ambient.
#[must_use]
pub fn restrictor_chokes_below(supply: GaugePressure, ambient: AbsolutePressure) -> GaugePressure {
    AbsolutePressure(supply.absolute(ambient).0 * critical_ratio()).gauge(ambient)
}
