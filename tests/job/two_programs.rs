//! Two programs on one job.

use std::thread;
use std::time::{Duration, Instant};

use hissward::job::{Job, JobError, JobWriter};

use crate::helpers::{place, reading, started, workboat};

#[test]
fn the_second_writer_is_told_who_the_first_is() {
    let (_folder, path) = place();
    let first = JobWriter::create(&path, workboat(), "guide").expect("a new job");
    let told = JobWriter::open(&path, "gauge").expect_err("somebody writes").to_string();
    let me = format!("'hissward guide' (process {}", std::process::id());
    assert!(told.contains(&me) && told.contains("let it finish"), "{told}");
    assert!(Job::open(&path).is_ok(), "readers are free");
    drop(first);
    assert!(JobWriter::open(&path, "gauge").is_ok());
}

#[test]
fn a_short_writer_is_waited_for() {
    let (_folder, first) = started();
    let path = first.folder().to_owned();
    let waiting = thread::spawn(move || {
        let begun = Instant::now();
        JobWriter::open(&path, "gauge").map(|_| begun.elapsed())
    });
    thread::sleep(Duration::from_millis(200));
    drop(first);
    let waited = waiting.join().expect("no panic").expect("it gets its turn");
    assert!(waited >= Duration::from_millis(100), "{waited:?}");
}

/// Many at once: each reading arrives, none is lost, whoever was first.
#[test]
fn readings_from_many_sides_all_arrive() {
    const EACH: usize = 5;
    let (_folder, job) = started();
    let path = job.folder().to_owned();
    drop(job);
    let threads: Vec<_> = (1..=3)
        .map(|cylinder| {
            let path = path.clone();
            thread::spawn(move || {
                for _ in 0..EACH {
                    // On a slow disk a turn may not come within the patience of one attempt.
                    loop {
                        match JobWriter::open(&path, "gauge") {
                            Ok(mut job) => {
                                break job.add_gauge_reading(reading(cylinder, 552.0, 500.0)).expect("a reading");
                            }
                            Err(JobError::Busy { .. }) => {}
                            Err(other) => panic!("{other}"),
                        }
                    }
                }
            })
        })
        .collect();
    threads.into_iter().for_each(|thread| thread.join().expect("no panic"));
    let read = Job::open(&path).expect("it opens");
    for cylinder in 1..=3 {
        assert_eq!(read.record().gauge.iter().filter(|reading| reading.cylinder == cylinder).count(), EACH);
    }
}

/// Two that start the same job: one has it, the other is told, and what the one made is whole.
#[test]
fn one_of_two_new_jobs_wins() {
    for _ in 0..20 {
        let (_folder, path) = place();
        let start =
            |path: std::path::PathBuf| thread::spawn(move || JobWriter::create(&path, workboat(), "new").map(drop));
        let (one, other) = (start(path.clone()), start(path.clone()));
        let outcomes = [one.join().expect("no panic"), other.join().expect("no panic")];
        assert_eq!(outcomes.iter().filter(|outcome| outcome.is_ok()).count(), 1, "{outcomes:?}");
        let refused = outcomes.iter().find_map(|outcome| outcome.as_ref().err()).expect("one is refused");
        assert!(matches!(refused, JobError::AlreadyAJob { .. }), "{refused}");
        assert_eq!(Job::open(&path).expect("it is whole").record(), &workboat());
    }
}
