//! `hissward page`: the bench page, the whole job from a phone or tablet.

use std::path::PathBuf;

use crate::console::{Console, Failure, Outcome};
use crate::page::{Settings, serve};

/// Arguments of `hissward page`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward page gull-2026-11-25\n  hissward page jobs --lan\n\n\
    Without --lan only this computer can reach the page. With it, devices on the same network can, over TLS and \
    only after pairing: scan the code on the terminal. The certificate is this program's own, so the phone warns once; \
    compare the fingerprint that it shows with the one on the terminal, then go on.")]
pub struct Arguments {
    /// A job folder, or a folder of jobs
    path: PathBuf,
    /// Serves the page on the shop's network, over TLS
    #[arg(long)]
    lan: bool,
    /// The port (default: 8417, or a free one if that is taken)
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    port: Option<u16>,
    /// Does not open a browser
    #[arg(long)]
    no_open: bool,
}

/// Serves the page until Ctrl+C.
pub fn run(arguments: Arguments, console: &Console) -> Result<Outcome, Failure> {
    let Arguments { path, lan, port, no_open } = arguments;
    serve(&Settings { path, lan, port, open: !no_open }, console)?;
    Ok(Outcome::Done)
}
