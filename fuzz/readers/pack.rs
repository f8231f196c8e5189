//! A pack from elsewhere: verified and taken apart.

use std::fs;
use std::path::Path;

use hissward::pack::{unpack, verify_folder, verify_pack};

use super::telling::told;

/// Verifies and unpacks a file that may be a pack.
pub fn pack(bytes: &[u8], scratch: &Path) {
    let file = scratch.join("pack.zip");
    fs::write(&file, bytes).expect("a file");
    let to = scratch.join("unpacked");
    if to.exists() {
        fs::remove_dir_all(&to).expect("it goes");
    }
    let verified = match verify_pack(&file, None) {
        Ok(verified) => verified,
        Err(error) => return told(&error),
    };
    let unpacked = unpack(&file, &to, None);
    assert_eq!(to.exists(), verified.intact() && unpacked.is_ok(), "all of it or nothing, and only an intact one");
    match unpacked {
        Err(error) => told(&error),
        Ok(again) => assert_eq!(again, verified),
    }
    if to.exists() {
        match verify_folder(&to, None) {
            // A manifest may be right around a job that is none.
            Err(error) => told(&error),
            Ok(folder) => assert_eq!(folder.manifest, verified.manifest),
        }
    }
}
