//! Following the program's own advice against a fixed plan: seconds recorded until it is called, and how often it is.

use hissward::opening::Air;
use hissward::ranking::{Call, NextStep, Ranking};
use hissward::simulate::{Case, CaseClip, CaseOptions, Dice, Leak, Practice, SimulateError};
use hissward::units::LevelDiff;
use rayon::prelude::*;

use super::bootstrap::mean_by_session;
use super::cases::Session;
use super::noises::Sounds;
use super::program::by_samples;
use super::seeds::{BOOTSTRAP_SEED, Where, case_seed};

/// Hiss over noise, dB.
const LEVELS_DB: [f64; 3] = [-10.0, -15.0, -18.0];
/// Seeds of these cases follow those of the rows.
const FIRST_ROW: usize = 90;
/// So many clips more after the plain first round, and takes of each that lie ready.
const MORE_CLIPS: usize = 8;
const TAKES: u32 = 4;

/// Who says what is recorded next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Plan {
    /// Off and on again in turn, opening by opening.
    Fixed,
    /// What the ranking advises; where it advises a reading, or a clip that is used up, the fixed plan.
    Advice,
}

/// How a case went.
#[derive(Debug, Clone, Copy)]
struct Went {
    session: usize,
    plan: Plan,
    level_db: f64,
    called: bool,
    wrong: bool,
    seconds: f64,
}

/// Both plans on every session, as a Markdown table.
pub fn table(place: Where, sessions: std::ops::Range<usize>, sounds: &Sounds) -> Result<String, SimulateError> {
    let each: Vec<Vec<Went>> = sessions
        .into_par_iter()
        .map(|number| {
            let session = Session::draw(place, number, sounds);
            let mut went = Vec::new();
            for (turn, level_db) in LEVELS_DB.into_iter().enumerate() {
                let case = case(&session, turn, level_db)?;
                went.extend([Plan::Fixed, Plan::Advice].map(|plan| follow(plan, &case, number, level_db)));
            }
            Ok(went)
        })
        .collect::<Result<_, SimulateError>>()?;
    let all: Vec<Went> = each.into_iter().flatten().collect();
    let mut text = "| hiss over noise | plan | cases | called rightly | called wrongly | seconds recorded |\n|---|---|---|---|---|---|\n".to_owned();
    for level_db in LEVELS_DB {
        for (plan, name) in [(Plan::Fixed, "fixed"), (Plan::Advice, "advice")] {
            let of: Vec<&Went> = all.iter().filter(|went| went.plan == plan && went.level_db == level_db).collect();
            let mean = |value: &dyn Fn(&Went) -> f64| {
                let values: Vec<(usize, f64)> = of.iter().map(|went| (went.session, value(went))).collect();
                mean_by_session(&values, BOOTSTRAP_SEED)
            };
            let percent = |is: &dyn Fn(&Went) -> bool| {
                let share = mean(&|went| f64::from(u8::from(is(went))));
                share.map_or("–".to_owned(), |e| {
                    format!("{:.1} % ({:.1}–{:.1})", 100.0 * e.value, 100.0 * e.low, 100.0 * e.high)
                })
            };
            let seconds = mean(&|went| went.seconds)
                .map_or("–".to_owned(), |e| format!("{:.0} ({:.0}–{:.0})", e.value, e.low, e.high));
            text += &format!(
                "| {level_db:+} dB | {name} | {} | {} | {} | {seconds} |\n",
                of.len(),
                percent(&|went| went.called && !went.wrong),
                percent(&|went| went.wrong),
            );
        }
    }
    Ok(text)
}

/// A leak with every clip that may be asked for.
fn case(session: &Session<'_>, turn: usize, level_db: f64) -> Result<Case, SimulateError> {
    let seed = case_seed(session.seed, FIRST_ROW + turn);
    let defaults = CaseOptions { seed, ..CaseOptions::default() };
    let opening = defaults.openings[Dice::seeded(seed).below(defaults.openings.len())].clone();
    let leaks = vec![Leak { opening, hiss_to_noise: LevelDiff(level_db) }];
    // Steady hisses: a jet, whatever hisses in the session's shop otherwise.
    CaseOptions { leaks, practice: Practice::OffAndOnThenPulsed, takes: TAKES, ..defaults }.render(&session.shop.noise)
}

fn follow(plan: Plan, case: &Case, session: usize, level_db: f64) -> Went {
    let openings: Vec<_> = case.truth.openings.iter().map(|place| place.opening.clone()).collect();
    let first = |clip: &&CaseClip| clip.truth.take == 1 && clip.truth.air != Air::Pulsed;
    let (mut used, mut left): (Vec<&CaseClip>, Vec<&CaseClip>) = case.clips.iter().partition(first);
    let mut ranking = by_samples(&used, &openings);
    for _ in 0..MORE_CLIPS {
        let advised = ranking.next.as_ref();
        if called(&ranking) || (plan == Plan::Advice && advised.is_none()) || left.is_empty() {
            break;
        }
        let wanted = advised.and_then(|next| match &next.step {
            NextStep::Clip(opening, air) if plan == Plan::Advice => {
                left.iter().position(|clip| clip.truth.opening == *opening && clip.truth.air == *air)
            }
            _ => None,
        });
        // Off and on in the order they were recorded come first.
        used.push(left.remove(wanted.unwrap_or(0)));
        ranking = by_samples(&used, &openings);
    }
    let leak = case.truth.leaks.first().map(|leak| &leak.opening);
    let right = ranking.call == Call::Located && ranking.openings.first().map(|top| &top.opening) == leak;
    let seconds = used.iter().map(|clip| clip.clip.duration().0).sum();
    Went { session, plan, level_db, called: called(&ranking), wrong: called(&ranking) && !right, seconds }
}

fn called(ranking: &Ranking) -> bool {
    matches!(ranking.call, Call::Located | Call::Shared)
}
