//! Signs: what readings and rankings say, in the words that the rule table is written in.

use std::collections::BTreeSet;

use serde::Deserialize;

use super::engine::{CylinderRow, Engine};
use super::standing::Standing;
use crate::crank::Cycle;
use crate::gauge::{Judgement, Verdict};
use crate::opening::{EscapePath, Opening};
use crate::ranking::{Call, HissReading, OpeningResult, Ranking};
use crate::units::LevelDiff;

/// Air over quiet from which a hiss counts as loud: it then carries ten times the room's power.
/// Our own figure; loudness measures no severity and is only used to see a contradiction.
const LOUD: LevelDiff = LevelDiff(10.0);

/// One sign. Its name in the rule table is the variant's in kebab-case.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sign {
    /// No gauge reading.
    LossUnknown,
    /// Loss excellent or good.
    LostLittle,
    /// Loss fair, and like that of the others.
    LostMiddling,
    /// Loss suspect, or fair and far above the others: the spread weighs more than one value.
    LostMuch,
    /// Far above the median of the other cylinders.
    StandsOut,
    /// The loss is that of the other cylinders too.
    AllAlike,
    /// Read cold.
    Cold,
    /// No clips, so no ranking.
    NotListened,
    /// The call.
    Located,
    /// The call.
    Shared,
    /// The call.
    NoneHeard,
    /// The call.
    CannotTell,
    /// A true hiss at the intake.
    AtIntake,
    /// A true hiss at the exhaust.
    AtExhaust,
    /// A true hiss at the oil filler.
    AtRings,
    /// A true hiss at the coolant filler.
    AtCoolant,
    /// A true hiss at a neighbour's plug hole.
    AtNeighbour,
    /// A true hiss at the rig.
    AtRig,
    /// The rig hisses louder than any opening of the engine.
    RigLoudest,
    /// A true hiss at an opening of the user's own naming.
    AtOther,
    /// The hiss is far above the room.
    Loud,
    /// Air put into another cylinder was heard at this one's plug hole.
    HeardFromNeighbour,
    /// A cylinder beside this one loses much too.
    NeighbourLow,
    /// The rig by itself loses too much.
    RigLeaks,
    /// The rig was not read.
    RigUnread,
    /// Two-stroke: the openings are ports, not valves.
    TwoStroke,
    /// Of the engine: some cylinder's loudest hiss was at the rig.
    RigHeard,
    /// Of the engine: some cylinder was not tested.
    SomeUntested,
    /// Of the engine: some cylinder stands out.
    SomeStandOut,
    /// Of the engine: two cylinders beside each other lose much.
    NeighboursLow,
    /// Of the engine: at least one cylinder loses more than a little.
    SomeLose,
    /// Of the engine: some cylinder was read by gauge.
    SomeRead,
}

/// The openings with a hiss of their own that the call rests on, loudest or likeliest first.
///
/// A level that is only a bound and a hiss that is only spill are none. `located` rests on one.
pub(super) fn hissing(ranking: &Ranking) -> Vec<&OpeningResult> {
    let heard =
        ranking.openings.iter().filter(|opening| matches!(opening.hiss, HissReading::Heard { .. }) && !opening.spill);
    match ranking.call {
        Call::Located => heard.take(1).collect(),
        Call::Shared => heard.collect(),
        Call::NoneHeard | Call::CannotTell => Vec::new(),
    }
}

/// How much a cylinder loses, the spread between cylinders taken into account.
pub(super) fn loss_sign(judgement: Option<&Judgement>, stands_out: bool) -> Sign {
    match judgement.map(|judged| judged.verdict) {
        None => Sign::LossUnknown,
        Some(Verdict::Excellent | Verdict::Good) => Sign::LostLittle,
        Some(Verdict::Fair) if stands_out => Sign::LostMuch,
        Some(Verdict::Fair) => Sign::LostMiddling,
        Some(Verdict::Suspect) => Sign::LostMuch,
    }
}

