//! What the commands share that listen while a person works.
pub mod big;
pub mod input;
pub mod lines;
pub mod rhythm;
pub mod terminal;
