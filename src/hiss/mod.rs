//! Floor, excess, keyed air, level tracking, fitness: numbers with intervals.

mod order;

pub use order::{Visit, keyed_order, quiet_and_air_order};