/// The signs of one cylinder.
pub(super) fn of_cylinder(row: &CylinderRow, engine: &Engine, standing: &Standing, loss: Sign) -> BTreeSet<Sign> {
    let mut signs = BTreeSet::from([loss]);
    let mut add = |sign: Sign, holds: bool| {
        if holds {
            signs.insert(sign);
        }
    };
    add(Sign::StandsOut, standing.stand_out.contains(&row.cylinder));
    add(Sign::AllAlike, standing.alike);
    add(Sign::Cold, row.cold);
    add(Sign::TwoStroke, engine.cycle == Cycle::TwoStroke);
    add(Sign::RigLeaks, rig_leaks(engine));
    add(Sign::RigUnread, engine.rig.is_none());
    add(Sign::HeardFromNeighbour, heard_from(row.cylinder, engine).is_some());
    let Some(ranking) = &row.ranking else {
        add(Sign::NotListened, true);
        return signs;
    };
    add(
        match ranking.call {
            Call::Located => Sign::Located,
            Call::Shared => Sign::Shared,
            Call::NoneHeard => Sign::NoneHeard,
            Call::CannotTell => Sign::CannotTell,
        },
        true,
    );
    let hissing = hissing(ranking);
    for opening in &hissing {
        add(at(&opening.opening), true);
        add(Sign::Loud, opening.above_quiet.is_some_and(|above| above >= LOUD));
    }
    add(Sign::RigLoudest, rig_loudest(&hissing));
    signs
}

/// The signs of the whole engine.
pub(super) fn of_engine(engine: &Engine, standing: &Standing, losses: &[(u32, Sign)]) -> BTreeSet<Sign> {
    let much = |cylinder: u32| losses.contains(&(cylinder, Sign::LostMuch));
    let beside_low = |one: u32| losses.iter().any(|(other, _)| much(*other) && engine.beside(one, *other));
    let pairs = losses.iter().any(|(one, _)| much(*one) && beside_low(*one));
    let rig_heard =
        engine.rows.iter().filter_map(|row| row.ranking.as_ref()).any(|ranking| rig_loudest(&hissing(ranking)));
    let read = engine.rows.iter().any(|row| row.gauge.is_some());
    let some_lose = losses.iter().any(|(_, sign)| matches!(sign, Sign::LostMuch | Sign::LostMiddling));
    let all = [
        (Sign::RigLeaks, rig_leaks(engine)),
        (Sign::RigUnread, engine.rig.is_none()),
        (Sign::RigHeard, rig_heard),
        (Sign::SomeRead, read),
        (Sign::SomeUntested, !engine.untested().is_empty()),
        (Sign::SomeStandOut, !standing.stand_out.is_empty()),
        (Sign::AllAlike, standing.alike),
        (Sign::NeighboursLow, pairs),
        (Sign::SomeLose, some_lose),
        (Sign::Cold, engine.rows.iter().any(|row| row.cold)),
        (Sign::TwoStroke, engine.cycle == Cycle::TwoStroke),
    ];
    all.into_iter().filter(|(_, holds)| *holds).map(|(sign, _)| sign).collect()
}

/// The cylinder whose air was heard at this one's plug hole.
pub(super) fn heard_from(cylinder: u32, engine: &Engine) -> Option<u32> {
    let crosses = |row: &&CylinderRow| {
        let hissing = row.ranking.as_ref().map(hissing).unwrap_or_default();
        hissing.iter().any(|opening| opening.opening.neighbour() == Some(cylinder))
    };
    engine.rows.iter().find(crosses).map(|row| row.cylinder)
}

fn rig_leaks(engine: &Engine) -> bool {
    engine.rig.as_ref().is_some_and(|rig| rig.caveats.iter().any(|caveat| caveat.code == "rig-leaks"))
}

fn at(opening: &Opening) -> Sign {
    match opening.path() {
        EscapePath::IntakeValve => Sign::AtIntake,
        EscapePath::ExhaustValve => Sign::AtExhaust,
        EscapePath::RingsOrBore => Sign::AtRings,
        EscapePath::GasketOrCrack => Sign::AtCoolant,
        EscapePath::GasketToNeighbour => Sign::AtNeighbour,
        EscapePath::TestRig => Sign::AtRig,
        EscapePath::Other => Sign::AtOther,
    }
}

/// Whether the loudest hiss is the rig's.
fn rig_loudest(openings: &[&OpeningResult]) -> bool {
    let level = |opening: &OpeningResult| match opening.hiss {
        HissReading::Heard { level, .. } => level.0,
        HissReading::Bound => f64::NEG_INFINITY,
    };
    let loudest = openings.iter().max_by(|a, b| level(a).total_cmp(&level(b)));
    loudest.is_some_and(|opening| opening.opening.path() == EscapePath::TestRig)
}
