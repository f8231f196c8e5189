//! Gauge readings for people and for other programs: `gauge`, `rig`, and their `--json`.

use serde::Serialize;

use super::error::ReportError;
use super::json::{Doubt, doubts};
use super::text::wrapped;
use crate::caveat::{Caveat, Fact};
use crate::finding::{judged_by, net_line};
use crate::gauge::{Assessment, Estimate, Judgement, RigAssessment, Verdict};
use crate::units::{GaugePressure, Shown, UnitSystem};
use crate::words::Words;

/// The version of this format.
const FORMAT: u32 = 1;

/// What `gauge --json` and `rig --json` write; gauge pressures, `net_*` is the cylinder alone.
#[derive(Serialize)]
struct GaugeResult {
    format: u32,
    cylinder: Option<u32>,
    supply_kpa: Option<f64>,
    held_kpa: Option<f64>,
    loss_percent: Option<f64>,
    rig_loss_percent: Option<f64>,
    net_loss_percent: Option<f64>,
    net_area_ratio: Option<f64>,
    equivalent_hole_mm: Option<f64>,
    loss_low_percent: Option<f64>,
    loss_high_percent: Option<f64>,
    net_loss_low_percent: Option<f64>,
    net_loss_high_percent: Option<f64>,
    /// The reading says something of the cylinder: the rig does not hide it.
    tells: bool,
    /// What the reading as read is called, and by which scale; `null` where it does not tell.
    verdict: Option<&'static str>,
    verdict_by: Option<String>,
    at_the_limit: Option<bool>,
    /// What the loss with the rig taken off would be called.
    net_verdict: Option<&'static str>,
    /// Earlier readings of the cylinder, in the order in which they were taken.
    earlier_loss_percent: Vec<f64>,
    caveats: Vec<Doubt>,
}

/// What the reading that counts for a cylinder says.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingReport {
    /// The cylinder.
    pub cylinder: u32,
    /// What it says.
    pub found: Assessment,
    /// What that is called, and by whom.
    pub judgement: Judgement,
    /// Losses of earlier readings, percent as read, in the order in which they were taken.
    pub earlier_percent: Vec<f64>,
}

/// A cylinder's reading as one JSON object: pressures to 0.001 kPa, percentages to 0.01, ratio and hole to 0.0001.
///
/// # Errors
/// [`ReportError::Json`] where the encoder refuses, which these values give it no reason to.
pub fn gauge_json(reading: &ReadingReport, words: &Words) -> Result<String, ReportError> {
    let ReadingReport { cylinder, found, judgement, earlier_percent } = reading;
    let judged = Some(judgement).filter(|_| found.tells);
    let net = found.net_loss_percent;
    written(&GaugeResult {
        format: FORMAT,
        cylinder: Some(*cylinder),
        supply_kpa: found.supply.and_then(kilopascals),
        held_kpa: found.held.and_then(kilopascals),
        loss_percent: rounded(found.loss_percent.value, 2),
        rig_loss_percent: found.rig_loss_percent.and_then(|loss| rounded(loss, 2)),
        net_loss_percent: net.and_then(|loss| rounded(loss.value, 2)),
        net_area_ratio: rounded(found.area_ratio.value, 4),
        equivalent_hole_mm: found.leak.and_then(|leak| rounded(leak.equivalent_hole.as_mm(), 4)),
        loss_low_percent: rounded(found.loss_percent.low, 2),
        loss_high_percent: rounded(found.loss_percent.high, 2),
        net_loss_low_percent: net.and_then(|loss| rounded(loss.low, 2)),
        net_loss_high_percent: net.and_then(|loss| rounded(loss.high, 2)),
        tells: found.tells,
        verdict: judged.map(|judged| judged.verdict.name()),
        verdict_by: judged.map(|judged| judged.scale.clone()),
        at_the_limit: judged.map(|judged| judged.at_the_limit),
        net_verdict: judged.and_then(|judged| judged.net_verdict).map(Verdict::name),
        earlier_loss_percent: earlier_percent.iter().filter_map(|loss| rounded(*loss, 2)).collect(),
        caveats: doubts(&found.caveats, words),
    })
}

/// The rig's reading as one JSON object: no cylinder, and nothing of one.
///
/// # Errors
/// [`ReportError::Json`] where the encoder refuses, which these values give it no reason to.
pub fn rig_json(found: &RigAssessment, words: &Words) -> Result<String, ReportError> {
    let loss = rounded(found.loss_percent.value, 2);
    written(&GaugeResult {
        format: FORMAT,
        cylinder: None,
        supply_kpa: found.supply.and_then(kilopascals),
        held_kpa: found.held.and_then(kilopascals),
        loss_percent: loss,
        rig_loss_percent: loss,
        net_loss_percent: None,
        net_area_ratio: None,
        equivalent_hole_mm: None,
        loss_low_percent: rounded(found.loss_percent.low, 2),
        loss_high_percent: rounded(found.loss_percent.high, 2),
        net_loss_low_percent: None,
        net_loss_high_percent: None,
        tells: true,
        verdict: None,
        verdict_by: None,
        at_the_limit: None,
        net_verdict: None,
        earlier_loss_percent: Vec::new(),
        caveats: doubts(&found.caveats, words),
    })
}

