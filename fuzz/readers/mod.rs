//! Every reader of bytes from outside as a function of bytes, and what must hold whatever the bytes are.
//!
//! Built twice: into the fuzz targets beside this folder, and into `tests/corpora`, which feeds them every kept input and thousands near them.
//! A function returns where the bytes are refused, and panics where a promise is broken.

mod audio;
mod command_lines;
mod job_toml;
mod kept_ranking;
mod logo;
mod pack;
mod pack_names;
mod page;
mod page_requests;
mod quantities;
mod settings;
mod sound;
mod telling;
mod uploads;

use std::path::Path;

pub use audio::audio;
pub use command_lines::command_lines;
pub use job_toml::job_toml;
pub use kept_ranking::kept_ranking;
pub use logo::logo;
pub use pack::pack;
pub use pack_names::pack_names;
pub use page_requests::page_requests;
pub use quantities::quantities;
pub use settings::settings;
pub use sound::sound;
pub use uploads::uploads;

/// A reader: bytes, and a folder that is its own.
pub type Reader = fn(&[u8], &Path);

/// Every reader by the name of its target and corpus.
pub const READERS: [(&str, Reader); 12] = [
    ("audio", audio),
    ("command_lines", command_lines),
    ("job_toml", job_toml),
    ("kept_ranking", kept_ranking),
    ("logo", logo),
    ("pack", pack),
    ("pack_names", pack_names),
    ("page_requests", page_requests),
    ("quantities", quantities),
    ("settings", settings),
    ("sound", sound),
    ("uploads", uploads),
];
