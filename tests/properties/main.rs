//! What must not move a ranking, whatever the clips are, and what must hold of every one.

mod absurd;
mod changed;
mod clips;
mod evidence;
mod files;
mod hiss;
mod recorders;
mod whole_way;
