//! The bench page: the phone is the microphone and the screen, this machine does the work.
//!
//! Reading order: [`serve`] binds and runs, `accepting` takes connections in, `router` says which request goes where,
//! `guard` stands before all of them, `entrance` lets people in (`pairing`, `session`). `jobs`, `readings`, `uploads` are
//! the handlers; `job_session` is one job as the page works on it, `journal` what has arrived of each recording. The page's own
//! files are in `web/`.

mod accepting;
mod adding;
mod amending;
mod answer;
mod app_state;
mod assets;
pub mod browser;
mod connections;
mod entrance;
mod error;
mod events;
mod guard;
mod job_directory;
mod job_session;
mod jobs;
mod journal;
mod log;
mod meter;
mod pairing;
mod papers;
mod place;
mod prefix;
mod qr;
mod readings;
mod router;
mod serve;
mod session;
mod terminal;
mod tls;
mod uploads;

pub use serve::{Settings, own_address, serve};
