//! The history picture: a block per engine, a small panel per cylinder, its loss over time. All panels of a picture
//! share their axes.

use super::ink::{AIR, HATCH, INK, PAPER, RISE, RULE, SOFT};
use super::lettering::{Lettering, Weight};
use super::picture::{Anchor, Picture, PictureSize, Sheet, Space, Spot, Style, spot};
use super::render::PictureError;
use crate::caveat::Fact;
use crate::history::{Course, CylinderVisit, Visit};
use crate::words::Words;

const GAP: f64 = 14.0;
const NARROWEST_PANEL: f64 = 210.0;
const PANEL_HEIGHT: f64 = 150.0;
/// Half the width of an interval's box.
const HALF: f64 = 7.0;
/// Readings closer than this, in units, are pushed apart: before and after a repair is often one day.
const NEAREST: f64 = 2.0 * HALF + 4.0;
/// The axis of loss ends at a multiple of this, percent.
const STEP_PERCENT: f64 = 10.0;

const HEADING: Style = Style::new(27.0, Weight::Bold, Anchor::Start, INK);
const NAME: Style = Style::new(19.0, Weight::Bold, Anchor::Start, INK);
const SMALL: Style = Style::new(16.0, Weight::Regular, Anchor::Start, SOFT);
const LABEL: Style = Style::new(16.0, Weight::Regular, Anchor::Start, INK);

/// The history picture of one or more engines.
///
/// A box is the cylinder alone with its interval of about 95 %; a lid with hatching under it is a reading whose rig
/// was not taken off, so that the cylinder loses at most that; what was read cold is drawn open. Time runs to the
/// right; readings too close to tell apart are pushed apart. Jobs without a date are named and not drawn.
///
/// # Errors
/// [`PictureError::Font`] where the embedded font is damaged.
pub fn history(courses: &[Course], words: &Words, size: PictureSize) -> Result<Picture, PictureError> {
    let lettering = Lettering::embedded().ok_or(PictureError::Font)?;
    let width = size.width();
    let margin = if width < 600.0 { 12.0 } else { 24.0 };
    let most = most_percent(courses);
    let mut drawing = Drawing { sheet: Sheet::new(width, lettering), margin, most_percent: most, words };
    let mut y = margin;
    for (place, course) in courses.iter().enumerate() {
        if place > 0 {
            drawing.sheet.line(vec![spot(margin, y), spot(width - margin, y)], 1.2, RULE);
            y += 20.0;
        }
        y = drawing.block(course, y) + 12.0;
    }
    let bottom = drawing.legend(courses, y);
    Ok(drawing.sheet.finish((bottom + margin).ceil(), alternative(courses, words)))
}

/// Where the axis of loss ends: above everything shown.
fn most_percent(courses: &[Course]) -> f64 {
    let rows = courses.iter().flat_map(|course| &course.visits).flat_map(|visit| &visit.rows);
    let highest = rows.filter_map(|row| row.gauge.as_ref()).map(|gauge| gauge.own_loss_percent().high);
    let highest = highest.fold(STEP_PERCENT, f64::max);
    ((highest / STEP_PERCENT).ceil() * STEP_PERCENT).min(100.0)
}

struct Drawing<'a> {
    sheet: Sheet,
    margin: f64,
    most_percent: f64,
    words: &'a Words,
}

