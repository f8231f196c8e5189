//! Opens the page in the user's browser.

use std::process::{Command, Stdio};

use crate::console::Console;

/// Opens an address; where there is no browser, the address on the terminal serves.
pub fn open(address: &str, console: &Console) {
    let (program, first): (&str, &[&str]) = if cfg!(target_os = "macos") {
        ("open", &[])
    } else if cfg!(windows) {
        ("rundll32", &["url.dll,FileProtocolHandler"])
    } else {
        ("xdg-open", &[])
    };
    let started = Command::new(program)
        .args(first)
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    if started.is_err() {
        console.talk("No browser could be opened: open the address above.");
    }
}
