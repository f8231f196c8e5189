//! Likely mistakes in a job's recordings, each with the one command that puts it right.

use crate::hiss::{BANDS, ClipFeatures, FIRST_LEVEL_BAND};
use crate::job::{ClipChange, ClipRecord, Counts, FileName, Job, JobError, JobRecord, JobWriter, When};
use crate::opening::Air;
use crate::words::Words;

use super::ranking::listen_to_clip;

/// Quiet over air by so much, dB: off and on are swapped. Air never makes a place quieter; a shop seldom falls so far.
const SWAPPED_DB: f64 = 3.0;
/// A take lies so far from the others of its kind, dB, …
const ODD_DB: f64 = 8.0;
/// … and those lie so near to each other.
const ALIKE_DB: f64 = 3.0;
/// No opening lies over its quiet clip by so much, dB, …
const NO_AIR_DB: f64 = 0.5;
/// … and yet the gauge lost more than this, percent.
const MUCH_LOST_PERCENT: f64 = 15.0;

/// Something that was probably done wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mistake {
    /// The clip with the air off hisses, the one with the air on does not.
    Swapped {
        /// Listed with the air off.
        off: FileName,
        /// Listed with the air on.
        on: FileName,
    },
    /// One recording at two places.
    SameRecording {
        /// The first.
        kept: FileName,
        /// The later one.
        twin: FileName,
    },
    /// A take that is unlike the others of its kind.
    OddTake {
        /// The clip.
        file: FileName,
    },
    /// Much is lost, and nothing hisses anywhere: the valve was not open.
    AirNotOpen {
        /// The cylinder.
        cylinder: u32,
        /// Its clips with the air on.
        clips: Vec<FileName>,
    },
    /// The file of a clip is gone.
    Gone {
        /// The clip.
        file: FileName,
    },
}

impl Mistake {
    /// The name of its sentence in the catalogue.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Swapped { .. } => "mistake-swapped",
            Self::SameRecording { .. } => "mistake-same-recording",
            Self::OddTake { .. } => "mistake-odd-take",
            Self::AirNotOpen { .. } => "mistake-air-not-open",
            Self::Gone { .. } => "mistake-gone",
        }
    }

    /// The clips it is about, in the order in which its sentence names them.
    #[must_use]
    pub fn clips(&self) -> Vec<&FileName> {
        match self {
            Self::Swapped { off, on } => vec![off, on],
            Self::SameRecording { kept, twin } => vec![twin, kept],
            Self::OddTake { file } | Self::Gone { file } => vec![file],
            Self::AirNotOpen { clips, .. } => clips.iter().collect(),
        }
    }

    /// What follows `hissward amend JOB` to put it right.
    #[must_use]
    pub fn remedy(&self) -> String {
        match self {
            Self::Swapped { off, on } => format!("--swap {off} {on}"),
            Self::SameRecording { twin, kept } => format!("{twin} --leave-out 'the same recording as {kept}'"),
            Self::OddTake { file } => format!("{file} --leave-out 'unlike the other takes'"),
            Self::AirNotOpen { clips, .. } => {
                let names: Vec<&str> = clips.iter().map(FileName::as_str).collect();
                format!("{} --leave-out 'the air was not open'", names.join(" "))
            }
            Self::Gone { file } => format!("{file} --leave-out 'its file is gone'"),
        }
    }
}

/// Does what [`Mistake::remedy`] says: swaps the clips, or leaves out those that are wrong, for the reason that
/// `mistake-*.reason` gives.
///
/// # Errors
/// [`JobError`] where the job cannot be changed.
pub fn put_right(job: &mut JobWriter, mistake: &Mistake, words: &Words, when: &When) -> Result<(), JobError> {
    if let Mistake::Swapped { off, on } = mistake {
        return job.swap_clips(off, on, when);
    }
    let reason = words.say(&format!("{}.reason", mistake.code()), &[]);
    let files: Vec<FileName> = match mistake {
        Mistake::SameRecording { twin, .. } => vec![twin.clone()],
        other => other.clips().into_iter().cloned().collect(),
    };
    let change = ClipChange { counts: Some(Counts::LeftOut(reason)), ..ClipChange::default() };
    job.amend_clips(&files, &change, when)
}

/// Looks for likely mistakes among the clips of a job that count. A clip that cannot be read is left to the ranking to
/// tell of.
#[must_use]
pub fn likely_mistakes(job: &Job) -> Vec<Mistake> {
    let record = job.record();
    let gone: Vec<FileName> = job.gone();
    let counted = record.clips.iter().filter(|clip| clip.left_out.is_none());
    let mut mistakes: Vec<Mistake> = counted
        .clone()
        .filter(|clip| gone.contains(&clip.file))
        .map(|clip| Mistake::Gone { file: clip.file.clone() })
        .collect();
    let heard: Vec<(&ClipRecord, ClipFeatures)> = counted
        .filter(|clip| !gone.contains(&clip.file))
        .filter_map(|clip| Some((clip, listen_to_clip(job, clip).ok()?.sound)))
        .collect();
    let heard: Vec<(&ClipRecord, &ClipFeatures)> = heard.iter().map(|(clip, sound)| (*clip, sound)).collect();
    mistakes.extend(mistakes_among(record, &heard));
    mistakes
}

