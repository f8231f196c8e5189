//! What the commands share that listen while a person works: ears, rhythm, keyboard, big letters.
pub mod ears;
pub mod rhythm;
