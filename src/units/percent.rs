//! Percentages.

use std::fmt;

/// A share in percent: `Percent(25.0)` is a quarter.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Percent(pub f64);

impl fmt::Display for Percent {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{:.1} %", self.0)
    }
}
