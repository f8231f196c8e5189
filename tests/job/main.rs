//! The job folder from outside: what is written is read back, hands may edit, and nothing is lost when things go wrong.

mod adding;
mod amending;
mod coming_in;
mod commands;
mod hand_edited;
mod helpers;
mod killed;
mod round_trip;
mod two_programs;
mod unwilling_disks;
