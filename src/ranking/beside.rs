//! The other cylinders as control: an additive layout of opening, cylinder and leak.
//!
//! At one opening path and mouth are the same whichever cylinder the air is on, so how far the sound rises with the air
//! is laid out as `rise = common + opening + cylinder + leak`, in dB. The first three are found by median polish (Tukey,
//! *Exploratory Data Analysis*, 1977; from memory), which lets single cells stand out; and because a leak only adds, of
//! two middle values the lower counts.

use super::result::{Call, Member, Ranking};
use crate::caveat::Caveat;
use crate::opening::Opening;
use crate::units::LevelDiff;

/// Sweeps over rows and columns; a table of a few cylinders and openings is still after two.
const SWEEPS: usize = 4;
/// Two clips of one place differ by about this, standard deviation, dB: no residual is known better.
const LEAST_DB: f64 = 1.0;
/// From the median of absolute values to a standard deviation, where these are Gaussian.
const MAD_TO_SD: f64 = 1.4826;
/// A leak that stands out by surely less than this is as loud at the other cylinders, dB.
const ALIKE_DB: f64 = 3.0;

/// How far one opening's rise with the air stands out of the rise at the other cylinders.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// The opening: the likeliest.
    pub opening: Opening,
    /// By how much it stands out.
    pub stands_out: LevelDiff,
    /// Lower end of the interval of about 95 %.
    pub low: LevelDiff,
    /// Upper end.
    pub high: LevelDiff,
}

/// Holds each cylinder's likeliest opening beside the other cylinders, and says where a located one does not stand out.
///
/// Cylinders without number, those where no opening is likeliest, and openings without a quiet clip, are left as they are; so are engines of which fewer than
/// two cylinders share two openings.
pub fn hold_beside(rankings: &mut [Ranking]) {
    let Some(layout) = Layout::of(rankings) else { return };
    for (row, ranking) in layout.rows.iter().zip(rankings.iter_mut().filter(|ranking| ranking.cylinder.is_some())) {
        let Some(Member::Opening(opening)) = ranking.answer_set.first().cloned() else { continue };
        let Some(column) = layout.openings.iter().position(|one| *one == opening) else { continue };
        let Some(stands_out) = row[column] else { continue };
        let beside = Beside {
            opening: opening.clone(),
            stands_out: LevelDiff(stands_out),
            low: LevelDiff(stands_out - 2.0 * layout.spread_db),
            high: LevelDiff(stands_out + 2.0 * layout.spread_db),
        };
        if ranking.call == Call::Located && beside.high.0 < ALIKE_DB {
            ranking.caveats.push(Caveat::new("alike-at-other-cylinders").text("opening", opening.name()));
        }
        ranking.beside = Some(beside);
    }
}

/// What is left of each cell, cylinders down, openings across.
struct Layout {
    openings: Vec<Opening>,
    rows: Vec<Vec<Option<f64>>>,
    spread_db: f64,
}

impl Layout {
    fn of(rankings: &[Ranking]) -> Option<Self> {
        let of_engine: Vec<&Ranking> = rankings.iter().filter(|ranking| ranking.cylinder.is_some()).collect();
        let rise = |ranking: &Ranking, opening: &Opening| {
            let there = ranking.openings.iter().find(|result| result.opening == *opening)?;
            there.above_quiet.map(|rise| rise.0).filter(|rise| rise.is_finite())
        };
        let mut openings: Vec<Opening> = Vec::new();
        for result in of_engine.iter().flat_map(|ranking| &ranking.openings) {
            let heard_twice = of_engine.iter().filter(|ranking| rise(ranking, &result.opening).is_some()).count() >= 2;
            if heard_twice && !openings.contains(&result.opening) {
                openings.push(result.opening.clone());
            }
        }
        if openings.len() < 2 {
            return None;
        }
        let mut rows: Vec<Vec<Option<f64>>> =
            of_engine.iter().map(|ranking| openings.iter().map(|opening| rise(ranking, opening)).collect()).collect();
        polish(&mut rows);
        let mut left: Vec<f64> = rows.iter().flatten().flatten().map(|cell| cell.abs()).collect();
        let spread_db = LEAST_DB.max(MAD_TO_SD * lower_median(&mut left)?);
        Some(Self { openings, rows, spread_db })
    }
}

