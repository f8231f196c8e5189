//! What `job.toml` says, as types. Only what was given is there: nothing is invented.

use crate::crank::Cycle;
use crate::gauge::{Conditions, Reading};
use crate::job::amendment::Amendment;
use crate::job::hash::{Hasher, Sha256};
use crate::job::names::FileName;
use crate::job::when::When;
use crate::opening::{Air, EscapePath, NamingError, Opening, Understood};
use crate::units::{
    AbsolutePressure, GaugePressure, Length, Percent, PressureDifference, Temperature, TypedReading, UnitSystem,
};

/// One engine on one day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct JobRecord {
    /// Program and version that started the job.
    pub made_with: Option<String>,
    /// When it was started.
    pub created: Option<When>,
    /// The engine, as people call it.
    pub engine: String,
    /// How many cylinders it has, 1 to [`crate::job::MOST_CYLINDERS`].
    pub cylinders: u32,
    /// Four-stroke unless said otherwise.
    pub cycle: Cycle,
    /// Cylinders in the order in which they fire.
    pub firing_order: Option<Vec<u32>>,
    /// Crank angle of each firing after the first, degrees, in firing order; `None` for even firing.
    pub firing_angles_deg: Option<Vec<f64>>,
    /// Cylinders that stand beside each other, bank by bank; `None` for one row in the order of their numbers.
    pub banks: Option<Vec<Vec<u32>>>,
    /// Whether the engine was warm.
    pub temperature: Option<EngineTemperature>,
    /// Diameter of the tester's restrictor, mm.
    pub restrictor_mm: Option<f64>,
    /// Air pressure of the place, absolute, kPa.
    pub ambient_kpa: Option<f64>,
    /// Temperature of the air that the tester lets through, °C.
    pub air_temperature_c: Option<f64>,
    /// Who offers the test.
    pub shop: Option<String>,
    /// Whose engine it is.
    pub customer: Option<String>,
    /// Who did the test.
    pub tested_by: Option<String>,
    /// Free text.
    pub notes: Option<String>,
    /// Language of what is written for people, by its code (`en`, `de`).
    pub language: Option<String>,
    /// Units of what is written for people.
    pub units: Option<UnitSystem>,
    /// When the cautions were read and confirmed.
    pub cautions_confirmed: Option<When>,
    /// What the engine's maker allows.
    pub limits: Option<MakerLimits>,
    /// The microphone chosen.
    pub microphone: Option<Microphone>,
    /// How well the tester's gauges agree, and their class.
    pub gauges: Option<Gauges>,
    /// What the rig alone loses.
    pub rig: Option<RigReading>,
    /// Gauge readings in the order in which they were taken.
    pub gauge: Vec<GaugeReading>,
    /// What was found when cylinders were opened, in the order in which it was written down.
    pub found: Vec<Found>,
    /// Steps left out on purpose.
    pub skipped: Vec<SkippedStep>,
    /// Clips in the order in which they came in.
    pub clips: Vec<ClipRecord>,
    /// Mistakes that were put right, in the order in which that was done.
    pub amended: Vec<Amendment>,
    /// Clips being recorded or taken in at this moment, or left so by a program that was killed.
    pub pending: Vec<PendingClip>,
}

impl JobRecord {
    /// The reading that counts for a cylinder: the last one.
    #[must_use]
    pub fn latest_gauge(&self, cylinder: u32) -> Option<&GaugeReading> {
        self.gauge.iter().rev().find(|reading| reading.cylinder == cylinder)
    }

    /// All readings of a cylinder, in the order in which they were taken: the last counts.
    #[must_use]
    pub fn gauge_readings(&self, cylinder: u32) -> Vec<&GaugeReading> {
        self.gauge.iter().filter(|reading| reading.cylinder == cylinder).collect()
    }

    /// The paths found leaking in a cylinder when it was opened; `None` where nobody wrote down that it was opened.
    #[must_use]
    pub fn found_in(&self, cylinder: u32) -> Option<Vec<EscapePath>> {
        let paths: Vec<EscapePath> =
            self.found.iter().filter(|found| found.cylinder == cylinder).map(|found| found.path).collect();
        (!paths.is_empty()).then_some(paths)
    }

    /// When the test was done: at its first reading or recording; else when the job was started.
    #[must_use]
    pub fn tested(&self) -> Option<&When> {
        let clips = self.clips.iter().filter_map(|clip| clip.recorded.as_ref());
        let readings = self.gauge.iter().filter_map(|reading| reading.when.as_ref());
        clips.chain(readings).min_by_key(|when| when.timestamp()).or(self.created.as_ref())
    }

