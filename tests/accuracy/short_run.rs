//! Few sessions of the tuning seeds: a broken ranking shows, chance does not.

use std::sync::OnceLock;

use hissward::ranking::Call;
use rayon::prelude::*;

use crate::harness::cases::{Conditions, Session};
use crate::harness::chains::Chains;
use crate::harness::judge::{Outcome, judge};
use crate::harness::noises::Sounds;
use crate::harness::program;
use crate::harness::rows::{Scenario, rows};
use crate::harness::seeds::Where;

/// Sessions of the run: two of each kind of shop, so that it stays under a minute.
const SESSIONS: usize = 8;

// The goals are 97 to 99 %, 0.20 and 95 %. What is asked here is what the ranking reaches, less what chance does to so few
// cases: raise it with the ranking, never lower it.
const RIGHT_OF_24: usize = 20;
const BRIER: f64 = 0.36;
const COVERED: f64 = 0.93;

/// Rendered and ranked once for all tests.
fn outcomes() -> &'static [Outcome] {
    static OUTCOMES: OnceLock<Vec<Outcome>> = OnceLock::new();
    OUTCOMES.get_or_init(run)
}

fn run() -> Vec<Outcome> {
    let sounds = Sounds::kept().expect("recordings");
    let chains = Chains::look();
    (0..SESSIONS)
        .into_par_iter()
        .flat_map_iter(|number| {
            let session = Session::draw(Where::Tuning, number, &sounds);
            let outcomes: Vec<Outcome> = rows(&["plain".to_owned()])
                .iter()
                .map(|row| {
                    let case = session.case(row, Conditions::default()).expect("a case");
                    let ranked = program::rank(&case, &chains).map_err(|error| error.to_string());
                    judge(&session, row, &case, ranked.as_ref().map_err(Clone::clone))
                })
                .collect();
            outcomes
        })
        .collect()
}

fn count(of: impl Fn(&Outcome) -> bool) -> usize {
    outcomes().iter().filter(|outcome| of(outcome)).count()
}

/// Right openings on top in the rows whose goal is 97 % and more of the cases; how often a plain method had them.
fn on_top_in_plain_sight() -> (usize, [usize; 4]) {
    let row = |o: &Outcome| matches!(o.scenario, Scenario::Leak(db) if (-10.0..=0.0).contains(&db));
    let plain = [0, 1, 2, 3].map(|method| count(|o| row(o) && o.plain_right[method]));
    (count(|o| row(o) && o.top_right), plain)
}

#[test]
fn the_right_opening_is_on_top() {
    let (right, plain) = on_top_in_plain_sight();
    // 24 cases from -10 to 0 dB; chance has 8, standard deviation 2.3.
    assert!(right >= RIGHT_OF_24, "{right} of 24");
    assert!(plain.iter().all(|&plain| plain < right), "{right}, plain methods {plain:?}");
}

#[test]
fn few_are_located_wrongly_and_tight_engines_left_alone() {
    let wrong: Vec<&Outcome> = outcomes().iter().filter(|outcome| outcome.located_wrong).collect();
    assert!(wrong.len() <= 1, "{wrong:?}");
    let tight = count(|o| o.scenario == Scenario::Tight && matches!(o.call, Call::Located | Call::Shared));
    assert!(tight <= 1, "{tight} of {SESSIONS} tight engines called");
}

#[test]
fn probabilities_are_worth_more_than_none() {
    let brier = outcomes().iter().map(|o| o.brier).sum::<f64>() / outcomes().len() as f64;
    // A quarter for each of three openings and elsewhere scores 0.75, whatever is true.
    assert!(brier < BRIER, "{brier}");
}

#[test]
fn bounds_cover_and_are_of_use() {
    let mut bounds: Vec<f64> = outcomes().iter().flat_map(|o| o.bounds.iter().map(|bound| bound.in_clip_db)).collect();
    bounds.sort_by(f64::total_cmp);
    let covered = bounds.iter().filter(|over_db| **over_db >= 0.0).count() as f64 / bounds.len() as f64;
    assert!(covered >= COVERED, "{covered}");
    let median_db = bounds[bounds.len() / 2];
    assert!(median_db < 12.0, "a bound {median_db} dB over the truth says nothing");
}
