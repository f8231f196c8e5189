//! A pack to a folder: only an intact one, only under names that are safe, all of it or nothing.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

use super::content::copy;
use super::envelope;
use super::error::{Doing, PackError};
use super::name::EntryName;
use super::signing::PublicKey;
use super::verifying::{Verified, verify_pack};

/// Unpacks an intact pack into a new folder; one that is not intact is left alone.
///
/// # Errors
/// [`PackError`] where there is something of that name already, or the disk says no.
pub fn unpack(path: &Path, to: &Path, key: Option<&PublicKey>) -> Result<Verified, PackError> {
    let verified = verify_pack(path, key)?;
    if !verified.intact() {
        return Ok(verified);
    }
    if to.symlink_metadata().is_ok() {
        return Err(PackError::Exists { path: to.to_owned() });
    }
    let parent = to.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
    // Removes itself with what is in it unless it is kept.
    let new = tempfile::Builder::new().prefix(".new-").tempdir_in(parent).doing("making the folder", to)?;
    let mut file = File::open(path).doing("opening the pack", path)?;
    let (found, _) = envelope::follow(&mut file).doing("reading the pack", path)?;
    for found in found {
        // Every name was looked at; one that is none cannot be reached here.
        let Ok(name) = String::from_utf8_lossy(&found.name).parse::<EntryName>() else { continue };
        let place = place(new.path(), &name);
        if let Some(folder) = place.parent() {
            fs::create_dir_all(folder).doing("making the folder", folder)?;
        }
        let mut out = OpenOptions::new().write(true).create_new(true).open(&place).doing("unpacking", &place)?;
        file.seek(SeekFrom::Start(found.offset)).doing("reading the pack", path)?;
        copy(&mut (&mut file).take(found.bytes), &mut out).doing("unpacking", &place)?;
        out.sync_all().doing("unpacking", &place)?;
    }
    finish(new, to)?;
    Ok(verified)
}

fn place(folder: &Path, name: &EntryName) -> PathBuf {
    name.as_str().split('/').fold(folder.to_owned(), |path, part| path.join(part))
}

/// Gives the finished folder its name and its usual rights.
fn finish(new: tempfile::TempDir, to: &Path) -> Result<(), PackError> {
    #[cfg(unix)]
    fs::set_permissions(new.path(), std::os::unix::fs::PermissionsExt::from_mode(0o755)).doing("unpacking", to)?;
    match fs::rename(new.path(), to) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => Err(PackError::Exists { path: to.to_owned() }),
        Err(error) => Err(error).doing("putting the folder in place", to),
        Ok(()) => {
            drop(new.keep());
            Ok(())
        }
    }
}