    /// A hash over the clips that count and how they are used: a ranking of these clips is no longer one of the job's
    /// once this differs.
    #[must_use]
    pub fn clips_sha256(&self) -> Sha256 {
        let mut lines: Vec<String> = self.clips.iter().filter(|clip| clip.left_out.is_none()).map(line_of).collect();
        // The order in which clips stand in the file says nothing.
        lines.sort_unstable();
        let mut hasher = Hasher::default();
        hasher.take(lines.concat().as_bytes());
        hasher.finish()
    }

    /// What the readings were taken with and in; what the job does not say is standard.
    #[must_use]
    pub fn conditions(&self) -> Conditions {
        let standard = Conditions::default();
        let gauges = self.gauges.clone().unwrap_or_default();
        Conditions {
            held_offset: gauges.offset(),
            gauge_class: gauges.class(),
            ambient: self.ambient_kpa.map_or(standard.ambient, AbsolutePressure::from_kpa),
            air: self.air_temperature_c.map_or(standard.air, Temperature::from_celsius),
            restrictor: self.restrictor_mm.map(Length::from_mm),
            ..standard
        }
    }

    /// Clips that count (none left out on purpose) for a cylinder, those that belong to no cylinder among them.
    pub fn clips_of(&self, cylinder: u32) -> impl Iterator<Item = &ClipRecord> {
        self.clips
            .iter()
            .filter(move |clip| clip.left_out.is_none() && clip.subject.cylinder.is_none_or(|whose| whose == cylinder))
    }

    /// Cylinders that have a clip with air on or pulsed, ascending: those that can be ranked.
    #[must_use]
    pub fn cylinders_heard(&self) -> Vec<u32> {
        let mut heard: Vec<u32> = self
            .clips
            .iter()
            .filter(|clip| clip.left_out.is_none() && clip.subject.air != Air::Off)
            .filter_map(|clip| clip.subject.cylinder)
            .collect();
        heard.sort_unstable();
        heard.dedup();
        heard
    }

    /// The opening that a person's word means: known to everybody or to this job, or insisted on.
    ///
    /// # Errors
    /// [`NamingError`] where it is no name, or nobody knows it and `new` is not said.
    pub fn opening(&self, word: &str, new: bool) -> Result<Opening, NamingError> {
        let known: Vec<Opening> = self.clips.iter().map(|clip| clip.subject.opening.clone()).collect();
        Understood::opening(word, &known, new)
    }

    /// What a clip is of, as asked for: an engine with one cylinder needs no number. The rig alone has none.
    #[must_use]
    pub fn subject(&self, cylinder: Option<u32>, opening: Opening, air: Air) -> Subject {
        let only = (self.cylinders == 1 && opening.name() != "rig").then_some(1);
        Subject { cylinder: cylinder.or(only), opening, air }
    }

    /// The number that the next visit in the order of work has.
    #[must_use]
    pub fn next_visit(&self) -> u32 {
        let visits = self.clips.iter().filter_map(|clip| clip.visit);
        visits.chain(self.pending.iter().filter_map(|pending| pending.visit)).max().unwrap_or(0).saturating_add(1)
    }
}

/// A clip as far as it decides a ranking.
fn line_of(clip: &ClipRecord) -> String {
    let Subject { cylinder, opening, air } = &clip.subject;
    let whose = cylinder.map_or_else(|| "-".to_owned(), |cylinder| cylinder.to_string());
    let far = clip.far_channel.map_or_else(|| "-".to_owned(), |channel| channel.to_string());
    let only = if clip.one_channel { " alone" } else { "" };
    format!("{} {whose} {opening} {} {} {far}{only}\n", clip.sha256, air.name(), clip.channel)
}

/// Whether the engine was warm. Cold readings are worse and less certain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EngineTemperature {
    /// At its working temperature.
    Hot,
    /// Not run before the test.
    Cold,
}

/// What the engine's maker allows; comes before every published band.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MakerLimits {
    /// The most that a cylinder may lose, percent of the supply.
    pub loss_percent: Option<f64>,
    /// The most by which cylinders may differ, percent points.
    pub spread_percent: Option<f64>,
    /// The highest test pressure, gauge, kPa.
    pub test_pressure_kpa: Option<f64>,
    /// Diameter of the restrictor that the maker's limit is meant for, mm.
    pub restrictor_mm: Option<f64>,
    /// Where that stands: manual and page.
    pub source: Option<String>,
}

