//! The terminal's window is shut, or the line is cut, and nobody tells the program (no hang-up signal reaches it).

use std::process::Command;

use super::shop::{PROGRAM, Shop};

/// Starts the guide in a terminal of its own, without the signal; shuts the terminal; says how long it lived on.
const SHUT: &str = "
import os, pty, signal, sys, time
child, terminal = pty.fork()
if child == 0:
    signal.signal(signal.SIGHUP, signal.SIG_IGN)
    os.execvp(sys.argv[1], sys.argv[1:])
seen = b''
while b'SPACE' not in seen:
    seen += os.read(terminal, 4096)
os.close(terminal)
shut = time.monotonic()
while time.monotonic() - shut < 30:
    ended, status = os.waitpid(child, os.WNOHANG)
    if ended:
        print(f'ended after {time.monotonic() - shut:.1f} s')
        sys.exit(0)
    time.sleep(0.05)
os.kill(child, signal.SIGKILL)
sys.exit('it ran on without a terminal')
";

#[test]
fn without_its_terminal_the_guide_ends() {
    let shop = Shop::new();
    let job = shop.job();
    let out = Command::new("python3")
        .args(["-c", SHUT, PROGRAM, "guide", &job, "--silent"])
        .envs(shop.environment())
        .output()
        .expect("python3 runs");
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
}
