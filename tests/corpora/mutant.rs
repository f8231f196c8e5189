//! Kept inputs with something wrong with them: what a short run against every reader is made of.

use rand::{Rng, RngExt};

/// Bytes that readers count with: ends, signs, quotes, lengths.
const TELLING: [u8; 12] = [0x00, 0x01, 0x7F, 0x80, 0xFF, b'\n', b'"', b'-', b'.', b'9', b'[', b'='];
/// No mutant is longer.
const LONGEST: usize = 65_536;

/// One of `inputs` with up to eight things done to it: bits turned, telling bytes set, numbers of four bytes made huge,
/// stretches taken out, doubled, or brought in from another input, ends cut off.
pub fn mutant(inputs: &[Vec<u8>], rng: &mut impl Rng) -> Vec<u8> {
    let mut bytes = one_of(inputs, rng).clone();
    for _ in 0..rng.random_range(1..=8_u32) {
        if bytes.is_empty() {
            bytes = one_of(inputs, rng).clone();
            continue;
        }
        let at = rng.random_range(0..bytes.len());
        let stretch = at..(at + rng.random_range(1..=64_usize)).min(bytes.len());
        match rng.random_range(0..7_u32) {
            0 => bytes[at] ^= 1 << rng.random_range(0..8_u32),
            1 => bytes[at] = *one_of(&TELLING, rng),
            2 => bytes[at..].iter_mut().take(4).for_each(|byte| *byte = 0xFF),
            3 => drop(bytes.drain(stretch)),
            4 => {
                let doubled = bytes[stretch].to_vec();
                bytes.splice(at..at, doubled);
            }
            5 => {
                let other = one_of(inputs, rng);
                let from = rng.random_range(0..=other.len());
                bytes.splice(stretch, other[from..].iter().take(256).copied());
            }
            _ => bytes.truncate(at),
        }
    }
    bytes.truncate(LONGEST);
    bytes
}

fn one_of<'a, T>(all: &'a [T], rng: &mut impl Rng) -> &'a T {
    &all[rng.random_range(0..all.len())]
}
