//! Sessions: one shop, and in it one case of every row of the table.

use hissward::opening::{Air, Opening};
use hissward::simulate::{
    Case, CaseOptions, Dice, ExtraKind, ExtraSound, Leak, Microphone, Practice, SecondMicrophone, SimulateError,
};
use hissward::units::{Hertz, LevelDiff};

use super::chains::Chain;
use super::noises::{Group, Shop, Sounds};
use super::resample::at_rate;
use super::rows::{Row, Scenario};
use super::seeds::{Where, case_seed};

/// The louder of two leaks over the noise, and the other below it, dB.
const LOUDER_DB: f64 = 3.0;
const APART_DB: f64 = 2.0;
/// A hiss that is as loud as the noise, and a clear one.
const AS_LOUD_DB: f64 = 0.0;
const CLEAR_DB: f64 = 6.0;
const NOT_LISTENED_AT_DB: f64 = 12.0;
const COMES_AND_GOES_DB: f64 = 5.0;
/// A hiss that ends sharply: its band, hertz, and its level over the noise, dB. It spills next to nothing.
const SHARP_HZ: (f64, f64) = (1_500.0, 9_000.0);
const SHARP_DB: (f64, f64) = (15.0, 25.0);
const NO_SPILL_DB: (f64, f64) = (-60.0, -50.0);
/// The usual blow-by against the noise, dB.
const BLOW_BY_DB: (f64, f64) = (-14.0, -6.0);
/// Rates that recorders write, hertz.
const RATES_HZ: [f64; 8] = [8_000.0, 11_025.0, 16_000.0, 22_050.0, 32_000.0, 44_100.0, 96_000.0, 192_000.0];
/// A microphone that hears beyond people: its rate, and where it rolls off, hertz.
const ULTRASONIC_HZ: (f64, f64) = (96_000.0, 42_000.0);

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

/// Where the air truly gets away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Truth {
    /// At these openings, the loudest first.
    Leaks(Vec<Opening>),
    /// Nowhere.
    Tight,
    /// Where nobody listened.
    Elsewhere,
}

/// A case of a row: sound with its truth.
pub struct RowCase {
    /// The clips, and what was built into them.
    pub case: Case,
    /// Where the air gets away.
    pub truth: Truth,
    /// An opening that hisses on every engine; naming it costs nothing, calling it does.
    pub usual: Option<Opening>,
    /// The share of the air clips during which the air is on.
    pub share_on: f64,
    /// What the clips go through before they are read.
    pub chain: Option<Chain>,
    /// Of two channels the near one is the second: nobody tells the program.
    pub near_second: bool,
    /// Clips are ranked from files, as the program's commands do.
    pub by_files: bool,
}

/// A session: a shop, drawn once.
pub struct Session<'a> {
    /// Its number in the run.
    pub number: usize,
    /// Its seed.
    pub seed: u64,
    /// What kind of shop.
    pub group: Group,
    /// The shop.
    pub shop: Shop,
    sounds: &'a Sounds,
}

impl<'a> Session<'a> {
    /// The session of this number.
    pub fn draw(place: Where, number: usize, sounds: &'a Sounds) -> Self {
        let seed = place.session_seed(number);
        let groups = Group::of(place);
        let group = groups[number % groups.len()];
        Self { number, seed, group, shop: sounds.shop(group, &mut Dice::seeded(seed)), sounds }
    }

    /// The case of a row.
    pub fn case(&self, row: &Row, conditions: Conditions) -> Result<RowCase, SimulateError> {
        let seed = case_seed(self.seed, row.number);
        let mut dice = Dice::seeded(seed);
        let mut options =
            CaseOptions { seed, part_change_sd: LevelDiff(conditions.part_change_db), ..CaseOptions::default() };
        let places = Places::draw(&options.openings, &mut dice);
        // What a row draws besides comes after the places, from dice of its own.
        let mut more = dice.stream(100);
        let scenario = row.scenario;
        let truth = scenario_options(scenario, &places, self.number, &mut options, &mut more);
        let mut case = self.render(scenario, &options)?;
        after_recording(scenario, &places, self.number, &mut case, &mut more);
        let chain = match scenario {
            Scenario::Through(chain, _) => Some(chain),
            Scenario::TightThrough => Some(Chain::ALL[self.number % Chain::ALL.len()]),
            _ => None,
        };
        let usual = matches!(scenario, Scenario::BlowByLeak | Scenario::BlowByTight)
            .then(|| options.openings[OIL_FILLER].clone());
        let by_files = matches!(scenario.family(), "chains" | "stereo");
        // Groups take turns: another turn here, so that each group has both.
        let near_second = (self.number / Group::of(Where::Reporting).len()).is_multiple_of(2);
        Ok(RowCase { case, truth, usual, share_on: options.air_share, chain, near_second, by_files })
    }

