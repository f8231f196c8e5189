//! Signs: what readings and rankings say, in the words that the rule table is written in.

use std::collections::BTreeSet;

use serde::Deserialize;

use super::cylinder_spread::CylinderSpread;
use super::engine::{CylinderRow, Engine};
use super::flow::louder_than_its_flow;
use crate::crank::Cycle;
use crate::gauge::{Assessment, Judgement, Verdict};
use crate::opening::{EscapePath, Opening};
use crate::ranking::{Call, HissReading, Next, NextStep, OpeningResult, Ranking};

/// From this loss on nearly all is lost, percent as read: more than a worn valve or ring lets through. A 28 mm seat
/// that stands open by 0.05 mm already loses about 90 % through a 0.040 in restrictor (geometry and nozzle flow).
const NEARLY_ALL_PERCENT: f64 = 85.0;

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
    /// Nearly all is lost: no wear does that.
    LostNearlyAll,
    /// The rig loses more than the cylinder does, or decides what the reading is called.
    RigInTheWay,
    /// The two gauges do not agree.
    GaugesDisagree,
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
    /// One of the usual three openings was not listened at.
    PlaceMissing,
    /// A true hiss at the intake.
    AtIntake,
    /// A true hiss at the exhaust.
    AtExhaust,
    /// A true hiss at an opening of the crankcase: oil filler, dipstick, breather.
    AtRings,
    /// That hiss is louder than the same opening can be on any other cylinder listened at.
    CrankcaseStandsOut,
    /// A true hiss at the coolant filler.
    AtCoolant,
    /// A true hiss at another cylinder's plug hole.
    AtNeighbour,
    /// That cylinder stands beside this one.
    NeighbourBeside,
    /// That cylinder's valves are shut at this crank angle.
    NeighbourShut,
    /// A true hiss at the rig.
    AtRig,
    /// The rig hisses louder than any opening of the engine.
    RigLoudest,
    /// A true hiss at an opening of the user's own naming.
    AtOther,
    /// The hiss is far louder than flow explains, beside another cylinder's at the same opening.
    LouderThanItsFlow,
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
    /// Of the engine: some cylinder read cold loses more than a little.
    ColdMatters,
}

/// The openings with a hiss of their own that the call rests on, loudest or likeliest first.
///
/// A level that is only a bound and a hiss that is only spill are none. `located` rests on one. `shared` rests on two
/// at least: the quieter of the two may have no level of its own, so the likeliest that is no spill stands in.
pub(super) fn hissing(ranking: &Ranking) -> Vec<&OpeningResult> {
    let own = || ranking.openings.iter().filter(|opening| !opening.spill);
    let heard = own().filter(|opening| matches!(opening.hiss, HissReading::Heard { .. }));
    match ranking.call {
        Call::Located => heard.take(1).collect(),
        Call::Shared => {
            let mut all: Vec<&OpeningResult> = heard.collect();
            let partners = own().filter(|opening| !matches!(opening.hiss, HissReading::Heard { .. }));
            all.extend(partners.take(2usize.saturating_sub(all.len())));
            all
        }
        Call::NoneHeard | Call::CannotTell => Vec::new(),
    }
}

/// The opening of the usual three at which nobody has listened yet.
pub(super) fn missing_place(ranking: &Ranking) -> Option<&Opening> {
    match &ranking.next {
        Some(Next { step: NextStep::Clip(opening, _), missing: true, .. }) => Some(opening),
        _ => None,
    }
}

/// How much a cylinder loses, the spread between cylinders taken into account. A reading that does not tell of the
/// cylinder is none.
pub(super) fn loss_sign(gauge: Option<&Assessment>, judgement: Option<&Judgement>, stands_out: bool) -> Sign {
    let (Some(gauge), Some(judged)) = (gauge.filter(|gauge| gauge.tells), judgement) else {
        return Sign::LossUnknown;
    };
    if gauge.loss_percent.value >= NEARLY_ALL_PERCENT {
        return Sign::LostNearlyAll;
    }
    match judged.verdict {
        Verdict::Excellent | Verdict::Good => Sign::LostLittle,
        Verdict::Fair | Verdict::Suspect if stands_out => Sign::LostMuch,
        // Within what the gauges resolve it is not over the limit.
        Verdict::Suspect if judged.at_the_limit => Sign::LostMiddling,
        Verdict::Fair => Sign::LostMiddling,
        Verdict::Suspect => Sign::LostMuch,
    }
}

/// Whether a rig that leaks hides the cylinder, or makes the difference between a good reading and another.
fn rig_in_the_way(gauge: &Assessment, judgement: &Judgement, engine: &Engine) -> bool {
    let disagree = gauge.caveats.iter().any(|caveat| caveat.code == "gauges-disagree");
    let good = |verdict: Verdict| verdict <= Verdict::Good;
    let decides = judgement.net_verdict.is_some_and(|net| good(net) && !good(judgement.verdict));
    (!gauge.tells && !disagree) || (rig_leaks(engine) && decides)
}

