//! `hissward completions`: shell completions on stdout.

use clap::CommandFactory;
use clap_complete::Shell;

use crate::console::{Console, Failure, Outcome};

/// Arguments of `hissward completions`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward completions bash > ~/.local/share/bash-completion/completions/hissward")]
pub struct Arguments {
    /// The shell
    shell: Shell,
}

/// Writes the completions.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut crate::Arguments::command(), "hissward", &mut script);
    console.data(&String::from_utf8(script)?)?;
    Ok(Outcome::Done)
}
