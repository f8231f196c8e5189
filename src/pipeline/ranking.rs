//! Clips from files to a ranking: read by [`crate::audio`], listened to by [`crate::hiss`], weighed by [`crate::ranking`].

use std::path::PathBuf;
use std::sync::Arc;

use rayon::prelude::*;

use crate::audio::{AudioError, ChannelChoice};
use crate::caveat::Caveat;
use crate::clip::ClipError;
use crate::hiss::ClipFeatures;
use crate::job::{ClipRecord, Job, JobError, JobRecord, Step};
use crate::opening::{Air, Opening};
use crate::ranking::{
    Asked, Beforehand, Call, OpeningClips, Ranking, hold_beside, rank_by_two_microphones, rank_with, tight_prior,
};
use crate::units::Seconds;

use super::alike::alike;
use super::hearing::{AnalyzedClip, Nearer, listen_to, nearer_first};
use super::moments::drift;
use super::readings::net_loss;

/// A clip shorter than this says nothing.
pub const SHORTEST: Seconds = Seconds(0.5);

/// Why clips could not be ranked.
#[derive(Debug, thiserror::Error)]
pub enum RankError {
    /// A recording that cannot be read.
    #[error(transparent)]
    Audio(#[from] AudioError),
    /// What is in a recording.
    #[error(transparent)]
    Clip(#[from] ClipError),
    /// The job.
    #[error(transparent)]
    Job(#[from] JobError),
    /// Too short to say anything.
    #[error("{file}: {got} is too short for a spectrum, {needed} at least: record for six seconds")]
    TooShort {
        /// The file.
        file: String,
        /// How long it is.
        got: Seconds,
        /// What is needed.
        needed: Seconds,
    },
    /// A job without clips to rank.
    #[error("{job}: no clip with air on or pulsed yet: record one with `hissward listen {job} --at OPENING --air on`")]
    NothingRecorded {
        /// The job folder.
        job: String,
    },
    /// A cylinder without clips to rank.
    #[error(
        "{job}: cylinder {cylinder} has no clip with air on or pulsed yet (clips are there for {there}): record one with `hissward listen {job} --cylinder {cylinder} --at OPENING --air on`"
    )]
    CylinderNotRecorded {
        /// The job folder.
        job: String,
        /// The cylinder asked for.
        cylinder: u32,
        /// Cylinders that have clips.
        there: String,
    },
}

/// Reads a clip of a job and listens to it, with the channels that its record names.
///
/// # Errors
/// As [`listen_to`]; also where the file is gone.
pub fn listen_to_clip(job: &Job, clip: &ClipRecord) -> Result<AnalyzedClip, RankError> {
    listen_to(&job.clip_path(clip)?, channel_of(clip, job.record()))
}

/// One loose clip: where it was recorded (`None` serves all openings), what the air was doing, its file.
#[derive(Debug, Clone, PartialEq)]
pub struct LooseClip {
    /// The opening; `None` only for a quiet clip that serves all.
    pub opening: Option<Opening>,
    /// What the air was doing.
    pub air: Air,
    /// Its file.
    pub file: PathBuf,
}

/// Ranks loose clips.
///
/// # Errors
/// [`RankError`] for the first clip that cannot be read.
pub fn rank_loose(clips: &[LooseClip], choice: ChannelChoice) -> Result<Ranking, RankError> {
    let listened = clips.par_iter().map(|clip| listen_to(&clip.file, choice)).collect::<Result<Vec<_>, _>>()?;
    // A clip without an opening serves all: it is quiet, and stands in each group.
    let mut openings: Vec<&Opening> = Vec::new();
    openings.extend(clips.iter().filter_map(|clip| clip.opening.as_ref()));
    openings.sort_unstable_by(|a, b| a.name().cmp(b.name()));
    openings.dedup();
    let group = |of: Option<&Opening>| {
        let mine = |found: &Opening| of.is_none_or(|of| of == found);
        openings.iter().enumerate().filter(|(_, found)| mine(found)).map(|(at, _)| at).collect()
    };
    let groups: Vec<(Vec<usize>, Air)> = clips.iter().map(|clip| (group(clip.opening.as_ref()), clip.air)).collect();
    let (nearer, listened) = match nearer_first(&listened.iter().collect::<Vec<_>>(), &groups) {
        Some((nearer, turned)) => (Some(nearer), turned),
        None => (None, listened),
    };
    let clips_at: Vec<ClipAtOpening<'_>> = clips
        .iter()
        .zip(&listened)
        .map(|(clip, listened)| ClipAtOpening {
            opening: clip.opening.as_ref(),
            air: clip.air,
            listened,
            record: None,
            extra: Vec::new(),
        })
        .collect();
    Ok(ranked(None, &clips_at, &[], nearer, Beforehand::default()))
}

/// A clip of a job that has been listened to.
#[derive(Debug, Clone, PartialEq)]
pub struct HeardClip {
    /// What the job says of it.
    pub record: ClipRecord,
    /// Its sound, and what its file gave to say; shared, so that it is listened to once.
    pub listened: Arc<AnalyzedClip>,
}

/// Ranks a job: every cylinder that has clips, or the one asked for. A clip whose file is gone is told of, and the
/// others are ranked.
///
/// # Errors
/// [`RankError`] where there is nothing to rank or a clip cannot be read.
pub fn rank_job(job: &Job, cylinder: Option<u32>) -> Result<Vec<Ranking>, RankError> {
    let record = job.record();
    let gone = job.gone();
    let counted = |clip: &&ClipRecord| clip.left_out.is_none() && !gone.contains(&clip.file);
    let there = cylinders_of(record.clips.iter().filter(counted));
    let name = job.folder().display().to_string();
    if there.is_empty() {
        return Err(RankError::NothingRecorded { job: name });
    }
    if let Some(one) = cylinder.filter(|one| !there.contains(one)) {
        let there = there.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
        return Err(RankError::CylinderNotRecorded { job: name, cylinder: one, there });
    }
    // All cylinders, whichever is asked for: each is held beside the others.
    let wanted: Vec<&ClipRecord> = record.clips.iter().filter(counted).collect();
    let heard = wanted
        .par_iter()
        .map(|clip| {
            let listened = Arc::new(listen_to_clip(job, clip)?);
            Ok(HeardClip { record: (*clip).clone(), listened })
        })
        .collect::<Result<Vec<HeardClip>, RankError>>()?;
    let mut rankings = rank_heard(record, &heard);
    for ranking in &mut rankings {
        let lost = record.clips.iter().filter(|clip| clip.left_out.is_none() && gone.contains(&clip.file));
        let own = lost.filter(|clip| clip.subject.cylinder.is_none() || clip.subject.cylinder == ranking.cylinder);
        ranking.caveats.extend(own.map(|clip| Caveat::new("clip-gone").text("file", clip.file.as_str())));
    }
    rankings.retain(|ranking| cylinder.is_none() || ranking.cylinder == cylinder);
    Ok(rankings)
}

/// Cylinders that have a clip with the air on or pulsed, ascending.
fn cylinders_of<'a>(clips: impl Iterator<Item = &'a ClipRecord>) -> Vec<u32> {
    let heard = clips.filter(|clip| clip.subject.air != Air::Off).filter_map(|clip| clip.subject.cylinder);
    let heard: std::collections::BTreeSet<u32> = heard.collect();
    heard.into_iter().collect()
}

