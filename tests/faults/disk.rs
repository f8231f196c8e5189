//! A small disk in memory, for root on Linux.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use tempfile::TempDir;

/// A disk in memory, taken down when dropped.
pub struct Disk {
    folder: TempDir,
}

impl Disk {
    /// Mounts one; `None`, and a word on stderr, where this user cannot.
    pub fn of_mib(mib: u32) -> Option<Self> {
        let folder = tempfile::tempdir().expect("a folder");
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &format!("size={mib}m"), "tmpfs"])
            .arg(folder.path())
            .output()
            .is_ok_and(|done| done.status.success());
        if !mounted {
            #[expect(clippy::print_stderr, reason = "a test that looked at nothing says so")]
            {
                eprintln!("not looked at: this user cannot mount a small disk in memory (root can)");
            }
            return None;
        }
        Some(Self { folder })
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    /// Mounts it anew: `ro` or `rw`.
    pub fn remount(&self, how: &str) {
        let done = Command::new("mount").args(["-o", &format!("remount,{how}")]).arg(self.path()).status();
        assert!(done.expect("mount runs").success());
    }

    /// Fills the disk and leaves so many pages of 4 KiB; the filler's path.
    pub fn fill_but(&self, pages: usize) -> PathBuf {
        let filler = self.path().join("filler");
        let mut file = fs::File::create(&filler).expect("a file");
        let page = [1; 4096];
        let mut written = 0_u64;
        while std::io::Write::write_all(&mut file, &page).is_ok() {
            written += 4096;
        }
        file.set_len(written.saturating_sub(4096 * pages as u64)).expect("it shrinks");
        filler
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let done = Command::new("umount").arg(self.folder.path()).status();
        if !std::thread::panicking() {
            assert!(done.expect("umount runs").success());
        }
    }
}
