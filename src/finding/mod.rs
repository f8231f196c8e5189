//! Gauge, ranking and cylinders joined: what it means and what to check next.