/// Ranks every cylinder that has clips, from clips that have been listened to: the one way from clips to a ranking, for a
/// finished job and for one that is being recorded. `record` says what the engine is; which clips count is said by
/// `heard` alone.
#[must_use]
pub fn rank_heard(record: &JobRecord, heard: &[HeardClip]) -> Vec<Ranking> {
    let turned = nearer_heard_first(heard);
    let (nearer, heard) = turned.as_ref().map_or((None, heard), |(nearer, turned)| (Some(*nearer), &turned[..]));
    let there = cylinders_of(heard.iter().map(|clip| &clip.record));
    let there: Vec<u32> = there.into_iter().filter(|cylinder| *cylinder <= record.cylinders).collect();
    let of = |cylinder: u32| {
        // A quiet clip of no cylinder serves its own opening on all of them.
        let (own, others): (Vec<&HeardClip>, Vec<&HeardClip>) =
            heard.iter().partition(|clip| clip.record.subject.cylinder.is_none_or(|c| c == cylinder));
        let clips_at: Vec<ClipAtOpening<'_>> = own
            .into_iter()
            .map(|HeardClip { record, listened }| ClipAtOpening {
                opening: Some(&record.subject.opening),
                air: record.subject.air,
                listened,
                record: Some(record),
                extra: told_by(record),
            })
            .collect();
        let others: Vec<(&ClipRecord, &ClipFeatures)> =
            others.into_iter().map(|clip| (&clip.record, &clip.listened.sound)).collect();
        // A reading that cannot be is told where readings are; here it says nothing.
        let loss = net_loss(record, cylinder).ok().flatten();
        let beforehand = Beforehand { tight: loss.map(|loss| tight_prior(&loss)), asked: asked(record, cylinder) };
        ranked(Some(cylinder), &clips_at, &others, nearer, beforehand)
    };
    let mut rankings: Vec<Ranking> = there.par_iter().map(|cylinder| of(*cylinder)).collect();
    hold_beside(&mut rankings);
    rankings
}

