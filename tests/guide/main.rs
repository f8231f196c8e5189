//! The guide and the meter in a pseudo-terminal, with a virtual microphone: from start to report, and through faults.
#![cfg(target_os = "linux")]

mod faults;
mod hang_up;
mod listening;
mod live_answer;
mod meter;
mod shop;
mod whole_test;
