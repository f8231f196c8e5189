//! Gauge and findings: published tables, laws that must hold, and five engines in full.

mod commands;
mod contradictions;
mod engines;
mod properties;
mod quantities;
mod tables;
mod words;
