//! One file a command: its arguments, its help with an example that runs, and `run`.

mod completions;
mod simulate;

use clap::Subcommand;

use crate::face::{Face, Failure, Outcome};

/// What `hissward` can do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Writes shell completions
    Completions(completions::Arguments),
    /// Makes clips with a known leak, seeded
    Simulate(simulate::Arguments),
}

impl Command {
    /// Runs the command.
    pub fn run(self, face: &Face) -> Result<Outcome, Failure> {
        match self {
            Self::Completions(arguments) => completions::run(&arguments, face),
            Self::Simulate(arguments) => simulate::run(&arguments, face),
        }
    }
}
