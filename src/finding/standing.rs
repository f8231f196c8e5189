//! The cylinders against each other: what stands out.

use super::engine::Engine;
use crate::gauge::Spread;

/// How the losses of an engine's cylinders lie.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Cylinders that lose more than the others, beyond the doubt of their readings.
    pub stand_out: Vec<u32>,
    /// All cylinders read (two at least) lie within a few points of each other.
    pub alike: bool,
    /// The least and the greatest loss in percent, where two cylinders at least were read.
    pub range_percent: Option<(f64, f64)>,
}

impl Standing {
    /// Holds each cylinder against the median of the others, which one bad cylinder does not move.
    ///
    /// The maker's limit on the difference between cylinders comes first; else that of `gauge/bands.toml`.
    #[must_use]
    pub fn of(engine: &Engine, spread: &Spread) -> Self {
        let read: Vec<(u32, f64, f64)> = engine
            .rows
            .iter()
            .filter_map(|row| row.gauge.as_ref().map(|gauge| (row.cylinder, gauge.own_loss_percent())))
            .map(|(cylinder, loss)| (cylinder, loss.value, loss.value - loss.low))
            .collect();
        if read.len() < 2 {
            return Self { stand_out: Vec::new(), alike: false, range_percent: None };
        }
        let limit = engine.maker.as_ref().and_then(|maker| maker.spread_points).unwrap_or(spread.stands_out_points);
        let over = |cylinder: u32, loss: f64| {
            let others = read.iter().filter(|(other, ..)| *other != cylinder).map(|(_, loss, _)| *loss).collect();
            loss - median(others)
        };
        let stand_out = read.iter().filter(|(cylinder, loss, doubt)| over(*cylinder, *loss) >= limit.max(*doubt));
        let stand_out = stand_out.map(|(cylinder, ..)| *cylinder).collect();
        let least = read.iter().map(|(_, loss, _)| *loss).fold(f64::INFINITY, f64::min);
        let most = read.iter().map(|(_, loss, _)| *loss).fold(f64::NEG_INFINITY, f64::max);
        Self { stand_out, alike: most - least <= spread.alike_points, range_percent: Some((least, most)) }
    }
}

/// The middle value, or the mean of the two middle ones. Never called without values.
fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let half = values.len() / 2;
    if values.len() % 2 == 1 { values[half] } else { f64::midpoint(values[half - 1], values[half]) }
}
