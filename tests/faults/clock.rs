//! A clock that was set back: what is in the job is later than now.

use std::fs;

use hissward::job::Job;

use crate::commands::{WRITING, done, prepared, run, take_away};
use crate::whole::assert_whole;

#[test]
fn a_job_from_the_future_is_worked_on_and_the_last_entry_counts() {
    let folder = prepared();
    let path = folder.path().join("job/job.toml");
    let text = fs::read_to_string(&path).expect("a record");
    let year = text.split("created = \"").nth(1).and_then(|rest| rest.get(..4)).expect("a year").to_owned();
    fs::write(&path, text.replace(&format!("\"{year}-"), "\"2099-")).expect("written");
    for writing in &WRITING {
        take_away(folder.path(), writing.makes);
        done(&run(folder.path(), writing.arguments), writing.name);
    }
    assert_whole(folder.path(), "from the future");
    let job = Job::open(&folder.path().join("job")).expect("it opens");
    let record = job.record();
    assert!(record.created.as_ref().expect("a time").to_string().starts_with("2099"));
    // The reading that came last is the one that counts, though its time is earlier.
    let last = record.latest_gauge(1).expect("a reading");
    assert_eq!(Some(last), record.gauge.last());
    assert!(!last.when.as_ref().expect("a time").to_string().starts_with("2099"));
    let visits: Vec<_> = record.clips.iter().filter_map(|clip| clip.visit).collect();
    assert!(visits.is_sorted(), "{visits:?}");
}
