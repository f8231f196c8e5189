//! What the guide says while it records is what `rank` says afterwards.

use std::process::Command;
use std::sync::Arc;

use hissward::audio::{ChannelChoice, read_clip};
use hissward::hiss::ClipAnalyzer;
use hissward::job::Job;
use hissward::pipeline::{AnalyzedClip, HeardClip, rank_heard, rank_job};

use super::shop::PROGRAM;

/// Blocks as a sound card hands them over: no power of two, and nothing that a reader of files would choose.
const BLOCK: usize = 441;

#[test]
fn the_live_answer_is_that_of_rank_to_the_last_digit() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("job");
    let made = Command::new(PROGRAM)
        .args(["simulate", "--cylinders", "2", "--seconds", "4", "--leak", "1:exhaust:6", "--leak", "2:oil-filler:9"])
        .args(["--quiet", "--out"])
        .arg(&path)
        .output()
        .expect("it runs");
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    let job = Job::open(&path).expect("it opens");
    let heard: Vec<HeardClip> = job
        .record()
        .clips
        .iter()
        .map(|record| {
            let path = job.clip_path(record).expect("there");
            let (clip, caveats) = read_clip(&path, ChannelChoice::First).expect("read");
            // Named as a file is, so that what is said of it is the same, too.
            let mut listener = ClipAnalyzer::new(path.display().to_string(), clip.rate());
            clip.samples().chunks(BLOCK).for_each(|block| listener.push(block));
            let listened = Arc::new(AnalyzedClip { sound: listener.sound(), caveats, either_way: false });
            HeardClip { record: record.clone(), listened }
        })
        .collect();
    let told = rank_job(&job, None).expect("ranked");
    assert_eq!(told.len(), 2);
    assert_eq!(rank_heard(job.record(), &heard), told);
    // A partner that must differ: without one clip the answer is another.
    assert_ne!(rank_heard(job.record(), &heard[1..]), told);
}
