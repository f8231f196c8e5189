//! How sure the ranking is so far, worked out beside the recording.

use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::mpsc::{self, Receiver};
use std::sync::{Arc, Mutex};
use std::thread;

use hissward::hiss::ClipFeatures;
use hissward::job::{ClipRecord, FileName, Job, JobRecord, Sha256};
use hissward::pipeline::{AnalyzedClip, HeardClip, listen_to_clip, rank_heard};
use hissward::ranking::Ranking;

/// Clips that have been listened to, by file; listened to once, beside everything else.
type AnalyzedClips = Arc<Mutex<HashMap<FileName, Arc<AnalyzedClip>>>>;

/// One ranking at a time, of what is there and the clip that is being recorded.
#[derive(Default)]
pub struct Judge {
    heard: AnalyzedClips,
    answer: Option<Receiver<Option<Ranking>>>,
}

impl Judge {
    /// Takes a clip's sound in that has just been recorded.
    pub fn add(&self, file: &FileName, sound: ClipFeatures) {
        let listened = Arc::new(AnalyzedClip { sound, caveats: Vec::new(), either_way: false });
        // A ranking that panicked has no part in what is kept here.
        let mut heard = self.heard.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        heard.insert(file.clone(), listened);
    }

    /// Begins to rank a cylinder with what is there and the clip that is being recorded, unless a ranking is in work
    /// already.
    pub fn ask(&mut self, folder: PathBuf, record: &JobRecord, live: &ClipRecord, sound: ClipFeatures) {
        if self.answer.is_some() {
            return;
        }
        let (heard, record, live) = (Arc::clone(&self.heard), record.clone(), live.clone());
        let (tell, answer) = mpsc::channel();
        self.answer = Some(answer);
        thread::spawn(move || {
            let ranking = ranked(&folder, &record, &heard, live, sound);
            // Whoever asked may have left meanwhile.
            tell.send(ranking).is_ok()
        });
    }

    /// The ranking asked for, once it is there.
    pub fn answer(&mut self) -> Option<Ranking> {
        match self.answer.as_ref()?.try_recv() {
            Ok(ranking) => {
                self.answer = None;
                ranking
            }
            Err(mpsc::TryRecvError::Empty) => None,
            Err(mpsc::TryRecvError::Disconnected) => {
                self.answer = None;
                None
            }
        }
    }
}

/// The same ranking that `rank` gives, of the clips that count and the one being recorded.
fn ranked(
    folder: &std::path::Path,
    record: &JobRecord,
    heard: &AnalyzedClips,
    live: ClipRecord,
    sound: ClipFeatures,
) -> Option<Ranking> {
    let job = Job::open(folder).ok()?;
    let mut clips = Vec::new();
    for clip in record.clips.iter().filter(|clip| clip.left_out.is_none()) {
        let known = heard.lock().unwrap_or_else(std::sync::PoisonError::into_inner).get(&clip.file).cloned();
        let listened = match known {
            Some(listened) => listened,
            None => {
                // One that cannot be read is left to the ranking at the end to tell of.
                let Ok(listened) = listen_to_clip(&job, clip) else { continue };
                let listened = Arc::new(listened);
                let mut heard = heard.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
                heard.insert(clip.file.clone(), Arc::clone(&listened));
                listened
            }
        };
        clips.push(HeardClip { record: clip.clone(), listened });
    }
    let cylinder = live.subject.cylinder;
    clips.push(HeardClip {
        record: live,
        listened: Arc::new(AnalyzedClip { sound, caveats: Vec::new(), either_way: false }),
    });
    rank_heard(record, &clips).into_iter().find(|ranking| ranking.cylinder == cylinder)
}

/// A clip that is being recorded, as the job will list it; its file is not whole yet, so it has no hash.
pub fn live_record(record: &JobRecord, file: &FileName, sound: &ClipFeatures) -> Option<ClipRecord> {
    let pending = record.pending.iter().find(|pending| pending.file == *file)?;
    Some(ClipRecord {
        file: pending.file.clone(),
        subject: pending.subject.clone(),
        take: pending.take,
        visit: pending.visit,
        recorded: Some(pending.since.clone()),
        seconds: sound.duration().0,
        sample_rate_hz: sound.rate().0.round() as u32,
        channels: 1,
        channel: pending.channel,
        far_channel: pending.far_channel,
        one_channel: true,
        device: pending.device.clone(),
        application: None,
        coding: None,
        processing: pending.processing.clone(),
        sha256: Sha256::of(b""),
        cut_short: false,
        overruns: 0,
        left_out: None,
        import: None,
    })
}
