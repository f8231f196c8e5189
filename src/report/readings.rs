//! The gauge readings as a table: what was shown, what the cylinder loses by itself, how large a hole that is.

use super::cylinders::loss_cell;
use super::document::{Block, Cell, Row, Table};
use super::gauge::shown;
use super::input::ReportInput;
use crate::caveat::Fact;
use crate::finding::CylinderRow;
use crate::gauge::{Assessment, Estimate};
use crate::units::GaugePressure;
use crate::words::Words;

/// The table, and on what it rests.
pub(super) fn readings(input: &ReportInput<'_>) -> Vec<Block> {
    let words = input.words;
    let say = |name: &str| words.say(name, &[]);
    let read = || input.engine.rows.iter().filter_map(|row| row.gauge.as_ref().map(|gauge| (row, gauge)));
    let mut rows: Vec<Row> = Vec::new();
    if let Some(rig) = &input.engine.rig {
        rows.push(Row {
            strong: false,
            cells: vec![
                Cell::of(say("report-rig-alone")),
                pressures(rig.supply, rig.held, input),
                Cell::of(percent(rig.loss_percent, words)),
                Cell::default(),
                Cell::default(),
            ],
        });
    }
    rows.extend(read().map(|(row, gauge)| reading_row(row, gauge, input)));
    if rows.is_empty() {
        return Vec::new();
    }
    let head = [
        "report-column-cylinder",
        "report-column-pressures",
        "report-column-shown",
        "report-column-alone",
        "report-column-hole",
    ];
    let table = Table { caption: say("report-readings-of"), head: head.map(say).to_vec(), figures: true, rows };
    let note = read().next().map(|_| Block::Paragraph(say("report-readings-note")));
    [Some(Block::Table(table)), note].into_iter().flatten().collect()
}

fn reading_row(row: &CylinderRow, gauge: &Assessment, input: &ReportInput<'_>) -> Row {
    let words = input.words;
    let hole = match gauge.leak {
        Some(leak) => {
            let flow = [("flow", Fact::Number { value: leak.litres_per_minute_reference(), decimals: 0 })];
            let hole = shown(input.units.length(leak.equivalent_hole), words);
            Cell::with(hole, words.say("report-flow", &flow))
        }
        None => {
            let ratio = [("ratio", Fact::Text(words.printed(gauge.area_ratio.value, 2)))];
            Cell::of(words.say("report-ratio", &ratio))
        }
    };
    let finding = input.findings.finding_of(row.cylinder);
    let warmth = if row.cold { Some(words.say("report-cold", &[])) } else { None };
    Row {
        strong: finding.is_some_and(|finding| finding.weight == crate::finding::Weight::Repair),
        cells: vec![
            Cell { text: words.cylinder(Some(row.cylinder)), under: warmth },
            pressures(gauge.supply, gauge.held, input),
            Cell::of(percent(gauge.loss_percent, words)),
            loss_cell(finding.and_then(|finding| finding.loss.as_ref()), words),
            hole,
        ],
    }
}

fn pressures(supply: Option<GaugePressure>, held: Option<GaugePressure>, input: &ReportInput<'_>) -> Cell {
    let (Some(supply), Some(held)) = (supply, held) else {
        return Cell::of(input.words.say("report-percent-gauge", &[]));
    };
    let shown = |pressure| Fact::Text(shown(input.units.pressure(pressure), input.words));
    Cell::of(input.words.say("report-held-of", &[("supply", shown(supply)), ("held", shown(held))]))
}

fn percent(loss: Estimate, words: &Words) -> String {
    words.say("percent", &[("percent", Fact::Text(words.printed(loss.value, loss.decimals())))])
}
