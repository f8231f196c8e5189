//! `hissward man`: the man page on stdout, or a page for each command into a folder.

use std::path::PathBuf;

use clap::CommandFactory;

use crate::console::{Console, Failure, Outcome};

/// Arguments of `hissward man`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward man > hissward.1\n  hissward man --out man1")]
pub struct Arguments {
    /// Writes hissward.1 and a page for each command (hissward-rank.1) into this folder instead
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
}

/// Writes the page: the program, then every command.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut command = crate::Arguments::command();
    if let Some(folder) = &arguments.out {
        clap_mangen::generate_to(command, folder).map_err(|error| {
            format!("{}: cannot be written ({error}): give a folder that is there", folder.display())
        })?;
        return Ok(Outcome::Done);
    }
    command.build();
    let mut page = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut page)?;
    for part in command.get_subcommands().filter(|part| part.get_name() != "help") {
        let name = format!("hissward {}", part.get_name());
        let man = clap_mangen::Man::new(part.clone()).title(name);
        man.render_synopsis_section(&mut page)?;
        man.render_description_section(&mut page)?;
        man.render_options_section(&mut page)?;
        man.render_extra_section(&mut page)?;
    }
    console.data(&String::from_utf8(page)?)?;
    Ok(Outcome::Done)
}
