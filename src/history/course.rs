//! One engine's jobs in the order of time.

use super::visit::Visit;

/// One engine's visits.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// The engine, as its latest job names it.
    pub engine: String,
    /// How many cylinders it has.
    pub cylinders: u32,
    /// Its jobs in the order of time; those without a date last.
    pub visits: Vec<Visit>,
}

impl Course {
    /// The cylinders that were read or heard in any visit, ascending.
    #[must_use]
    pub fn cylinders_seen(&self) -> Vec<u32> {
        let mut seen: Vec<u32> = self.visits.iter().flat_map(|visit| &visit.rows).map(|row| row.cylinder).collect();
        seen.sort_unstable();
        seen.dedup();
        seen
    }

    /// The visit before one that has a gauge reading of a cylinder.
    #[must_use]
    pub fn read_before(&self, place: usize, cylinder: u32) -> Option<&Visit> {
        let read = |visit: &&Visit| visit.row(cylinder).is_some_and(|row| row.gauge.is_some());
        self.visits[..place.min(self.visits.len())].iter().rev().find(read)
    }
}

/// Puts jobs to their engines: the same name (but for case and blanks) and the same number of cylinders.
/// Engines by name, then by number of cylinders.
#[must_use]
pub fn courses(mut visits: Vec<Visit>) -> Vec<Course> {
    let key = |visit: &Visit| (plain(&visit.engine), visit.cylinders);
    visits.sort_by(|a, b| key(a).cmp(&key(b)).then_with(|| a.in_time(b)));
    let mut courses: Vec<Course> = Vec::new();
    for visit in visits {
        match courses.last_mut() {
            Some(course) if key(&visit) == (plain(&course.engine), course.cylinders) => {
                course.engine.clone_from(&visit.engine);
                course.visits.push(visit);
            }
            _ => courses.push(Course { engine: visit.engine.clone(), cylinders: visit.cylinders, visits: vec![visit] }),
        }
    }
    courses
}

/// Whether an engine's name holds a text, but for case and blanks.
///
/// ```
/// assert!(hissward::history::named("Three-cylinder petrol, workboat  Gull", "workboat gull"));
/// ```
#[must_use]
pub fn named(engine: &str, part: &str) -> bool {
    plain(engine).contains(&plain(part))
}

/// A name without what people write now this way, now that.
fn plain(name: &str) -> String {
    name.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Calls, Moment};

    fn visit(job: &str, engine: &str, cylinders: u32, day_number: Option<i32>) -> Visit {
        let moment = |day_number| Moment { unix_s: i64::from(day_number) * 86_400, day: String::new(), day_number };
        Visit {
            job: job.to_owned(),
            engine: engine.to_owned(),
            cylinders,
            moment: day_number.map(moment),
            restrictor: None,
            shop: None,
            revision: 1,
            calls: Calls::NotRanked,
            rows: Vec::new(),
        }
    }

    #[test]
    fn an_engine_is_known_by_name_and_cylinders() {
        let visits = vec![
            visit("d", "Workboat Gull", 3, None),
            visit("c", "Workboat Gull", 4, Some(1)),
            visit("b", "workboat  gull", 3, Some(20)),
            visit("a", "Workboat Gull", 3, Some(10)),
            visit("e", "Pilot", 3, Some(5)),
        ];
        let found = courses(visits);
        let told: Vec<(&str, u32, Vec<&str>)> = found
            .iter()
            .map(|course| {
                let jobs = course.visits.iter().map(|visit| visit.job.as_str()).collect();
                (course.engine.as_str(), course.cylinders, jobs)
            })
            .collect();
        let expected =
            [("Pilot", 3, vec!["e"]), ("Workboat Gull", 3, vec!["a", "b", "d"]), ("Workboat Gull", 4, vec!["c"])];
        assert_eq!(told, expected);
    }
}
