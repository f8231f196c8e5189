//! The rule table: which signs make which finding, read as data.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;

use super::signs::Sign;

const EMBEDDED: &str = include_str!("rules.toml");

/// What a finding asks of people.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Weight {
    /// Nothing.
    Fine,
    /// To be kept an eye on.
    Watch,
    /// The test is to be done again before anything is judged.
    Repeat,
    /// Work on the engine.
    Repair,
}

impl Weight {
    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Fine => "fine",
            Self::Watch => "watch",
            Self::Repeat => "repeat",
            Self::Repair => "repair",
        }
    }
}

/// Place in the order of repair, first to last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Rank {
    /// No reading counts while the rig leaks.
    Rig,
    /// An engine whose air gets into the coolant is not run.
    Coolant,
    /// What a second test settles without a spanner.
    Repeat,
    /// Cylinders that leak into each other are judged when that is cured.
    Gasket,
    /// Often cured without taking the head off.
    Valve,
    /// Takes the most work to reach.
    Rings,
    /// Anything else.
    Other,
}

impl Rank {
    /// The name as written in the catalogue (`order-…`).
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Rig => "rig",
            Self::Coolant => "coolant",
            Self::Repeat => "repeat",
            Self::Gasket => "gasket",
            Self::Valve => "valve",
            Self::Rings => "rings",
            Self::Other => "other",
        }
    }
}

/// Which cylinders a finding about the engine names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Names {
    /// Those that lose far more than the others.
    StandingOut,
    /// Those that lose much and stand beside one that does.
    LowNeighbours,
    /// Those not tested.
    Untested,
    /// Those read cold.
    Cold,
}

/// One row of the table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Rule {
    /// Name of the finding.
    pub code: String,
    #[serde(default)]
    when: BTreeSet<Sign>,
    #[serde(default)]
    any: BTreeSet<Sign>,
    #[serde(default)]
    unless: BTreeSet<Sign>,
    /// What it asks of people.
    pub weight: Weight,
    /// Its place in the order of repair, if it has one.
    pub rank: Option<Rank>,
    /// Whether the reading is to be called good or bad.
    #[serde(default = "yes")]
    pub judged: bool,
    /// Which cylinders it names, where it is about the engine.
    pub names: Option<Names>,
    /// What to check next, in order.
    #[serde(default)]
    pub next: Vec<String>,
    /// What comes of it elsewhere in the engine.
    #[serde(default)]
    pub follows: Vec<String>,
    /// What it does not say.
    #[serde(default)]
    pub silent: Vec<String>,
}

fn yes() -> bool {
    true
}

impl Rule {
    /// Whether the signs make this finding.
    #[must_use]
    pub fn fits(&self, signs: &BTreeSet<Sign>) -> bool {
        self.when.is_subset(signs)
            && (self.any.is_empty() || !self.any.is_disjoint(signs))
            && self.unless.is_disjoint(signs)
    }

    /// Whether it rests on which cylinders stand beside each other.
    pub(super) fn rests_on_layout(&self) -> bool {
        let layout = BTreeSet::from([Sign::NeighbourBeside, Sign::NeighbourLow, Sign::NeighboursLow]);
        !layout.is_disjoint(&self.when) || !layout.is_disjoint(&self.unless)
    }
}

/// What is not said where the layout of the block is not known; `silent-…` in the catalogue.
pub(super) const LAYOUT_UNKNOWN: &str = "layout-unknown";

#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
struct Cautions {
    order: Vec<String>,
    always: Vec<String>,
}

/// The whole table.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct Rules {
    /// For one cylinder: the first that fits.
    #[serde(rename = "rule")]
    pub cylinder: Vec<Rule>,
    /// For the engine: all that fit.
    #[serde(rename = "engine-rule")]
    pub engine: Vec<Rule>,
    cautions: Cautions,
    steps: BTreeMap<String, Vec<String>>,
}

/// Why a rule table cannot be read.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("the rule table cannot be read: {0}; see src/finding/rules.toml for the format")]
pub struct RulesError(String);

impl Rules {
    /// The table that comes with the program.
    ///
    /// # Errors
    /// [`RulesError`] where it cannot be read, which a test rules out.
    pub fn embedded() -> Result<Self, RulesError> {
        Self::read(EMBEDDED)
    }

    /// Reads a table: one of the format of `rules.toml` whose steps and cautions are all declared.
    ///
    /// # Errors
    /// [`RulesError`] with the place and what is wrong.
    pub fn read(text: &str) -> Result<Self, RulesError> {
        let rules: Self = toml::from_str(text).map_err(|error| RulesError(error.to_string()))?;
        for rule in rules.cylinder.iter().chain(&rules.engine) {
            if let Some(step) = rule.next.iter().find(|step| !rules.steps.contains_key(*step)) {
                return Err(RulesError(format!("rule {} names the step {step}, which [steps] does not", rule.code)));
            }
        }
        let named = rules.steps.values().flatten().chain(&rules.cautions.always);
        if let Some(caution) = named.into_iter().find(|caution| !rules.cautions.order.contains(caution)) {
            return Err(RulesError(format!("the caution {caution} is not in the order of [cautions]")));
        }
        Ok(rules)
    }

    /// What to mind when taking these steps, in the order in which it is read out. No steps, no cautions.
    #[must_use]
    pub fn cautions(&self, steps: &[String]) -> Vec<String> {
        if steps.is_empty() {
            return Vec::new();
        }
        let of_steps = steps.iter().filter_map(|step| self.steps.get(step)).flatten();
        let minded: BTreeSet<&String> = of_steps.chain(&self.cautions.always).collect();
        self.cautions.order.iter().filter(|caution| minded.contains(caution)).cloned().collect()
    }

    /// All cautions, for the head of a procedure.
    #[must_use]
    pub fn all_cautions(&self) -> &[String] {
        &self.cautions.order
    }

    /// Every name that the catalogue must know, with its kind before it: `finding-…`, `step-…`, `mind-…` and so on.
    #[must_use]
    pub fn messages(&self) -> BTreeSet<String> {
        let rules = || self.cylinder.iter().chain(&self.engine);
        let codes = rules().map(|rule| format!("finding-{}", rule.code));
        let steps = self.steps.keys().map(|step| format!("step-{step}"));
        let cautions = self.cautions.order.iter().map(|caution| format!("mind-{caution}"));
        let follows = rules().flat_map(|rule| &rule.follows).map(|name| format!("follows-{name}"));
        let silent = rules().flat_map(|rule| &rule.silent).map(|name| format!("silent-{name}"));
        let order = rules().filter_map(|rule| rule.rank).map(|rank| format!("order-{}", rank.name()));
        let layout = [format!("silent-{LAYOUT_UNKNOWN}")];
        codes.chain(steps).chain(cautions).chain(follows).chain(silent).chain(order).chain(layout).collect()
    }
}
