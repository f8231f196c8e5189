//! Figures out of outcomes.

use hissward::ranking::Call;

use super::bootstrap::{Estimate, mean_by_session};
use super::calibration::{Bin, bins, debiased_error};
use super::judge::Outcome;
use super::limit;
use super::risk::{Point, coverage_at, curve};
use super::rows::Scenario;
use super::seeds::BOOTSTRAP_SEED;

/// What a figure is to reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goal {
    /// At least the first, better the second.
    AtLeast(f64, f64),
    /// At most the first, better the second.
    AtMost(f64, f64),
    /// Between these.
    Within(f64, f64),
    /// Nothing is asked.
    Shown,
}

impl Goal {
    /// Whether a value reaches it.
    pub fn reached(self, value: f64) -> bool {
        match self {
            Self::AtLeast(least, _) => value >= least,
            Self::AtMost(most, _) => value <= most,
            Self::Within(low, high) => (low..=high).contains(&value),
            Self::Shown => true,
        }
    }
}

/// A row of the table.
#[derive(Debug, Clone)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// What it is to reach.
    pub goal: Goal,
    /// What the program reaches.
    pub program: Option<Estimate>,
    /// What the plain methods reach.
    pub plain: Option<[f64; 4]>,
    /// What is possible in a steady white floor by power alone.
    pub limit: Option<f64>,
    /// Whether it is a share (shown in percent).
    pub share: bool,
}

/// Everything that a report shows.
pub struct Results {
    /// The table.
    pub figures: Vec<Figure>,
    /// Risk against coverage.
    pub risk: Vec<Point>,
    /// The reliability curve.
    pub reliability: Vec<Bin>,
}

/// Bins of the reliability curve.
const BINS: usize = 10;
/// Seconds of open and of shut air in a pulsed clip of 12 s, late edges left out.
const PULSED_S: f64 = 5.5;
const CLIP_S: f64 = 6.0;
/// Rows of right openings on top: hiss to noise, at least, aim.
const ON_TOP: [(f64, Goal); 5] = [
    (-20.0, Goal::AtLeast(0.80, 0.88)),
    (-15.0, Goal::AtLeast(0.95, 0.98)),
    (-10.0, Goal::AtLeast(0.98, 0.99)),
    (-5.0, Goal::AtLeast(1.0, 1.0)),
    (0.0, Goal::Shown),
];
const LOCATED: [(f64, Goal); 3] =
    [(-10.0, Goal::AtLeast(0.85, 0.92)), (-5.0, Goal::AtLeast(0.95, 0.98)), (0.0, Goal::AtLeast(0.98, 0.99))];
const PULSED: [(f64, Goal); 3] =
    [(-10.0, Goal::AtLeast(0.97, 0.99)), (-15.0, Goal::AtLeast(0.93, 0.97)), (-20.0, Goal::AtLeast(0.85, 0.92))];

/// A share of the cases that `of` picks: those for which `is` holds.
pub fn share(outcomes: &[&Outcome], of: impl Fn(&Outcome) -> bool, is: impl Fn(&Outcome) -> bool) -> Option<Estimate> {
    let values: Vec<(usize, f64)> = outcomes
        .iter()
        .filter(|outcome| of(outcome))
        .map(|outcome| (outcome.session, f64::from(u8::from(is(outcome)))))
        .collect();
    mean_by_session(&values, BOOTSTRAP_SEED)
}

/// All figures: those of the plain rows, and those of all rows together that can be decided.
pub fn results(all: &[&Outcome]) -> Results {
    let decidable: Vec<&Outcome> = all.iter().copied().filter(|o| !o.scenario.is_undecidable()).collect();
    let plain: Vec<&Outcome> = all.iter().copied().filter(|o| o.scenario.family() == "plain").collect();
    let outcomes = &plain[..];
    let pairs: Vec<(f64, bool)> = outcomes.iter().map(|outcome| outcome.best).collect();
    let risk = curve(&pairs);
    let reliability = bins(&pairs, BINS);
    let mut figures = Vec::new();
    for (db, goal) in ON_TOP {
        let limit = limit::right_on_top(db, CLIP_S, 3);
        figures.push(on_top(outcomes, format!("right opening on top at {db:+.0} dB"), Scenario::Leak(db), goal, limit));
    }
    for (db, goal) in LOCATED {
        let program = share(outcomes, |o| o.scenario == Scenario::Leak(db), Outcome::located_right);
        let limit = Some(limit::detected(db, CLIP_S));
        figures.push(Figure { limit, ..figure(format!("called located, rightly, at {db:+.0} dB"), goal, program) });
    }
    figures.extend(calls(outcomes));
    figures.extend(levels(outcomes));
    for (db, goal) in PULSED {
        let limit = limit::right_on_top(db, PULSED_S, 3);
        let name = format!("pulsed air: right opening on top at {db:+.0} dB");
        figures.push(on_top(outcomes, name, Scenario::Pulsed(db), goal, limit));
    }
    let briers: Vec<(usize, f64)> = outcomes.iter().map(|o| (o.session, o.brier)).collect();
    let brier = mean_by_session(&briers, BOOTSTRAP_SEED);
    figures.push(Figure { share: false, ..figure("Brier score", Goal::AtMost(0.20, 0.12), brier) });
    figures.extend(all_rows(&decidable));
    figures.push(figure("calibration error, debiased", Goal::Shown, debiased_error(&reliability).map(alone)));
    figures.push(figure("share answered with 1 % wrong", Goal::Shown, Some(alone(coverage_at(&risk, 0.01)))));
    Results { figures, risk, reliability }
}

