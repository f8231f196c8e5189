//! Sessions: one shop, and in it one case of every row of the table.

use hissward::opening::Opening;
use hissward::simulate::{Case, CaseOptions, Dice, Leak, Practice, SimulateError};
use hissward::units::LevelDiff;

use super::noises::{Group, Shop, Sounds};
use super::seeds::{Where, case_seed};

/// What is built into a case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Scenario {
    /// One leak, this far over the noise, dB.
    Leak(f64),
    /// No leak.
    Tight,
    /// Two leaks 2 dB apart, the louder one 3 dB over the noise.
    Two,
    /// One leak with pulsed air, dB over the noise.
    Pulsed(f64),
}

/// The rows of the table: the same in every session.
pub const SCENARIOS: [Scenario; 10] = [
    Scenario::Leak(-20.0),
    Scenario::Leak(-15.0),
    Scenario::Leak(-10.0),
    Scenario::Leak(-5.0),
    Scenario::Leak(0.0),
    Scenario::Tight,
    Scenario::Two,
    Scenario::Pulsed(-10.0),
    Scenario::Pulsed(-15.0),
    Scenario::Pulsed(-20.0),
];

/// The louder of two leaks over the noise, and the other below it, dB.
const LOUDER_DB: f64 = 3.0;
const APART_DB: f64 = 2.0;

impl Scenario {
    /// A short name.
    pub fn name(self) -> String {
        match self {
            Self::Leak(db) => format!("leak {db:+}"),
            Self::Tight => "tight".to_owned(),
            Self::Two => "two leaks".to_owned(),
            Self::Pulsed(db) => format!("pulsed {db:+}"),
        }
    }

    fn leaks(self, openings: &[Opening], dice: &mut Dice) -> Vec<Leak> {
        let first = dice.below(openings.len());
        let second = (first + 1 + dice.below(openings.len() - 1)) % openings.len();
        let leak = |at: usize, db: f64| Leak { opening: openings[at].clone(), hiss_to_noise: LevelDiff(db) };
        match self {
            Self::Leak(db) | Self::Pulsed(db) => vec![leak(first, db)],
            Self::Tight => Vec::new(),
            Self::Two => vec![leak(first, LOUDER_DB), leak(second, LOUDER_DB - APART_DB)],
        }
    }
}

/// What may be asked to be otherwise than it is when accuracy is judged ([`CaseOptions::default`]).
#[derive(Debug, Clone, Copy)]
pub struct Conditions {
    /// How far each of several noises changes for itself between quiet and air clip, dB (standard deviation).
    pub part_change_db: f64,
}

impl Default for Conditions {
    fn default() -> Self {
        Self { part_change_db: CaseOptions::default().part_change_sd.0 }
    }
}

/// A session: a shop, drawn once.
pub struct Session {
    /// Its number in the run.
    pub number: usize,
    /// Its seed.
    pub seed: u64,
    /// What kind of shop.
    pub group: Group,
    /// The shop.
    pub shop: Shop,
}

impl Session {
    /// The session of this number.
    pub fn draw(place: Where, number: usize, sounds: &Sounds) -> Self {
        let seed = place.session_seed(number);
        let groups = Group::of(place);
        let group = groups[number % groups.len()];
        Self { number, seed, group, shop: sounds.shop(group, &mut Dice::seeded(seed)) }
    }

    /// The case of a row.
    pub fn case(&self, row: usize, conditions: Conditions) -> Result<Case, SimulateError> {
        let scenario = SCENARIOS[row];
        let seed = case_seed(self.seed, row);
        let defaults = CaseOptions { seed, ..CaseOptions::default() };
        let leaks = scenario.leaks(&defaults.openings, &mut Dice::seeded(seed));
        let practice = if matches!(scenario, Scenario::Pulsed(_)) { Practice::Pulsed } else { Practice::OffAndOn };
        let options = CaseOptions { leaks, practice, part_change_sd: LevelDiff(conditions.part_change_db), ..defaults };
        match &self.shop.hiss {
            Some(hiss) => options.render_with_hiss(&self.shop.noise, hiss.as_ref()),
            None => options.render(&self.shop.noise),
        }
    }
}
