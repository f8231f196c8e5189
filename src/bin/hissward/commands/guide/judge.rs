//! How sure the ranking is so far, worked out beside the recording.

use std::collections::BTreeMap;
use std::sync::mpsc::{self, Receiver};
use std::thread;

use hissward::audio::ChannelChoice;
use hissward::hiss::ClipSound;
use hissward::job::{ClipRecord, JobWriter};
use hissward::opening::{Air, Opening};
use hissward::pipeline::listen_to;
use hissward::ranking::{Heard, Ranking, rank};

/// Sounds of a cylinder's clips, and one ranking at a time in work.
#[derive(Default)]
pub struct Judge {
    cylinder: Option<u32>,
    sounds: BTreeMap<String, (Opening, Air, ClipSound)>,
    answer: Option<Receiver<Ranking>>,
}

impl Judge {
    /// Turns to a cylinder: its clips are listened to once. One that cannot be read is left to the ranking to tell of.
    pub fn turn_to(&mut self, job: &JobWriter, cylinder: u32) {
        if self.cylinder != Some(cylinder) {
            *self = Self { cylinder: Some(cylinder), ..Self::default() };
            for clip in job.record().clips_of(cylinder) {
                if let Some(sound) = sound_of(job, clip) {
                    self.add(clip, sound);
                }
            }
        }
    }

    /// Takes a clip's sound in.
    pub fn add(&mut self, clip: &ClipRecord, sound: ClipSound) {
        let kept = (clip.subject.opening.clone(), clip.subject.air, sound);
        self.sounds.insert(clip.file.as_str().to_owned(), kept);
    }

    /// Forgets a clip.
    pub fn forget(&mut self, file: &str) {
        self.sounds.remove(file);
    }

    /// Begins to rank with what is there and the clip that is being recorded, unless a ranking is in work already.
    pub fn ask(&mut self, opening: &Opening, air: Air, sound: ClipSound) {
        if self.answer.is_some() {
            return;
        }
        let mut sounds: Vec<(Opening, Air, ClipSound)> = self.sounds.values().cloned().collect();
        sounds.push((opening.clone(), air, sound));
        let cylinder = self.cylinder;
        let (tell, answer) = mpsc::channel();
        self.answer = Some(answer);
        // Whoever asked may have left meanwhile.
        thread::spawn(move || tell.send(ranked(cylinder, &sounds)).is_ok());
    }

    /// The ranking asked for, once it is there.
    pub fn answer(&mut self) -> Option<Ranking> {
        match self.answer.as_ref()?.try_recv() {
            Ok(ranking) => {
                self.answer = None;
                Some(ranking)
            }
            Err(mpsc::TryRecvError::Empty) => None,
            Err(mpsc::TryRecvError::Disconnected) => {
                self.answer = None;
                None
            }
        }
    }
}

fn sound_of(job: &JobWriter, clip: &ClipRecord) -> Option<ClipSound> {
    let channel = u16::try_from(clip.channel).ok().filter(|_| clip.channels > 1);
    let choice = channel.map_or(ChannelChoice::First, ChannelChoice::Number);
    Some(listen_to(&job.clip_path(clip).ok()?, choice).ok()?.sound)
}

fn ranked(cylinder: Option<u32>, sounds: &[(Opening, Air, ClipSound)]) -> Ranking {
    let mut openings: Vec<&Opening> = Vec::new();
    for (opening, air, _) in sounds {
        if *air != Air::Off && !openings.contains(&opening) {
            openings.push(opening);
        }
    }
    let heard: Vec<Heard<'_>> = openings
        .into_iter()
        .map(|opening| {
            let with = |wanted: Air| {
                let here = sounds.iter().filter(|(at, air, _)| at == opening && *air == wanted);
                here.map(|(_, _, sound)| sound).collect()
            };
            Heard { quiet: with(Air::Off), air: with(Air::On), pulsed: with(Air::Pulsed), ..Heard::at(opening.clone()) }
        })
        .collect();
    rank(cylinder, &heard)
}
