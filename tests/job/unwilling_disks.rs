//! Full disks and folders that may not be written. On Linux as root on a small disk in memory; elsewhere and without
//! root these tests say that they looked at nothing.

#![cfg(target_os = "linux")]

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::Command;

use hissward::job::{GaugeValue, Job, JobError, JobWriter, Measured, RigReading};
use hissward::opening::Air;
use tempfile::TempDir;

use crate::helpers::{
    assert_intact, files_in_clips, import, job_toml, measured, reading, record, recording, subject, workboat, write_wav,
};

/// A disk in memory, taken down when dropped.
struct Disk {
    folder: TempDir,
}

impl Disk {
    fn of_kib(kib: u32) -> Option<Self> {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &format!("size={kib}k"), "tmpfs"])
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

    fn path(&self) -> &Path {
        self.folder.path()
    }

    fn remount(&self, how: &str) {
        let done = Command::new("mount").args(["-o", &format!("remount,{how}")]).arg(self.path()).status();
        assert!(done.expect("mount runs").success());
    }

    /// Fills the disk and leaves so many pages of 4 KiB.
    fn fill_but(&self, pages: u64) -> PathBuf {
        let filler = self.path().join("filler");
        let mut size = 0_u64;
        while fs::write(&filler, vec![1; usize::try_from(size + 4096).expect("small")]).is_ok() {
            size += 4096;
        }
        fs::write(&filler, vec![1; usize::try_from(size.saturating_sub(4096 * pages)).expect("small")])
            .expect("it fits");
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

fn is_full(error: &JobError) -> bool {
    matches!(error, JobError::Disk { source, .. } if source.kind() == io::ErrorKind::StorageFull)
}

type Step = fn(&mut JobWriter, &Path) -> Result<(), JobError>;

/// Writes sound, and meets the full disk as any writer of sound does.
fn write_sound(path: &Path) -> Result<Measured, JobError> {
    let written = fs::write(path, vec![0; 9_000]).map(|()| measured(4_000));
    written.map_err(|source| JobError::Disk { doing: "writing sound", path: path.to_owned(), source })
}

fn read_gauge(job: &mut JobWriter, _: &Path) -> Result<(), JobError> {
    job.add_gauge_reading(reading(1, 552.0, 500.0))
}

fn take_in(job: &mut JobWriter, source: &Path) -> Result<(), JobError> {
    let plan = import(source, subject(Some(3), "exhaust", Air::Off), false);
    job.import(&[plan], |_, slot| write_sound(slot.path())).map(drop)
}

fn record_clip(job: &mut JobWriter, _: &Path) -> Result<(), JobError> {
    let slot = job.start_recording(recording(subject(Some(2), "intake", Air::On)))?;
    let sound = write_sound(slot.path())?;
    job.finish_recording(&slot.file, &sound).map(drop)
}

/// A full disk at every write of a step: the step is done or told, and in between is nothing.
#[test]
fn a_full_disk_at_every_write_is_told_and_changes_nothing() {
    let Some(disk) = Disk::of_kib(256) else { return };
    let elsewhere = tempfile::tempdir().expect("a temporary folder");
    let source = elsewhere.path().join("source.m4a");
    fs::write(&source, vec![7; 10_000]).expect("a source");
    let steps: [(&str, Step); 3] = [("gauge", read_gauge), ("import", take_in), ("recording", record_clip)];
    for (name, step) in steps {
        let told = (0..12).filter(|pages| !step_on_full_disk(&disk, name, step, &source, *pages)).count();
        assert!((1..12).contains(&told), "{name}: with 0 to 11 pages left the disk was full {told} times");
    }
}

/// Does a step with so many pages left; whether it was done.
fn step_on_full_disk(disk: &Disk, name: &str, step: Step, source: &Path, pages: u64) -> bool {
    let path = disk.path().join(format!("{name}-{pages}"));
    let mut job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    let before = job_toml(&path);
    let filler = disk.fill_but(pages);
    let done = step(&mut job, source);
    if let Err(error) = &done {
        assert!(is_full(error), "{name}, {pages} pages: {error}");
        assert!(error.to_string().contains("free some space"), "{error}");
        assert_eq!(Job::open(&path).expect("it opens").record().clips, []);
    }
    assert_intact(&Job::open(&path).expect("it opens"));
    drop(job);
    fs::remove_file(filler).expect("it goes");

    // With room again nothing is left of the step, but for sound that was recorded and waits to be kept.
    let mut job = JobWriter::open(&path, "test").expect("with room it opens");
    if done.is_err() {
        for left in job.leftovers().expect("clips/ can be looked into") {
            job.discard_recording(&left.clip.file).expect("it is thrown away");
        }
        assert!(files_in_clips(&path).is_empty(), "{name}, {pages} pages");
        assert_eq!(job_toml(&path), before, "{name}, {pages} pages");
    }
    drop(job);
    fs::remove_dir_all(&path).expect("it goes");
    done.is_ok()
}

/// The sound fills the disk: what there is stays, and is found when there is room again.
#[test]
fn a_recording_that_fills_the_disk_is_kept() {
    let Some(disk) = Disk::of_kib(256) else { return };
    let path = disk.path().join("job");
    let mut job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    let slot = job.start_recording(recording(subject(Some(2), "intake", Air::On))).expect("a place");
    let measured = write_wav(slot.path(), 480, 1);
    let filler = disk.fill_but(0);
    let told = job.finish_recording(&slot.file, &measured).expect_err("the disk is full");
    assert!(is_full(&told), "{told}");
    drop(job);
    fs::remove_file(filler).expect("it goes");
    let mut job = JobWriter::open(&path, "test").expect("it opens");
    let left = job.leftovers().expect("clips/");
    assert_eq!(left.len(), 1);
    job.finish_recording(&left[0].clip.file, &measured).expect("now there is room");
    assert_intact(&job);
    assert_eq!(files_in_clips(&path), ["c2-intake-on-t1.wav"]);
}

#[test]
fn a_new_job_on_a_full_disk_leaves_nothing() {
    let Some(disk) = Disk::of_kib(64) else { return };
    let filler = disk.fill_but(0);
    let path = disk.path().join("job");
    let told = JobWriter::create(&path, workboat(), "test").expect_err("the disk is full");
    assert!(is_full(&told), "{told}");
    assert!(!path.exists(), "nothing is left");
    fs::remove_file(filler).expect("it goes");
    JobWriter::create(&path, workboat(), "test").expect("with room it is made");
}

#[test]
fn a_read_only_disk_can_be_read() {
    let Some(disk) = Disk::of_kib(256) else { return };
    let path = disk.path().join("job");
    let mut job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    let clip = record(&mut job, subject(Some(2), "intake", Air::On)).expect("a clip");
    drop(job);
    disk.remount("ro");
    let read = Job::open(&path).expect("it can be read");
    assert_eq!(read.record().clips, [clip]);
    assert_intact(&read);
    let told = JobWriter::open(&path, "test").expect_err("it cannot be written").to_string();
    assert!(told.contains("may not be written"), "{told}");
    let told = read.write_result("ranking.json", b"{}").expect_err("it cannot be written").to_string();
    assert!(told.contains("may not be written"), "{told}");
    disk.remount("rw");
}

/// The folder goes away while the program has it open.
#[test]
fn a_folder_that_is_taken_away_is_told() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("job");
    let mut job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    fs::remove_dir_all(&path).expect("it goes");
    let rig = RigReading { value: GaugeValue::Pressures { supply_kpa: 552.0, held_kpa: 550.0 }, when: None };
    let told = job.set_rig(rig).expect_err("it is gone").to_string();
    assert!(told.contains("no such job folder"), "{told}");
    assert!(!path.exists(), "and it is not made again");
}
