//! From a job to its report: what the job holds becomes the report's values.

use rayon::prelude::*;

use crate::audio::{self, AudioError, ChannelChoice, FlacError};
use crate::clip::Clip;
use crate::finding::{About, Engine, FindingError, Findings};
use crate::job::{Amendment, ClipRecord, EngineTemperature, FileName, Job, JobError, JobRecord};
use crate::opening::Air;
use crate::plot::PictureTitle;
use crate::ranking::Ranking;
use crate::report::{
    AmendedNote, Circumstances, ClipNote, Letterhead, ReportHead, ReportInput, ReportSounds, loss_in_words,
};
use crate::units::{AbsolutePressure, Length, Seconds, UnitSystem};
use crate::words::Words;

use super::readings::{ReadingsError, engine};
use super::sounds::{SoundSource, excerpt_of, report_sounds};

/// Why a job's report could not be put together.
#[derive(Debug, thiserror::Error)]
pub enum ReportingError {
    /// The job.
    #[error(transparent)]
    Job(#[from] JobError),
    /// A clip.
    #[error(transparent)]
    Audio(#[from] AudioError),
    /// A clip's excerpt.
    #[error(transparent)]
    Flac(#[from] FlacError),
    /// A reading.
    #[error(transparent)]
    Readings(#[from] ReadingsError),
    /// The findings.
    #[error(transparent)]
    Findings(#[from] FindingError),
}

/// A job's report as values, all but what its reader chooses.
#[derive(Debug, Clone, PartialEq)]
pub struct JobReport {
    head: ReportHead,
    shop: Option<String>,
    engine: Engine,
    findings: Findings,
    circumstances: Circumstances,
    sounds: ReportSounds,
}

impl JobReport {
    /// Reads what the report tells of a job.
    ///
    /// # Errors
    /// [`ReportingError`] where a clip cannot be read or a reading cannot be.
    pub fn of(job: &Job, rankings: &[Ranking]) -> Result<Self, ReportingError> {
        let record = job.record();
        let engine = engine(record, rankings)?;
        let findings = Findings::of(&engine)?;
        let circumstances = circumstances(record);
        let sounds = report_sounds(&sources(job)?)?;
        Ok(Self { head: head(record), shop: record.shop.clone(), engine, findings, circumstances, sounds })
    }

    /// The shop's head: its own where it is known, else the shop's name from the job.
    #[must_use]
    pub fn letterhead(&self, own: Option<Letterhead>) -> Option<Letterhead> {
        match (own, &self.shop) {
            // The job says which shop it was; an address or a logo of another one does not belong to it.
            (Some(own), Some(shop)) if own.name != *shop && !own.name.is_empty() => {
                Some(Letterhead { name: shop.clone(), ..Letterhead::default() })
            }
            (Some(own), Some(shop)) => Some(Letterhead { name: shop.clone(), ..own }),
            (Some(own), None) => Some(own),
            (None, Some(shop)) => Some(Letterhead { name: shop.clone(), ..Letterhead::default() }),
            (None, None) => None,
        }
    }

    /// Readings and rankings.
    #[must_use]
    pub fn engine(&self) -> &Engine {
        &self.engine
    }

    /// The report's input in a language and in units.
    #[must_use]
    pub fn input<'a>(
        &'a self,
        letterhead: Option<&'a Letterhead>,
        words: &'a Words,
        units: UnitSystem,
    ) -> ReportInput<'a> {
        ReportInput {
            letterhead,
            head: &self.head,
            engine: &self.engine,
            findings: &self.findings,
            circumstances: &self.circumstances,
            sounds: (!self.sounds.sounds.is_empty()).then_some(&self.sounds),
            words,
            units,
        }
    }
}

/// What stands over a job's comparison picture: the engine, the day, and what each cylinder loses.
///
/// # Errors
/// [`ReportingError`] where a reading cannot be.
pub fn picture_title(job: &Job, rankings: &[Ranking], words: &Words) -> Result<PictureTitle, ReportingError> {
    let record = job.record();
    let findings = Findings::of(&engine(record, rankings)?)?;
    let day = record.tested().map(|when| when.local_date());
    let lines = std::iter::once(record.engine.clone()).chain(day).filter(|line| !line.trim().is_empty()).collect();
    let losses = findings.cylinders.iter().filter_map(|finding| match &finding.about {
        About::Cylinder(cylinder) => Some((*cylinder, loss_in_words(finding.loss.as_ref(), words))),
        About::Engine(_) => None,
    });
    Ok(PictureTitle { lines, losses: losses.collect(), normal: findings.with_normal_hiss() })
}

fn head(record: &JobRecord) -> ReportHead {
    ReportHead {
        engine: record.engine.clone(),
        date: record.tested().map(|when| when.local_date()),
        customer: record.customer.clone(),
        tested_by: record.tested_by.clone(),
        notes: record.notes.clone(),
    }
}

fn circumstances(record: &JobRecord) -> Circumstances {
    Circumstances {
        hot: record.temperature.map(|found| found == EngineTemperature::Hot),
        restrictor: record.restrictor_mm.map(Length::from_mm),
        ambient: record.ambient_kpa.map(AbsolutePressure::from_kpa),
        microphone: record.microphone.as_ref().map(|microphone| microphone.device.clone()),
        cautions_confirmed: record.cautions_confirmed.as_ref().map(|when| when.local_minute()),
        made_with: record.made_with.clone(),
        clips: record.clips.iter().map(note).collect(),
        amended: record.amended.iter().map(amended).collect(),
    }
}

fn amended(one: &Amendment) -> AmendedNote {
    AmendedNote {
        when: one.when.local_minute(),
        of: one.of.clone(),
        key: one.key.clone(),
        from: one.from.clone(),
        to: one.to.clone(),
    }
}

/// Device, program and coding, as far as they are known.
fn made_with(clip: &ClipRecord) -> Option<String> {
    let parts = [&clip.device, &clip.application, &clip.coding];
    let known: Vec<&str> = parts.into_iter().filter_map(|part| part.as_deref()).collect();
    (!known.is_empty()).then(|| known.join(", "))
}

fn note(clip: &ClipRecord) -> ClipNote {
    ClipNote {
        file: clip.file.to_string(),
        recorded: clip.recorded.as_ref().map(|when| when.local_minute()),
        length: Seconds(clip.seconds),
        sample_rate_hz: clip.sample_rate_hz,
        device: made_with(clip),
        sha256: clip.sha256.to_string(),
        left_out: clip.left_out.clone(),
    }
}

/// The clips that count, by what is played together: the quiet and the air take of one opening.
fn sources(job: &Job) -> Result<Vec<SoundSource>, ReportingError> {
    let record = job.record();
    // A clip whose file is gone is told of by the ranking; the report goes on without its sound.
    let gone = job.gone();
    let counted = || record.clips.iter().filter(|clip| clip.left_out.is_none() && !gone.contains(&clip.file));
    let pairs: Vec<(Option<&ClipRecord>, &ClipRecord)> = counted()
        .filter(|clip| clip.subject.air != Air::Off)
        .map(|clip| (if clip.subject.air == Air::On { quiet_for(clip, record, &gone) } else { None }, clip))
        .collect();
    let excerpt = excerpt_of(pairs.iter().map(|(quiet, _)| 1 + usize::from(quiet.is_some())).sum());
    let read_pair = |(quiet, clip): (Option<&ClipRecord>, &ClipRecord)| {
        let clips = quiet.into_iter().chain([clip]);
        let clips = clips.map(|clip| Ok((clip.subject.air, read(job, clip, excerpt)?)));
        let clips = clips.collect::<Result<_, ReportingError>>()?;
        let (cylinder, opening) = (clip.subject.cylinder, clip.subject.opening.clone());
        Ok(SoundSource { cylinder, opening, take: clip.take, clips })
    };
    let mut sources = pairs.into_par_iter().map(read_pair).collect::<Result<Vec<_>, ReportingError>>()?;
    sources.sort_by(|a, b| {
        let key = |source: &SoundSource| (source.cylinder, source.opening.clone(), source.take);
        key(a).cmp(&key(b))
    });
    Ok(sources)
}

/// The quiet clip that an air clip is held against: of its own cylinder and take, as far as there is one.
fn quiet_for<'a>(air: &ClipRecord, record: &'a JobRecord, gone: &[FileName]) -> Option<&'a ClipRecord> {
    let here = record.clips.iter().filter(|clip| {
        let cylinder = clip.subject.cylinder;
        clip.left_out.is_none()
            && !gone.contains(&clip.file)
            && clip.subject.air == Air::Off
            && clip.subject.opening == air.subject.opening
            && (cylinder.is_none() || cylinder == air.subject.cylinder)
    });
    here.min_by_key(|clip| (clip.subject.cylinder != air.subject.cylinder, clip.take.abs_diff(air.take), clip.take))
}

/// The middle of a clip. Block by block: a clip may be hours long, and all clips of a job are asked for.
fn read(job: &Job, clip: &ClipRecord, excerpt: Seconds) -> Result<Clip, ReportingError> {
    let path = job.clip_path(clip)?;
    let channel = u16::try_from(clip.channel).unwrap_or(u16::MAX);
    let mut recording = audio::open(&path, ChannelChoice::Number(channel))?;
    let (rate, name) = (recording.rate(), recording.name().to_owned());
    let told = (clip.seconds * rate.0).round() as u64;
    let frames = usize::try_from(recording.total_frames().unwrap_or(told)).unwrap_or(usize::MAX);
    let wanted = ((excerpt.0 * rate.0) as usize).min(frames);
    let first = (frames - wanted) / 2;
    let (mut at, mut samples) = (0, Vec::with_capacity(wanted));
    while let Some(block) = recording.next_block()?.filter(|_| samples.len() < wanted) {
        let from = first.saturating_sub(at).min(block.len());
        let to = (from + wanted - samples.len()).min(block.len());
        samples.extend_from_slice(&block[from..to]);
        at += block.len();
    }
    Ok(Clip::new(samples, rate, name).map_err(AudioError::from)?)
}
