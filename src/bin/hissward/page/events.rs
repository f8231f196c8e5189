//! What happens, told to every screen as it happens (server-sent events).

use std::convert::Infallible;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Duration;

use axum::response::sse::{Event, KeepAlive, Sse};
use futures_util::stream::{self, Stream};
use serde_json::Value;
use tokio::sync::broadcast;

use super::error::PageError;

/// Events kept for a screen that is slow; it is told when it missed some, and asks for everything anew.
const BACKLOG: usize = 256;
/// Screens at one time.
const MOST_SCREENS: usize = 32;
/// A sign of life for proxies and for the script.
const SIGN_OF_LIFE: Duration = Duration::from_secs(10);

/// One thing that happened in a job.
#[derive(Debug, Clone)]
struct Happened {
    job: String,
    kind: &'static str,
    told: Arc<str>,
}

/// The wire on which it is told.
#[derive(Clone)]
pub struct Events {
    sender: broadcast::Sender<Happened>,
    screens: Arc<AtomicUsize>,
}

impl Default for Events {
    fn default() -> Self {
        Self { sender: broadcast::channel(BACKLOG).0, screens: Arc::default() }
    }
}

/// A screen that listens; counted until it goes.
struct Screen {
    job: String,
    receiver: broadcast::Receiver<Happened>,
    count: Arc<AtomicUsize>,
}

impl Drop for Screen {
    fn drop(&mut self) {
        self.count.fetch_sub(1, Ordering::Relaxed);
    }
}

impl Events {
    /// Tells all screens of a job.
    pub fn tell(&self, job: &str, kind: &'static str, told: &Value) {
        // Nobody listening is no failure.
        drop(self.sender.send(Happened { job: job.to_owned(), kind, told: told.to_string().into() }));
    }

    /// The stream for one screen.
    pub fn stream(&self, job: &str) -> Result<Sse<impl Stream<Item = Result<Event, Infallible>> + use<>>, PageError> {
        if self.screens.fetch_add(1, Ordering::Relaxed) >= MOST_SCREENS {
            self.screens.fetch_sub(1, Ordering::Relaxed);
            return Err(PageError::TooMuch { what: "too many screens show this: close one" });
        }
        let screen =
            Screen { job: job.to_owned(), receiver: self.sender.subscribe(), count: Arc::clone(&self.screens) };
        let stream = stream::unfold(screen, |mut screen| async move {
            loop {
                match screen.receiver.recv().await {
                    Ok(happened) if happened.job == screen.job => {
                        let event = Event::default().event(happened.kind).data(&*happened.told);
                        return Some((Ok(event), screen));
                    }
                    Ok(_) => {}
                    Err(broadcast::error::RecvError::Lagged(_)) => {
                        return Some((Ok(Event::default().event("missed").data("{}")), screen));
                    }
                    Err(broadcast::error::RecvError::Closed) => return None,
                }
            }
        });
        Ok(Sse::new(stream).keep_alive(KeepAlive::new().interval(SIGN_OF_LIFE).text("here")))
    }
}