impl Drawing<'_> {
    /// One engine; returns its lower edge.
    fn block(&mut self, course: &Course, top: f64) -> f64 {
        let (left, right) = (self.margin, self.sheet.width - self.margin);
        let mut y = top;
        for line in self.sheet.lettering.broken(&course.engine, HEADING.size, HEADING.weight, right - left, 3) {
            y += 30.0;
            self.sheet.text(spot(left, y), line, HEADING);
        }
        for line in self.beneath_heading(course) {
            for line in self.sheet.lettering.broken(&line, SMALL.size, SMALL.weight, right - left, 4) {
                y += 22.0;
                self.sheet.text(spot(left, y), line, SMALL);
            }
        }
        y += 24.0;
        self.sheet.text(spot(left, y), self.words.say("plot-loss", &[]), SMALL);
        y += 8.0;
        let first = left + 34.0;
        let room = right - first;
        let per_row = (((room + GAP) / (NARROWEST_PANEL + GAP)) as usize).max(1);
        let cylinders = course.cylinders_seen();
        let rows = cylinders.len().div_ceil(per_row).max(1);
        // Rows as equal as can be: eight cylinders are 4 + 4 and not 5 + 3.
        let per_row = cylinders.len().div_ceil(rows).max(1);
        let wide = (room + GAP) / per_row as f64 - GAP;
        // A line for what was heard last, where any is known.
        let heard =
            if course.visits.iter().flat_map(|visit| &visit.rows).any(|row| row.heard.is_some()) { 21.0 } else { 0.0 };
        let head = 26.0 + heard;
        for row in cylinders.chunks(per_row) {
            for (place, cylinder) in row.iter().enumerate() {
                let left = first + place as f64 * (wide + GAP);
                let space = Space { left, top: y + head, right: left + wide, bottom: y + head + PANEL_HEIGHT };
                self.sheet.text(spot(left, y + 18.0), self.words.cylinder(Some(*cylinder)), NAME);
                if let Some(said) = self.heard_last(course, *cylinder) {
                    let lines = self.sheet.lettering.broken(&said, SMALL.size, SMALL.weight, wide, 1);
                    self.sheet.text(spot(left, y + 18.0 + heard), lines.concat(), SMALL);
                }
                self.panel(course, *cylinder, space, place == 0);
            }
            y += head + PANEL_HEIGHT + 30.0;
        }
        y
    }

    /// The span of time, and the jobs that are not drawn.
    fn beneath_heading(&self, course: &Course) -> Vec<String> {
        let days: Vec<&str> =
            course.visits.iter().filter_map(|visit| visit.moment.as_ref()).map(|moment| moment.day.as_str()).collect();
        let span = days.first().zip(days.last()).map(|(first, last)| {
            let facts = [("first", Fact::Text((*first).to_owned())), ("last", Fact::Text((*last).to_owned()))];
            self.words.say("plot-history-jobs", &facts)
        });
        let undated: Vec<String> =
            course.visits.iter().filter(|visit| visit.moment.is_none()).map(|visit| visit.job.clone()).collect();
        let undated = (!undated.is_empty())
            .then(|| self.words.say("plot-history-undated", &[("jobs", Fact::Text(undated.join(", ")))]));
        span.into_iter().chain(undated).collect()
    }

    /// What was heard at the last job whose call is known, and when.
    fn heard_last(&self, course: &Course, cylinder: u32) -> Option<String> {
        let known = |visit: &Visit| Some((visit.moment.clone()?, visit.row(cylinder)?.heard.clone()?));
        let (moment, heard) = course.visits.iter().rev().find_map(known)?;
        let call = self.words.call_at(heard.call.name(), heard.found_at());
        Some(self.words.say("plot-history-heard", &[("day", Fact::Text(moment.day)), ("call", Fact::Text(call))]))
    }

    /// One cylinder's loss over time.
    fn panel(&mut self, course: &Course, cylinder: u32, space: Space, numbered: bool) {
        self.sheet.fill(space, PAPER);
        let step = if self.most_percent > 50.0 { 2.0 * STEP_PERCENT } else { STEP_PERCENT };
        for place in 0..=((self.most_percent / step) as u32) {
            let percent = f64::from(place) * step;
            let y = self.y(percent, space);
            if percent > 0.0 && percent < self.most_percent {
                self.sheet.line(vec![spot(space.left, y), spot(space.right, y)], 1.0, RULE);
            }
            if numbered {
                let style = Style { anchor: Anchor::End, ..SMALL };
                self.sheet.text(spot(space.left - 8.0, y + 5.5), self.words.printed(percent, 0), style);
            }
        }
        self.sheet.frame(space, 1.2, HATCH);
        let shown: Vec<(&Visit, f64)> = places(course, space);
        let read: Vec<(&CylinderVisit, f64)> =
            shown.iter().filter_map(|(visit, x)| Some((visit.row(cylinder)?, *x))).collect();
        // Bounds are not joined: the loss may lie anywhere below them.
        let net = |row: &CylinderVisit| row.gauge.as_ref().and_then(|gauge| gauge.net_loss_percent);
        let line: Vec<Spot> =
            read.iter().filter_map(|(row, x)| Some(spot(*x, self.y(net(row)?.value, space)))).collect();
        if line.len() > 1 {
            self.sheet.line(line, 1.6, SOFT);
        }
        for (row, x) in read {
            self.reading(row, x, space);
        }
        let ends = [(shown.first(), Anchor::Start, space.left), (shown.last(), Anchor::End, space.right)];
        for (end, anchor, x) in ends.into_iter().take(if shown.len() > 1 { 2 } else { 1 }) {
            if let Some(moment) = end.and_then(|(visit, _)| visit.moment.as_ref()) {
                self.sheet.text(spot(x, space.bottom + 19.0), moment.day.clone(), Style { anchor, ..SMALL });
            }
        }
    }

    /// One reading: a box with its interval, or a lid where it is only a bound.
    fn reading(&mut self, row: &CylinderVisit, x: f64, space: Space) {
        let Some(gauge) = &row.gauge else { return };
        let own = gauge.own_loss_percent();
        let spots = (self.y(own.high, space), self.y(own.value, space), self.y(own.low, space));
        mark(&mut self.sheet, x, spots, gauge.net_loss_percent.is_some(), row.cold, space.bottom);
    }

    fn y(&self, percent: f64, space: Space) -> f64 {
        space.bottom - (percent / self.most_percent).clamp(0.0, 1.0) * (space.bottom - space.top)
    }

    /// What the signs mean: only those shown. Returns the lower edge.
    fn legend(&mut self, courses: &[Course], top: f64) -> f64 {
        let rows = || courses.iter().flat_map(|course| &course.visits).flat_map(|visit| &visit.rows);
        let gauges = || rows().filter_map(|row| row.gauge.as_ref().map(|gauge| (gauge, row.cold)));
        let keys = [
            ("plot-key-net", true, false, gauges().any(|(gauge, _)| gauge.net_loss_percent.is_some())),
            ("plot-key-gross", false, false, gauges().any(|(gauge, _)| gauge.net_loss_percent.is_none())),
            ("plot-key-cold", true, true, gauges().any(|(_, cold)| cold)),
        ];
        let right = self.sheet.width - self.margin;
        self.sheet.line(vec![spot(self.margin, top), spot(right, top)], 1.2, RULE);
        let (mut x, mut y) = (self.margin, top + 26.0);
        for (name, net, cold, _) in keys.into_iter().filter(|(.., shown)| *shown) {
            let label = self.words.say(name, &[]);
            let wide = self.sheet.lettering.width(&label, LABEL.size, LABEL.weight) + 30.0;
            if x > self.margin && x + wide > right {
                (x, y) = (self.margin, y + 34.0);
            }
            mark(&mut self.sheet, x + 10.0, (y - 11.0, y, y + 11.0), net, cold, y + 13.0);
            self.sheet.text(spot(x + 30.0, y + 5.5), label, LABEL);
            x += wide + 26.0;
        }
        y + 16.0
    }
}

