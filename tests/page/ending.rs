//! The page when its program is told to end.

use std::io::Read;
use std::time::{Duration, Instant};

use crate::served::{Served, job};

#[test]
fn told_to_end_it_ends_whoever_still_listens() {
    let mut served = Served::start();
    let client = served.paired();
    let events = format!("/api/jobs/{}/events", job(&client));
    // One that listens for as long as the page is there, and one that has sent nothing yet.
    let mut listening = client.listening(&events);
    let _silent = client.connected();
    let begun = Instant::now();
    let ended = served.told_to_end();
    assert!(ended.success(), "{ended}");
    assert!(begun.elapsed() < Duration::from_secs(6), "{:?}", begun.elapsed());
    let mut rest = Vec::new();
    // Cut off or closed, but not left waiting.
    drop(listening.read_to_end(&mut rest));
    assert!(begun.elapsed() < Duration::from_secs(6), "{:?}", begun.elapsed());
    // And the port is free for the next.
    served.restart();
    assert_eq!(served.stranger().get("/").status, 200);
}
