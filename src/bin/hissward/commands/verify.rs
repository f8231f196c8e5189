//! `hissward verify`: proof that nothing was altered.

use std::path::{Path, PathBuf};

use hissward::pack::{
    Difference, PackError, PublicKey, Signature, Verified, verify_against, verify_folder, verify_pack,
};
use serde_json::{Value, json};

use crate::console::{Console, Failure, Outcome};

/// Arguments of `hissward verify`.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  hissward verify gull-2026-11-25-pack.zip --key signing.pub\n  hissward verify gull-2026-11-25\n  \
    hissward verify gull-2026-11-25 --against gull-2026-11-25-pack.zip\n\n\
    Exit: 0 intact, 1 altered, missing or added (each named), 2 unreadable."
)]
pub struct Arguments {
    /// A pack, or a job's folder
    what: PathBuf,
    /// The public key it should be signed with: its file, or the key itself
    #[arg(long, value_name = "KEY")]
    key: Option<String>,
    /// Holds a job's folder against a pack that was made of it: names all that came, went or changed since
    #[arg(long, value_name = "PACK")]
    against: Option<PathBuf>,
    /// Prints the result as JSON
    #[arg(long)]
    json: bool,
}

/// Verifies and names each difference.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let key = arguments.key.as_deref().map(public_key).transpose()?;
    let path = &arguments.what;
    let found = match &arguments.against {
        Some(pack) => verify_against(path, pack, key.as_ref()),
        None if path.is_dir() => verify_folder(path, key.as_ref()),
        None => verify_pack(path, key.as_ref()),
    }?;
    match (&arguments.against, arguments.json) {
        (_, true) => console.data(&as_json(path, &found))?,
        (Some(pack), false) => console.data(&against(path, pack, &found))?,
        (None, false) => console.data(&as_text(path, &found))?,
    }
    if arguments.against.is_none() && found.manifest.is_none() && found.intact() {
        console.talk(&what_a_folder_cannot_prove(path));
    }
    Ok(if found.intact() { Outcome::Done } else { Outcome::Undecided })
}

/// A key by its file or as it is.
pub(super) fn public_key(given: &str) -> Result<PublicKey, PackError> {
    let path = Path::new(given);
    if path.is_file() { PublicKey::read(path) } else { PublicKey::of_text(given) }
}

/// What was found, for people.
pub(super) fn as_text(path: &Path, found: &Verified) -> String {
    let path = path.display();
    let mut text: String = found.differences.iter().map(|difference| sentence(difference) + "\n").collect();
    let files = found.files;
    text += &match (found.intact(), &found.manifest) {
        (true, Some(_)) => format!("{path}: intact, {} as the manifest says\n", counted(files, "file is", "files are")),
        (true, None) => format!("{path}: {} as job.toml says\n", counted(files, "clip is", "clips are")),
        (false, _) => {
            format!("{path}: NOT intact, {}\n", counted(found.differences.len(), "difference", "differences"))
        }
    };
    if found.intact() && found.manifest.is_some() {
        text += &match &found.signature {
            Signature::None => "not signed: shows accidental damage, not forgery\n".to_owned(),
            Signature::OwnKey { key, comment } => {
                format!(
                    "signed with the key {key}, which is in it: check with --key that it is the shop's ({comment})\n"
                )
            }
            Signature::AskedKey { key, comment } => format!("signed with the key {key} that you gave ({comment})\n"),
        };
    }
    text
}

/// "1 clip is", "2 clips are".
fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// A folder held against a pack, for people.
fn against(folder: &Path, pack: &Path, found: &Verified) -> String {
    let (folder, pack) = (folder.display(), pack.display());
    let mut text: String = found.differences.iter().map(|difference| sentence(difference) + "\n").collect();
    text += &if found.intact() {
        format!("{folder}: {} as in {pack}\n", counted(found.files, "file is", "files are"))
    } else {
        let count = counted(found.differences.len(), "difference", "differences");
        format!("{folder}: NOT as in {pack}, {count} (what was done since the pack was made is among them)\n")
    };
    text
}

/// What is not known of a folder, and how to know it.
fn what_a_folder_cannot_prove(folder: &Path) -> String {
    let mut text =
        "Checked: the clips against job.toml. Not checked: job.toml itself, so a clip or reading added to both by \
                    hand goes unnoticed. A pack made after the test proves all of it."
            .to_owned();
    if let Some(pack) = super::pack::beside(folder).ok().filter(|pack| pack.is_file()) {
        let (folder, pack) = (folder.display(), pack.display());
        text += &format!(" There is one: hissward verify {folder} --against {pack}");
    }
    text
}

fn sentence(difference: &Difference) -> String {
    match difference {
        Difference::Altered(name) => format!("altered: {name}"),
        Difference::Missing(name) => format!("missing: {name}"),
        Difference::Added(name) => format!("added: {name}"),
        Difference::Twice(name) => format!("there twice: {name}"),
        Difference::Structure(at) => format!("altered: the archive's structure, from byte {at}"),
        Difference::Manifest(what) => format!("altered: MANIFEST.sha256: {what}"),
        Difference::Signature(what) => format!("altered: the signature: {what}"),
    }
}

fn as_json(path: &Path, found: &Verified) -> String {
    let difference = |difference: &Difference| {
        let (kind, what): (&str, Value) = match difference {
            Difference::Altered(name) => ("altered", json!(name)),
            Difference::Missing(name) => ("missing", json!(name)),
            Difference::Added(name) => ("added", json!(name)),
            Difference::Twice(name) => ("twice", json!(name)),
            Difference::Structure(at) => ("structure", json!(at)),
            Difference::Manifest(what) => ("manifest", json!(what)),
            Difference::Signature(what) => ("signature", json!(what)),
        };
        json!({ "kind": kind, "what": what })
    };
    let (signature, key) = match &found.signature {
        Signature::None => ("none", None),
        Signature::OwnKey { key, .. } => ("own-key", Some(key)),
        Signature::AskedKey { key, .. } => ("asked-key", Some(key)),
    };
    let shown = json!({
        "format": 1,
        "file": path.display().to_string(),
        "intact": found.intact(),
        "files": found.files,
        "differences": found.differences.iter().map(difference).collect::<Vec<_>>(),
        "signature": signature,
        "key": key,
    });
    format!("{shown}\n")
}