/// The microphone chosen for the job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Microphone {
    /// Its name as the system gives it.
    pub device: String,
    /// The channel at the opening, counted from 1.
    pub channel: Option<u32>,
    /// The channel of a second microphone a step away, counted from 1.
    pub far_channel: Option<u32>,
}

/// The tester's two gauges: what they show with the cylinder's valve shut, where both should show the same, and how
/// accurate their maker says they are. Gauge pressures.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Gauges {
    /// Before the restrictor, the cylinder's valve shut, kPa.
    pub shut_supply_kpa: Option<f64>,
    /// After it at the same moment, kPa.
    pub shut_held_kpa: Option<f64>,
    /// Accuracy class: the greatest error in percent of the range (EN 837-1).
    pub class_percent: Option<f64>,
    /// The range: full scale, kPa.
    pub range_kpa: Option<f64>,
    /// When they were read.
    pub when: Option<When>,
}

impl Gauges {
    /// What the gauge after the restrictor shows too much, where nothing flows.
    #[must_use]
    pub fn offset(&self) -> Option<PressureDifference> {
        Some(PressureDifference::from_kpa(self.shut_held_kpa? - self.shut_supply_kpa?))
    }

    /// The greatest error of each gauge by its class.
    #[must_use]
    pub fn class(&self) -> Option<PressureDifference> {
        Some(PressureDifference::from_kpa(self.class_percent? / 100.0 * self.range_kpa?))
    }
}

/// What the rig alone loses, hose blanked off.
#[derive(Debug, Clone, PartialEq)]
pub struct RigReading {
    /// What the gauges showed.
    pub value: GaugeValue,
    /// When it was read.
    pub when: Option<When>,
}

impl RigReading {
    /// The reading as the gauge's arithmetic takes it.
    #[must_use]
    pub fn reading(&self) -> Reading {
        self.value.reading()
    }
}

/// What a gauge shows. Gauge pressures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GaugeValue {
    /// A tester with two gauges.
    Pressures {
        /// Before the restrictor, kPa.
        supply_kpa: f64,
        /// In the cylinder, kPa.
        held_kpa: f64,
    },
    /// A tester that shows percent.
    Loss {
        /// Share of the supply that the cylinder does not hold.
        percent: f64,
        /// The supply, where it was read too, kPa.
        supply_kpa: Option<f64>,
    },
}

impl GaugeValue {
    /// The reading as the gauge's arithmetic takes it.
    ///
    /// ```
    /// use hissward::job::GaugeValue;
    /// assert_eq!(GaugeValue::Pressures { supply_kpa: 80.0, held_kpa: 60.0 }.reading().loss().0, 25.0);
    /// ```
    #[must_use]
    pub fn reading(self) -> Reading {
        match self {
            Self::Pressures { supply_kpa, held_kpa } => Reading::Pressures {
                supply: GaugePressure::from_kpa(supply_kpa),
                held: GaugePressure::from_kpa(held_kpa),
            },
            Self::Loss { percent, supply_kpa } => {
                Reading::Share { loss: Percent(percent), supply: supply_kpa.map(GaugePressure::from_kpa) }
            }
        }
    }

    /// A reading as typed.
    ///
    /// ```
    /// use hissward::job::GaugeValue;
    /// let value = GaugeValue::of("60/80 kPa".parse()?);
    /// assert_eq!(value, GaugeValue::Pressures { supply_kpa: 80.0, held_kpa: 60.0 });
    /// # Ok::<(), hissward::units::TypedReadingError>(())
    /// ```
    #[must_use]
    pub fn of(typed: TypedReading) -> Self {
        match typed {
            TypedReading::Pressures { supply, held } => {
                Self::Pressures { supply_kpa: supply.as_kpa(), held_kpa: held.as_kpa() }
            }
            TypedReading::Loss { loss, supply } => {
                Self::Loss { percent: loss.0, supply_kpa: supply.map(GaugePressure::as_kpa) }
            }
        }
    }

    /// The supply, where it is known, kPa.
    #[must_use]
    pub fn supply_kpa(self) -> Option<f64> {
        match self {
            Self::Pressures { supply_kpa, .. } => Some(supply_kpa),
            Self::Loss { supply_kpa, .. } => supply_kpa,
        }
    }
}

/// A gauge reading of one cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct GaugeReading {
    /// The cylinder, counted from 1.
    pub cylinder: u32,
    /// What the gauge showed.
    pub value: GaugeValue,
    /// Read with the engine cold.
    pub cold: bool,
    /// When it was read.
    pub when: Option<When>,
}

