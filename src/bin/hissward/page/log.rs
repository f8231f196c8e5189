//! One readable line for everything that changed something or was refused.

use std::net::IpAddr;

use hissward::job::When;

use crate::console::Console;

/// The log: lines on stderr.
#[derive(Clone, Copy)]
pub struct Log {
    console: Console,
}

impl Log {
    /// A log that speaks where the console does.
    pub fn new(console: Console) -> Self {
        Self { console }
    }

    /// Says what somebody did: `2026-11-25 14:03  192.168.1.20  paired`.
    pub fn line(&self, who: Option<IpAddr>, what: &str) {
        let who = who.map_or_else(|| "here".to_owned(), |who| who.to_string());
        let plain: String = what.chars().filter(|c| !c.is_control()).take(300).collect();
        self.console.talk(&format!("{}  {who}  {plain}", When::now().local_minute()));
    }
}
