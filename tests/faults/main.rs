//! The program as it is run, under kill −9, on full and read-only disks, with its folder gone, its clock wrong and
//! another program at the same job. Nothing acknowledged is lost, nothing is half, and each is said.

mod clock;
mod commands;
#[cfg(target_os = "linux")]
mod disk;
#[cfg(target_os = "linux")]
mod full_disk;
mod hostile;
mod killed;
mod removed;
mod two_at_once;
mod whole;
