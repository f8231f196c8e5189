//! One file a command: its arguments, its help with an example that runs, and `run`.
mod add;
mod amend;
mod check;
mod compare;
mod completions;
mod demo;
mod doctor;
mod found;
mod gauge;
mod guide;
mod history;
mod hunt;
mod listen;
mod man;
mod mics;
mod new;
mod pack;
mod page;
mod plot;
mod rank;
mod report;
mod rig;
mod settings;
mod simulate;
mod status;
mod unpack;
mod verify;

use clap::Subcommand;

use crate::console::{Console, Failure, Outcome};
/// What `hissward` can do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Starts a job folder: one engine on one day
    New(Box<new::Arguments>),
    /// Adds recordings made elsewhere
    Add(add::Arguments),
    /// Says how far a job is, what is missing, and the next command to copy
    Status(status::Arguments),
    /// Puts a mistake right: clips, readings, the job's own data; nothing is erased
    Amend(Box<amend::Arguments>),
    /// Records what the test rig alone loses, hose blanked off
    Rig(rig::Arguments),
    /// Records a cylinder's gauge reading, and says what the cylinder alone loses
    Gauge(gauge::Arguments),
    /// Leads you through the whole test, hands-free as far as possible
    Guide(guide::Arguments),
    /// Shows the hiss live, to go along a hose or round a gasket
    Hunt(hunt::Arguments),
    /// Records a clip from the microphone
    Listen(listen::Arguments),
    /// Serves the bench page: the same job from a phone or tablet
    Page(page::Arguments),
    /// Ranks the openings: the likely escape path, and how sure that is
    Rank(Box<rank::Arguments>),
    /// Draws the comparison picture of a job
    Plot(plot::Arguments),
    /// Compares two jobs on one engine, before and after a repair
    Compare(compare::Arguments),
    /// Shows the jobs of one engine or a whole shop over time
    History(history::Arguments),
    /// Writes down what was found when the engine was opened
    Found(found::Arguments),
    /// Writes the customer's report of a job
    Report(report::Arguments),
    /// Packs a job into one evidence file
    Pack(pack::Arguments),
    /// Checks for altered, missing or added files
    Verify(verify::Arguments),
    /// Unpacks an intact pack into a job's folder
    Unpack(unpack::Arguments),
    /// Shows and sets the letterhead, language, paper, and the key that signs packs
    Settings(settings::Arguments),
    /// Checks whether clips are fit for use
    Check(check::Arguments),
    /// Runs a whole job on the built-in demo engine
    Demo(demo::Arguments),
    /// Writes shell completions
    Completions(completions::Arguments),
    /// Writes the man page
    Man(man::Arguments),
    /// Tells whether this computer is fit for the job, and what a recorder does to steady noise
    Doctor(doctor::Arguments),
    /// Lists the sound inputs
    Mics(mics::Arguments),
    /// Makes a job folder with a known leak, from a seed
    Simulate(simulate::Arguments),
}

impl Command {
    /// Runs the command.
    pub fn run(self, console: &Console) -> Result<Outcome, Failure> {
        match self {
            Self::New(arguments) => new::run(*arguments, console),
            Self::Add(arguments) => add::run(arguments, console),
            Self::Status(arguments) => status::run(&arguments, console),
            Self::Amend(arguments) => amend::run(&arguments, console),
            Self::Rig(arguments) => rig::run(&arguments, console),
            Self::Gauge(arguments) => gauge::run(&arguments, console),
            Self::Guide(arguments) => guide::run(&arguments, console),
            Self::Hunt(arguments) => hunt::run(&arguments, console),
            Self::Listen(arguments) => listen::run(&arguments, console),
            Self::Page(arguments) => page::run(arguments, console),
            Self::Rank(arguments) => rank::run(&arguments, console),
            Self::Plot(arguments) => plot::run(&arguments, console),
            Self::Compare(arguments) => compare::run(&arguments, console),
            Self::History(arguments) => history::run(&arguments, console),
            Self::Found(arguments) => found::run(arguments, console),
            Self::Report(arguments) => report::run(&arguments, console),
            Self::Pack(arguments) => pack::run(&arguments, console),
            Self::Verify(arguments) => verify::run(&arguments, console),
            Self::Unpack(arguments) => unpack::run(&arguments, console),
            Self::Settings(arguments) => settings::run(arguments, console),
            Self::Check(arguments) => check::run(&arguments, console),
            Self::Demo(arguments) => demo::run(&arguments, console),
            Self::Completions(arguments) => completions::run(&arguments, console),
            Self::Man(arguments) => man::run(&arguments, console),
            Self::Doctor(arguments) => doctor::run(&arguments, console),
            Self::Mics(arguments) => mics::run(&arguments, console),
            Self::Simulate(arguments) => simulate::run(&arguments, console),
        }
    }
}
