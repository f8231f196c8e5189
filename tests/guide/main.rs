//! The guide in a pseudo-terminal, with a virtual microphone: from start to report, and through every fault.
#![cfg(target_os = "linux")]

mod shop;
mod whole_test;
