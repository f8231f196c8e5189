//! [`JobRecord`] to the keys of `job.toml`, in the order in which people read them.

use toml_edit::{Array, Value};

use crate::crank::Cycle;
use crate::job::amendment::Amendment;
use crate::job::merge::{Field, Layout};
use crate::job::reading::{CYCLES, KINDS, STEPS, TEMPERATURES};
use crate::job::record::{
    ClipRecord, Found, GaugeReading, GaugeValue, Gauges, JobRecord, MakerLimits, Microphone, PendingClip, RigReading,
    SkippedStep, Subject,
};
use crate::job::store::FORMAT;
use crate::job::when::When;
use crate::units::UnitSystem;

/// Every key this version knows, with its value or without.
pub(crate) fn layout_of(job: &JobRecord) -> Layout {
    Layout(vec![
        ("format", whole(Some(FORMAT))),
        ("made_with", text(job.made_with.as_ref())),
        ("created", when(job.created.as_ref())),
        ("engine", text(Some(&job.engine))),
        ("cylinders", whole(Some(job.cylinders))),
        ("cycle", cycle(job.cycle)),
        ("firing_order", list(job.firing_order.as_deref().map(cylinders))),
        ("firing_angles_deg", list(job.firing_angles_deg.as_ref().map(|all| all.iter().copied().collect()))),
        ("banks", list(job.banks.as_ref().map(|banks| banks.iter().map(|bank| cylinders(bank)).collect()))),
        ("temperature", word(job.temperature, &TEMPERATURES)),
        ("restrictor_mm", number(job.restrictor_mm)),
        ("ambient_kpa", number(job.ambient_kpa)),
        ("air_temperature_c", number(job.air_temperature_c)),
        ("shop", text(job.shop.as_ref())),
        ("customer", text(job.customer.as_ref())),
        ("tested_by", text(job.tested_by.as_ref())),
        ("notes", text(job.notes.as_ref())),
        ("language", text(job.language.as_ref())),
        ("units", shown(job.units.map(UnitSystem::name))),
        ("cautions_confirmed", when(job.cautions_confirmed.as_ref())),
        ("limits", Field::Table(job.limits.as_ref().map(limits))),
        ("microphone", Field::Table(job.microphone.as_ref().map(microphone))),
        ("gauges", Field::Table(job.gauges.as_ref().map(gauges))),
        ("rig", Field::Table(job.rig.as_ref().map(rig))),
        ("gauge", Field::Tables(job.gauge.iter().map(gauge).collect())),
        ("found", Field::Tables(job.found.iter().map(found).collect())),
        ("skipped", Field::Tables(job.skipped.iter().map(skipped).collect())),
        ("clip", Field::Tables(job.clips.iter().map(clip).collect())),
        ("amended", Field::Tables(job.amended.iter().map(amended).collect())),
        ("pending", Field::Tables(job.pending.iter().map(pending).collect())),
    ])
}

fn text(text: Option<&String>) -> Field {
    Field::Value(text.map(|text| Value::from(text.as_str())))
}

fn shown(thing: Option<impl ToString>) -> Field {
    Field::Value(thing.map(|thing| Value::from(thing.to_string())))
}

fn when(when: Option<&When>) -> Field {
    shown(when)
}

fn whole(count: Option<u32>) -> Field {
    Field::Value(count.map(|count| Value::from(i64::from(count))))
}

fn number(number: Option<f64>) -> Field {
    Field::Value(number.map(Value::from))
}

/// A value that need not be written where it is the one assumed anyway.
fn unless<T: PartialEq>(assumed: T, value: T, written: impl Into<Value>) -> Field {
    if value == assumed { Field::Assumed(written.into()) } else { Field::Value(Some(written.into())) }
}

fn flag(set: bool) -> Field {
    unless(false, set, set)
}

fn count_unless(assumed: u32, count: u32) -> Field {
    unless(assumed, count, i64::from(count))
}

fn list(list: Option<Array>) -> Field {
    Field::Value(list.map(Value::Array))
}

fn cylinders(all: &[u32]) -> Array {
    all.iter().map(|cylinder| i64::from(*cylinder)).collect()
}

