//! Any smooth spectrum as a filter: a ladder of first-order steps, two to the octave.

use super::exact;
use super::filter::{Chain, Section, joined, step_section};

/// The curve is met from here, hertz.
const LOWEST_HZ: f64 = 90.0;
/// The curve is met up to this share of the sample rate.
const HIGHEST_SHARE: f64 = 0.45;
/// Points to the octave at which the curve is met.
const POINTS_PER_OCTAVE: f64 = 2.0;
/// Rounds of correction; the error falls by about half in each.
const ROUNDS: usize = 24;

/// A filter whose power response follows `curve_db` (dB at a frequency in hertz).
///
/// Made for curves that bend slowly, less than some 12 dB per octave: jets, not resonances.
pub(super) fn chain_along(rate_hz: f64, curve_db: impl Fn(f64) -> f64) -> Chain {
    let octaves = exact::ln(HIGHEST_SHARE * rate_hz / LOWEST_HZ) / std::f64::consts::LN_2;
    let steps = (octaves * POINTS_PER_OCTAVE).max(2.0) as usize;
    let ratio = exact::power(2.0, octaves / steps as f64);
    let points: Vec<f64> = (0..=steps).map(|k| LOWEST_HZ * exact::power(ratio, k as f64)).collect();
    let want: Vec<f64> = points.iter().map(|&hz| curve_db(hz)).collect();

    let mut gains_db: Vec<f64> = want.windows(2).map(|pair| pair[1] - pair[0]).collect();
    for _ in 0..ROUNDS {
        let chain = ladder(rate_hz, &points, &gains_db);
        let missing: Vec<f64> =
            points.iter().zip(&want).map(|(&hz, want)| want - exact::db_of_power(chain.power_at(hz))).collect();
        for (gain, pair) in gains_db.iter_mut().zip(missing.windows(2)) {
            *gain += pair[1] - pair[0];
        }
    }
    let chain = ladder(rate_hz, &points, &gains_db);
    let middle = steps / 2;
    let lift_db = want[middle] - exact::db_of_power(chain.power_at(points[middle]));
    chain.louder(lift_db)
}

fn ladder(rate_hz: f64, points: &[f64], gains_db: &[f64]) -> Chain {
    let steps: Vec<Section> = points
        .windows(2)
        .zip(gains_db)
        .map(|(pair, &gain_db)| step_section(rate_hz, (pair[0] * pair[1]).sqrt(), gain_db))
        .collect();
    steps.chunks(2).fold(Chain::new(rate_hz), |chain, pair| match pair {
        [one, other] => chain.with(joined(*one, *other)),
        [one] => chain.with(*one),
        _ => chain,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Between the points the ladder may ripple this much, dB.
    const RIPPLE_DB: f64 = 0.15;

    #[test]
    fn a_slope_of_three_db_per_octave_is_followed() {
        let slope = |hz: f64| 3.0 * (hz / 1000.0).log2();
        let chain = chain_along(48_000.0, slope);
        for hz in [120.0, 333.0, 1000.0, 2500.0, 7000.0, 15_000.0, 20_000.0] {
            let got_db = 10.0 * chain.power_at(hz).log10();
            assert!((got_db - slope(hz)).abs() < RIPPLE_DB, "{hz} Hz: {got_db} dB for {} dB", slope(hz));
        }
    }
}
