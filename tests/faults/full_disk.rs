//! Disks that are full or may not be written.

use std::fs::{self, File};
use std::process::Stdio;

use hissward::job::Job;

use crate::commands::{WRITING, copy, done, failed_well, prepared, program, run, said, take_away};
use crate::disk::Disk;
use crate::whole::{assert_whole, leftovers};

/// Pages of 4 KiB left on the disk, from none to enough for most.
const PAGES_LEFT: [usize; 9] = [0, 1, 2, 3, 5, 9, 17, 40, 100];

/// The disk is full at one write or another of each command: it is done or told, nothing is half, nothing is left
/// over, and with room again it is done.
#[test]
fn a_full_disk_is_told_and_leaves_nothing_half() {
    let Some(disk) = Disk::of_mib(24) else { return };
    let template = prepared();
    let mut told = 0;
    for writing in &WRITING {
        let place = disk.path().join("place");
        copy(template.path(), &place);
        for pages in PAGES_LEFT {
            let what = format!("{} with {pages} pages left", writing.name);
            let before = Job::open(&place.join("job")).expect("it opens").record().clone();
            let filler = disk.fill_but(pages);
            let output = run(&place, writing.arguments);
            assert_whole(&place, &what);
            if output.status.code() == Some(2) {
                failed_well(&output, &what);
                let said = said(&output);
                assert!(said.contains("free some space") || said.contains("make room"), "{what}: {said}");
                assert!(writing.makes.is_none_or(|made| !place.join(made).exists()), "{what}: it left something");
                let now = Job::open(&place.join("job")).expect("it opens").record().clone();
                assert_eq!((now.clips, now.gauge, now.rig), (before.clips, before.gauge, before.rig), "{what}");
                told += 1;
            } else {
                done(&output, &what);
            }
            fs::remove_file(filler).expect("it goes");
            take_away(&place, writing.makes);
        }
        done(&run(&place, writing.arguments), writing.name);
        assert!(leftovers(&place).is_empty(), "{}: {:?}", writing.name, leftovers(&place));
        fs::remove_dir_all(&place).expect("it goes");
    }
    // Ten of the twelve write more than nothing before they are done; `rank` tells and does not fail.
    assert!(told >= 20, "told {told} times");
}

/// A job on a disk that may not be written can be read, ranked and packed elsewhere; whatever would change it is told.
#[test]
fn a_read_only_disk_is_told_and_read() {
    let Some(disk) = Disk::of_mib(24) else { return };
    let template = prepared();
    copy(template.path(), disk.path());
    disk.remount("ro");
    let mut told = 0;
    for writing in &WRITING {
        let output = run(disk.path(), writing.arguments);
        if output.status.code() == Some(2) {
            failed_well(&output, writing.name);
            told += 1;
        } else {
            assert_eq!(writing.name, "rank", "{}", said(&output));
            assert!(!output.stdout.is_empty() && said(&output).contains("may not be written"), "{}", said(&output));
        }
    }
    assert_eq!(told, WRITING.len() - 1);
    let elsewhere = tempfile::tempdir().expect("a folder");
    let out = elsewhere.path().join("pack.zip").display().to_string();
    done(&run(disk.path(), &["pack", "job", "--unsigned", "--out", &out]), "pack elsewhere");
    assert_whole(disk.path(), "read-only");
    disk.remount("rw");
}

/// What is printed does not fit where it is sent.
#[test]
fn results_sent_to_a_full_device_are_told() {
    let folder = prepared();
    for arguments in [&["rank", "job", "--json"][..], &["gauge", "job", "--cylinder", "1", "--loss", "12"]] {
        let full = File::options().write(true).open("/dev/full").expect("Linux has it");
        let output =
            program(folder.path()).args(arguments).stdout(full).stderr(Stdio::piped()).output().expect("it runs");
        failed_well(&output, arguments[0]);
        assert!(said(&output).contains("stdout"), "{}", said(&output));
    }
}
