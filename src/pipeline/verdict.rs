//! The verdict on a clip before it counts: one for every way in.

use crate::caveat::{Caveat, Fact, Severity};
use crate::hiss::{ClipFeatures, Processing, clip_caveats, falling_caveat, tone_caveat};
use crate::job::{ClipRecord, Job, JobError, JobWriter};
use crate::opening::Air;
use crate::words::Words;

use super::ranking::{RankError, listen_to_clip};

/// What is to be said of a clip by itself.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ClipVerdict {
    /// All that lowers trust in it, what weighs most first.
    pub caveats: Vec<Caveat>,
}

impl ClipVerdict {
    /// Whether it can count.
    #[must_use]
    pub fn is_fit(&self) -> bool {
        self.against().is_none()
    }

    /// The first thing that makes it unfit.
    #[must_use]
    pub fn against(&self) -> Option<&Caveat> {
        self.caveats.iter().find(|caveat| caveat.severity() > Severity::Doubt)
    }
}

/// The verdict on a clip: by its sound, and by what its recorder or its file told of it.
///
/// `air` is what the air was doing; `None` where nobody said: then what only tells with the air on is not looked for.
#[must_use]
pub fn clip_verdict(sound: &ClipFeatures, air: Option<Air>, told: &[Caveat]) -> ClipVerdict {
    let mut caveats = told.to_vec();
    caveats.extend(clip_caveats(sound));
    caveats.extend(Processing::of(&[sound]).caveats());
    // A tone that is there without air, too, is the shop's: with the air off it takes nothing away.
    caveats.extend(tone_caveat(sound).filter(|_| air != Some(Air::Off)));
    caveats.extend(falling_caveat(sound).filter(|_| air == Some(Air::On)));
    caveats.sort_by_key(|caveat| std::cmp::Reverse(caveat.severity()));
    ClipVerdict { caveats }
}

/// The verdict on a clip of a job; `told` is what its recorder or its file told of it besides.
///
/// # Errors
/// [`RankError`] where its file cannot be read.
pub fn verdict_of(job: &Job, clip: &ClipRecord, told: &[Caveat]) -> Result<ClipVerdict, RankError> {
    let told: Vec<Caveat> = told.iter().cloned().chain(same_recording(job, clip)).collect();
    let told = &told[..];
    match listen_to_clip(job, clip) {
        Ok(listened) => {
            let mut all = told.to_vec();
            all.extend(listened.caveats.into_iter().filter(|caveat| !told.contains(caveat)));
            let mut verdict = clip_verdict(&listened.sound, Some(clip.subject.air), &all);
            verdict.caveats.iter_mut().for_each(|caveat| name_in_job(caveat, clip));
            Ok(verdict)
        }
        Err(RankError::TooShort { got, .. }) => {
            let short = Caveat::new("too-short").text("file", clip.file.as_str()).number("seconds", got.0, 1);
            Ok(ClipVerdict { caveats: std::iter::once(short).chain(told.iter().cloned()).collect() })
        }
        Err(error) => Err(error),
    }
}

/// What is kept of a clip names it as the job does, not by where the job lies today.
fn name_in_job(caveat: &mut Caveat, clip: &ClipRecord) {
    for (name, fact) in &mut caveat.facts {
        if *name == "file" && matches!(fact, Fact::Text(path) if path.ends_with(clip.file.as_str())) {
            *fact = Fact::Text(clip.file.to_string());
        }
    }
}

/// Another clip of the job that is the same file, byte for byte. One quiet recording may serve several places.
fn same_recording(job: &Job, clip: &ClipRecord) -> Option<Caveat> {
    let counts = |other: &&ClipRecord| other.file != clip.file && other.left_out.is_none();
    let twin =
        job.record().clips.iter().filter(counts).find(|other| {
            other.sha256 == clip.sha256 && (other.subject.air != Air::Off || clip.subject.air != Air::Off)
        })?;
    Some(Caveat::new("same-recording").text("file", clip.file.as_str()).text("other", twin.file.as_str()))
}

/// Leaves a clip out that is unfit, and keeps why. It stays in the job and can be taken in again.
///
/// # Errors
/// [`JobError`] where the job cannot be changed.
pub fn leave_out_unfit(
    job: &mut JobWriter,
    clip: &ClipRecord,
    verdict: &ClipVerdict,
    words: &Words,
) -> Result<bool, JobError> {
    let Some(against) = verdict.against() else { return Ok(false) };
    job.leave_out(&clip.file, Some(words.caveat(against).0))?;
    Ok(true)
}
