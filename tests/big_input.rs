//! Memory does not grow with the length of a recording. Four hours, 192 kHz in eight channels and 500 clips are in
//! `make big`; here are sizes that tell the same in seconds.

#![cfg(target_os = "linux")]

use std::fs::{self, File};
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

const RATE_HZ: u32 = 48_000;
/// The most that five times the length may add, KiB. What is kept of a sound grows by 2 KiB a second for its first
/// twelve minutes; its samples would be 190 KiB a second.
const MORE_KIB: u64 = 12 * 1024;
/// The most at all, KiB.
const MOST_KIB: u64 = 150 * 1024;

/// Writes 16-bit noise that repeats itself every 7 s or so.
fn write_noise(path: &Path, minutes: u32, channels: u16, seed: u32) {
    let bytes = minutes * 60 * RATE_HZ * u32::from(channels) * 2;
    let mut file = BufWriter::new(File::create(path).expect("a file"));
    let rate = RATE_HZ.to_le_bytes();
    let per_second = (RATE_HZ * u32::from(channels) * 2).to_le_bytes();
    let frame = (channels * 2).to_le_bytes();
    let sizes = [(bytes + 36).to_le_bytes(), bytes.to_le_bytes()];
    let channels = channels.to_le_bytes();
    let head = [
        b"RIFF",
        &sizes[0][..],
        b"WAVEfmt \x10\0\0\0\x01\0",
        &channels,
        &rate,
        &per_second,
        &frame,
        b"\x10\0data",
        &sizes[1],
    ];
    head.iter().try_for_each(|part| file.write_all(part)).expect("a header");
    let mut state = seed;
    let noise: Vec<u8> = (0..333_331 * 2)
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            // The high byte of each sample is small: some −40 dB.
            (state >> 24) as u8
        })
        .enumerate()
        .map(|(at, byte)| if at % 2 == 1 { (byte as i8 / 64) as u8 } else { byte })
        .collect();
    let mut left = bytes as usize;
    while left > 0 {
        let now = left.min(noise.len());
        file.write_all(&noise[..now]).expect("room for it");
        left -= now;
    }
    file.flush().expect("written");
}

/// Runs the program to its end; the most memory it took, KiB.
fn peak_kib(folder: &Path, arguments: &[&str]) -> u64 {
    let mut child = Command::new(env!("CARGO_BIN_EXE_hissward"))
        .current_dir(folder)
        .args(arguments)
        .env("HOME", folder)
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    let status = PathBuf::from(format!("/proc/{}/status", child.id()));
    let mut peak = 0;
    while child.try_wait().expect("it can be asked").is_none() {
        // The system's own high-water mark: what is between two looks is in it.
        let text = fs::read_to_string(&status).unwrap_or_default();
        if let Some(line) = text.lines().find_map(|line| line.strip_prefix("VmHWM:")) {
            peak = line.trim().trim_end_matches(" kB").parse().expect("a number");
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    let output = child.wait_with_output().expect("it ended");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{arguments:?}: {said}");
    peak
}

#[test]
fn five_times_the_length_takes_no_more_memory() {
    let folder = tempfile::tempdir().expect("a folder");
    let place = folder.path();
    let mut peaks = Vec::new();
    for (minutes, name) in [(2, "short"), (10, "long")] {
        let (off, on) = (format!("{name}-off.wav"), format!("{name}-on.wav"));
        write_noise(&place.join(&off), minutes, 1, 1);
        write_noise(&place.join(&on), minutes, 1, 2);
        let exhaust = format!("exhaust={on}");
        let rank = peak_kib(place, &["rank", "--off", &off, "--on", &exhaust]);
        peak_kib(place, &["new", name, "--engine", "workboat", "--cylinders", "1"]);
        let add = peak_kib(place, &["add", name, "--at", "exhaust", "--air", "off", &off]);
        peak_kib(place, &["add", name, "--at", "exhaust", "--air", "on", &on]);
        let report = peak_kib(place, &["report", name]);
        let pack = peak_kib(place, &["pack", name, "--unsigned"]);
        let verify = peak_kib(place, &["verify", &format!("{name}-pack.zip")]);
        peaks.push([("rank", rank), ("add", add), ("report", report), ("pack", pack), ("verify", verify)]);
        for file in [off, on, format!("{name}-pack.zip")] {
            fs::remove_file(place.join(file)).expect("it goes");
        }
        fs::remove_dir_all(place.join(name)).expect("it goes");
    }
    for ((name, short), (_, long)) in peaks[0].iter().zip(&peaks[1]) {
        assert!(*long < short + MORE_KIB, "{name}: {short} KiB for 2 minutes, {long} KiB for 10");
        assert!(*long < MOST_KIB, "{name}: {long} KiB");
    }
}
