//! How far a job is: what was read and recorded, and what is missing.

use crate::job::names::FileName;
use crate::job::record::{GaugeReading, JobRecord, Step};
use crate::job::store::Job;
use crate::opening::{Air, EscapePath, Opening};

/// A reading takes so long, the hose changed and the crank turned, seconds. Common practice, no source.
const READING_S: u32 = 90;
/// A clip takes so long, moving the microphone and turning the valve included, seconds.
const CLIP_S: u32 = 17;
/// A clip with pulsed air, seconds.
const PULSED_CLIP_S: u32 = 20;
/// Where is listened at least.
const USUAL: [&str; 3] = ["intake", "exhaust", "oil-filler"];

/// How far a job is.
#[derive(Debug, Clone, PartialEq)]
pub struct Status {
    /// Whether the rig alone was read, or that was left out on purpose.
    pub rig: bool,
    /// Cylinder by cylinder.
    pub cylinders: Vec<CylinderStatus>,
    /// What is missing, in the order of work.
    pub missing: Vec<Missing>,
    /// Clips whose file is gone.
    pub gone: Vec<FileName>,
}

/// How far a cylinder is.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderStatus {
    /// The cylinder.
    pub cylinder: u32,
    /// The reading that counts.
    pub reading: Option<GaugeReading>,
    /// Clips that count, opening by opening, in the order in which they were listened at.
    pub openings: Vec<OpeningStatus>,
    /// Clips that do not count.
    pub left_out: u32,
}

/// Clips that count at one opening.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpeningStatus {
    /// The opening.
    pub opening: Opening,
    /// With the air off.
    pub off: u32,
    /// With the air on.
    pub on: u32,
    /// With pulsed air.
    pub pulsed: u32,
}

impl OpeningStatus {
    /// Whether the clips are enough to compare.
    #[must_use]
    pub fn is_complete(&self) -> bool {
        self.pulsed > 0 || (self.off > 0 && self.on > 0)
    }
}

/// Something to be done yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Missing {
    /// The rig alone is to be read.
    Rig,
    /// A cylinder is to be read.
    Gauge(u32),
    /// A clip is to be recorded.
    Clip {
        /// The cylinder.
        cylinder: u32,
        /// Where.
        opening: Opening,
        /// The air.
        air: Air,
    },
}

impl Missing {
    /// How long it takes, seconds.
    #[must_use]
    pub fn seconds(&self) -> u32 {
        match self {
            Self::Rig | Self::Gauge(_) => READING_S,
            Self::Clip { air: Air::Pulsed, .. } => PULSED_CLIP_S,
            Self::Clip { .. } => CLIP_S,
        }
    }

    /// The command that does it, ready to copy; pressures are the person's to fill in.
    #[must_use]
    pub fn command(&self, job: &str) -> String {
        let job = quoted(job);
        match self {
            Self::Rig => format!("hissward rig {job} --supply 80psi --held 78psi"),
            Self::Gauge(cylinder) => format!("hissward gauge {job} --cylinder {cylinder} --supply 80psi --held 60psi"),
            Self::Clip { cylinder, opening, air } => {
                format!("hissward listen {job} --at {opening} --air {} --cylinder {cylinder}", air.name())
            }
        }
    }

    /// Whether the command holds figures that the person reads off first.
    #[must_use]
    pub fn has_figures(&self) -> bool {
        matches!(self, Self::Rig | Self::Gauge(_))
    }
}

/// A name as a shell takes it for one word.
fn quoted(text: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./~+=:,".contains(c);
    if !text.is_empty() && text.chars().all(plain) {
        text.to_owned()
    } else {
        format!("'{}'", text.replace('\'', "'\\''"))
    }
}

impl Job {
    /// How far the job is.
    #[must_use]
    pub fn status(&self) -> Status {
        Status { gone: self.gone(), ..Status::of(self.record()) }
    }

    /// Listed clips whose file is gone.
    #[must_use]
    pub fn gone(&self) -> Vec<FileName> {
        let clips = self.record().clips.iter();
        clips.filter(|clip| self.is_gone(&clip.file)).map(|clip| clip.file.clone()).collect()
    }
}