/// The sign of a reading, from its upper end over its value to its lower end.
fn mark(sheet: &mut Sheet, x: f64, (high, value, low): (f64, f64, f64), net: bool, cold: bool, foot: f64) {
    if net {
        // An interval of half a point is still to be seen.
        let (high, low) = (high.min(value - 3.0), low.max(value + 3.0).min(foot));
        let space = Space { left: x - HALF, top: high, right: x + HALF, bottom: low };
        sheet.fill(space, if cold { PAPER } else { RISE });
        sheet.frame(space, 1.6, INK);
    } else {
        let under = Space { left: x - HALF, top: value, right: x + HALF, bottom: foot - 1.5 };
        if under.bottom > under.top {
            sheet.fill(under, PAPER);
            sheet.hatch(under, 6.0, 1.2, if cold { RULE } else { HATCH });
        }
        sheet.line(vec![spot(x - HALF, value), spot(x + HALF, value)], 3.0, INK);
    }
    let level = Space { left: x - HALF - 3.0, top: value - 1.3, right: x + HALF + 3.0, bottom: value + 1.3 };
    sheet.fill(level, if net { AIR } else { INK });
}

/// The jobs that have a date, and where each stands in a panel: in proportion to time, but [`NEAREST`] apart where
/// there is room for that.
fn places(course: &Course, space: Space) -> Vec<(&Visit, f64)> {
    let dated: Vec<(&Visit, f64)> = course
        .visits
        .iter()
        .filter_map(|visit| visit.moment.as_ref().map(|moment| (visit, moment.unix_s as f64)))
        .collect();
    let (Some(first), Some(last)) = (dated.first(), dated.last()) else { return Vec::new() };
    let (begin, span) = (first.1, (last.1 - first.1).max(1.0));
    let (left, right) = (space.left + HALF + 6.0, space.right - HALF - 6.0);
    let nearest = NEAREST.min((right - left) / dated.len() as f64);
    let mut xs: Vec<f64> = dated.iter().map(|(_, at)| left + (at - begin) / span * (right - left)).collect();
    if dated.len() == 1 {
        xs[0] = f64::midpoint(left, right);
    }
    // To the right where one would cover its neighbour, then back from the right edge.
    for place in 1..xs.len() {
        xs[place] = xs[place].max(xs[place - 1] + nearest);
    }
    let mut limit = right;
    for x in xs.iter_mut().rev() {
        *x = x.min(limit);
        limit = *x - nearest;
    }
    dated.into_iter().map(|(visit, _)| visit).zip(xs).collect()
}

