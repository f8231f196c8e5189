//! What all requests share.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Instant;

use super::answer::Answers;
use super::error::PageError;
use super::events::Events;
use super::guard::RateLimit;
use super::job_directory::JobDirectory;
use super::job_session::JobSession;
use super::log::Log;
use super::pairing::Pairing;
use super::session::Sessions;

/// Under which names and how the page is reached.
#[derive(Debug, Clone)]
pub struct Reach {
    /// `Host` headers that are taken.
    pub hosts: Vec<String>,
    /// `http` or `https`.
    pub scheme: &'static str,
    /// The address for people and for the QR code, without a code.
    pub address: String,
}

impl Reach {
    /// Whether it goes over TLS.
    pub fn is_secure(&self) -> bool {
        self.scheme == "https"
    }
}

/// The page's state; clones share it.
#[derive(Clone)]
pub struct AppState(Arc<Parts>);

/// Who may come in: pairing, sessions, rate limit.
pub struct Auth {
    /// The code.
    pub pairing: Pairing,
    /// Those who came in.
    pub sessions: Sessions,
    /// How fast each may ask.
    pub rate_limit: RateLimit,
}

struct Parts {
    directory: JobDirectory,
    reach: Reach,
    auth: Mutex<Auth>,
    job_sessions: Mutex<BTreeMap<String, Arc<Mutex<JobSession>>>>,
    answers: Answers,
    events: Events,
    log: Log,
}

impl AppState {
    /// The state of a page over a directory of jobs.
    pub fn new(directory: JobDirectory, reach: Reach, sessions: Sessions, log: Log) -> Self {
        let auth = Auth { pairing: Pairing::new(Instant::now()), sessions, rate_limit: RateLimit::default() };
        Self(Arc::new(Parts {
            directory,
            reach,
            auth: Mutex::new(auth),
            job_sessions: Mutex::default(),
            answers: Answers::default(),
            events: Events::default(),
            log,
        }))
    }

    /// The jobs.
    pub fn directory(&self) -> &JobDirectory {
        &self.0.directory
    }

    /// How it is reached.
    pub fn reach(&self) -> &Reach {
        &self.0.reach
    }

    /// The events.
    pub fn events(&self) -> &Events {
        &self.0.events
    }

    /// The rankings.
    pub fn answers(&self) -> &Answers {
        &self.0.answers
    }

    /// The log.
    pub fn log(&self) -> Log {
        self.0.log
    }

    /// Pairing and sessions.
    pub fn auth(&self) -> MutexGuard<'_, Auth> {
        held(&self.0.auth)
    }

    /// Works in a job's session, away from the threads that serve. One at a time for each job.
    pub async fn in_job_session<T: Send + 'static>(
        &self,
        job: &str,
        work: impl FnOnce(&mut JobSession) -> Result<T, PageError> + Send + 'static,
    ) -> Result<T, PageError> {
        let (state, job) = (self.clone(), job.to_owned());
        off_thread(move || {
            let session = state.job_session(&job)?;
            let mut session = held(&session);
            work(&mut session)
        })
        .await
    }

    fn job_session(&self, job: &str) -> Result<Arc<Mutex<JobSession>>, PageError> {
        let folder = self.directory().find(job)?;
        let mut sessions = held(&self.0.job_sessions);
        Ok(Arc::clone(sessions.entry(job.to_owned()).or_insert_with(|| Arc::new(Mutex::new(JobSession::new(folder))))))
    }

    /// Makes clips of recordings whose phone went away for good.
    pub fn sweep(&self) {
        let sessions: Vec<(String, Arc<Mutex<JobSession>>)> =
            held(&self.0.job_sessions).iter().map(|(job, session)| (job.clone(), Arc::clone(session))).collect();
        for (job, session) in sessions {
            for clip in held(&session).sweep(Instant::now()) {
                self.log().line(None, &format!("{job}: {clip}: its phone went away, what came is kept"));
                self.events().tell(&job, "job", &serde_json::json!({ "clip": clip }));
            }
        }
    }
}

/// Runs work that waits for the disk or computes long, away from the threads that serve.
pub async fn off_thread<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, PageError> + Send + 'static,
) -> Result<T, PageError> {
    tokio::task::spawn_blocking(work).await.map_err(|error| PageError::Inside(error.to_string()))?
}

/// What a thread that panicked left is whole here: changes to it are single steps.
fn held<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
