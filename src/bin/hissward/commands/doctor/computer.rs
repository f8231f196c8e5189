//! The computer itself: browser and network for the page, disk, clock.

use std::net::TcpListener;
use std::path::Path;
use std::time::SystemTime;

use hissward::caveat::Fact;
use hissward::words::Words;

use super::{Check, State};
use crate::page::own_address;

/// A job of forty clips in plain WAV, with its report, takes less.
const ROOM_MB: f64 = 200.0;
/// No clock that is right shows a time before this program was made, seconds since 1970: 2026-01-01.
const MADE_UNIX_S: u64 = 1_767_225_600;

/// All of it.
pub(super) fn checks(words: &Words) -> Vec<Check> {
    [browser(words), network(words)].into_iter().chain(disk(words)).chain([clock(words)]).collect()
}

/// Whether a program of this name is on the PATH.
#[cfg(target_os = "linux")]
fn is_there(program: &str) -> bool {
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&path).any(|folder| folder.join(program).is_file())
}

#[cfg(target_os = "linux")]
fn browser(words: &Words) -> Check {
    let has_screen = ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some());
    match (is_there("xdg-open"), has_screen) {
        (true, true) => Check::new("browser", State::Fine, "doctor-browser", &[], words),
        (_, false) => Check::new("browser", State::Doubt, "doctor-no-screen", &[], words),
        (false, true) => Check::new("browser", State::Doubt, "doctor-no-browser", &[], words),
    }
}

/// Other systems bring what opens an address.
#[cfg(not(target_os = "linux"))]
fn browser(words: &Words) -> Check {
    Check::new("browser", State::Fine, "doctor-browser", &[], words)
}

fn network(words: &Words) -> Check {
    if let Err(error) = TcpListener::bind(("127.0.0.1", 0)) {
        let facts = [("reason", Fact::Text(error.to_string()))];
        return Check::new("network", State::Bad, "doctor-no-port", &facts, words);
    }
    match own_address() {
        Ok(address) => {
            let facts = [("address", Fact::Text(address.to_string()))];
            Check::new("network", State::Fine, "doctor-network", &facts, words)
        }
        Err(_) => Check::new("network", State::Doubt, "doctor-no-network", &[], words),
    }
}

/// Whether this folder can be written to, and has room for a job.
fn disk(words: &Words) -> Vec<Check> {
    let here = std::env::current_dir().unwrap_or_else(|_| Path::new(".").to_owned());
    let folder = ("folder", Fact::Text(here.display().to_string()));
    if let Err(error) = tempfile::tempfile_in(&here) {
        let facts = [folder, ("reason", Fact::Text(error.to_string()))];
        return vec![Check::new("disk", State::Bad, "doctor-disk-closed", &facts, words)];
    }
    let Some(free_mb) = free_mb(&here) else { return Vec::new() };
    let facts = [folder, ("gb", Fact::Number { value: free_mb / 1000.0, decimals: 1 })];
    let (state, message) =
        if free_mb < ROOM_MB { (State::Bad, "doctor-disk-full") } else { (State::Fine, "doctor-disk") };
    vec![Check::new("disk", state, message, &facts, words)]
}

/// Room for this user, in millions of bytes; `None` where the system would not say.
#[cfg(target_os = "linux")]
fn free_mb(folder: &Path) -> Option<f64> {
    let found = rustix::fs::statvfs(folder).ok()?;
    Some(found.f_bavail as f64 * found.f_frsize as f64 / 1e6)
}

#[cfg(not(target_os = "linux"))]
fn free_mb(_: &Path) -> Option<f64> {
    None
}

fn clock(words: &Words) -> Check {
    let now_s = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).map_or(0, |since| since.as_secs());
    let now = ("now", Fact::Text(hissward::job::When::now().local_minute()));
    if now_s < MADE_UNIX_S {
        return Check::new("clock", State::Bad, "doctor-clock-wrong", &[now], words);
    }
    Check::new("clock", State::Fine, "doctor-clock", &[now], words)
}
