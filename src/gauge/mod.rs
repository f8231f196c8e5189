//! Pressures to loss: the rig taken off, flow, equivalent hole.
//!
//! Reading order: [`Reading`] and [`Conditions`] go into [`assess`], which sees the tester as two nozzles in a row
//! ([`area_ratio`], [`held_before`]) with isentropic flow ([`flow_function`]), and gives an [`Assessment`].
//! [`GaugeScales`] then say what such a loss is called, and by whom.

mod assessment;
mod conductance;
mod doubt;
mod error;
mod leak;
mod nozzle;
mod reading;
mod scales;
mod tester;

pub use assessment::{Assessment, RigAssessment, assess, assess_rig};
pub use conductance::{Conductance, REFERENCE_DENSITY_KG_M3};
pub use doubt::{Estimate, carried};
pub use error::GaugeError;
pub use leak::Leak;
pub use nozzle::{GAMMA, R_AIR, critical_ratio, flow_function, mass_flow_kg_s};
pub use reading::{ASSUMED_SUPPLY, Conditions, PERCENT_RESOLUTION, PRESSURE_RESOLUTION, Reading};
pub use scales::{Converted, Edge, GaugeScale, GaugeScales, GaugeScalesError, Judgement, MakersLimit, Spread, Verdict};
pub use tester::{area_ratio, held_before, leak_chokes_above, loss_percent, restrictor_chokes_below};
