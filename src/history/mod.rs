//! The same engine over time: what is kept of a job when many are looked at, and how two of them differ.
//!
//! A [`Visit`] is one job, a [`Course`] the visits of one engine in the order of time, a [`Comparison`] two visits
//! side by side, a [`Change`] how much more or less a cylinder loses, and whether the gauges can tell.

mod change;
mod comparison;
mod course;
mod track_record;
mod visit;

pub use change::{Basis, Change, Direction};
pub use comparison::{Comparison, ComparisonError, ComparisonRow};
pub use course::{Course, courses, named};
pub use track_record::{FEW, OpenedCase, ProbabilityBin, Share, TrackRecord};
pub use visit::{Calls, CylinderCall, CylinderVisit, Moment, Visit};
