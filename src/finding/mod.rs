//! Gauge, ranking and cylinders joined: what it means and what to check next.
//!
//! Reading order: an [`Engine`] with its [`CylinderRow`]s is held against the rule table ([`Rules`],
//! `rules.toml`) and gives [`Findings`]: codes and facts. [`text_of`] makes the sentences, for the technician or
//! the customer, from the catalogue.

mod cylinder_spread;
mod engine;
mod findings;
mod flow;
mod rules;
mod signs;
mod table;
mod text;

pub use cylinder_spread::CylinderSpread;
pub use engine::{CylinderRow, Engine};
pub use findings::{About, Finding, FindingError, Findings, Loss, Partner, Sound, WayRound};
pub use rules::{Names, Rank, Rule, Rules, RulesError, Weight};
pub use signs::Sign;
pub use table::{Cell, Table, TableRow};
pub use text::{FindingText, Part, Reader, heard_at, judged_by, net_line, order_of_repair, over_as_read, text_of};
