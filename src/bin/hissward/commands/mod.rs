//! One file a command: its arguments, its help with an example that runs, and `run`.
mod add;
mod completions;
mod gauge;
mod mics;
mod new;
mod page;
mod rig;
mod simulate;

use clap::Subcommand;

use crate::face::{Face, Failure, Outcome};
/// What `hissward` can do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Starts a job folder: one engine on one day
    New(Box<new::Arguments>),
    /// Takes in recordings made elsewhere
    Add(add::Arguments),
    /// Keeps what the test rig loses by itself, hose blanked off
    Rig(rig::Arguments),
    /// Keeps a cylinder's gauge reading, and says what the cylinder loses by itself
    Gauge(gauge::Arguments),
    /// Serves the bench page: the same job from a phone or tablet
    Page(page::Arguments),
    /// Writes shell completions
    Completions(completions::Arguments),
    /// Lists the sound inputs
    Mics(mics::Arguments),
    /// Makes clips with a known leak, seeded
    Simulate(simulate::Arguments),
}

impl Command {
    /// Runs the command.
    pub fn run(self, face: &Face) -> Result<Outcome, Failure> {
        match self {
            Self::New(arguments) => new::run(*arguments, face),
            Self::Add(arguments) => add::run(arguments, face),
            Self::Rig(arguments) => rig::run(&arguments, face),
            Self::Gauge(arguments) => gauge::run(&arguments, face),
            Self::Page(arguments) => page::run(arguments, face),
            Self::Completions(arguments) => completions::run(&arguments, face),
            Self::Mics(arguments) => mics::run(&arguments, face),
            Self::Simulate(arguments) => simulate::run(&arguments, face),
        }
    }
}
