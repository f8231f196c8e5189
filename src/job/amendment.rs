//! Mistakes put right. Nothing is erased: what was changed, when and from what stays in the job.

use crate::crank::Cycle;
use crate::gauge::Reading;
use crate::job::checks::{check, check_subject, check_supply};
use crate::job::error::{Fault, JobError, KeyPath};
use crate::job::names::FileName;
use crate::job::record::{ClipRecord, EngineTemperature, GaugeReading, GaugeValue, JobRecord, RigReading, Subject};
use crate::job::store::{JobWriter, no_such_clip};
use crate::job::when::When;
use crate::opening::{Air, Opening};

/// One value that was put right.
#[derive(Debug, Clone, PartialEq)]
pub struct Amendment {
    /// When that was done.
    pub when: When,
    /// What it belongs to: a clip's file, `gauge 2`, `rig`, or `job`.
    pub of: String,
    /// The value's key, as in `job.toml`.
    pub key: String,
    /// What stood there; `None` where nothing did.
    pub from: Option<String>,
    /// What stands there now; `None` where nothing does.
    pub to: Option<String>,
}

/// What is to be changed of clips; what is `None` stays.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ClipChange {
    /// Where the microphone was.
    pub opening: Option<Opening>,
    /// The cylinder under test.
    pub cylinder: Option<u32>,
    /// What the air was doing.
    pub air: Option<Air>,
    /// Whether it counts.
    pub counts: Option<Counts>,
}

/// Whether a clip counts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Counts {
    /// It is left out of every ranking, for this reason.
    LeftOut(String),
    /// It counts again.
    TakenIn,
}

/// What is to be changed of a cylinder's reading, the last one, which counts.
#[derive(Debug, Clone, PartialEq)]
pub enum GaugeChange {
    /// Another value, read hot or cold (`None`: as before).
    Value(GaugeValue, Option<bool>),
    /// It was read with the engine cold, or was not.
    Cold(bool),
    /// It is of another cylinder.
    MovedTo(u32),
    /// It does not count; what it was stays among the amendments, with the reason.
    TakenBack(String),
}

/// One of the job's own data, with its new value; `None` takes it away where it need not be there.
#[derive(Debug, Clone, PartialEq)]
pub enum Datum {
    /// The engine, as people call it.
    Engine(String),
    /// Whose it is.
    Customer(Option<String>),
    /// Who did the test.
    TestedBy(Option<String>),
    /// Who offers it.
    Shop(Option<String>),
    /// Free text.
    Notes(Option<String>),
    /// How many cylinders it has.
    Cylinders(u32),
    /// Cylinders in the order in which they fire.
    FiringOrder(Option<Vec<u32>>),
    /// How often they fire.
    Cycle(Cycle),
    /// Whether the engine was warm.
    Temperature(Option<EngineTemperature>),
    /// Diameter of the tester's restrictor, mm.
    RestrictorMm(Option<f64>),
}

impl JobWriter {
    /// Changes clips: all of them or, on any error, none. A clip that moves gets the next take of its new place.
    ///
    /// # Errors
    /// [`JobError`] where there is no such clip, it cannot be of that place, or the disk says no.
    pub fn amend_clips(&mut self, files: &[FileName], change: &ClipChange, when: &When) -> Result<(), JobError> {
        self.change(|record| {
            for file in files {
                let at = place_of(record, file)?;
                let clip = &record.clips[at];
                let subject = Subject {
                    cylinder: change.cylinder.or(clip.subject.cylinder),
                    opening: change.opening.clone().unwrap_or_else(|| clip.subject.opening.clone()),
                    air: change.air.unwrap_or(clip.subject.air),
                };
                let left_out = match &change.counts {
                    Some(Counts::LeftOut(reason)) => Some(reason.clone()),
                    Some(Counts::TakenIn) => None,
                    None => clip.left_out.clone(),
                };
                set_clip(record, at, subject, left_out, when)?;
            }
            Ok(())
        })
    }

