//! A pack whose manifest and structure are right, with names and content of an attacker's choice.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use hissward::job::Sha256;
use hissward::pack::MANIFEST_FILE;

use super::pack::pack;

/// First line of every manifest.
const HEAD: &str = "# hissward evidence, format 1\n";

/// Names and contents are parted by line breaks: name, content, name, content, …
pub fn pack_names(bytes: &[u8], scratch: &Path) {
    let inside = scratch.join("inside");
    fs::create_dir_all(&inside).expect("a folder");
    let mut parts = bytes.split(|byte| *byte == b'\n');
    let mut files = Vec::new();
    while let (Some(name), Some(content)) = (parts.next(), parts.next()) {
        files.push((name.to_vec(), content.to_vec()));
    }
    let mut lines: Vec<String> = files
        .iter()
        .map(|(name, content)| format!("{}  {}\n", Sha256::of(content), String::from_utf8_lossy(name)))
        .collect();
    lines.sort_by(|a, b| a[66..].cmp(&b[66..]));
    files.push((MANIFEST_FILE.as_bytes().to_vec(), [HEAD.to_owned(), lines.concat()].concat().into_bytes()));
    files.sort();
    let before = listed(scratch);
    pack(&zip(&files), &inside);
    assert_eq!(listed(scratch), before, "nothing is written beside the folder");
}

fn listed(folder: &Path) -> BTreeSet<std::ffi::OsString> {
    fs::read_dir(folder).expect("it is there").map(|entry| entry.expect("an entry").file_name()).collect()
}

/// Stored files in a zip, in the one form in which packs are written.
fn zip(files: &[(Vec<u8>, Vec<u8>)]) -> Vec<u8> {
    let (mut out, mut directory) = (Vec::new(), Vec::new());
    for (name, content) in files {
        let size = (content.len() as u32).to_le_bytes();
        let name_size = (name.len() as u16).to_le_bytes();
        let common =
            [&[10, 0, 0, 8, 0, 0, 0, 0, 33, 0][..], &crc32(content).to_le_bytes(), &size, &size, &name_size, &[0; 2]]
                .concat();
        let offset = (out.len() as u32).to_le_bytes();
        out.extend([b"PK\x03\x04", &common[..], name, content].concat());
        let rights = (0o100_644_u32 << 16).to_le_bytes();
        directory.extend([b"PK\x01\x02\x14\x03", &common[..], &[0; 6], &rights, &offset, name].concat());
    }
    let count = (files.len() as u16).to_le_bytes();
    let (size, offset) = ((directory.len() as u32).to_le_bytes(), (out.len() as u32).to_le_bytes());
    out.extend(&directory);
    out.extend([b"PK\x05\x06", &[0; 4][..], &count, &count, &size, &offset, &[0; 2]].concat());
    out
}

/// CRC-32 of ISO 3309 (as zip has it), bit by bit.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| (crc >> 1) ^ (0xEDB8_8320 & (crc & 1).wrapping_neg()))
    })
}
