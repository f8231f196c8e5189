//! The order of things: where modules that do not know each other meet.

mod history;
mod ranking;
mod readings;
mod simulated;
mod take_in;

pub use history::{History, KEPT_RANKING, KeepError, Skipped, VisitError, keep_ranking, visit};
pub use ranking::{Listened, LooseClip, RankError, listen_to, rank_job, rank_loose};
pub use readings::{ReadingsError, cylinder_reading, engine, firing_order, makers_limit, rig_reading};
pub use simulated::{SimulatedError, take_in_case};
pub use take_in::{Channels, TakeInError, TakenIn, take_in};