/// A cylinder's reading in a few lines: what was read and what that is called by whom, what the cylinder loses by
/// itself, how large a hole it is, the earlier readings, and what lowers trust. Where the rig hides the cylinder
/// nothing is called anything.
#[must_use]
pub fn gauge_text(reading: &ReadingReport, words: &Words, units: UnitSystem) -> String {
    let ReadingReport { cylinder, found, judgement, earlier_percent } = reading;
    let who = words.cylinder(Some(*cylinder));
    let mut said = vec![loss_line(who, found.supply, found.held, found.loss_percent, words, units)];
    if found.tells {
        said.push(judged_by(judgement, words));
        if let (Some(net), Some(rig)) = (found.net_loss_percent, found.rig_loss_percent) {
            let mut facts = interval(net).to_vec();
            facts.push(("rig", Fact::Number { value: rig, decimals: 1 }));
            said.push(words.say("gauge-net", &facts));
            said.extend(net_line(judgement, words));
        }
        said.push(hole_line(found, words, units));
    } else {
        said.push(words.say("gauge-not-judged", &[]));
    }
    if !earlier_percent.is_empty() {
        let shown: Vec<String> = earlier_percent.iter().map(|loss| words.number(*loss, 1)).collect();
        said.push(words.say("gauge-earlier", &[("list", Fact::Text(shown.join(" · ")))]));
    }
    lines(said, &found.caveats, words)
}

fn hole_line(found: &Assessment, words: &Words, units: UnitSystem) -> String {
    match (found.leak, found.conditions.restrictor) {
        (Some(leak), Some(restrictor)) => {
            let hole = ("hole", Fact::Text(shown(units.length(leak.equivalent_hole), words)));
            let restrictor = ("restrictor", Fact::Text(shown(units.length(restrictor), words)));
            let flow = ("flow", Fact::Number { value: leak.litres_per_minute_reference(), decimals: 0 });
            words.say("gauge-hole", &[hole, restrictor, flow])
        }
        _ => words.say("gauge-ratio", &[("ratio", Fact::Number { value: found.area_ratio.value, decimals: 2 })]),
    }
}

/// The rig's reading in a line, and what lowers trust.
#[must_use]
pub fn rig_text(found: &RigAssessment, words: &Words, units: UnitSystem) -> String {
    let who = words.say("gauge-rig-who", &[]);
    let said = loss_line(who, found.supply, found.held, found.loss_percent, words, units);
    lines(vec![said], &found.caveats, words)
}

fn loss_line(
    who: String,
    supply: Option<GaugePressure>,
    held: Option<GaugePressure>,
    loss: Estimate,
    words: &Words,
    units: UnitSystem,
) -> String {
    let mut facts = interval(loss).to_vec();
    facts.push(("who", Fact::Text(who)));
    let (Some(supply), Some(held)) = (supply, held) else {
        return words.say("gauge-loss-share", &facts);
    };
    facts.push(("supply", Fact::Text(shown(units.pressure(supply), words))));
    facts.push(("held", Fact::Text(shown(units.pressure(held), words))));
    words.say("gauge-loss", &facts)
}

fn interval(loss: Estimate) -> [(&'static str, Fact); 3] {
    let number = |value| Fact::Number { value, decimals: loss.decimals() };
    [("loss", number(loss.value)), ("low", number(loss.low)), ("high", number(loss.high))]
}

/// A quantity as the language writes it, number and unit on one line.
pub(super) fn shown(quantity: Shown, words: &Words) -> String {
    format!("{}\u{a0}{}", words.number(quantity.value, quantity.decimals), quantity.unit)
}

fn lines(mut said: Vec<String>, caveats: &[Caveat], words: &Words) -> String {
    said.extend(caveats.iter().map(|caveat| {
        let (found, remedy) = words.caveat(caveat);
        words.say("gauge-caveat", &[("found", Fact::Text(found)), ("remedy", Fact::Text(remedy))])
    }));
    let text: String = said.iter().map(|line| wrapped(line, "", "  ") + "\n").collect();
    // A number and its unit stay on one line; a terminal and its `grep` want plain blanks.
    text.replace('\u{a0}', " ")
}

fn written(result: &GaugeResult) -> Result<String, ReportError> {
    let mut text = serde_json::to_string(result).map_err(ReportError::Json)?;
    text.push('\n');
    Ok(text)
}

fn kilopascals(pressure: GaugePressure) -> Option<f64> {
    rounded(pressure.as_kpa(), 3)
}

/// Rounded to so many decimals; what is no number is unknown.
pub(super) fn rounded(value: f64, decimals: i32) -> Option<f64> {
    let scale = 10f64.powi(decimals);
    // Adding zero turns −0 into 0.
    value.is_finite().then(|| (value * scale).round() / scale + 0.0)
}
