//! kill −9 at any moment of any writing command.

use std::path::Path;
use std::process::Stdio;
use std::time::{Duration, Instant};

use hissward::job::Job;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use crate::commands::{WRITING, Writing, done, prepared, program, run, take_away};
use crate::whole::assert_whole;

/// Kills of each command in one run.
const KILLS: u32 = 50;
/// Of the demo, which works for seconds before it writes. `HISSWARD_KILLS` asks for more.
const KILLS_OF_DEMO: u32 = 6;

/// How many readings and clips there are.
fn count(folder: &Path) -> (usize, usize) {
    let job = Job::open(&folder.join("job")).expect("it opens");
    (job.record().gauge.len(), job.record().clips.len())
}

/// Starts a command and kills it after a while; whether it was done before.
fn run_and_kill(folder: &Path, arguments: &[&str], after: Duration) -> bool {
    let mut child =
        program(folder).args(arguments).stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("it starts");
    std::thread::sleep(after);
    // On Unix this is kill −9; a program that has ended cannot be killed, and that is as good.
    drop(child.kill());
    child.wait().expect("it ended").success()
}

fn kill_many(writing: &Writing, folder: &Path, seed: u64) {
    let begun = Instant::now();
    done(&run(folder, writing.arguments), writing.name);
    // How long a run takes: followed as it goes, for other work on the machine changes it.
    let mut whole_run = begun.elapsed();
    let mut chance = ChaCha8Rng::seed_from_u64(seed);
    let mut cut = 0;
    for kill in 0..KILLS {
        take_away(folder, writing.makes);
        let before = count(folder);
        let after = whole_run.mul_f64(chance.random_range(0.0..1.1));
        let finished = run_and_kill(folder, writing.arguments, after);
        let what = format!("{} killed after {after:?} (kill {kill})", writing.name);
        cut += usize::from(!finished);
        whole_run = whole_run.mul_f64(if finished { 0.7 } else { 1.05 });
        assert_whole(folder, &what);
        let now = count(folder);
        assert!(now.0 >= before.0 && now.1 >= before.1, "{what}: {before:?} > {now:?}");
        if finished {
            let more = (usize::from(writing.name == "gauge"), 2 * usize::from(writing.name == "add"));
            assert_eq!(now, (before.0 + more.0, before.1 + more.1), "{what}: what was acknowledged is there");
        }
        assert_eq!((now.1 - before.1) % 2, 0, "{what}: two files come together or not at all");
    }
    assert!(cut >= KILLS as usize / 4, "{}: only {cut} of {KILLS} kills hit", writing.name);
    take_away(folder, writing.makes);
    done(&run(folder, writing.arguments), writing.name);
    assert_whole(folder, writing.name);
    let job = Job::open(&folder.join("job")).expect("it opens");
    assert!(job.record().pending.is_empty(), "{}: {:?}", writing.name, job.record().pending);
}

#[test]
fn killed_at_random_points_nothing_is_lost_and_nothing_is_half() {
    let template = prepared();
    let next = std::sync::atomic::AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                while let Some(writing) = WRITING.get(next.fetch_add(1, std::sync::atomic::Ordering::Relaxed)) {
                    let folder = tempfile::tempdir().expect("a folder");
                    crate::commands::copy(template.path(), folder.path());
                    kill_many(writing, folder.path(), writing.name.len() as u64);
                }
            });
        }
    });
}

/// The demo works in place: what a kill leaves of it is a job that opens, or nothing that a job could be taken for.
#[test]
fn a_killed_demo_leaves_a_whole_job_or_none() {
    let kills = std::env::var("HISSWARD_KILLS").ok().and_then(|text| text.parse().ok()).unwrap_or(KILLS_OF_DEMO);
    let folder = tempfile::tempdir().expect("a folder");
    let arguments = ["demo", "--out", "demo"];
    let begun = Instant::now();
    done(&run(folder.path(), &arguments), "demo");
    let whole_run = begun.elapsed();
    let mut chance = ChaCha8Rng::seed_from_u64(4);
    for kill in 0..kills {
        take_away(folder.path(), Some("demo"));
        // From when the sounds are made on, more or less.
        let after = whole_run.mul_f64(chance.random_range(0.3..1.05));
        run_and_kill(folder.path(), &arguments, after);
        assert_whole(folder.path(), &format!("demo killed after {after:?} (kill {kill})"));
    }
}
