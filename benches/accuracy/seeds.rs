//! Which seeds and which noises serve tuning, and which are kept for the report. Written once, here.

/// Where figures come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// What the estimator is tuned on: look at these as often as you like.
    Tuning,
    /// What is reported: other seeds, other recordings. Nothing is tuned on them.
    Reporting,
}

/// Sessions of tuning have these seeds and the ones after.
const TUNING_FIRST: u64 = 10_000;
/// Sessions of the report have these seeds and the ones after.
const REPORTING_FIRST: u64 = 70_000;
/// A session's cases have seeds of their own: the session's times this, plus the case's number.
const CASES_PER_SESSION: u64 = 100;

/// Dice that resample sessions for intervals.
pub const BOOTSTRAP_SEED: u64 = 1_979;

impl Where {
    /// The name as written on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Tuning => "tuning",
            Self::Reporting => "reporting",
        }
    }

    /// The seed of a session.
    pub fn session_seed(self, number: usize) -> u64 {
        number as u64
            + match self {
                Self::Tuning => TUNING_FIRST,
                Self::Reporting => REPORTING_FIRST,
            }
    }
}

/// The seed of a session's case.
pub fn case_seed(session_seed: u64, case: usize) -> u64 {
    session_seed * CASES_PER_SESSION + case as u64
}
