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

/// What was given to whom came in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Grant {
    /// What they may do.
    pub role: Role,
    /// The one job that they may do it with; those who work have all.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only: Option<String>,
}

impl Grant {
    /// Everything.
    pub fn work() -> Self {
        Self { role: Role::Work, only: None }
    }

    /// Looking at one job: a customer's neighbour is nobody's business.
    pub fn view(job: &str) -> Self {
        Self { role: Role::View, only: Some(job.to_owned()) }
    }

    /// Whether this job is theirs to see.
    pub fn covers(&self, job: &str) -> bool {
        self.role == Role::Work || self.only.as_deref() == Some(job)
    }
}

#[derive(Debug, Clone, Serialize, Deserialize)]
struct Session {
    #[serde(flatten)]
    grant: Grant,
    ends_s: i64,
}

/// All sessions there are.
#[derive(Debug)]
pub struct Sessions {
    by_hash: BTreeMap<String, Session>,
    file: Option<PathBuf>,
    // The hash of the link that a customer may read by, and their job, where one was made.
    view: Option<(Sha256, String)>,
}

impl Sessions {
    /// Sessions as kept in a file; an unreadable file means that devices pair again.
    pub fn kept_in(file: Option<PathBuf>) -> Self {
        let text = file.as_ref().and_then(|file| fs::read_to_string(file).ok());
        let by_hash = text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        Self { by_hash, file, view: None }
    }

    /// Starts a session; its token goes to the browser and is not kept.
    pub fn start(&mut self, grant: Grant, now_s: i64) -> String {
        let token = secret();
        self.by_hash.retain(|_, session| session.ends_s > now_s);
        while self.by_hash.len() >= MOST_SESSIONS {
            let first = self.by_hash.iter().min_by_key(|(_, session)| session.ends_s).map(|(hash, _)| hash.clone());
            let Some(first) = first else { break };
            self.by_hash.remove(&first);
        }
        self.by_hash.insert(hash_of(&token), Session { grant, ends_s: now_s + SESSION_LIFE_S });
        self.keep();
        token
    }

    /// What the holder of a token may do; `None` where it is not known or has ended.
    pub fn grant(&self, token: &str, now_s: i64) -> Option<Grant> {
        self.by_hash.get(&hash_of(token)).filter(|session| session.ends_s > now_s).map(|session| session.grant.clone())
    }

    /// Ends a session.
    pub fn end(&mut self, token: &str) {
        self.by_hash.remove(&hash_of(token));
        self.keep();
    }

    /// A new secret for the link of a job's customer; an earlier one ends.
    pub fn view_secret(&mut self, job: &str) -> String {
        let made = secret();
        self.view = Some((Sha256::of(made.as_bytes()), job.to_owned()));
        made
    }

    /// What the customer's link gives; `None` where this is not its secret.
    pub fn by_link(&self, typed: &str) -> Option<Grant> {
        let (hash, job) = self.view.as_ref()?;
        (*hash == Sha256::of(typed.as_bytes())).then(|| Grant::view(job))
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
        let token = sessions.start(Grant::view("gull"), 1_000);
        assert_eq!(sessions.grant(&token, 1_000 + SESSION_LIFE_S - 1), Some(Grant::view("gull")));
        assert_eq!(sessions.grant(&token, 1_000 + SESSION_LIFE_S), None);
        let again = Sessions::kept_in(Some(file.clone()));
        assert_eq!(again.grant(&token, 1_001), Some(Grant::view("gull")));
        let text = fs::read_to_string(&file).expect("kept");
        assert!(!text.contains(&token), "only the hash is kept");
        sessions.end(&token);
        assert_eq!(Sessions::kept_in(Some(file)).grant(&token, 1_001), None);
    }

    #[test]
    fn the_oldest_makes_room() {
        let mut sessions = Sessions::kept_in(None);
        let first = sessions.start(Grant::work(), 0);
        for at in 1..=MOST_SESSIONS as i64 {
            sessions.start(Grant::work(), at);
        }
        assert_eq!(sessions.grant(&first, 100), None);
        assert_eq!(sessions.by_hash.len(), MOST_SESSIONS);
    }

    #[test]
    fn a_link_for_customers_ends_with_the_next() {
        let mut sessions = Sessions::kept_in(None);
        assert_eq!(sessions.by_link(""), None);
        let first = sessions.view_secret("gull");
        assert_eq!(sessions.by_link(&first), Some(Grant::view("gull")));
        let second = sessions.view_secret("tern");
        assert_eq!(sessions.by_link(&first), None);
        assert_eq!(sessions.by_link(&second), Some(Grant::view("tern")));
    }

    #[test]
    fn a_customer_sees_one_job_and_who_works_sees_all() {
        assert!(Grant::view("gull").covers("gull") && !Grant::view("gull").covers("tern"));
        assert!(Grant::work().covers("gull") && Grant::work().covers("tern"));
    }
}
