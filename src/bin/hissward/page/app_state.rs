//! What all requests share.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Instant;

use super::answer::Answers;
use super::desk::Desk;
use super::error::PageError;
use super::events::Events;
use super::guard::Pace;
use super::log::Log;
use super::pairing::Pairing;
use super::session::Sessions;
use super::shelf::Shelf;

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

/// Who may come in.
pub struct Doors {
    /// The code.
    pub pairing: Pairing,
    /// Those who came in.
    pub sessions: Sessions,
    /// How fast each may ask.
    pub pace: Pace,
}

struct Parts {
    shelf: Shelf,
    reach: Reach,
    doors: Mutex<Doors>,
    desks: Mutex<BTreeMap<String, Arc<Mutex<Desk>>>>,
    answers: Answers,
    events: Events,
    log: Log,
}

impl AppState {
    /// The state of a page over a shelf of jobs.
    pub fn new(shelf: Shelf, reach: Reach, sessions: Sessions, log: Log) -> Self {
        let doors = Doors { pairing: Pairing::new(Instant::now()), sessions, pace: Pace::default() };
        Self(Arc::new(Parts {
            shelf,
            reach,
            doors: Mutex::new(doors),
            desks: Mutex::default(),
            answers: Answers::default(),
            events: Events::default(),
            log,
        }))
    }

    /// The jobs.
    pub fn shelf(&self) -> &Shelf {
        &self.0.shelf
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
    pub fn doors(&self) -> MutexGuard<'_, Doors> {
        held(&self.0.doors)
    }

    /// Works at a job's desk, away from the threads that serve. One at a time for each job.
    pub async fn at_desk<T: Send + 'static>(
        &self,
        job: &str,
        work: impl FnOnce(&mut Desk) -> Result<T, PageError> + Send + 'static,
    ) -> Result<T, PageError> {
        let (state, job) = (self.clone(), job.to_owned());
        off_thread(move || {
            let desk = state.desk(&job)?;
            let mut desk = held(&desk);
            work(&mut desk)
        })
        .await
    }

    fn desk(&self, job: &str) -> Result<Arc<Mutex<Desk>>, PageError> {
        let folder = self.shelf().find(job)?;
        let mut desks = held(&self.0.desks);
        Ok(Arc::clone(desks.entry(job.to_owned()).or_insert_with(|| Arc::new(Mutex::new(Desk::new(folder))))))
    }

    /// Makes clips of recordings whose phone went away for good.
    pub fn sweep(&self) {
        let desks: Vec<(String, Arc<Mutex<Desk>>)> =
            held(&self.0.desks).iter().map(|(job, desk)| (job.clone(), Arc::clone(desk))).collect();
        for (job, desk) in desks {
            for clip in held(&desk).sweep(Instant::now()) {
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
