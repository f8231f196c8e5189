//! Recordings from a phone, piece by piece, with the program killed in between.

use std::fs;
use std::path::Path;

use hissward::job::{FileState, Job, JobRecord, JobWriter, Sha256};
use hissward::opening::Air;

use super::page::job_session::{Arrival, Ending, JobSession};
use super::page::journal::{check_hash, check_token};
use super::telling::tell;

/// The bytes are a list of requests. The first of each is what is asked, its meaning below; the next its argument.
pub fn uploads(bytes: &[u8], scratch: &Path) {
    let folder = scratch.join("uploads");
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("it goes");
    }
    let record = JobRecord { engine: "workboat".to_owned(), cylinders: 3, ..JobRecord::default() };
    drop(JobWriter::create(&folder, record, "fuzz").expect("a job"));
    let mut session = JobSession::new(folder.clone());
    let mut left = bytes;
    let mut asked = 0;
    while let [what, argument, rest @ ..] = left {
        left = rest;
        asked += 1;
        if asked > 40 {
            break;
        }
        left = request(&mut session, &folder, *what, *argument, left);
    }
    drop(session);
    let job = Job::open(&folder).expect("the job is whole");
    assert!(
        job.verify_clips().iter().all(|clip| matches!(clip.verdict, FileState::Intact)),
        "clips are what they were"
    );
    for clip in &job.record().clips {
        let path = job.clip_path(clip).expect("it is there");
        hissward::audio::read_clip(&path, hissward::audio::ChannelChoice::First).expect("it can be read");
    }
}

fn request<'a>(session: &mut JobSession, folder: &Path, what: u8, argument: u8, left: &'a [u8]) -> &'a [u8] {
    // Three phones.
    let token = format!("{:032x}", argument % 3);
    let number = u64::from(argument / 3 % 8);
    let done = match what % 8 {
        0 => {
            let opening = ["intake", "exhaust", "oil-filler"][usize::from(argument % 3)].parse().expect("an opening");
            let air = [Air::Off, Air::On, Air::Pulsed][usize::from(argument / 3 % 3)];
            let subject = Job::open(folder).expect("the job is whole").record().subject(Some(1), opening, air);
            let rate_hz = [8_000, 44_100, 192_000][usize::from(argument / 9 % 3)];
            session
                .begin(&Arrival {
                    token,
                    subject,
                    rate_hz,
                    channels: 1 + u16::from(argument / 27 % 2),
                    settings: None,
                    device: "phone".to_owned(),
                    processing: None,
                    visit: Some(1),
                })
                .map(drop)
        }
        1 | 2 => {
            let (piece, rest) = left.split_at(left.len().min(4 * usize::from(argument)));
            // One in eight says another hash than its own.
            let told = if what >= 224 { Sha256([what; 32]) } else { Sha256::of(piece) };
            tell(session.piece(&token, number, told, piece));
            return rest;
        }
        3 => session.finish(&token, Ending { pieces: number, cut_short: what > 128, gaps: 0 }).map(drop),
        4 => session.discard(&token),
        5 => {
            // Killed and started again.
            *session = JobSession::new(folder.to_owned());
            Ok(())
        }
        6 => {
            // Somebody wrote over the journal.
            let (text, rest) = left.split_at(left.len().min(4 * usize::from(argument)));
            fs::create_dir_all(folder.join("results")).expect("a folder");
            fs::write(folder.join("results/page-uploads.json"), text).expect("a file");
            return rest;
        }
        _ => {
            let (text, rest) = left.split_at(left.len().min(usize::from(argument)));
            let text = String::from_utf8_lossy(text);
            tell(check_token(&text));
            tell(check_hash(&text));
            return rest;
        }
    };
    tell(done);
    left
}
