//! Killed at any moment: what was acknowledged is there, the rest is found or cleared, and nothing is half.

use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use hissward::job::{Job, JobError, JobWriter, Measured};
use hissward::opening::Air;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use crate::helpers::{
    assert_intact, files_in_clips, import, measured, place, reading, record, subject, workboat, write_wav,
};

/// Tells the worker which job to work on.
const JOB: &str = "HISSWARD_TEST_JOB_TO_BE_KILLED";
/// Kills in one run.
const KILLS: u32 = 50;

/// Not a test of its own: the program that the test below kills. Says after each step what is done.
#[test]
#[ignore = "runs only as the program that `killed_at_random_points_nothing_is_lost` kills"]
fn worker() {
    let Ok(path) = std::env::var(JOB) else { return };
    let path = Path::new(&path);
    let mut job = JobWriter::open(path, "worker").expect("the job opens");
    let source = path.with_file_name("source.m4a");
    fs::write(&source, vec![7; 100_000]).expect("a source");
    for round in 1_u32.. {
        job.add_gauge_reading(reading(1, 552.0, 400.0 + f64::from(round % 100))).expect("a reading");
        say("gauge");
        record(&mut job, subject(Some(2), "intake", Air::On)).expect("a recording");
        say("recording");
        let plan = import(&source, subject(Some(3), "exhaust", Air::Off), false);
        job.import(&[plan.clone(), plan], |_, slot| Ok::<Measured, JobError>(write_wav(slot.path(), 20_000, round)))
            .expect("two imports");
        say("import");
    }
}

fn say(what: &str) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "\ndone {what}").and_then(|()| out.flush()).expect("somebody listens");
}

#[derive(Default, Debug, PartialEq, Clone, Copy)]
struct Count {
    gauge: usize,
    recording: usize,
    import: usize,
}

fn count(job: &Job) -> Count {
    let of = |cylinder| job.record().clips.iter().filter(|clip| clip.subject.cylinder == Some(cylinder)).count();
    Count { gauge: job.record().gauge.len(), recording: of(2), import: of(3) }
}

/// Lets the worker run for a while, kills it, and says what it had acknowledged.
fn run_and_kill(job: &Path, run_for: Duration) -> Count {
    let mut child = Command::new(std::env::current_exe().expect("this test's program"))
        .args(["killed::worker", "--exact", "--ignored", "--nocapture"])
        .env(JOB, job)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the worker starts");
    let lines = BufReader::new(child.stdout.take().expect("its stdout")).lines();
    let reader = std::thread::spawn(move || {
        let mut done = Count::default();
        for line in lines.map_while(Result::ok) {
            match line.strip_prefix("done ") {
                Some("gauge") => done.gauge += 1,
                Some("recording") => done.recording += 1,
                Some("import") => done.import += 2,
                _ => {}
            }
        }
        done
    });
    std::thread::sleep(run_for);
    // On Unix this is kill −9.
    child.kill().expect("it can be killed");
    assert!(!child.wait().expect("it ended").success(), "it was killed, not done");
    reader.join().expect("no panic")
}

#[test]
fn killed_at_random_points_nothing_is_lost() {
    let (_folder, path) = place();
    drop(JobWriter::create(&path, workboat(), "test").expect("a new job"));
    let mut chance = ChaCha8Rng::seed_from_u64(25);
    let (mut before, mut adopted, mut cut_within_a_step) = (Count::default(), 0, 0);
    for kill in 0..KILLS {
        let done = run_and_kill(&path, Duration::from_micros(chance.random_range(8_000..120_000)));
        let read = Job::open(&path).unwrap_or_else(|error| panic!("kill {kill}: {error}"));
        assert_intact(&read);
        let found = count(&read);
        assert!(found.gauge >= before.gauge + done.gauge, "kill {kill}: {before:?} + {done:?} > {found:?}");
        assert!(found.recording >= before.recording + done.recording, "kill {kill}: {before:?} + {done:?} > {found:?}");
        assert!(found.import >= before.import + done.import, "kill {kill}: {before:?} + {done:?} > {found:?}");
        assert_eq!((found.import - before.import) % 2, 0, "kill {kill}: two files are taken in together or not at all");
        cut_within_a_step += usize::from(!read.record().pending.is_empty());

        let mut job = JobWriter::open(&path, "test").unwrap_or_else(|error| panic!("kill {kill}: {error}"));
        for left in job.leftovers().expect("clips/ can be looked into") {
            if left.path.is_some() {
                job.finish_recording(&left.clip.file, &Measured { cut_short: true, ..measured(480) })
                    .expect("it is kept");
                adopted += 1;
            } else {
                job.discard_recording(&left.clip.file).expect("it is thrown away");
            }
        }
        assert!(job.record().pending.is_empty());
        assert_intact(&job);
        let listed = job.record().clips.iter().flat_map(|clip| {
            let original = clip.import.as_ref().and_then(|import| import.original.as_ref());
            std::iter::once(clip.file.to_string()).chain(original.map(|original| original.file.to_string()))
        });
        let mut listed: Vec<String> = listed.collect();
        listed.sort();
        assert_eq!(files_in_clips(&path), listed, "kill {kill}: neither more nor less than what is listed");
        before = count(&job);
    }
    assert!(before.gauge > 20 && cut_within_a_step > 5, "the kills hit: {before:?}, {cut_within_a_step}, {adopted}");
    let names: Vec<String> = fs::read_dir(&path)
        .expect("the job")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .filter(|name| name.starts_with(".new-job.toml"))
        .collect();
    assert!(names.is_empty(), "{names:?}");
}
