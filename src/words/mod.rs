//! Every sentence for people, in one catalogue: a Fluent file per language under `words/languages`.
//!
//! Adding a language is adding a file; no code changes. What a caveat or a finding says is
//! looked up by its code, with the facts filled in.

mod catalogue;
mod names;

pub use catalogue::{FALLBACK, UnknownLanguage, Words};
