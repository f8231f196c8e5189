//! `hissward` on the command line: parses, runs one command, says what went wrong.

mod commands;
mod console;
mod files;
mod language;
mod live;
mod open_job;
mod page;
mod picture_file;
mod printable;
mod progress;
mod ranked;
mod recorders;
mod report_files;
mod tables;

use std::process::ExitCode;

use clap::Parser;

use console::Console;

/// Finds where an engine's cylinder leaks from the hiss at its openings.
#[derive(Debug, Parser)]
#[command(name = "hissward", version, about, propagate_version = true)]
struct Arguments {
    /// Print errors only
    #[arg(short, long, global = true)]
    quiet: bool,

    #[command(subcommand)]
    command: commands::Command,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let console = Console::new(arguments.quiet);
    match arguments.command.run(&console) {
        Ok(outcome) => outcome.code(),
        Err(error) => {
            console.error(&error.to_string());
            ExitCode::from(2)
        }
    }
}
