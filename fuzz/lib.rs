//! What the fuzz targets share: the readers, and a place to put files.

use std::path::{Path, PathBuf};
use std::sync::LazyLock;

mod readers;

pub use readers::*;

/// A folder of this process, in memory where there is such a place: a fuzzer writes a file for every input.
pub fn scratch() -> &'static Path {
    static SCRATCH: LazyLock<PathBuf> = LazyLock::new(|| {
        let memory = Path::new("/dev/shm");
        let parent = if memory.is_dir() { memory.to_owned() } else { std::env::temp_dir() };
        let folder = parent.join(format!("hissward-fuzz-{}", std::process::id()));
        std::fs::create_dir_all(&folder).expect("a scratch folder");
        folder
    });
    &SCRATCH
}
