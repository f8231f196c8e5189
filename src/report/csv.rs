//! Readings and rankings as a table for other programs: one row for each opening of each cylinder.

use crate::csv_rows::{Cell, csv_text};
use crate::finding::{CylinderRow, Engine};
use crate::ranking::{HissReading, OpeningResult};

/// The columns: units are in their names, levels re full scale.
const HEAD: [&str; 17] = [
    "cylinder",
    "loss_percent",
    "own_loss_percent",
    "own_loss_percent_low",
    "own_loss_percent_high",
    "call",
    "tight_probability",
    "elsewhere_probability",
    "opening",
    "path",
    "probability",
    "heard",
    "hiss_db",
    "hiss_db_low",
    "hiss_db_high",
    "at_most_db",
    "above_quiet_db",
];

/// The table by RFC 4180 with a head: a point as decimal mark in every language, nothing where nothing is known. A
/// cylinder nobody listened at has one row.
///
/// ```
/// use hissward::finding::Engine;
/// let table = hissward::report::csv(&Engine::default());
/// assert!(table.starts_with("cylinder,loss_percent,") && table.ends_with("above_quiet_db\r\n"));
/// ```
#[must_use]
pub fn csv(engine: &Engine) -> String {
    let mut rows = Vec::new();
    for row in &engine.rows {
        let ranking = row.ranking.as_ref();
        for result in ranking.into_iter().flat_map(|ranking| &ranking.openings) {
            rows.push([of_cylinder(row), of_opening(result)].concat());
        }
        if ranking.is_none_or(|ranking| ranking.openings.is_empty()) {
            rows.push([of_cylinder(row), vec![Cell::Plain(String::new()); HEAD.len() - 8]].concat());
        }
    }
    csv_text(&HEAD, rows)
}

fn of_cylinder(row: &CylinderRow) -> Vec<Cell> {
    let loss = row.gauge.as_ref().map(|gauge| gauge.loss_percent.value);
    let own = row.gauge.as_ref().map(|gauge| gauge.own_loss_percent());
    let ranking = row.ranking.as_ref();
    vec![
        Cell::Plain(row.cylinder.to_string()),
        number(loss, 2),
        number(own.map(|own| own.value), 2),
        number(own.map(|own| own.low), 2),
        number(own.map(|own| own.high), 2),
        Cell::Plain(ranking.map(|ranking| ranking.call.name().to_owned()).unwrap_or_default()),
        number(ranking.map(|ranking| ranking.tight_probability), 4),
        number(ranking.map(|ranking| ranking.elsewhere_probability), 4),
    ]
}

fn of_opening(result: &OpeningResult) -> Vec<Cell> {
    let (level, low, high) = match result.hiss {
        HissReading::Heard { level, low, high } => (Some(level.0), Some(low.0), Some(high.0)),
        HissReading::Bound => (None, None, None),
    };
    vec![
        Cell::Text(result.opening.name().to_owned()),
        Cell::Plain(result.opening.path().name().to_owned()),
        number(Some(result.probability), 4),
        Cell::Plain(level.is_some().to_string()),
        number(level, 2),
        number(low, 2),
        number(high, 2),
        number(Some(result.at_most.0), 2),
        number(result.above_quiet.map(|above| above.0), 2),
    ]
}

/// A number, or nothing where it is none.
fn number(value: Option<f64>, decimals: usize) -> Cell {
    Cell::Plain(value.filter(|value| value.is_finite()).map(|value| format!("{value:.decimals$}")).unwrap_or_default())
}
