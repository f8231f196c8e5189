//! Floor, excess, keyed air, level tracking, fitness: numbers with intervals.

mod cutoff;

pub use cutoff::cut_off;