/// The picture in words.
fn alternative(courses: &[Course], words: &Words) -> String {
    let row = |course: &Course, cylinder: u32| {
        let values = course.visits.iter().filter_map(|visit| {
            let own = visit.row(cylinder)?.gauge.as_ref()?.own_loss_percent();
            let loss = Fact::Number { value: own.value, decimals: own.decimals() };
            let day = Fact::Text(visit.moment.as_ref()?.day.clone());
            Some(words.say("plot-history-alt-value", &[("day", day), ("loss", loss)]))
        });
        let values: Vec<String> = values.collect();
        let who = format!("{}, {}", course.engine, words.cylinder(Some(cylinder)));
        words.say("plot-history-alt-row", &[("who", Fact::Text(who)), ("values", Fact::Text(values.join(", ")))])
    };
    let rows: Vec<String> = courses
        .iter()
        .flat_map(|course| course.cylinders_seen().into_iter().map(move |cylinder| row(course, cylinder)))
        .collect();
    words.say("plot-history-alt", &[("rows", Fact::Text(rows.join(" ")))])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Calls, Moment};

    const PANEL: Space = Space { left: 0.0, top: 0.0, right: 226.0, bottom: 100.0 };

    fn course(days: &[i32]) -> Course {
        let visit = |day: &i32| Visit {
            job: String::new(),
            engine: String::new(),
            cylinders: 1,
            moment: Some(Moment { unix_s: i64::from(*day) * 86_400, day: day.to_string(), day_number: *day }),
            restrictor: None,
            shop: None,
            revision: 1,
            calls: Calls::NotRanked,
            rows: Vec::new(),
        };
        Course { engine: String::new(), cylinders: 1, visits: days.iter().map(visit).collect() }
    }

    fn xs(days: &[i32]) -> Vec<f64> {
        places(&course(days), PANEL).into_iter().map(|(_, x)| x).collect()
    }

    #[test]
    fn time_runs_evenly_where_there_is_room() {
        // The room is 226 less 13 at each end.
        assert_eq!(xs(&[0, 100, 400]), [13.0, 63.0, 213.0]);
        assert_eq!(xs(&[7]), [113.0]);
    }

    #[test]
    fn readings_of_one_day_stand_beside_each_other() {
        assert_eq!(xs(&[0, 0, 400]), [13.0, 13.0 + NEAREST, 213.0]);
        assert_eq!(xs(&[0, 400, 400]), [13.0, 213.0 - NEAREST, 213.0]);
        let many: Vec<f64> = xs(&[5; 40]);
        assert!(many.is_sorted_by(|a, b| a < b) && many[0] >= 13.0 && many[39] <= 213.0, "{many:?}");
    }
}
