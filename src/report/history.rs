//! Histories for people and for other programs.

use serde::Serialize;

use super::error::ReportError;
use super::gauge::rounded;
use super::grid::{Side, grid};
use super::track_record::{Said, track_record_text};
use crate::caveat::Fact;
use crate::history::{Change, Course, CylinderVisit, Direction, TrackRecord, Visit};
use crate::words::Words;

/// The version of this format.
const FORMAT: u32 = 1;

/// Courses as text: per engine a table with a row for each cylinder in each job, cylinder by cylinder in time.
#[must_use]
pub fn history_text(courses: &[Course], words: &Words) -> String {
    let blocks: Vec<String> = courses.iter().map(|course| course_text(course, words)).collect();
    let record = TrackRecord::of(courses.iter().flat_map(|course| &course.visits));
    blocks
        .into_iter()
        .chain(Some(track_record_text(&record, words)).filter(|text| !text.is_empty()))
        .collect::<Vec<_>>()
        .join("\n")
}

fn course_text(course: &Course, words: &Words) -> String {
    let count = |number: usize| Fact::Number { value: number as f64, decimals: 0 };
    let facts = [("engine", Fact::Text(course.engine.clone())), ("jobs", count(course.visits.len()))];
    let head = ["history-cylinder", "history-date", "history-loss", "history-change", "history-heard", "history-job"];
    let mut rows = vec![head.map(|name| words.say(name, &[])).to_vec()];
    for cylinder in course.cylinders_seen() {
        let mut name = cylinder.to_string();
        for (place, visit) in course.visits.iter().enumerate() {
            let Some(row) = visit.row(cylinder) else { continue };
            let before = course.read_before(place, cylinder).and_then(|visit| visit.row(cylinder));
            let gauges = before.and_then(|before| before.gauge.as_ref()).zip(row.gauge.as_ref());
            rows.push(vec![
                std::mem::take(&mut name),
                day(visit, words),
                loss(Some(row), words),
                gauges.map_or_else(String::new, |(from, to)| change(Change::between(from, to), words)),
                row.heard.as_ref().map_or_else(String::new, |heard| words.call_at(heard.call.name(), heard.found_at())),
                visit.job.clone(),
            ]);
        }
    }
    let sides = [Side::Left, Side::Left, Side::Right, Side::Right, Side::Left, Side::Left];
    let title = if course.visits.len() == 1 { "history-engine-one" } else { "history-engine" };
    format!("{}\n\n{}", words.say(title, &facts), grid(&rows, &sides))
}

/// The day of a job, or that it is not known.
pub(super) fn day(visit: &Visit, words: &Words) -> String {
    visit.moment.as_ref().map_or_else(|| words.say("history-undated", &[]), |moment| moment.day.clone())
}

/// What a cylinder loses with its interval; "at most" where the rig was not taken off, and that it was cold.
pub(super) fn loss(row: Option<&CylinderVisit>, words: &Words) -> String {
    let Some((row, gauge)) = row.and_then(|row| Some((row, row.gauge.as_ref()?))) else { return String::new() };
    let own = gauge.own_loss_percent();
    let number = |value| Fact::Number { value, decimals: own.decimals() };
    let facts = [("loss", number(own.value)), ("low", number(own.low)), ("high", number(own.high))];
    let name = if gauge.net_loss_percent.is_some() { "history-net" } else { "history-gross" };
    let said = words.say(name, &facts);
    if row.cold { words.say("history-cold", &[("loss", Fact::Text(said))]) } else { said }
}

/// Decimals of a change in percent points.
pub(super) const CHANGE_DECIMALS: usize = 1;

/// A change with its sign, in brackets where the gauges cannot tell it from none.
pub(super) fn change(change: Change, words: &Words) -> String {
    let plain = words.printed(change.points.value, CHANGE_DECIMALS);
    let rises = change.points.value > 0.0 && plain.chars().any(|c| c.is_ascii_digit() && c != '0');
    let signed = if rises { format!("+{plain}") } else { plain };
    match change.direction() {
        Direction::Same => format!("({signed})"),
        Direction::Less | Direction::More => signed,
    }
}

#[derive(Serialize)]
struct Whole<'a> {
    format: u32,
    tool: &'static str,
    engines: Vec<Engine<'a>>,
    skipped: Vec<Left<'a>>,
    said_against_found: Said<'a>,
}