    fn render(&self, scenario: Scenario, options: &CaseOptions) -> Result<Case, SimulateError> {
        if let Scenario::Ultrasonic(_) = scenario {
            // Made anew at the higher rate; a real hiss of 48 kHz would end where the shop ends.
            let shop = self.sounds.shop_at(self.group, &mut Dice::seeded(self.seed), options.rate);
            return options.render(&shop.noise);
        }
        let hiss = match (&self.shop.hiss, options.comes_and_goes) {
            _ if options.hiss_band.is_some() => None,
            (None, true) => self.sounds.any_hiss(self.group, &mut Dice::seeded(options.seed)),
            (of_shop, _) => of_shop.clone(),
        };
        match hiss {
            Some(hiss) => options.render_with_hiss(&self.shop.noise, hiss.as_ref()),
            None => options.render(&self.shop.noise),
        }
    }
}

/// Where the oil filler stands among the openings of a case.
const OIL_FILLER: usize = 2;

/// Openings that a case's sounds are at.
struct Places {
    first: Opening,
    second: Opening,
    /// Neither the oil filler.
    valve: Opening,
}

impl Places {
    fn draw(openings: &[Opening], dice: &mut Dice) -> Self {
        let first = dice.below(openings.len());
        let second = (first + 1 + dice.below(openings.len() - 1)) % openings.len();
        let valve = if first == OIL_FILLER { second } else { first };
        let at = |place: usize| openings[place].clone();
        Self { first: at(first), second: at(second), valve: at(valve) }
    }
}

