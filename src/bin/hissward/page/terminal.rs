//! The person at the computer: Enter in the terminal shows a new code, whatever strangers have tried.

use std::io::{self, BufRead};
use std::time::Instant;

use super::app_state::AppState;
use super::serve::announce_code;
use crate::console::Console;

/// Waits for Enter as long as the program runs; a thread of its own, since nothing else may wait for a person.
pub fn wait_for_enter(state: AppState, console: Console) {
    std::thread::spawn(move || {
        let mut line = String::new();
        loop {
            line.clear();
            if !wait_until_typed() || !matches!(io::stdin().lock().read_line(&mut line), Ok(1..)) {
                return;
            }
            let code = state.auth().pairing.code_anew(Instant::now());
            state.log().line(None, "a new code was asked for in the terminal");
            // Where the terminal is gone, nobody reads it there.
            drop(announce_code(&state, &code, &console));
        }
    });
}

/// Waits until there is something to read; false where there never will be. A program in the background that reads from its
/// terminal is stopped by the system: so it is looked first whether it is in the foreground.
#[cfg(target_os = "linux")]
fn wait_until_typed() -> bool {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};

    let stdin = io::stdin();
    let second = Timespec { tv_sec: 1, tv_nsec: 0 };
    loop {
        let foreground = rustix::termios::tcgetpgrp(&stdin);
        if foreground.is_ok_and(|group| group != rustix::process::getpgrp()) {
            std::thread::sleep(std::time::Duration::from_secs(1));
            continue;
        }
        let mut watched = [PollFd::new(&stdin, PollFlags::IN)];
        match poll(&mut watched, Some(&second)) {
            Ok(0) | Err(rustix::io::Errno::INTR) => {}
            Ok(_) => return true,
            Err(_) => return false,
        }
    }
}

#[cfg(not(target_os = "linux"))]
fn wait_until_typed() -> bool {
    true
}
