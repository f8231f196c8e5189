//! `hissward pack`: one evidence file of a job.

use std::path::{Path, PathBuf};

use hissward::job::When;
use hissward::pack::{Packed, SigningKey, pack};
use hissward::settings::SettingsFolder;
use serde_json::json;

use crate::console::{Console, Failure, Outcome};
use crate::open_job;

/// Arguments of `hissward pack`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward pack gull-2026-11-25\n\n\
    The pack is a zip of the job with a manifest of SHA-256, signed where 'hissward settings --make-key' made a key. \
    Any zip program unpacks it into a job again.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// The pack's file (default: beside the job, under its name)
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Secret key to sign with, instead of the shop's own
    #[arg(long, value_name = "FILE", conflicts_with = "unsigned")]
    key: Option<PathBuf>,
    /// Does not sign, even if there is a key
    #[arg(long)]
    unsigned: bool,
    /// Prints what was made as JSON
    #[arg(long)]
    json: bool,
}

/// Makes the pack and prints its path.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let job = open_job::for_reading(&arguments.job, "pack", console)?;
    let key = match &arguments.key {
        Some(path) => Some(SigningKey::read(path)?),
        None if arguments.unsigned => None,
        None => own_key()?,
    };
    let to = match &arguments.out {
        Some(path) => path.clone(),
        None => beside(&arguments.job)?,
    };
    let packed = pack(&job, &to, key.as_ref(), &When::now())?;
    told(&packed, console);
    if arguments.json {
        let shown = json!({
            "format": 1,
            "file": packed.path.display().to_string(),
            "files": packed.files,
            "bytes": packed.bytes,
            "signed_by": packed.signed_by,
        });
        console.data(&format!("{shown}\n"))?;
    } else {
        console.data(&format!("{}\n", packed.path.display()))?;
    }
    Ok(Outcome::Done)
}

/// The shop's own key, where there is one.
fn own_key() -> Result<Option<SigningKey>, Failure> {
    // Who has no home has no key.
    let Ok(place) = SettingsFolder::of_user() else { return Ok(None) };
    let path = place.signing_key();
    Ok(if path.exists() { Some(SigningKey::read(&path)?) } else { None })
}

/// `JOB-pack.zip` beside the job's folder.
pub(super) fn beside(job: &Path) -> Result<PathBuf, Failure> {
    let folder = job.canonicalize()?;
    let name = folder.file_name().ok_or("the job's folder has no name: give --out")?.to_string_lossy().into_owned();
    let parent = job.parent().filter(|parent| !parent.as_os_str().is_empty());
    let parent = match parent {
        Some(parent) if job.file_name().is_some() => parent.to_owned(),
        None if job.file_name().is_some() => PathBuf::new(),
        _ => folder.parent().ok_or("the job's folder has no folder around it: give --out")?.to_owned(),
    };
    Ok(parent.join(format!("{name}-pack.zip")))
}

fn told(packed: &Packed, console: &Console) {
    let Packed { files, bytes, .. } = packed;
    let signed = match &packed.signed_by {
        Some(key) => format!("signed with the key {key}"),
        None => "not signed ('hissward settings --make-key' makes a key)".to_owned(),
    };
    let there = if packed.was_there { "; the same pack was there already" } else { "" };
    console.talk(&format!("Packed {files} files, {bytes} bytes, {signed}{there}."));
}
