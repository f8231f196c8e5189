//! Known leaks in known noise.
