//! A short run of `make accuracy`, with limits that a sound ranking keeps by far.

#[expect(dead_code, reason = "the bench's report is not used here")]
#[path = "../../benches/accuracy/mod.rs"]
mod harness;

mod recordings;
mod short_run;
mod statistics;
