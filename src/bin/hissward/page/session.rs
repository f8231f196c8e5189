//! Sessions: who was paired, as what, until when. Only hashes of their tokens are kept, also on disk,
//! so that a phone need not pair again when the program is started anew.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use hissward::job::{Sha256, When};
use rand::RngExt;
use serde::{Deserialize, Serialize};

/// A working day.
pub const SESSION_LIFE_S: i64 = 12 * 3600;
/// The most sessions kept; the one that ends first makes room.
const MOST_SESSIONS: usize = 64;

/// What a session may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// Everything.
    Work,
    /// Look at jobs and their reports.
    View,
}

#[derive(Debug, Clone, Serialize, Deserialize)]
struct Session {
    role: Role,
    ends_s: i64,
}

/// All sessions there are.
#[derive(Debug)]
pub struct Sessions {
    by_hash: BTreeMap<String, Session>,
    file: Option<PathBuf>,
    // The hash of the link that customers may read by, where one was made.
    view: Option<Sha256>,
}

impl Sessions {
    /// Sessions as kept in a file; an unreadable file means that devices pair again.
    pub fn kept_in(file: Option<PathBuf>) -> Self {
        let text = file.as_ref().and_then(|file| fs::read_to_string(file).ok());
        let by_hash = text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        Self { by_hash, file, view: None }
    }

    /// Starts a session; its token goes to the browser and is not kept.
    pub fn start(&mut self, role: Role, now_s: i64) -> String {
        let token = secret();
        self.by_hash.retain(|_, session| session.ends_s > now_s);
        while self.by_hash.len() >= MOST_SESSIONS {
            let first = self.by_hash.iter().min_by_key(|(_, session)| session.ends_s).map(|(hash, _)| hash.clone());
            let Some(first) = first else { break };
            self.by_hash.remove(&first);
        }
        self.by_hash.insert(hash_of(&token), Session { role, ends_s: now_s + SESSION_LIFE_S });
        self.keep();
        token
    }

    /// What the holder of a token may do; `None` where it is not known or has ended.
    pub fn role(&self, token: &str, now_s: i64) -> Option<Role> {
        self.by_hash.get(&hash_of(token)).filter(|session| session.ends_s > now_s).map(|session| session.role)
    }

    /// Ends a session.
    pub fn end(&mut self, token: &str) {
        self.by_hash.remove(&hash_of(token));
        self.keep();
    }

    /// A new secret for the customer's link; an earlier one ends.
    pub fn view_secret(&mut self) -> String {
        let made = secret();
        self.view = Some(Sha256::of(made.as_bytes()));
        made
    }

    /// Whether this is the customer's link.
    pub fn is_view_secret(&self, typed: &str) -> bool {
        self.view == Some(Sha256::of(typed.as_bytes()))
    }

    fn keep(&self) {
        let Some(file) = &self.file else { return };
        let Ok(text) = serde_json::to_string(&self.by_hash) else { return };
        // Where it cannot be kept, devices pair again after a restart: no reason to refuse them now.
        drop(super::place::write_private(file, text.as_bytes()));
    }
}

/// 256 random bits, as text.
pub fn secret() -> String {
    let bytes: [u8; 32] = rand::rng().random();
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn hash_of(token: &str) -> String {
    Sha256::of(token.as_bytes()).to_string()
}

/// Seconds since 1970 on this machine's clock.
pub fn now_s() -> i64 {
    When::now().timestamp().as_second()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_session_ends_and_survives_a_restart() {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("sessions.json");
        let mut sessions = Sessions::kept_in(Some(file.clone()));
        let token = sessions.start(Role::View, 1_000);
        assert_eq!(sessions.role(&token, 1_000 + SESSION_LIFE_S - 1), Some(Role::View));
        assert_eq!(sessions.role(&token, 1_000 + SESSION_LIFE_S), None);
        let again = Sessions::kept_in(Some(file.clone()));
        assert_eq!(again.role(&token, 1_001), Some(Role::View));
        let text = fs::read_to_string(&file).expect("kept");
        assert!(!text.contains(&token), "only the hash is kept");
        sessions.end(&token);
        assert_eq!(Sessions::kept_in(Some(file)).role(&token, 1_001), None);
    }

    #[test]
    fn the_oldest_makes_room() {
        let mut sessions = Sessions::kept_in(None);
        let first = sessions.start(Role::Work, 0);
        for at in 1..=MOST_SESSIONS as i64 {
            sessions.start(Role::Work, at);
        }
        assert_eq!(sessions.role(&first, 100), None);
        assert_eq!(sessions.by_hash.len(), MOST_SESSIONS);
    }

    #[test]
    fn a_link_for_customers_ends_with_the_next() {
        let mut sessions = Sessions::kept_in(None);
        assert!(!sessions.is_view_secret(""));
        let first = sessions.view_secret();
        assert!(sessions.is_view_secret(&first));
        sessions.view_secret();
        assert!(!sessions.is_view_secret(&first));
    }
}
