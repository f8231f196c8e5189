//! Gauge and findings: published tables, laws that must hold, and five engines in full.

mod properties;
mod quantities;
mod tables;
