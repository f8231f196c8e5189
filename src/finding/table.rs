//! The table of cylinders and openings: loss, call, and the hiss in every cell.

use super::engine::Engine;
use super::findings::{Findings, Loss};
use super::signs::stands_out_at;
use crate::opening::Opening;
use crate::ranking::{Call, HissReading, OpeningResult};
use crate::units::Level;

/// One cell: what was heard at one opening of one cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cell {
    /// The level, or only its bound.
    pub hiss: HissReading,
    /// The true level lies under this with 95 %.
    pub at_most: Level,
    /// Heard as the spill of a louder opening.
    pub spill: bool,
    /// The probability that the leak escapes here.
    pub probability: f64,
    /// Louder than the same opening can be on any other cylinder listened at: the lower end of its interval lies
    /// above all their bounds. The same opening on another cylinder is the best control there is.
    pub stands_out: bool,
}

/// One row: one cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct TableRow {
    /// The cylinder.
    pub cylinder: u32,
    /// How much it loses, where a gauge was read.
    pub loss: Option<Loss>,
    /// Its loss stands out from the other cylinders'.
    pub stands_out: bool,
    /// The call, where clips were ranked.
    pub call: Option<Call>,
    /// One cell per column; `None` where nobody listened.
    pub cells: Vec<Option<Cell>>,
}

/// The table of an engine.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// The columns: every opening listened at, in the order of work, others by name.
    pub openings: Vec<Opening>,
    /// The rows, by cylinder.
    pub rows: Vec<TableRow>,
}

impl Table {
    /// The table of an engine whose findings were drawn.
    #[must_use]
    pub fn of(engine: &Engine, findings: &Findings) -> Self {
        let heard = engine.rows.iter().filter_map(|row| row.ranking.as_ref()).flat_map(|ranking| &ranking.openings);
        let mut openings: Vec<Opening> = heard.map(|opening| opening.opening.clone()).collect();
        openings.sort_by(|a, b| place(a).cmp(&place(b)).then_with(|| a.cmp(b)));
        openings.dedup();
        let rows = engine.rows.iter().map(|row| {
            let finding = findings.finding_of(row.cylinder);
            TableRow {
                cylinder: row.cylinder,
                loss: finding.and_then(|finding| finding.loss.clone()),
                stands_out: findings.spread.stand_out.contains(&row.cylinder),
                call: row.ranking.as_ref().map(|ranking| ranking.call),
                cells: openings.iter().map(|opening| cell(engine, row.cylinder, opening)).collect(),
            }
        });
        let rows = rows.collect();
        Self { openings, rows }
    }
}

fn result<'a>(engine: &'a Engine, cylinder: u32, opening: &Opening) -> Option<&'a OpeningResult> {
    let row = engine.rows.iter().find(|row| row.cylinder == cylinder)?;
    row.ranking.as_ref()?.openings.iter().find(|result| result.opening == *opening)
}

fn cell(engine: &Engine, cylinder: u32, opening: &Opening) -> Option<Cell> {
    let own = result(engine, cylinder, opening)?;
    let stands_out = stands_out_at(own, cylinder, engine);
    Some(Cell { hiss: own.hiss, at_most: own.at_most, spill: own.spill, probability: own.probability, stands_out })
}

/// The order of work round the engine; neighbours by number, the rig, then names of the user's own.
fn place(opening: &Opening) -> (u32, u32) {
    match (opening.name(), opening.neighbour()) {
        ("intake", _) => (0, 0),
        ("exhaust", _) => (1, 0),
        ("oil-filler", _) => (2, 0),
        ("dipstick", _) => (2, 1),
        ("breather", _) => (2, 2),
        ("crankcase", _) => (2, 3),
        ("coolant-filler", _) => (3, 0),
        (_, Some(number)) => (4, number),
        ("rig", _) => (5, 0),
        _ => (6, 0),
    }
}
