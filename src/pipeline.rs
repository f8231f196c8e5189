//! The order of things, one screen long.
