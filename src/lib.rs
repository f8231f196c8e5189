//! `hissward` finds where an engine's cylinder leaks from the hiss at its openings.
//!
//! Modules in reading order; each uses only those above it (see DEVELOPERS.md, and the test `layers`).

pub mod units;

pub mod caveat;
pub mod crank;
pub mod opening;

pub mod clip;

pub mod words;

pub mod spectrum;

pub mod gauge;

pub mod hiss;
pub mod meter;

pub mod ranking;

pub mod finding;

pub mod history;

pub mod plot;

pub mod report;

pub mod guide;

pub mod export;

pub mod audio;
pub mod job;
pub mod pack;
pub mod settings;
pub mod simulate;

pub mod pipeline;
