//! The job session of the bench page, which collects recordings piece by piece: the program's own source.
#![allow(dead_code, reason = "the page uses what is not used here")]

#[path = "../../../src/bin/hissward/page/error.rs"]
pub mod error;
#[path = "../../../src/bin/hissward/page/job_session.rs"]
pub mod job_session;
#[path = "../../../src/bin/hissward/page/journal.rs"]
pub mod journal;
#[path = "../../../src/bin/hissward/page/meter.rs"]
mod meter;
