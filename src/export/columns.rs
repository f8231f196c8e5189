//! What stands in a row.

use crate::gauge::{Assessment, Estimate};
use crate::history::{CylinderCall, CylinderVisit, Visit};
use crate::opening::EscapePath;
use crate::units::{GaugePressure, Length};

/// What a column holds; `None` in a [`Value`] is unknown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Text.
    Text,
    /// A whole number.
    Whole,
    /// A number.
    Number,
    /// Yes or no.
    Flag,
    /// A day.
    Day,
    /// An instant.
    Instant,
}

/// One cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Text.
    Text(Option<String>),
    /// A whole number.
    Whole(Option<i32>),
    /// A number, to so many decimals.
    Number(Option<f64>, i32),
    /// Yes or no.
    Flag(bool),
    /// A day, since 1970-01-01, and as text.
    Day(Option<(i32, String)>),
    /// An instant, seconds since 1970-01-01T00:00:00Z.
    Instant(Option<i64>),
}

/// A column: its name with the unit, its kind, and where its value comes from.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its name.
    pub name: &'static str,
    /// What it holds.
    pub kind: Kind,
    /// The cell of one cylinder in one job.
    pub of: fn(&Visit, &CylinderVisit) -> Value,
}

/// The columns, in their order. `net_*` is the cylinder alone, the rig taken off.
pub const COLUMNS: [Column; 25] = [
    column("job", Kind::Text, |visit, _| Value::Text(Some(visit.job.clone()))),
    column("engine", Kind::Text, |visit, _| Value::Text(Some(visit.engine.clone()))),
    column("tested_at", Kind::Instant, |visit, _| Value::Instant(visit.moment.as_ref().map(|moment| moment.unix_s))),
    column("tested_on", Kind::Day, |visit, _| {
        Value::Day(visit.moment.as_ref().map(|moment| (moment.day_number, moment.day.clone())))
    }),
    column("cylinders", Kind::Whole, |visit, _| whole(visit.cylinders)),
    column("cylinder", Kind::Whole, |_, row| whole(row.cylinder)),
    column("supply_kpa", Kind::Number, |_, row| of_gauge(row, 3, |gauge| gauge.supply.map(GaugePressure::as_kpa))),
    column("held_kpa", Kind::Number, |_, row| of_gauge(row, 3, |gauge| gauge.held.map(GaugePressure::as_kpa))),
    column("loss_percent", Kind::Number, |_, row| of_gauge(row, 2, |gauge| Some(gauge.loss_percent.value))),
    column("rig_loss_percent", Kind::Number, |_, row| of_gauge(row, 2, |gauge| gauge.rig_loss_percent)),
    column("net_loss_percent", Kind::Number, |_, row| of_net(row, |net| net.value)),
    column("net_loss_percent_low", Kind::Number, |_, row| of_net(row, |net| net.low)),
    column("net_loss_percent_high", Kind::Number, |_, row| of_net(row, |net| net.high)),
    column("net_area_ratio", Kind::Number, |_, row| {
        // Without the rig's reading it is that of both together.
        of_gauge(row, 4, |gauge| gauge.net_loss_percent.map(|_| gauge.area_ratio.value))
    }),
    column("equivalent_hole_mm", Kind::Number, |_, row| {
        of_gauge(row, 4, |gauge| gauge.leak.map(|leak| leak.equivalent_hole.as_mm()))
    }),
    column("restrictor_mm", Kind::Number, |visit, _| Value::Number(visit.restrictor.map(Length::as_mm), 4)),
    column("cold", Kind::Flag, |_, row| Value::Flag(row.cold)),
    column("calls", Kind::Text, |visit, _| Value::Text(Some(visit.calls.name().to_owned()))),
    column("call", Kind::Text, |_, row| Value::Text(row.heard.as_ref().map(|heard| heard.call.name().to_owned()))),
    column("heard_at", Kind::Text, |_, row| Value::Text(row.heard.as_ref().and_then(places))),
    column("probability", Kind::Number, |_, row| {
        Value::Number(row.heard.as_ref().and_then(|heard| heard.probability), 4)
    }),
    column("said_path", Kind::Text, |_, row| {
        let said = row.heard.as_ref().and_then(|heard| heard.openings.first());
        Value::Text(said.map(|opening| opening.path().name().to_owned()))
    }),
    column("found_path", Kind::Text, |_, row| Value::Text(row.found.as_deref().map(paths))),
    column("shop", Kind::Text, |visit, _| Value::Text(visit.shop.clone())),
    column("revision", Kind::Whole, |visit, _| whole(visit.revision)),
];

const fn column(name: &'static str, kind: Kind, of: fn(&Visit, &CylinderVisit) -> Value) -> Column {
    Column { name, kind, of }
}

/// A count that fits: an engine has at most 48 cylinders.
fn whole(count: u32) -> Value {
    Value::Whole(i32::try_from(count).ok())
}

fn of_gauge(row: &CylinderVisit, decimals: i32, of: fn(&Assessment) -> Option<f64>) -> Value {
    Value::Number(row.gauge.as_ref().and_then(of), decimals)
}

fn of_net(row: &CylinderVisit, of: fn(Estimate) -> f64) -> Value {
    Value::Number(row.gauge.as_ref().and_then(|gauge| gauge.net_loss_percent).map(of), 2)
}

/// A number to so many decimals; what is no number is unknown.
pub(super) fn rounded(number: Option<f64>, decimals: i32) -> Option<f64> {
    let scale = 10f64.powi(decimals);
    // Adding zero turns −0 into 0.
    number.filter(|number| number.is_finite()).map(|number| (number * scale).round() / scale + 0.0)
}

/// The paths found, joined by `+`.
fn paths(found: &[EscapePath]) -> String {
    found.iter().map(|path| path.name()).collect::<Vec<_>>().join("+")
}

/// The openings of the answer set, joined by `+`, which no opening's name holds.
fn places(heard: &CylinderCall) -> Option<String> {
    let names: Vec<&str> = heard.openings.iter().map(|opening| opening.name()).collect();
    (!names.is_empty()).then(|| names.join("+"))
}
