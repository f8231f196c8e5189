//! One evidence file of a job, and the proof that nothing in it was altered.
//!
//! A pack is a zip of stored files in one canonical form, so that each of its bytes is either content, whose
//! SHA-256 stands in the manifest, or structure, which is known beforehand:
//!
//! ```text
//! MANIFEST.sha256           SHA-256 and name of every other file, sorted by name (`sha256sum -c` reads it)
//! MANIFEST.sha256.minisig   signature of the manifest with the shop's key, where there is one (minisign reads it)
//! clips/…  job.toml  results/…
//! signing.pub               the key's public half, where signed
//! ```
//!
//! Any zip program unpacks it into a folder that is the job again. [`pack`] makes one, [`verify_pack`] and
//! [`verify_folder`] name what was altered, missing or added, [`unpack`] takes one apart.

mod content;
mod envelope;
mod error;
mod manifest;
mod name;
mod packing;
mod signing;
mod unpacking;
mod verifying;

pub use error::PackError;
pub use manifest::{MANIFEST_FILE, Manifest};
pub use name::{EntryName, EntryNameError};
pub use packing::{Packed, pack};
pub use signing::{PUBLIC_KEY_FILE, PublicKey, SIGNATURE_FILE, SigningKey};
pub use unpacking::unpack;
pub use verifying::{Difference, Signature, Verified, verify_against, verify_folder, verify_pack};
