//! Floor, excess, keyed air, level tracking, fitness: numbers with intervals.
