//! All that is known of one engine on one day: what the findings are drawn from.

use crate::crank::{Cycle, FiringOrder, OpenValves};
use crate::gauge::{Assessment, MakersLimit, RigAssessment};
use crate::ranking::Ranking;

/// One engine on one day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Engine {
    /// How many cylinders it has.
    pub cylinders: u32,
    /// Its working cycle.
    pub cycle: Cycle,
    /// The order in which it fires; `None` where it is not known and would matter.
    pub firing: Option<FiringOrder>,
    /// Cylinders that stand beside each other, bank by bank; empty for one row in the order of their numbers.
    pub banks: Vec<Vec<u32>>,
    /// What the maker allows, where the user gave it.
    pub maker: Option<MakersLimit>,
    /// Which scale of `gauge/scales.toml` to judge by; `None` for its default.
    pub scale: Option<String>,
    /// What the rig loses by itself, where it was read.
    pub rig: Option<RigAssessment>,
    /// The cylinders tested, ascending.
    pub rows: Vec<CylinderRow>,
}

/// What is known of one cylinder.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CylinderRow {
    /// The cylinder, counted from 1.
    pub cylinder: u32,
    /// Read with the engine cold.
    pub cold: bool,
    /// What the gauge says.
    pub gauge: Option<Assessment>,
    /// What the sound says.
    pub ranking: Option<Ranking>,
}

impl CylinderRow {
    /// What the gauge says, where it says something of the cylinder: not where the rig hides it.
    #[must_use]
    pub fn told(&self) -> Option<&Assessment> {
        self.gauge.as_ref().filter(|gauge| gauge.tells)
    }
}

impl Engine {
    /// Whether two cylinders share a piece of head gasket: next to each other in a bank.
    ///
    /// ```
    /// use hissward::finding::Engine;
    /// let four = Engine { cylinders: 4, ..Engine::default() };
    /// assert!(four.beside(2, 3) && !four.beside(1, 3));
    /// let vee = Engine { cylinders: 4, banks: vec![vec![1, 3], vec![2, 4]], ..Engine::default() };
    /// assert!(vee.beside(1, 3) && !vee.beside(2, 3));
    /// ```
    #[must_use]
    pub fn beside(&self, one: u32, other: u32) -> bool {
        let pair = |a: u32, b: u32| (a, b) == (one, other) || (b, a) == (one, other);
        if self.banks.is_empty() {
            return one.abs_diff(other) == 1;
        }
        self.banks.iter().any(|bank| bank.windows(2).any(|next| pair(next[0], next[1])))
    }

    /// Whether it is known which cylinders stand beside each other: the job says so, or there are no more than two.
    #[must_use]
    pub fn layout_known(&self) -> bool {
        !self.banks.is_empty() || self.cylinders <= 2
    }

    /// Which valves of another cylinder stand open while one is tested; any may where the firing order is not known.
    #[must_use]
    pub fn open_valves(&self, tested: u32, other: u32) -> OpenValves {
        let open = self.firing.as_ref().and_then(|firing| firing.open_valves(tested, other).ok());
        open.unwrap_or(OpenValves { intake: true, exhaust: true })
    }

    /// Cylinders that were not tested, ascending.
    #[must_use]
    pub fn untested(&self) -> Vec<u32> {
        (1..=self.cylinders).filter(|cylinder| !self.rows.iter().any(|row| row.cylinder == *cylinder)).collect()
    }
}