/// What was read, and what was left out on purpose.
fn asked(record: &JobRecord, cylinder: u32) -> Asked {
    let skipped = |step: Step| record.skipped.iter().filter(move |skipped| skipped.step == step);
    let mine = |of: Option<u32>| of == Some(cylinder);
    let clips = skipped(Step::Clip).filter(|skipped| mine(skipped.cylinder));
    Asked {
        of_job: true,
        gauge: record.latest_gauge(cylinder).is_some() || skipped(Step::Gauge).any(|skipped| mine(skipped.cylinder)),
        rig: record.rig.is_some() || skipped(Step::Rig).next().is_some(),
        left_out: clips.filter_map(|skipped| Some((skipped.opening.clone()?, skipped.air?))).collect(),
    }
}

/// The clips with the nearer of two microphones first; `None` where there is nothing to tell apart.
fn nearer_heard_first(heard: &[HeardClip]) -> Option<(Nearer, Vec<HeardClip>)> {
    let mut kinds: Vec<(Option<u32>, &Opening)> = Vec::new();
    for clip in heard {
        let kind = (clip.record.subject.cylinder, &clip.record.subject.opening);
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    let place = |clip: &HeardClip| {
        let subject = &clip.record.subject;
        let of = |(cylinder, opening): &(Option<u32>, &Opening)| {
            **opening == subject.opening && (*cylinder == subject.cylinder || subject.cylinder.is_none())
        };
        let mine = kinds.iter().enumerate().filter(|(_, kind)| of(kind));
        (mine.map(|(at, _)| at).collect(), subject.air)
    };
    let groups: Vec<(Vec<usize>, Air)> = heard.iter().map(place).collect();
    let sounds: Vec<&AnalyzedClip> = heard.iter().map(|clip| &*clip.listened).collect();
    let (nearer, turned) = nearer_first(&sounds, &groups)?;
    let with = |(clip, listened): (&HeardClip, AnalyzedClip)| HeardClip {
        record: clip.record.clone(),
        listened: Arc::new(listened),
    };
    Some((nearer, heard.iter().zip(turned).map(with).collect()))
}

/// Which channels of a clip are read: those that somebody chose, else all that tell something.
fn channel_of(clip: &ClipRecord, record: &JobRecord) -> ChannelChoice {
    let number = |channel: u32| u16::try_from(channel).unwrap_or(1);
    let near = number(clip.channel);
    let chosen = clip.one_channel || record.microphone.as_ref().is_some_and(|known| known.channel.is_some());
    if let Some(far) = clip.far_channel {
        ChannelChoice::Pair { near, far: number(far) }
    } else if clip.channels > 1 && (near != 1 || chosen) {
        ChannelChoice::Number(near)
    } else {
        ChannelChoice::First
    }
}

/// What the job's record says against a clip.
fn told_by(clip: &ClipRecord) -> Vec<Caveat> {
    let mut caveats = Vec::new();
    if clip.cut_short {
        caveats.push(Caveat::new("cut-short").text("file", clip.file.as_str()));
    }
    let left_on = clip.processing.iter().flat_map(|words| words.split_whitespace());
    // A word of a later version says no more than that something was on.
    caveats.extend(left_on.map(|what| {
        let code = match what {
            "echo" => "processing-echo",
            "noise" => "processing-noise",
            "gain" => "processing-gain",
            _ => "processing-unknown",
        };
        Caveat::new(code).text("file", clip.file.as_str())
    }));
    if clip.overruns > 0 {
        caveats.push(Caveat::new("overruns").number("times", f64::from(clip.overruns), 0));
    }
    caveats
}

struct ClipAtOpening<'a> {
    opening: Option<&'a Opening>,
    air: Air,
    listened: &'a AnalyzedClip,
    /// What the job says of it; `None` for loose clips.
    record: Option<&'a ClipRecord>,
    extra: Vec<Caveat>,
}

