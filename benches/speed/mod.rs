//! How fast the program is, each figure beside its limit.
//!
//! [`stopwatch`] (pairs, alternated, medians), [`child`] (whole processes with their memory), [`material`] (clips and jobs),
//! [`table`] (the report); then a file for each part of it: [`ranking`], [`reference`], [`imports`], [`commands`], [`live`].

pub mod child;
pub mod commands;
pub mod imports;
#[cfg(target_os = "linux")]
pub mod live;
pub mod material;
pub mod ranking;
pub mod reference;
pub mod stopwatch;
pub mod table;

/// Whatever keeps a figure from being measured.
pub type Failure = Box<dyn std::error::Error + Send + Sync>;