/// Sets a row's options and says its truth.
fn scenario_options(
    scenario: Scenario,
    at: &Places,
    session: usize,
    options: &mut CaseOptions,
    dice: &mut Dice,
) -> Truth {
    let leak = |opening: &Opening, db: f64| Leak { opening: opening.clone(), hiss_to_noise: LevelDiff(db) };
    let extra = |opening: &Opening, airs: &[Air], db: f64, kind: ExtraKind| ExtraSound {
        opening: opening.clone(),
        airs: airs.to_vec(),
        over_noise: LevelDiff(db),
        kind,
    };
    // Another tool runs on into the pulsed clip of the same place in every other session.
    let tool_airs: &[Air] = if session.is_multiple_of(2) { &[Air::On] } else { &[Air::On, Air::Pulsed] };
    let every_on = [Air::On, Air::Pulsed];
    match scenario {
        Scenario::Leak(db) | Scenario::Raw(db) | Scenario::Through(_, db) | Scenario::OtherRate(db) => {
            options.leaks = vec![leak(&at.first, db)];
        }
        Scenario::Tight | Scenario::TightThrough => {}
        Scenario::Two => options.leaks = vec![leak(&at.first, LOUDER_DB), leak(&at.second, LOUDER_DB - APART_DB)],
        Scenario::Pulsed(db) => {
            (options.leaks, options.practice) = (vec![leak(&at.first, db)], Practice::Pulsed);
        }
        Scenario::ForeignTight => options.extras = vec![extra(&at.first, &[Air::On], AS_LOUD_DB, ExtraKind::AirTool)],
        Scenario::ForeignTightPulsed => {
            options.extras = vec![extra(&at.first, tool_airs, AS_LOUD_DB, ExtraKind::AirTool)];
            options.practice = Practice::OffAndOnThenPulsed;
        }
        Scenario::LeakForeignPulsed => {
            options.leaks = vec![leak(&at.first, AS_LOUD_DB)];
            options.extras = vec![extra(&at.second, tool_airs, AS_LOUD_DB, ExtraKind::AirTool)];
            options.practice = Practice::OffAndOnThenPulsed;
        }
        Scenario::WindTight => options.extras = vec![extra(&at.first, &[Air::On], AS_LOUD_DB, ExtraKind::Wind)],
        Scenario::Rig(sd_db) => {
            // Spread evenly to both sides: within ± the figure, not a deviation.
            options.extras = options
                .openings
                .iter()
                .map(|opening| extra(opening, &every_on, AS_LOUD_DB + sd_db * dice.between(-1.0, 1.0), ExtraKind::Rig))
                .collect();
        }
        Scenario::AirPart(share) => (options.leaks, options.air_share) = (vec![leak(&at.first, AS_LOUD_DB)], share),
        Scenario::ComesAndGoes => {
            (options.leaks, options.comes_and_goes) = (vec![leak(&at.first, COMES_AND_GOES_DB)], true);
        }
        Scenario::SecondMicrophone(db) => {
            (options.leaks, options.far) = (vec![leak(&at.first, db)], Some(SecondMicrophone::StepAway));
        }
        Scenario::QuietNamed => options.leaks = vec![leak(&at.first, CLEAR_DB)],
        Scenario::NotListenedAt => options.leaks = vec![leak(&at.first, NOT_LISTENED_AT_DB)],
        Scenario::SharpEnd => {
            options.leaks = vec![leak(&at.first, dice.between(SHARP_DB.0, SHARP_DB.1))];
            options.hiss_band = Some((Hertz(SHARP_HZ.0), Hertz(SHARP_HZ.1)));
            options.spill = (LevelDiff(NO_SPILL_DB.0), LevelDiff(NO_SPILL_DB.1));
        }
        Scenario::BlowByLeak => {
            options.leaks = vec![leak(&at.valve, AS_LOUD_DB)];
            let oil = options.openings[OIL_FILLER].clone();
            options.extras = vec![extra(&oil, &every_on, dice.between(BLOW_BY_DB.0, BLOW_BY_DB.1), ExtraKind::BlowBy)];
        }
        Scenario::BlowByTight => {
            let oil = options.openings[OIL_FILLER].clone();
            options.extras = vec![extra(&oil, &every_on, dice.between(BLOW_BY_DB.0, BLOW_BY_DB.1), ExtraKind::BlowBy)];
        }
        Scenario::Bangs => options.leaks = vec![leak(&at.first, AS_LOUD_DB)],
        Scenario::Stereo(db) => {
            (options.leaks, options.far) = (vec![leak(&at.first, db)], Some(SecondMicrophone::SamePhone));
        }
        Scenario::StereoForeign => {
            options.extras = vec![extra(&at.first, &[Air::On], AS_LOUD_DB, ExtraKind::AirTool)];
            options.far = Some(SecondMicrophone::SamePhone);
        }
        Scenario::Ultrasonic(db) => {
            options.leaks = vec![leak(&at.first, db)];
            options.rate = Hertz(ULTRASONIC_HZ.0);
            options.microphone = Microphone { high_cut: Hertz(ULTRASONIC_HZ.1), ..Microphone::phone() };
        }
    }
    match scenario {
        Scenario::NotListenedAt | Scenario::Rig(_) => Truth::Elsewhere,
        _ if options.leaks.is_empty() => Truth::Tight,
        _ => Truth::Leaks(options.leaks.iter().map(|leak| leak.opening.clone()).collect()),
    }
}

/// What is done to the clips once they are recorded.
fn after_recording(scenario: Scenario, at: &Places, session: usize, case: &mut Case, dice: &mut Dice) {
    match scenario {
        Scenario::OtherRate(_) => {
            let rate = Hertz(RATES_HZ[session % RATES_HZ.len()]);
            for clip in &mut case.clips {
                clip.clip = at_rate(&clip.clip, rate);
            }
        }
        // One quiet clip, of any opening, and named so.
        Scenario::QuietNamed => {
            let kept = case.truth.openings[dice.below(case.truth.openings.len())].opening.clone();
            case.clips.retain(|clip| clip.truth.air != Air::Off || clip.truth.opening == kept);
        }
        Scenario::NotListenedAt => {
            case.clips.retain(|clip| clip.truth.opening != at.first);
            case.truth.openings.retain(|place| place.opening != at.first);
        }
        Scenario::Bangs => {
            for clip in &mut case.clips {
                super::bangs::overdrive(clip, dice);
            }
        }
        _ => {}
    }
}
