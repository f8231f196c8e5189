//! SHA-256 of files: the proof that a clip is the one that was recorded.

use std::fmt;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;
use std::str::FromStr;

use sha2::Digest;

use crate::job::names::FileName;

/// Read and hashed at a time, bytes.
const BLOCK_BYTES: usize = 256 * 1024;

/// A SHA-256, written as 64 lower-case hexadecimal digits.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Sha256(pub [u8; 32]);

/// Why a text is no SHA-256.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error(
    "'{got}' is not a valid SHA-256: 64 hexadecimal digits, written by the program; take the file in again with `hissward add`"
)]
pub struct Sha256Error {
    got: String,
}

impl Sha256 {
    /// The hash of bytes in memory.
    ///
    /// ```
    /// let hash = hissward::job::Sha256::of(b"abc").to_string();
    /// assert!(hash.starts_with("ba7816bf"));
    /// ```
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(sha2::Sha256::digest(bytes).into())
    }
}

impl fmt::Display for Sha256 {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(out, "{byte:02x}"))
    }
}

impl fmt::Debug for Sha256 {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, out)
    }
}

impl FromStr for Sha256 {
    type Err = Sha256Error;

    fn from_str(text: &str) -> Result<Self, Sha256Error> {
        let wrong = || Sha256Error { got: text.chars().take(80).collect() };
        if text.len() != 64 || !text.bytes().all(|byte| byte.is_ascii_hexdigit()) {
            return Err(wrong());
        }
        let mut bytes = [0; 32];
        for (at, byte) in bytes.iter_mut().enumerate() {
            *byte = u8::from_str_radix(&text[2 * at..2 * at + 2], 16).map_err(|_| wrong())?;
        }
        Ok(Self(bytes))
    }
}

/// What a file turned out to be.
#[derive(Debug)]
pub enum FileState {
    /// As it was recorded.
    Intact,
    /// Another content than its hash says.
    Altered {
        /// The hash of what is there.
        got: Sha256,
    },
    /// Not there.
    Missing,
    /// There, but it cannot be read.
    Unreadable(io::Error),
}

/// A file that `job.toml` lists, and what it turned out to be.
#[derive(Debug)]
pub struct VerifiedFile {
    /// Its name in `clips/`.
    pub file: FileName,
    /// What was found.
    pub verdict: FileState,
}

/// The SHA-256 of a file, read in blocks: memory does not grow with its length.
///
/// # Errors
/// Those of reading the file.
pub fn sha256_of_file(path: &Path) -> io::Result<Sha256> {
    let mut hasher = Hasher::default();
    let mut file = File::open(path)?;
    let mut block = vec![0; BLOCK_BYTES];
    loop {
        match file.read(&mut block) {
            Ok(0) => return Ok(hasher.finish()),
            Ok(got) => hasher.take(&block[..got]),
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
}

/// A running SHA-256, for hashing while copying.
#[derive(Default)]
pub(crate) struct Hasher(sha2::Sha256);

impl Hasher {
    pub(crate) fn take(&mut self, bytes: &[u8]) {
        self.0.update(bytes);
    }

    pub(crate) fn finish(self) -> Sha256 {
        Sha256(self.0.finalize().into())
    }
}

/// Holds a file against the hash it should have.
pub(crate) fn verdict_of(path: &Path, should: Sha256) -> FileState {
    match path.symlink_metadata() {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return FileState::Missing,
        Err(error) => return FileState::Unreadable(error),
        // A pipe would block for ever, a link would hash a file that is not the job's.
        Ok(found) if !found.is_file() => return FileState::Unreadable(io::Error::other("not a plain file")),
        Ok(_) => {}
    }
    match sha256_of_file(path) {
        Ok(got) if got == should => FileState::Intact,
        Ok(got) => FileState::Altered { got },
        Err(error) => FileState::Unreadable(error),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-2 appendix B.1, "abc" (memory).
    const OF_ABC: &str = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

    #[test]
    fn a_published_hash_comes_out_and_reads_back() {
        let mut hasher = Hasher::default();
        hasher.take(b"a");
        hasher.take(b"bc");
        let hash = hasher.finish();
        assert_eq!(hash.to_string(), OF_ABC);
        assert_eq!(OF_ABC.parse(), Ok(hash));
        assert!(OF_ABC[1..].parse::<Sha256>().is_err());
        assert!(OF_ABC.replace('b', "+").parse::<Sha256>().is_err());
    }
}
