//! `hissward unpack`: an intact pack to a job's folder.

use std::path::PathBuf;

use hissward::pack::unpack;

use super::verify::{as_text, public_key};
use crate::console::{Console, Failure, Outcome};

/// Arguments of `hissward unpack`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward unpack gull-2026-11-25-pack.zip --out gull-again\n\n\
    A pack that is not intact is not unpacked; each difference is named, and the exit is 1.")]
pub struct Arguments {
    /// The pack
    pack: PathBuf,
    /// The new folder; else under the pack's name
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// The public key it should be signed with: its file, or the key itself
    #[arg(long, value_name = "KEY")]
    key: Option<String>,
}

/// Unpacks and prints the folder's path.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let key = arguments.key.as_deref().map(public_key).transpose()?;
    let to = match &arguments.out {
        Some(path) => path.clone(),
        None => {
            let name = arguments.pack.file_stem().ok_or("the pack has no name: give --out")?.to_string_lossy();
            PathBuf::from(name.strip_suffix("-pack").unwrap_or(&name))
        }
    };
    let found = unpack(&arguments.pack, &to, key.as_ref())?;
    if !found.intact() {
        console.data(&as_text(&arguments.pack, &found))?;
        return Ok(Outcome::Undecided);
    }
    console.talk(as_text(&arguments.pack, &found).trim_end());
    console.data(&format!("{}\n", to.display()))?;
    Ok(Outcome::Done)
}
