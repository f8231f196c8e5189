//! The job's folder goes away while the program works in it.

use std::fs;
use std::process::Stdio;
use std::time::{Duration, Instant};

use crate::commands::{WRITING, copy, done, failed_well, prepared, program, run};

/// At a few moments of each command that works in a job: it ends with what it had or tells what is missing, and it
/// does not make half a job anew.
#[test]
fn a_folder_that_goes_away_is_told() {
    let template = prepared();
    let mut told = 0;
    for writing in WRITING.iter().filter(|writing| writing.arguments.get(1) == Some(&"job")) {
        let folder = tempfile::tempdir().expect("a folder");
        copy(template.path(), folder.path());
        let job = folder.path().join("job");
        let begun = Instant::now();
        done(&run(folder.path(), writing.arguments), writing.name);
        let whole_run = begun.elapsed();
        for eighth in 0..9 {
            if !job.exists() {
                copy(&template.path().join("job"), &job);
            }
            let child = program(folder.path())
                .args(writing.arguments)
                .stdout(Stdio::piped())
                .stderr(Stdio::piped())
                .spawn()
                .expect("it starts");
            std::thread::sleep(whole_run * eighth / 8);
            let gone = folder.path().join(format!("gone-{eighth}"));
            fs::rename(&job, &gone).expect("it goes");
            fs::remove_dir_all(&gone).or_else(|_| pause_and_remove(&gone)).expect("it goes");
            let output = child.wait_with_output().expect("it ends");
            let what = format!("{} without its folder after {eighth}/8", writing.name);
            if output.status.code() == Some(2) {
                failed_well(&output, &what);
                told += 1;
            } else {
                done(&output, &what);
            }
            assert!(!job.join("job.toml").exists(), "{what}: no job is made anew");
            if job.exists() {
                fs::remove_dir_all(&job).expect("it goes");
            }
            crate::commands::take_away(folder.path(), writing.makes);
        }
    }
    assert!(told > 10, "told {told} times");
}

/// The program may have made a file in it in the same moment.
fn pause_and_remove(gone: &std::path::Path) -> std::io::Result<()> {
    std::thread::sleep(Duration::from_millis(300));
    fs::remove_dir_all(gone)
}