/// Takes the medians of rows and columns off, in turn.
fn polish(rows: &mut [Vec<Option<f64>>]) {
    let columns = rows.first().map_or(0, Vec::len);
    for _ in 0..SWEEPS {
        for row in rows.iter_mut() {
            let middle = lower_median(&mut row.iter().flatten().copied().collect::<Vec<_>>()).unwrap_or(0.0);
            row.iter_mut().flatten().for_each(|cell| *cell -= middle);
        }
        for column in 0..columns {
            let mut cells: Vec<f64> = rows.iter().filter_map(|row| row[column]).collect();
            let middle = lower_median(&mut cells).unwrap_or(0.0);
            rows.iter_mut().filter_map(|row| row[column].as_mut()).for_each(|cell| *cell -= middle);
        }
    }
}

/// The middle value; of two, the lower.
fn lower_median(values: &mut [f64]) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len().saturating_sub(1) / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ranking::{HissReading, OpeningResult};
    use crate::units::Level;

    const PLACES: [&str; 3] = ["intake", "exhaust", "oil-filler"];

    /// A cylinder located at `leak`, whose openings rise by so much with the air.
    fn cylinder(number: u32, rises: [f64; 3], leak: usize) -> Ranking {
        let opening = |at: usize| PLACES[at].parse::<Opening>().expect("a name");
        let result = |at: usize| OpeningResult {
            opening: opening(at),
            probability: if at == leak { 0.97 } else { 0.01 },
            hiss: HissReading::Bound,
            above_quiet: Some(LevelDiff(rises[at])),
            at_most: Level(-50.0),
            spill: false,
            takes: 1,
            bands: Vec::new(),
            caveats: Vec::new(),
        };
        Ranking {
            cylinder: Some(number),
            call: Call::Located,
            answer_set: vec![Member::Opening(opening(leak))],
            openings: (0..3).map(result).collect(),
            elsewhere_probability: 0.01,
            caveats: Vec::new(),
            ..Ranking::default()
        }
    }

    #[test]
    fn the_leak_is_what_opening_and_cylinder_leave_over() {
        // Opening effects 0, 1 and 4 dB, cylinder effects 0, 2 and −1 dB, and 9 dB of leak in one cell: 4 + 2 + 9 = 15.
        let mut rankings =
            [cylinder(1, [0.0, 1.0, 4.0], 0), cylinder(2, [2.0, 3.0, 15.0], 2), cylinder(3, [-1.0, 0.0, 3.0], 1)];
        hold_beside(&mut rankings);
        let beside = rankings[1].beside.clone().expect("held beside the others");
        assert_eq!(beside.opening.name(), "oil-filler");
        assert!((beside.stands_out.0 - 9.0).abs() < 1e-9, "{beside:?}");
        assert!((beside.high.0 - beside.low.0 - 4.0).abs() < 1e-9, "nothing scatters here: ±2 dB is the least");
        assert!(rankings[1].caveats.is_empty());
        // What is louder at the filler of every cylinder is no cylinder's own.
        for other in [0, 2] {
            assert!(rankings[other].beside.as_ref().is_some_and(|beside| beside.stands_out.0.abs() < 1e-9));
            assert_eq!(rankings[other].caveats[0].code, "alike-at-other-cylinders");
        }
    }

    #[test]
    fn of_two_cylinders_the_lower_rise_is_the_common_one() {
        let mut rankings = [cylinder(1, [0.0, 0.0, 0.0], 0), cylinder(2, [0.0, 8.0, 0.0], 1)];
        hold_beside(&mut rankings);
        assert!(rankings[1].beside.as_ref().is_some_and(|beside| (beside.stands_out.0 - 8.0).abs() < 1e-9));
    }

    #[test]
    fn one_cylinder_has_nothing_beside_it() {
        let mut alone = [cylinder(1, [0.0, 9.0, 1.0], 1)];
        hold_beside(&mut alone);
        assert_eq!(alone[0].beside, None);
        let mut loose = [cylinder(1, [0.0, 9.0, 1.0], 1), cylinder(2, [0.0, 0.0, 0.0], 1)];
        loose.iter_mut().for_each(|ranking| ranking.cylinder = None);
        hold_beside(&mut loose);
        assert!(loose.iter().all(|ranking| ranking.beside.is_none()));
    }
}