    /// Two clips change places: cylinder, opening and air.
    ///
    /// # Errors
    /// As [`Self::amend_clips`].
    pub fn swap_clips(&mut self, one: &FileName, other: &FileName, when: &When) -> Result<(), JobError> {
        self.change(|record| {
            let (a, b) = (place_of(record, one)?, place_of(record, other)?);
            if a == b {
                let what = "two different clips are wanted";
                return Err(Fault::new(KeyPath::default().key("clip"), what).into());
            }
            let before = [record.clips[a].clone(), record.clips[b].clone()];
            for (at, from) in [(a, &before[1]), (b, &before[0])] {
                check_subject(&from.subject, record, &KeyPath::default().key("clip").index(at))?;
                let clip = &mut record.clips[at];
                clip.subject = from.subject.clone();
                clip.take = from.take;
            }
            for (at, was) in [(a, &before[0]), (b, &before[1])] {
                let noted = differences(was, &record.clips[at], when);
                record.amended.extend(noted);
            }
            Ok(())
        })
    }

    /// Changes the reading that counts for a cylinder.
    ///
    /// # Errors
    /// [`JobError`] where it has none, the new one cannot be, or the disk says no.
    pub fn amend_gauge(&mut self, cylinder: u32, change: &GaugeChange, when: &When) -> Result<(), JobError> {
        self.change(|record| {
            let path = KeyPath::default().key("gauge");
            let at = record.gauge.iter().rposition(|reading| reading.cylinder == cylinder).ok_or_else(|| {
                let what = format!("cylinder {cylinder} has no reading to change: add one with `hissward gauge`");
                Fault::new(path.clone(), what)
            })?;
            if let GaugeChange::Value(value, _) = change {
                check_supply(record, value.supply_kpa(), &KeyPath::default().key("gauge").index(at))?;
            }
            let before = record.gauge[at].clone();
            let mut note = |key: &str, from: Option<String>, to: Option<String>| {
                let of = format!("gauge {cylinder}");
                if from != to {
                    record.amended.push(Amendment { when: when.clone(), of, key: key.to_owned(), from, to });
                }
            };
            let mut after = before.clone();
            match change {
                GaugeChange::Value(value, cold) => {
                    after.value = *value;
                    after.cold = cold.unwrap_or(before.cold);
                }
                GaugeChange::Cold(cold) => after.cold = *cold,
                GaugeChange::MovedTo(other) => after.cylinder = *other,
                GaugeChange::TakenBack(reason) => {
                    note("reading", Some(said(&before)), Some(format!("taken back: {reason}")));
                    record.gauge.remove(at);
                    return Ok(());
                }
            }
            note("reading", Some(said(&before)), Some(said(&after)));
            note("cylinder", Some(before.cylinder.to_string()), Some(after.cylinder.to_string()));
            record.gauge[at] = after;
            // Whether it goes with the rig's reading is said by its assessment.
            check(record).map_err(JobError::from)
        })
    }

    /// Takes the rig's reading back: it does not count; what it was stays among the amendments, with the reason.
    ///
    /// # Errors
    /// [`JobError`] where the rig has none, or the disk says no.
    pub fn take_rig_back(&mut self, reason: &str, when: &When) -> Result<(), JobError> {
        self.change(|record| {
            let path = KeyPath::default().key("rig");
            let what = || "the rig has no reading to take back: add one with `hissward rig`".to_owned();
            let before = record.rig.take().ok_or_else(|| Fault::new(path, what()))?;
            record.amended.push(Amendment {
                when: when.clone(),
                of: "rig".to_owned(),
                key: "reading".to_owned(),
                from: Some(said_of(&before.reading())),
                to: Some(format!("taken back: {reason}")),
            });
            Ok(())
        })
    }

    /// Changes the job's own data: all of it or, on any error, nothing.
    ///
    /// # Errors
    /// [`JobError`] where a value cannot be, or the disk says no.
    pub fn amend_data(&mut self, data: &[Datum], when: &When) -> Result<(), JobError> {
        self.change(|record| {
            for datum in data {
                let (key, from, to) = set_datum(record, datum);
                if from != to {
                    let of = "job".to_owned();
                    record.amended.push(Amendment { when: when.clone(), of, key: key.to_owned(), from, to });
                }
            }
            check(record).map_err(JobError::from)
        })
    }
}

/// What was said of the rig before, where it was read before.
pub(crate) fn rig_amendment(before: Option<&RigReading>, after: &RigReading) -> Option<Amendment> {
    let before = before.filter(|before| before.reading() != after.reading())?;
    let when = after.when.clone().unwrap_or_else(When::now);
    let said = |reading: &RigReading| Some(said_of(&reading.reading()));
    Some(Amendment { when, of: "rig".to_owned(), key: "reading".to_owned(), from: said(before), to: said(after) })
}

fn place_of(record: &JobRecord, file: &FileName) -> Result<usize, JobError> {
    record.clips.iter().position(|clip| clip.file == *file).ok_or_else(|| no_such_clip(file))
}

