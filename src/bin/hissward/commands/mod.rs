//! One file a command: its arguments, its help with an example that runs, and `run`.

mod add;
mod completions;
mod mics;
mod new;

use clap::Subcommand;

use crate::face::{Face, Failure, Outcome};

/// What `hissward` can do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Starts a job folder: one engine on one day
    New(Box<new::Arguments>),
    /// Takes in recordings made elsewhere
    Add(add::Arguments),
    /// Writes shell completions
    Completions(completions::Arguments),
    /// Lists the sound inputs
    Mics(mics::Arguments),
}

impl Command {
    /// Runs the command.
    pub fn run(self, face: &Face) -> Result<Outcome, Failure> {
        match self {
            Self::New(arguments) => new::run(*arguments, face),
            Self::Add(arguments) => add::run(arguments, face),
            Self::Completions(arguments) => completions::run(&arguments, face),
            Self::Mics(arguments) => mics::run(&arguments, face),
        }
    }
}