/// The same among clips that have been listened to.
#[must_use]
pub fn mistakes_among(record: &JobRecord, heard: &[(&ClipRecord, &ClipFeatures)]) -> Vec<Mistake> {
    let levels: Vec<(&ClipRecord, f64)> =
        heard.iter().filter_map(|(clip, sound)| Some((*clip, level_db(sound)?))).collect();
    let mut found = Vec::new();
    for (at, (clip, sound)) in heard.iter().enumerate() {
        // One quiet recording may serve several places; one with the air on belongs to one.
        let is_quiet = |clip: &ClipRecord| clip.subject.air == Air::Off;
        let twin = heard[..at].iter().find(|(other, before)| {
            (other.sha256 == clip.sha256 || before.digest() == sound.digest()) && !(is_quiet(clip) && is_quiet(other))
        });
        if let Some((kept, _)) = twin {
            found.push(Mistake::SameRecording { kept: kept.file.clone(), twin: clip.file.clone() });
        }
    }
    found.extend(swapped(&levels));
    found.extend(odd_takes(&levels));
    found.extend((1..=record.cylinders).filter_map(|cylinder| air_not_open(record, cylinder, &levels)));
    found
}

/// Level of the floor in the bands in which hiss is looked for, dB: what lies under bangs and talk.
fn level_db(sound: &ClipFeatures) -> Option<f64> {
    Some(sound.floor()?.level_db[FIRST_LEVEL_BAND..].iter().sum::<f64>() / (BANDS - FIRST_LEVEL_BAND) as f64)
}

/// One quiet and one air clip of an opening, the quiet one far louder.
fn swapped(levels: &[(&ClipRecord, f64)]) -> Vec<Mistake> {
    let mut found = Vec::new();
    for (on, air_db) in levels.iter().filter(|(clip, _)| clip.subject.air == Air::On) {
        let same_place = |clip: &ClipRecord, air: Air| {
            clip.subject.air == air
                && clip.subject.opening == on.subject.opening
                && clip.subject.cylinder == on.subject.cylinder
        };
        let quiet: Vec<&(&ClipRecord, f64)> = levels.iter().filter(|(clip, _)| same_place(clip, Air::Off)).collect();
        let others = levels.iter().filter(|(clip, _)| same_place(clip, Air::On)).count();
        // With more takes a swap is one of several, and the odd take is told by itself.
        if let ([(off, quiet_db)], 1) = (&quiet[..], others)
            && quiet_db - air_db > SWAPPED_DB
        {
            found.push(Mistake::Swapped { off: off.file.clone(), on: on.file.clone() });
        }
    }
    found
}

/// Takes far from all others of their kind, where there are three or more and the others agree.
fn odd_takes(levels: &[(&ClipRecord, f64)]) -> Vec<Mistake> {
    let mut found = Vec::new();
    for (clip, level) in levels {
        let others: Vec<f64> = levels
            .iter()
            .filter(|(other, _)| other.subject == clip.subject && other.file != clip.file)
            .map(|(_, level)| *level)
            .collect();
        let (low, high) = others.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(*x), h.max(*x)));
        let apart = (low - level).max(level - high);
        if others.len() >= 2 && high - low < ALIKE_DB && apart > ODD_DB {
            found.push(Mistake::OddTake { file: clip.file.clone() });
        }
    }
    found
}

fn air_not_open(record: &JobRecord, cylinder: u32, levels: &[(&ClipRecord, f64)]) -> Option<Mistake> {
    let lost = record.latest_gauge(cylinder)?.value.reading().loss().0;
    if lost < MUCH_LOST_PERCENT {
        return None;
    }
    let of = |air: Air| {
        levels.iter().filter(move |(clip, _)| clip.subject.air == air && clip.subject.cylinder == Some(cylinder))
    };
    let openings: std::collections::BTreeSet<_> = of(Air::On).map(|(clip, _)| &clip.subject.opening).collect();
    // The rings are heard where the crankcase is listened at, on every engine: silence there as well is no engine's.
    let crankcase = openings.iter().any(|opening| opening.path() == crate::opening::EscapePath::RingsOrBore);
    let rises = |(on, air_db): &(&ClipRecord, f64)| {
        let quiet = of(Air::Off).filter(|(off, _)| off.subject.opening == on.subject.opening).map(|(_, level)| *level);
        quiet
            .fold(None, |least: Option<f64>, level| Some(least.map_or(level, |least| least.min(level))))
            .is_none_or(|quiet_db| air_db - quiet_db > NO_AIR_DB)
    };
    (crankcase && openings.len() >= 2 && !of(Air::On).any(rises))
        .then(|| Mistake::AirNotOpen { cylinder, clips: of(Air::On).map(|(clip, _)| clip.file.clone()).collect() })
}