/// Gives a clip its place and whether it counts, and notes what that changes.
pub(crate) fn set_clip(
    record: &mut JobRecord,
    at: usize,
    subject: Subject,
    left_out: Option<String>,
    when: &When,
) -> Result<(), JobError> {
    check_subject(&subject, record, &KeyPath::default().key("clip").index(at))?;
    let before = record.clips[at].clone();
    let take = if subject == before.subject {
        before.take
    } else {
        let listed = record.clips.iter().filter(|clip| clip.subject == subject).map(|clip| clip.take);
        let coming = record.pending.iter().filter(|pending| pending.subject == subject).map(|pending| pending.take);
        listed.chain(coming).max().unwrap_or(0).saturating_add(1)
    };
    let clip = &mut record.clips[at];
    (clip.subject, clip.take, clip.left_out) = (subject, take, left_out);
    let noted = differences(&before, &record.clips[at], when);
    record.amended.extend(noted);
    Ok(())
}

fn differences(before: &ClipRecord, after: &ClipRecord, when: &When) -> Vec<Amendment> {
    let cylinder = |clip: &ClipRecord| clip.subject.cylinder.map(|cylinder| cylinder.to_string());
    let values = |clip: &ClipRecord| {
        [
            ("cylinder", cylinder(clip)),
            ("opening", Some(clip.subject.opening.to_string())),
            ("air", Some(clip.subject.air.name().to_owned())),
            ("take", Some(clip.take.to_string())),
            ("left_out", clip.left_out.clone()),
        ]
    };
    let both = values(before).into_iter().zip(values(after)).filter(|((_, from), (_, to))| from != to);
    both.map(|((key, from), (_, to))| Amendment {
        when: when.clone(),
        of: before.file.to_string(),
        key: key.to_owned(),
        from,
        to,
    })
    .collect()
}

/// A reading in a few words: `supply 552 kPa, held 414 kPa, cold`.
fn said(reading: &GaugeReading) -> String {
    let cold = if reading.cold { ", cold" } else { "" };
    format!("{}{cold}", said_of(&reading.value.reading()))
}

fn said_of(reading: &Reading) -> String {
    match reading {
        Reading::Pressures { supply, held } => {
            format!("supply {:.1} kPa, held {:.1} kPa", supply.as_kpa(), held.as_kpa())
        }
        Reading::Share { loss, .. } => format!("loss {} %", loss.0),
    }
}

/// Sets a datum; gives its key, what stood there and what stands there now.
fn set_datum(record: &mut JobRecord, datum: &Datum) -> (&'static str, Option<String>, Option<String>) {
    fn put<T: Clone>(
        place: &mut T,
        value: &T,
        key: &'static str,
        said: impl Fn(&T) -> Option<String>,
    ) -> (&'static str, Option<String>, Option<String>) {
        let from = said(place);
        *place = value.clone();
        (key, from, said(place))
    }
    let text = |text: &Option<String>| text.clone();
    match datum {
        Datum::Engine(engine) => put(&mut record.engine, engine, "engine", |text| Some(text.clone())),
        Datum::Customer(value) => put(&mut record.customer, value, "customer", text),
        Datum::TestedBy(value) => put(&mut record.tested_by, value, "tested_by", text),
        Datum::Shop(value) => put(&mut record.shop, value, "shop", text),
        Datum::Notes(value) => put(&mut record.notes, value, "notes", text),
        Datum::Cylinders(count) => put(&mut record.cylinders, count, "cylinders", |count| Some(count.to_string())),
        Datum::FiringOrder(order) => put(&mut record.firing_order, order, "firing_order", |order| {
            order.as_ref().map(|order| order.iter().map(u32::to_string).collect::<Vec<_>>().join("-"))
        }),
        Datum::Cycle(cycle) => put(&mut record.cycle, cycle, "cycle", |cycle| {
            let name = if *cycle == Cycle::TwoStroke { "two-stroke" } else { "four-stroke" };
            Some(name.to_owned())
        }),
        Datum::Temperature(value) => put(&mut record.temperature, value, "temperature", |value| {
            value.map(|value| if value == EngineTemperature::Hot { "hot" } else { "cold" }.to_owned())
        }),
        Datum::RestrictorMm(value) => {
            put(&mut record.restrictor_mm, value, "restrictor_mm", |mm| mm.map(|mm| mm.to_string()))
        }
    }
}