/// The signs of one cylinder.
pub(super) fn of_cylinder(
    row: &CylinderRow,
    engine: &Engine,
    spread: &CylinderSpread,
    loss: Sign,
    judgement: Option<&Judgement>,
) -> BTreeSet<Sign> {
    let mut signs = BTreeSet::from([loss]);
    let mut add = |sign: Sign, holds: bool| {
        if holds {
            signs.insert(sign);
        }
    };
    add(Sign::StandsOut, spread.stand_out.contains(&row.cylinder));
    add(Sign::AllAlike, spread.alike);
    add(Sign::Cold, row.cold);
    add(Sign::TwoStroke, engine.cycle == Cycle::TwoStroke);
    add(Sign::RigLeaks, rig_leaks(engine));
    add(Sign::RigUnread, engine.rig.is_none());
    add(Sign::HeardFromNeighbour, heard_from(row.cylinder, engine).is_some());
    if let (Some(gauge), Some(judged)) = (&row.gauge, judgement) {
        add(Sign::RigInTheWay, rig_in_the_way(gauge, judged, engine));
        add(Sign::GaugesDisagree, gauge.caveats.iter().any(|caveat| caveat.code == "gauges-disagree"));
    }
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
    add(Sign::PlaceMissing, missing_place(ranking).is_some());
    let hissing = hissing(ranking);
    for opening in &hissing {
        let sign = at(&opening.opening);
        add(sign, true);
        add(Sign::CrankcaseStandsOut, sign == Sign::AtRings && stands_out_at(opening, row.cylinder, engine));
    }
    if let Some(other) = hissing.iter().find_map(|opening| opening.opening.neighbour()) {
        add(Sign::NeighbourBeside, engine.beside(row.cylinder, other));
        add(Sign::NeighbourShut, !engine.open_valves(row.cylinder, other).any());
    }
    add(Sign::LouderThanItsFlow, louder_than_its_flow(row, engine).is_some());
    add(Sign::RigLoudest, rig_loudest(&hissing));
    signs
}

/// The signs of the whole engine.
pub(super) fn of_engine(engine: &Engine, spread: &CylinderSpread, losses: &[(u32, Sign)]) -> BTreeSet<Sign> {
    let much = |cylinder: u32| {
        let lost = [Sign::LostMuch, Sign::LostNearlyAll].iter().any(|sign| losses.contains(&(cylinder, *sign)));
        lost && !explained(cylinder, engine)
    };
    let beside_low = |one: u32| losses.iter().any(|(other, _)| much(*other) && engine.beside(one, *other));
    let pairs = losses.iter().any(|(one, _)| much(*one) && beside_low(*one));
    let rig_heard =
        engine.rows.iter().filter_map(|row| row.ranking.as_ref()).any(|ranking| rig_loudest(&hissing(ranking)));
    let read = engine.rows.iter().any(|row| row.gauge.is_some());
    let loses = |sign: Sign| matches!(sign, Sign::LostNearlyAll | Sign::LostMuch | Sign::LostMiddling);
    let some_lose = losses.iter().any(|(_, sign)| loses(*sign));
    let cold_matters =
        engine.rows.iter().any(|row| row.cold && losses.iter().any(|(one, sign)| *one == row.cylinder && loses(*sign)));
    let all = [
        (Sign::RigLeaks, rig_leaks(engine)),
        (Sign::RigUnread, engine.rig.is_none()),
        (Sign::RigHeard, rig_heard),
        (Sign::SomeRead, read),
        (Sign::SomeUntested, !engine.untested().is_empty()),
        (Sign::SomeStandOut, !spread.stand_out.is_empty()),
        (Sign::AllAlike, spread.alike),
        (Sign::NeighboursLow, pairs),
        (Sign::SomeLose, some_lose),
        (Sign::Cold, engine.rows.iter().any(|row| row.cold)),
        (Sign::ColdMatters, cold_matters),
        (Sign::TwoStroke, engine.cycle == Cycle::TwoStroke),
    ];
    all.into_iter().filter(|(_, holds)| *holds).map(|(sign, _)| sign).collect()
}

/// Whether the sound says where a cylinder's air goes, and that is no way to its neighbour: two cylinders side by side
/// that each lose by a valve or by their rings share no gasket leak.
pub(super) fn explained(cylinder: u32, engine: &Engine) -> bool {
    let row = engine.rows.iter().find(|row| row.cylinder == cylinder);
    let hissing = row.and_then(|row| row.ranking.as_ref()).map(hissing).unwrap_or_default();
    let by_gasket = |opening: &&OpeningResult| {
        matches!(opening.opening.path(), EscapePath::GasketToNeighbour | EscapePath::GasketOrCrack)
    };
    !hissing.is_empty() && !hissing.iter().any(by_gasket)
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

/// Louder than the same opening can be on any other cylinder listened at: the lower end of its interval lies above all
/// their bounds. The same opening on another cylinder is the best control there is; without one nothing stands out.
pub(super) fn stands_out_at(own: &OpeningResult, cylinder: u32, engine: &Engine) -> bool {
    let HissReading::Heard { low, .. } = own.hiss else { return false };
    let mut others = engine
        .rows
        .iter()
        .filter(|row| row.cylinder != cylinder)
        .filter_map(|row| row.ranking.as_ref())
        .flat_map(|ranking| &ranking.openings)
        .filter(|other| other.opening == own.opening)
        .peekable();
    others.peek().is_some() && others.all(|other| low > other.at_most)
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
