//! Content on its way: hashed, counted, compared.

use std::io::{self, Read, Write};

use sha2::Digest;

use crate::job::Sha256;

/// Read at a time, bytes.
const BLOCK_BYTES: usize = 256 * 1024;

/// What content turned out to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Measured {
    pub(super) bytes: u64,
    pub(super) crc32: u32,
    pub(super) sha256: Sha256,
}

/// Copies content from end to end and measures it.
pub(super) fn copy(from: &mut dyn Read, to: &mut dyn Write) -> io::Result<Measured> {
    let mut block = vec![0; BLOCK_BYTES];
    let (mut bytes, mut crc, mut sha) = (0, crc32fast::Hasher::new(), sha2::Sha256::new());
    loop {
        let got = match from.read(&mut block) {
            Ok(0) => break,
            Ok(got) => got,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => continue,
            Err(error) => return Err(error),
        };
        crc.update(&block[..got]);
        sha.update(&block[..got]);
        to.write_all(&block[..got])?;
        bytes += got as u64;
    }
    Ok(Measured { bytes, crc32: crc.finalize(), sha256: Sha256(sha.finalize().into()) })
}

/// Holds what is written against a reader, and remembers where they first differ.
pub(super) struct Comparing<R> {
    reader: R,
    at: u64,
    pub(super) differs_at: Option<u64>,
}

impl<R: Read> Comparing<R> {
    pub(super) fn with(reader: R) -> Self {
        Self { reader, at: 0, differs_at: None }
    }

    /// Whether the reader ends where the writing did.
    pub(super) fn finish(mut self) -> io::Result<Option<u64>> {
        if self.differs_at.is_none() && self.reader.read(&mut [0])? > 0 {
            self.differs_at = Some(self.at);
        }
        Ok(self.differs_at)
    }
}

impl<R: Read> Write for Comparing<R> {
    fn write(&mut self, block: &[u8]) -> io::Result<usize> {
        if self.differs_at.is_none() {
            let mut there = Vec::with_capacity(block.len());
            self.reader.by_ref().take(block.len() as u64).read_to_end(&mut there)?;
            let same = there.iter().zip(block).take_while(|(a, b)| a == b).count();
            if same < block.len() {
                self.differs_at = Some(self.at + same as u64);
            }
        }
        self.at += block.len() as u64;
        Ok(block.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