/// What was found when a cylinder was opened. One with several faults has several entries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// The cylinder, counted from 1.
    pub cylinder: u32,
    /// Where the air got away.
    pub path: EscapePath,
    /// What was seen there, in the words of who saw it.
    pub note: Option<String>,
    /// When that was written down.
    pub when: Option<When>,
}

/// A step of the test.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Step {
    /// The rig blanked off.
    Rig,
    /// A cylinder's gauge reading.
    Gauge,
    /// A clip.
    Clip,
}

/// A step left out on purpose.
#[derive(Debug, Clone, PartialEq)]
pub struct SkippedStep {
    /// Which step.
    pub step: Step,
    /// Of which cylinder.
    pub cylinder: Option<u32>,
    /// At which opening.
    pub opening: Option<Opening>,
    /// With the air how.
    pub air: Option<Air>,
    /// Why.
    pub reason: String,
    /// When that was decided.
    pub when: Option<When>,
}

/// What a clip is of.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Subject {
    /// The cylinder under test; `None` for a quiet clip that serves all, and for the rig alone.
    pub cylinder: Option<u32>,
    /// Where the microphone was held.
    pub opening: Opening,
    /// What the air was doing.
    pub air: Air,
}

/// One recording.
#[derive(Debug, Clone, PartialEq)]
pub struct ClipRecord {
    /// Its file in `clips/`.
    pub file: FileName,
    /// What it is of.
    pub subject: Subject,
    /// Which repeat of the same it is, counted from 1.
    pub take: u32,
    /// Its place in the order of work, counted from 1.
    pub visit: Option<u32>,
    /// When recording began; unknown for most imports.
    pub recorded: Option<When>,
    /// How long it is.
    pub seconds: f64,
    /// Samples per second.
    pub sample_rate_hz: u32,
    /// Channels in the file.
    pub channels: u32,
    /// The channel at the opening, counted from 1.
    pub channel: u32,
    /// The channel of a second microphone a step away, counted from 1.
    pub far_channel: Option<u32>,
    /// Somebody chose the one channel: others in the file are not asked.
    pub one_channel: bool,
    /// The microphone, or the recorder as the file names it.
    pub device: Option<String>,
    /// The program that recorded it, and its settings, as the file names them.
    pub application: Option<String>,
    /// The coding it came in, where that throws sound away.
    pub coding: Option<String>,
    /// Processing of the sound that the phone did not switch off: `echo`, `noise`, `gain`, or `unknown`, with spaces between.
    pub processing: Option<String>,
    /// Hash of the file.
    pub sha256: Sha256,
    /// Recording ended before its time: killed, unplugged, disk full.
    pub cut_short: bool,
    /// How often the sound card had sound that was lost.
    pub overruns: u32,
    /// Why it is not to be used, where somebody said so.
    pub left_out: Option<String>,
    /// Where it came from, if it was recorded elsewhere.
    pub import: Option<Import>,
}

/// Where an imported clip came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Import {
    /// When it was taken in.
    pub when: When,
    /// Its name outside: text only, never used as a path.
    pub name: String,
    /// The file as it came, where the clip was decoded from it; `None` where the clip is that file.
    pub original: Option<Original>,
}

/// The file from which a clip was decoded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Original {
    /// Its file in `clips/`.
    pub file: FileName,
    /// Hash of the file.
    pub sha256: Sha256,
}

/// A clip that is being recorded or taken in.
#[derive(Debug, Clone, PartialEq)]
pub struct PendingClip {
    /// Recorded or taken in.
    pub kind: PendingKind,
    /// The file that it will be.
    pub file: FileName,
    /// The original that will stand beside it.
    pub original_file: Option<FileName>,
    /// What it is of.
    pub subject: Subject,
    /// Which repeat.
    pub take: u32,
    /// Its place in the order of work.
    pub visit: Option<u32>,
    /// Since when.
    pub since: When,
    /// The channel at the opening, counted from 1.
    pub channel: u32,
    /// The channel of a second microphone, counted from 1.
    pub far_channel: Option<u32>,
    /// The microphone.
    pub device: Option<String>,
    /// Processing of the sound that the phone did not switch off: `echo`, `noise`, `gain`, or `unknown`, with spaces between.
    pub processing: Option<String>,
}

/// How a pending clip comes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PendingKind {
    /// From the microphone: what is there after a crash is kept.
    Recording,
    /// From a file that still exists elsewhere: what is there after a crash is removed.
    Import,
}