/// Figures of all rows, plain and beyond.
fn all_rows(outcomes: &[&Outcome]) -> Vec<Figure> {
    let every = |_: &Outcome| true;
    let briers: Vec<(usize, f64)> = outcomes.iter().map(|o| (o.session, o.brier)).collect();
    let pairs: Vec<(f64, bool)> = outcomes.iter().map(|outcome| outcome.best).collect();
    vec![
        Figure {
            share: false,
            ..figure("all rows: Brier score", Goal::AtMost(0.15, 0.10), mean_by_session(&briers, BOOTSTRAP_SEED))
        },
        figure(
            "all rows: calibration error, debiased",
            Goal::AtMost(0.05, 0.02),
            debiased_error(&bins(&pairs, BINS)).map(alone),
        ),
        figure(
            "all rows: located or shared wrongly",
            Goal::AtMost(0.02, 0.005),
            share(outcomes, every, |o| o.located_wrong || o.shared_wrong),
        ),
        figure(
            "all rows: none heard while a hiss of 0 dB or more is there",
            Goal::AtMost(0.01, 0.002),
            share(outcomes, |o| o.hiss_is_there, Outcome::none_heard_wrong),
        ),
    ]
}

fn figure(name: impl Into<String>, goal: Goal, program: Option<Estimate>) -> Figure {
    Figure { name: name.into(), goal, program, plain: None, limit: None, share: true }
}

/// A figure without an interval.
fn alone(value: f64) -> Estimate {
    Estimate { value, low: value, high: value, count: 0 }
}

fn on_top(outcomes: &[&Outcome], name: String, scenario: Scenario, goal: Goal, limit: f64) -> Figure {
    let of = |o: &Outcome| o.scenario == scenario;
    let cases = outcomes.iter().filter(|o| of(o)).count().max(1);
    let plain = [0, 1, 2, 3]
        .map(|method| outcomes.iter().filter(|o| of(o) && o.plain_right[method]).count() as f64 / cases as f64);
    Figure { plain: Some(plain), limit: Some(limit), ..figure(name, goal, share(outcomes, of, |o| o.top_right)) }
}

fn calls(outcomes: &[&Outcome]) -> Vec<Figure> {
    let located = |o: &Outcome| o.call == Call::Located;
    let tight = |o: &Outcome| o.scenario == Scenario::Tight;
    let two = |o: &Outcome| o.scenario == Scenario::Two;
    let wrong = |o: &Outcome| o.located_wrong;
    let called = |o: &Outcome| matches!(o.call, Call::Located | Call::Shared);
    let most = Goal::AtMost(0.006, 0.003);
    vec![
        figure("wrong among located, where something leaks", most, share(outcomes, |o| located(o) && !tight(o), wrong)),
        figure("wrong among located, tight engines too", most, share(outcomes, located, wrong)),
        figure("tight engine called located or shared", Goal::AtMost(0.01, 0.003), share(outcomes, tight, called)),
        figure("two leaks: both on top", Goal::AtLeast(0.96, 0.99), share(outcomes, two, |o| o.both_on_top)),
        figure("two leaks: called shared", Goal::AtLeast(0.75, 0.90), share(outcomes, two, |o| o.call == Call::Shared)),
    ]
}

/// Values of which each case has several.
fn each<T: Copy>(outcomes: &[&Outcome], of: impl Fn(&Outcome) -> &[T], value: impl Fn(T) -> f64) -> Option<Estimate> {
    let values: Vec<(usize, f64)> =
        outcomes.iter().flat_map(|o| of(o).iter().map(|&x| (o.session, value(x)))).collect();
    mean_by_session(&values, BOOTSTRAP_SEED)
}

fn levels(outcomes: &[&Outcome]) -> Vec<Figure> {
    let yes = |is: bool| f64::from(u8::from(is));
    let bound = Goal::Within(0.95, 0.98);
    let interval = Goal::Within(0.90, 0.99);
    let median = |mut values: Vec<f64>| {
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied().map(alone)
    };
    let over = outcomes.iter().flat_map(|o| o.bounds.iter().map(|b| b.in_clip_db)).collect();
    let widths = outcomes.iter().flat_map(|o| o.intervals.iter().map(|i| i.width_db)).collect();
    vec![
        figure(
            "true level in the clip under the bound",
            bound,
            each(outcomes, |o| &o.bounds, |b| yes(b.in_clip_db >= 0.0)),
        ),
        figure(
            "true level before placement under the bound",
            bound,
            each(outcomes, |o| &o.bounds, |b| yes(b.before_placement_db >= 0.0)),
        ),
        Figure { share: false, ..figure("median of bound over true level, dB", Goal::Shown, median(over)) },
        figure(
            "heard: true level in the clip in the interval",
            interval,
            each(outcomes, |o| &o.intervals, |i| yes(i.holds_in_clip)),
        ),
        figure(
            "heard: true level before placement in the interval",
            interval,
            each(outcomes, |o| &o.intervals, |i| yes(i.holds_before_placement)),
        ),
        Figure { share: false, ..figure("median width of the interval, dB", Goal::Shown, median(widths)) },
    ]
}