impl Status {
    /// How far a job is by its record; whether files are there is not looked at.
    #[must_use]
    pub fn of(record: &JobRecord) -> Self {
        let skipped = |step: Step| record.skipped.iter().filter(move |skipped| skipped.step == step);
        let rig = record.rig.is_some() || skipped(Step::Rig).next().is_some();
        let cylinders: Vec<CylinderStatus> =
            (1..=record.cylinders).map(|cylinder| cylinder_status(record, cylinder)).collect();
        let mut missing = Vec::new();
        if !rig {
            missing.push(Missing::Rig);
        }
        for one in in_order_of_work(record, &cylinders) {
            let cylinder = one.cylinder;
            if one.reading.is_none() && !skipped(Step::Gauge).any(|skipped| skipped.cylinder == Some(cylinder)) {
                missing.push(Missing::Gauge(cylinder));
            }
            missing.extend(missing_clips(one).into_iter().filter(|clip| {
                let Missing::Clip { opening, air, .. } = clip else { return true };
                !skipped(Step::Clip).any(|skipped| {
                    skipped.cylinder == Some(cylinder)
                        && skipped.opening.as_ref() == Some(opening)
                        && skipped.air == Some(*air)
                })
            }));
        }
        Self { rig, cylinders, missing, gone: Vec::new() }
    }

    /// How long all that is missing takes, seconds.
    #[must_use]
    pub fn seconds(&self) -> u32 {
        self.missing.iter().map(Missing::seconds).sum()
    }
}

/// In firing order, where it is known.
fn in_order_of_work<'a>(record: &JobRecord, cylinders: &'a [CylinderStatus]) -> Vec<&'a CylinderStatus> {
    let place = |one: &CylinderStatus| {
        let order = record.firing_order.as_deref().unwrap_or_default();
        (order.iter().position(|cylinder| *cylinder == one.cylinder), one.cylinder)
    };
    let mut all: Vec<&CylinderStatus> = cylinders.iter().collect();
    all.sort_by_key(|one| place(one));
    all
}

fn cylinder_status(record: &JobRecord, cylinder: u32) -> CylinderStatus {
    let mut openings: Vec<OpeningStatus> = Vec::new();
    for clip in record.clips_of(cylinder).filter(|clip| clip.subject.opening.name() != "rig") {
        let opening = &clip.subject.opening;
        if openings.iter().all(|one| one.opening != *opening) {
            openings.push(OpeningStatus { opening: opening.clone(), off: 0, on: 0, pulsed: 0 });
        }
        for one in openings.iter_mut().filter(|one| one.opening == *opening) {
            match clip.subject.air {
                Air::Off => one.off += 1,
                Air::On => one.on += 1,
                Air::Pulsed => one.pulsed += 1,
            }
        }
    }
    let left_out =
        record.clips.iter().filter(|clip| clip.left_out.is_some() && clip.subject.cylinder == Some(cylinder)).count();
    CylinderStatus {
        cylinder,
        reading: record.latest_gauge(cylinder).cloned(),
        openings,
        left_out: u32::try_from(left_out).unwrap_or(u32::MAX),
    }
}

/// Clips that are wanted yet: the usual openings, and those that were begun. All openings of the crankcase serve as one.
fn missing_clips(one: &CylinderStatus) -> Vec<Missing> {
    let usual = USUAL.iter().filter_map(|name| name.parse::<Opening>().ok());
    let has_crankcase = one.openings.iter().any(|o| o.opening.path() == EscapePath::RingsOrBore);
    let mut wanted: Vec<Opening> =
        usual.filter(|opening| !(has_crankcase && opening.path() == EscapePath::RingsOrBore)).collect();
    for begun in &one.openings {
        if !wanted.contains(&begun.opening) {
            wanted.push(begun.opening.clone());
        }
    }
    let mut missing = Vec::new();
    for opening in wanted {
        let there = one.openings.iter().find(|o| o.opening == opening);
        if there.is_some_and(OpeningStatus::is_complete) {
            continue;
        }
        let has = |count: fn(&OpeningStatus) -> u32| there.is_some_and(|there| count(there) > 0);
        let clip = |air| Missing::Clip { cylinder: one.cylinder, opening: opening.clone(), air };
        if !has(|o| o.off) {
            missing.push(clip(Air::Off));
        }
        if !has(|o| o.on) {
            missing.push(clip(Air::On));
        }
    }
    missing
}
