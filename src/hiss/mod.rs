//! Floor, excess, keyed air, level tracking, fitness: numbers with intervals.

mod cutoff;
mod order;

pub use cutoff::cut_off;
pub use order::{Visit, keyed_order, quiet_and_air_order};