#[derive(Serialize)]
struct Engine<'a> {
    engine: &'a str,
    cylinders: u32,
    jobs: Vec<Job<'a>>,
}

/// A job in the JSON of a history and of a comparison.
#[derive(Serialize)]
pub(super) struct Job<'a> {
    job: &'a str,
    engine: &'a str,
    tested_on: Option<&'a str>,
    restrictor_mm: Option<f64>,
    calls: &'static str,
    cylinders: Vec<Row<'a>>,
}

/// A cylinder in a job.
#[derive(Serialize)]
pub(super) struct Row<'a> {
    cylinder: u32,
    cold: bool,
    supply_kpa: Option<f64>,
    held_kpa: Option<f64>,
    loss_percent: Option<f64>,
    rig_loss_percent: Option<f64>,
    net_loss_percent: Option<f64>,
    net_loss_percent_low: Option<f64>,
    net_loss_percent_high: Option<f64>,
    equivalent_hole_mm: Option<f64>,
    call: Option<&'static str>,
    heard_at: Option<Vec<&'a str>>,
    probability: Option<f64>,
    found: Option<Vec<&'static str>>,
}

#[derive(Serialize)]
struct Left<'a> {
    job: &'a str,
    reason: &'a str,
}

/// Courses as one JSON object; `skipped` are jobs left out, each with its reason.
///
/// # Errors
/// [`ReportError::Json`] where the encoder refuses, which these values give it no reason to.
pub fn history_json(courses: &[Course], skipped: &[(String, String)]) -> Result<String, ReportError> {
    let record = TrackRecord::of(courses.iter().flat_map(|course| &course.visits));
    let whole = Whole {
        format: FORMAT,
        tool: concat!("hissward ", env!("CARGO_PKG_VERSION")),
        engines: courses.iter().map(engine_of).collect(),
        skipped: skipped.iter().map(|(job, reason)| Left { job, reason }).collect(),
        said_against_found: Said::of(&record),
    };
    pretty(&whole)
}

fn engine_of(course: &Course) -> Engine<'_> {
    Engine { engine: &course.engine, cylinders: course.cylinders, jobs: course.visits.iter().map(Job::of).collect() }
}

/// The text of a JSON object, for people to read, too.
pub(super) fn pretty(whole: &impl Serialize) -> Result<String, ReportError> {
    let mut text = serde_json::to_string_pretty(whole).map_err(ReportError::Json)?;
    text.push('\n');
    Ok(text)
}

impl<'a> Job<'a> {
    pub(super) fn of(visit: &'a Visit) -> Self {
        Self {
            job: &visit.job,
            engine: &visit.engine,
            tested_on: visit.moment.as_ref().map(|moment| moment.day.as_str()),
            restrictor_mm: visit.restrictor.and_then(|restrictor| rounded(restrictor.as_mm(), 4)),
            calls: visit.calls.name(),
            cylinders: visit.rows.iter().map(Row::of).collect(),
        }
    }
}

impl<'a> Row<'a> {
    pub(super) fn of(row: &'a CylinderVisit) -> Self {
        let gauge = row.gauge.as_ref();
        let net = gauge.and_then(|gauge| gauge.net_loss_percent);
        let heard = row.heard.as_ref();
        Self {
            cylinder: row.cylinder,
            cold: row.cold,
            supply_kpa: gauge.and_then(|gauge| rounded(gauge.supply?.as_kpa(), 3)),
            held_kpa: gauge.and_then(|gauge| rounded(gauge.held?.as_kpa(), 3)),
            loss_percent: gauge.and_then(|gauge| rounded(gauge.loss_percent.value, 2)),
            rig_loss_percent: gauge.and_then(|gauge| rounded(gauge.rig_loss_percent?, 2)),
            net_loss_percent: net.and_then(|net| rounded(net.value, 2)),
            net_loss_percent_low: net.and_then(|net| rounded(net.low, 2)),
            net_loss_percent_high: net.and_then(|net| rounded(net.high, 2)),
            equivalent_hole_mm: gauge.and_then(|gauge| rounded(gauge.leak?.equivalent_hole.as_mm(), 4)),
            call: heard.map(|heard| heard.call.name()),
            heard_at: heard.map(|heard| heard.openings.iter().map(|opening| opening.name()).collect()),
            probability: heard.and_then(|heard| rounded(heard.probability?, 4)),
            found: row.found.as_ref().map(|found| found.iter().map(|path| path.name()).collect()),
        }
    }
}