/// Puts clips to their openings and ranks them; `others` are the clips of the engine's other cylinders.
fn ranked(
    cylinder: Option<u32>,
    clips: &[ClipAtOpening<'_>],
    others: &[(&ClipRecord, &ClipFeatures)],
    nearer: Option<Nearer>,
    beforehand: Beforehand,
) -> Ranking {
    let mut openings: Vec<&Opening> = Vec::new();
    for clip in clips.iter().filter(|clip| clip.air != Air::Off) {
        openings.extend(clip.opening.filter(|opening| !openings.contains(opening)));
    }
    let heard: Vec<OpeningClips<'_>> = openings
        .into_iter()
        .map(|opening| {
            let here: Vec<&ClipAtOpening<'_>> =
                clips.iter().filter(|clip| clip.opening.is_none_or(|of| of == opening)).collect();
            let with = |air: Air| here.iter().filter(|clip| clip.air == air).map(|clip| &clip.listened.sound).collect();
            let mut caveats: Vec<Caveat> =
                here.iter().flat_map(|clip| clip.listened.caveats.iter().chain(&clip.extra)).cloned().collect();
            let recorded: Vec<(&ClipRecord, &ClipFeatures)> =
                here.iter().filter_map(|clip| clip.record.map(|record| (record, &clip.listened.sound))).collect();
            caveats.extend(alike(&recorded));
            let records: Vec<&ClipRecord> = recorded.iter().map(|(record, _)| *record).collect();
            let beside = others
                .iter()
                .filter(|(record, _)| record.subject.opening == *opening && record.subject.air != Air::Pulsed);
            OpeningClips {
                opening: opening.clone(),
                quiet: with(Air::Off),
                air: with(Air::On),
                pulsed: with(Air::Pulsed),
                beside: beside.map(|(_, sound)| *sound).collect(),
                drift: drift(&records),
                caveats,
            }
        })
        .collect();
    let mut ranking = match nearer {
        None => rank_with(cylinder, &heard, beforehand),
        Some(nearer) => {
            let mut ranking = rank_by_two_microphones(cylinder, &heard, beforehand);
            ranking.caveats.push(nearer.caveat());
            ranking
        }
    };
    // What the phone itself said of its noise suppression counts, whether or not it shows.
    let suppressed = |clip: &ClipAtOpening<'_>| {
        let told = clip.record.and_then(|record| record.processing.as_deref());
        told.is_some_and(|words| words.split_whitespace().any(|word| word == "noise"))
    };
    if ranking.call == Call::NoneHeard && clips.iter().any(suppressed) {
        ranking.call = Call::CannotTell;
    }
    ranking
}