fn word<T: Copy + PartialEq>(meaning: Option<T>, words: &[(&'static str, T)]) -> Field {
    let found = meaning.and_then(|meaning| words.iter().find(|(_, known)| *known == meaning));
    Field::Value(found.map(|(word, _)| Value::from(*word)))
}

fn cycle(cycle: Cycle) -> Field {
    match word(Some(cycle), &CYCLES) {
        Field::Value(Some(word)) if cycle == Cycle::default() => Field::Assumed(word),
        other => other,
    }
}

fn limits(limits: &MakerLimits) -> Layout {
    Layout(vec![
        ("loss_percent", number(limits.loss_percent)),
        ("spread_percent", number(limits.spread_percent)),
        ("test_pressure_kpa", number(limits.test_pressure_kpa)),
        ("restrictor_mm", number(limits.restrictor_mm)),
        ("source", text(limits.source.as_ref())),
    ])
}

fn microphone(microphone: &Microphone) -> Layout {
    Layout(vec![
        ("device", text(Some(&microphone.device))),
        ("channel", whole(microphone.channel)),
        ("far_channel", whole(microphone.far_channel)),
    ])
}

fn gauges(gauges: &Gauges) -> Layout {
    Layout(vec![
        ("shut_supply_kpa", number(gauges.shut_supply_kpa)),
        ("shut_held_kpa", number(gauges.shut_held_kpa)),
        ("class_percent", number(gauges.class_percent)),
        ("range_kpa", number(gauges.range_kpa)),
        ("when", when(gauges.when.as_ref())),
    ])
}

/// What a gauge showed, under the keys of rig and cylinder alike.
fn shown_by(value: GaugeValue) -> [(&'static str, Field); 3] {
    let (held, loss) = match value {
        GaugeValue::Pressures { held_kpa, .. } => (Some(held_kpa), None),
        GaugeValue::Loss { percent, .. } => (None, Some(percent)),
    };
    [("supply_kpa", number(value.supply_kpa())), ("held_kpa", number(held)), ("loss_percent", number(loss))]
}

fn rig(rig: &RigReading) -> Layout {
    let mut keys = Vec::from(shown_by(rig.value));
    keys.push(("when", when(rig.when.as_ref())));
    Layout(keys)
}

fn gauge(reading: &GaugeReading) -> Layout {
    let mut keys = vec![("cylinder", whole(Some(reading.cylinder)))];
    keys.extend(shown_by(reading.value));
    keys.extend([("cold", flag(reading.cold)), ("when", when(reading.when.as_ref()))]);
    Layout(keys)
}

fn found(found: &Found) -> Layout {
    Layout(vec![
        ("cylinder", whole(Some(found.cylinder))),
        ("path", shown(Some(found.path.name()))),
        ("note", text(found.note.as_ref())),
        ("when", when(found.when.as_ref())),
    ])
}

fn skipped(skipped: &SkippedStep) -> Layout {
    Layout(vec![
        ("step", word(Some(skipped.step), &STEPS)),
        ("cylinder", whole(skipped.cylinder)),
        ("opening", shown(skipped.opening.as_ref())),
        ("air", shown(skipped.air.map(|air| air.name()))),
        ("reason", text(Some(&skipped.reason))),
        ("when", when(skipped.when.as_ref())),
    ])
}

fn amended(amendment: &Amendment) -> Layout {
    Layout(vec![
        ("when", when(Some(&amendment.when))),
        ("of", text(Some(&amendment.of))),
        ("key", text(Some(&amendment.key))),
        ("from", text(amendment.from.as_ref())),
        ("to", text(amendment.to.as_ref())),
    ])
}

fn subject(subject: &Subject) -> [(&'static str, Field); 3] {
    [
        ("cylinder", whole(subject.cylinder)),
        ("opening", shown(Some(&subject.opening))),
        ("air", shown(Some(subject.air.name()))),
    ]
}

fn clip(clip: &ClipRecord) -> Layout {
    let import = clip.import.as_ref();
    let original = import.and_then(|import| import.original.as_ref());
    let mut keys = vec![("file", shown(Some(&clip.file)))];
    keys.extend(subject(&clip.subject));
    keys.extend([
        ("take", whole(Some(clip.take))),
        ("visit", whole(clip.visit)),
        ("recorded", when(clip.recorded.as_ref())),
        ("seconds", number(Some(clip.seconds))),
        ("sample_rate_hz", whole(Some(clip.sample_rate_hz))),
        ("channels", whole(Some(clip.channels))),
        ("channel", count_unless(1, clip.channel)),
        ("far_channel", whole(clip.far_channel)),
        ("one_channel", flag(clip.one_channel)),
        ("device", text(clip.device.as_ref())),
        ("application", text(clip.application.as_ref())),
        ("coding", text(clip.coding.as_ref())),
        ("processing", text(clip.processing.as_ref())),
        ("sha256", shown(Some(clip.sha256))),
        ("cut_short", flag(clip.cut_short)),
        ("overruns", count_unless(0, clip.overruns)),
        ("left_out", text(clip.left_out.as_ref())),
        ("imported", when(import.map(|import| &import.when))),
        ("imported_from", text(import.map(|import| &import.name))),
        ("original_file", shown(original.map(|original| &original.file))),
        ("original_sha256", shown(original.map(|original| original.sha256))),
    ]);
    Layout(keys)
}

fn pending(pending: &PendingClip) -> Layout {
    let mut keys = vec![
        ("kind", word(Some(pending.kind), &KINDS)),
        ("file", shown(Some(&pending.file))),
        ("original_file", shown(pending.original_file.as_ref())),
    ];
    keys.extend(subject(&pending.subject));
    keys.extend([
        ("take", whole(Some(pending.take))),
        ("visit", whole(pending.visit)),
        ("since", when(Some(&pending.since))),
        ("channel", count_unless(1, pending.channel)),
        ("far_channel", whole(pending.far_channel)),
        ("device", text(pending.device.as_ref())),
        ("processing", text(pending.processing.as_ref())),
    ]);
    Layout(keys)
}
