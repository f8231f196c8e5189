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
/// As sure as a call asks for.
const SURE: f64 = 0.95;

/// Who says what is recorded next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Plan {
    /// Off and on again in turn, opening by opening.
    Fixed,
    /// What the ranking advises; where it advises a reading, or a clip that is used up, the fixed plan.
    Advice,
}

/// A clip that was advised: with the air how, the chance told that it settles the matter, and whether it did.
type Told = (Air, f64, bool);

/// How a case went.
#[derive(Debug, Clone)]
struct Went {
    session: usize,
    plan: Plan,
    level_db: f64,
    called: bool,
    wrong: bool,
    seconds: f64,
    told: Vec<Told>,
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
    text += &came_true(&all);
    Ok(text)
}

/// The chance told to settle the matter, beside how often it came true.
fn came_true(all: &[Went]) -> String {
    let mut text =
        "\n| chance told that the clip settles it | clips | told on average | came true |\n|---|---|---|---|\n"
            .to_owned();
    let told: Vec<Told> = all.iter().flat_map(|went| &went.told).copied().collect();
    for (from, to) in [(0.0, 0.1), (0.1, 0.3), (0.3, 0.6), (0.6, 0.8), (0.8, 1.0)] {
        for air in [Air::Off, Air::On, Air::Pulsed] {
            let of: Vec<&Told> = told.iter().filter(|told| told.0 == air && (from..to).contains(&told.1)).collect();
            let percent = |value: &dyn Fn(&Told) -> f64| {
                100.0 * of.iter().map(|told| value(told)).sum::<f64>() / of.len().max(1) as f64
            };
            if !of.is_empty() {
                text += &format!(
                    "| {:.0}–{:.0} %, {} | {} | {:.0} % | {:.0} % |\n",
                    100.0 * from,
                    100.0 * to,
                    air.name(),
                    of.len(),
                    percent(&|told| told.1),
                    percent(&|told| f64::from(u8::from(told.2))),
                );
            }
        }
    }
    text
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
    let mut told = Vec::new();
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
        let clip = left.remove(wanted.unwrap_or(0));
        let chance = wanted.and(advised).map(|next| next.settles);
        used.push(clip);
        ranking = by_samples(&used, &openings);
        told.extend(chance.map(|chance| (clip.truth.air, chance, settled(&ranking))));
    }
    let leak = case.truth.leaks.first().map(|leak| &leak.opening);
    let right = ranking.call == Call::Located && ranking.openings.first().map(|top| &top.opening) == leak;
    let seconds = used.iter().map(|clip| clip.clip.duration().0).sum();
    Went { session, plan, level_db, called: called(&ranking), wrong: called(&ranking) && !right, seconds, told }
}

/// Called, or surely at none of the openings.
fn settled(ranking: &Ranking) -> bool {
    called(ranking) || ranking.tight_probability + ranking.elsewhere_probability >= SURE
}

fn called(ranking: &Ranking) -> bool {
    matches!(ranking.call, Call::Located | Call::Shared)
}
