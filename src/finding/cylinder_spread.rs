//! The cylinders against each other: what stands out.

use super::engine::Engine;
use crate::gauge::Spread;

/// How the losses of an engine's cylinders lie.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderSpread {
    /// Cylinders that lose more than the others, beyond the doubt of their readings.
    pub stand_out: Vec<u32>,
    /// All cylinders read (two at least, equally warm) lie within a few points of each other.
    pub alike: bool,
    /// The least and the greatest loss in percent, where two cylinders at least were read.
    pub range_percent: Option<(f64, f64)>,
}

impl CylinderSpread {
    /// Holds each cylinder against the median of the others, which one bad cylinder does not move. Cold is held against
    /// cold and warm against warm: a cold cylinder reads worse than the same one warm.
    ///
    /// The maker's limit on the difference between cylinders comes first, and holds for the readings as read; else that
    /// of `gauge/scales.toml`, for the losses with the rig taken off.
    #[must_use]
    pub fn of(engine: &Engine, spread: &Spread) -> Self {
        let makers = engine.maker.as_ref().and_then(|maker| maker.spread_points);
        let read: Vec<Read> = engine
            .rows
            .iter()
            .filter_map(|row| row.told().map(|gauge| (row, gauge)))
            .map(|(row, gauge)| {
                let loss = if makers.is_some() { gauge.loss_percent } else { gauge.own_loss_percent() };
                Read { cylinder: row.cylinder, cold: row.cold, loss: loss.value, doubt: loss.value - loss.low }
            })
            .collect();
        let limit = makers.unwrap_or(spread.stands_out_points);
        let out = |one: &&Read| {
            let others = read.iter().filter(|other| other.cylinder != one.cylinder && other.cold == one.cold);
            median(others.map(|other| other.loss).collect())
                .is_some_and(|usual| one.loss - usual >= limit.max(one.doubt))
        };
        let stand_out = read.iter().filter(out).map(|one| one.cylinder).collect();
        if read.len() < 2 {
            return Self { stand_out, alike: false, range_percent: None };
        }
        let least = read.iter().map(|one| one.loss).fold(f64::INFINITY, f64::min);
        let most = read.iter().map(|one| one.loss).fold(f64::NEG_INFINITY, f64::max);
        let as_warm = read.iter().all(|one| one.cold == read[0].cold);
        Self { stand_out, alike: as_warm && most - least <= spread.alike_points, range_percent: Some((least, most)) }
    }
}

/// One cylinder's loss, percent, and how far it may be less.
struct Read {
    cylinder: u32,
    cold: bool,
    loss: f64,
    doubt: f64,
}

/// The middle value, or the mean of the two middle ones; `None` without values.
fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let half = values.len() / 2;
    let middle = *values.get(half)?;
    Some(if values.len() % 2 == 1 { middle } else { f64::midpoint(values[half - 1], middle) })
}
