//! What a record must be to make sense, whoever wrote it: checked on reading and before every change.

use std::collections::BTreeSet;

use crate::crank::{CrankError, Cycle, FiringOrder};
use crate::gauge::{GaugeError, Reading};
use crate::job::error::{Fault, KeyPath};
use crate::job::names::FileName;
use crate::job::record::{ClipRecord, Gauges, JobRecord, MakerLimits, Microphone, PendingClip, Subject};
use crate::opening::Air;
use crate::units::{GaugePressure, HIGHEST_TEST_PRESSURE};

/// The most cylinders an engine may have here. Larger engines exist, on more than one crankshaft or as radials.
pub const MOST_CYLINDERS: u32 = 48;

/// The longest text, characters.
pub const LONGEST_TEXT: usize = 100_000;

/// Air pressures a shop can have, absolute, kPa: from 5,500 m above the sea to a record high at its level.
const AMBIENT_KPA: std::ops::RangeInclusive<f64> = 50.0..=110.0;

/// Temperatures of the air in which people work, °C.
const AIR_CELSIUS: std::ops::RangeInclusive<f64> = -40.0..=60.0;

/// The widest restrictor taken for a real one, mm. The usual ones are 1.016 and 1.524 mm (FAA safety tip, Nov. 2011).
const WIDEST_RESTRICTOR_MM: f64 = 10.0;

/// Whether the record makes sense.
pub(crate) fn check(record: &JobRecord) -> Result<(), Fault> {
    let root = KeyPath::default();
    check_texts(record, &root)?;
    check_engine(record, &root)?;
    if let Some(limits) = &record.limits {
        check_limits(limits, &root.key("limits"))?;
    }
    if let Some(microphone) = &record.microphone {
        check_microphone(microphone, &root.key("microphone"))?;
    }
    if let Some(gauges) = &record.gauges {
        check_gauges(gauges, &root.key("gauges"))?;
    }
    if let Some(rig) = &record.rig {
        check_reading(&rig.reading(), &root.key("rig"))?;
    }
    for (at, reading) in record.gauge.iter().enumerate() {
        let path = root.key("gauge").index(at);
        check_cylinder(reading.cylinder, record.cylinders, &path)?;
        check_reading(&reading.value.reading(), &path)?;
    }
    for (at, found) in record.found.iter().enumerate() {
        let path = root.key("found").index(at);
        check_cylinder(found.cylinder, record.cylinders, &path)?;
        check_text(found.note.as_ref(), &path.key("note"))?;
    }
    for (at, skipped) in record.skipped.iter().enumerate() {
        let path = root.key("skipped").index(at);
        if let Some(cylinder) = skipped.cylinder {
            check_cylinder(cylinder, record.cylinders, &path)?;
        }
        check_text(Some(&skipped.reason), &path.key("reason"))?;
    }
    for (at, amendment) in record.amended.iter().enumerate() {
        let path = root.key("amended").index(at);
        for (key, text) in [("of", Some(&amendment.of)), ("key", Some(&amendment.key))] {
            check_text(text, &path.key(key))?;
        }
        check_text(amendment.from.as_ref(), &path.key("from"))?;
        check_text(amendment.to.as_ref(), &path.key("to"))?;
    }
    check_clips(record, &root)
}

fn check_texts(record: &JobRecord, root: &KeyPath) -> Result<(), Fault> {
    if record.engine.trim().is_empty() {
        return Err(Fault::new(root.key("engine"), "is empty: say which engine it is, as people call it"));
    }
    check_text(Some(&record.engine), &root.key("engine"))?;
    check_text(record.made_with.as_ref(), &root.key("made_with"))?;
    check_text(record.shop.as_ref(), &root.key("shop"))?;
    check_text(record.customer.as_ref(), &root.key("customer"))?;
    check_text(record.tested_by.as_ref(), &root.key("tested_by"))?;
    check_text(record.notes.as_ref(), &root.key("notes"))?;
    match &record.language {
        Some(code) if !(2..=3).contains(&code.len()) || !code.bytes().all(|b| b.is_ascii_lowercase()) => {
            let what = format!("'{}' is not a language code: write en or de", code.escape_debug());
            Err(Fault::new(root.key("language"), what))
        }
        _ => Ok(()),
    }
}

fn check_text(text: Option<&String>, path: &KeyPath) -> Result<(), Fault> {
    let Some(text) = text else { return Ok(()) };
    // What steers a terminal has no place in a text; line breaks and tabs have.
    if let Some(bad) = text.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\r' | '\t')) {
        let what = format!("holds the control character U+{:04X}: remove it", u32::from(bad));
        return Err(Fault::new(path.clone(), what));
    }
    let length = text.chars().count();
    if length > LONGEST_TEXT {
        return Err(Fault::new(path.clone(), format!("has {length} characters: at most {LONGEST_TEXT} are taken")));
    }
    Ok(())
}

fn check_engine(record: &JobRecord, root: &KeyPath) -> Result<(), Fault> {
    if !(1..=MOST_CYLINDERS).contains(&record.cylinders) {
        let what = format!("{} cannot be: an engine has 1 to {MOST_CYLINDERS} cylinders here", record.cylinders);
        return Err(Fault::new(root.key("cylinders"), what));
    }
    match (&record.firing_order, record.firing_angles_deg.as_deref()) {
        (Some(order), angles_deg) => {
            check_firing(order, angles_deg, record.cylinders, record.cycle).map_err(|error| {
                let angles = matches!(error, CrankError::Angles { .. });
                let key = if angles { "firing_angles_deg" } else { "firing_order" };
                Fault::new(root.key(key), error.to_string())
            })?;
        }
        (None, Some(_)) => {
            let what = "stands without firing_order: give the order to which the angles belong";
            return Err(Fault::new(root.key("firing_angles_deg"), what));
        }
        (None, None) => {}
    }
    if let Some(banks) = &record.banks {
        check_banks(banks, record.cylinders).map_err(|what| Fault::new(root.key("banks"), what))?;
    }
    let within = |key, value: Option<f64>, fits: &dyn Fn(f64) -> bool, want: &str| match value {
        Some(value) if !fits(value) => Err(Fault::new(root.key(key), format!("{value} cannot be: {want}"))),
        _ => Ok(()),
    };
    let restrictor = |mm: f64| mm > 0.0 && mm <= WIDEST_RESTRICTOR_MM;
    within(
        "restrictor_mm",
        record.restrictor_mm,
        &restrictor,
        "the restrictor's diameter in mm, 0.040 in is 1.016 mm",
    )?;
    let ambient = |kpa: f64| AMBIENT_KPA.contains(&kpa);
    within("ambient_kpa", record.ambient_kpa, &ambient, "the air pressure of the place, absolute, 50 to 110 kPa")?;
    let air = |celsius: f64| AIR_CELSIUS.contains(&celsius);
    within("air_temperature_c", record.air_temperature_c, &air, "the temperature of the air in °C, -40 to 60")
}

/// Whether order and angles make a firing order of this engine.
fn check_firing(order: &[u32], angles_deg: Option<&[f64]>, cylinders: u32, cycle: Cycle) -> Result<(), CrankError> {
    let firing = match angles_deg {
        Some(angles_deg) => FiringOrder::with_angles(order, angles_deg, cycle),
        None => FiringOrder::even(order, cycle),
    };
    // An order that is whole in itself may still be that of another engine.
    match firing {
        Ok(firing) if firing.cylinders().count() == cylinders as usize => Ok(()),
        Ok(_) | Err(CrankError::NotEachOnce { .. }) => Err(CrankError::NotEachOnce { got: order.to_vec(), cylinders }),
        Err(error) => Err(error),
    }
}

/// Whether the banks hold each cylinder once.
fn check_banks(banks: &[Vec<u32>], cylinders: u32) -> Result<(), String> {
    let mut all = banks.concat();
    all.sort_unstable();
    if all.into_iter().eq(1..=cylinders) && banks.iter().all(|bank| !bank.is_empty()) {
        return Ok(());
    }
    Err(format!("each of the {cylinders} cylinders stands in one bank: name every one once, as in 1-2-3,4-5-6"))
}

/// A firing order as people write it: `1-3-2`, also with commas or blanks.
///
/// # Errors
/// A sentence where an entry is no number or the entries are not the cylinders 1 to `cylinders`, each once.
///
/// ```
/// assert_eq!(hissward::job::parse_firing_order("1-3-2", 3), Ok(vec![1, 3, 2]));
/// assert!(hissward::job::parse_firing_order("1-3-3", 3).is_err());
/// ```
pub fn parse_firing_order(text: &str, cylinders: u32) -> Result<Vec<u32>, String> {
    let parts = text.split(['-', ',', ' ']).filter(|part| !part.is_empty());
    let order: Result<Vec<u32>, String> = parts
        .map(|part| part.parse().map_err(|_| format!("'{part}' is not a cylinder number: write the order as in 1-3-2")))
        .collect();
    let order = order?;
    check_firing(&order, None, cylinders, Cycle::default()).map_err(|error| error.to_string())?;
    Ok(order)
}

/// Uneven firing angles as people write them: `0,270,450` (degrees of the crank, in firing order).
/// Whether they fit the engine is seen when the job is checked as a whole.
///
/// # Errors
/// A sentence where an entry is no number.
pub fn parse_firing_angles(text: &str) -> Result<Vec<f64>, String> {
    let parts = text.split([',', ' ']).filter(|part| !part.is_empty());
    parts
        .map(|part| part.parse().map_err(|_| format!("'{part}' is not a valid angle: write them as in 0,270,450")))
        .collect()
}

/// Banks as people write them: `1-3,2-4`, the cylinders of a bank in the order in which they stand.
///
/// # Errors
/// A sentence where an entry is no number, or a cylinder is missing or named twice.
///
/// ```
/// assert_eq!(hissward::job::parse_banks("1-3,2-4", 4), Ok(vec![vec![1, 3], vec![2, 4]]));
/// assert!(hissward::job::parse_banks("1-3,2", 4).is_err());
/// ```
pub fn parse_banks(text: &str, cylinders: u32) -> Result<Vec<Vec<u32>>, String> {
    let number = |part: &str| {
        let part = part.trim();
        part.parse().map_err(|_| format!("'{part}' is not a cylinder number: write the banks as in 1-3,2-4"))
    };
    let bank = |text: &str| text.split('-').map(number).collect::<Result<Vec<u32>, String>>();
    let banks = text.split(',').map(bank).collect::<Result<Vec<_>, _>>()?;
    check_banks(&banks, cylinders)?;
    Ok(banks)
}

fn check_cylinder(cylinder: u32, cylinders: u32, path: &KeyPath) -> Result<(), Fault> {
    if (1..=cylinders).contains(&cylinder) {
        return Ok(());
    }
    let plural = if cylinders == 1 { "cylinder" } else { "cylinders" };
    let what = format!("{cylinder} cannot be: this engine has {cylinders} {plural}, counted from 1");
    Err(Fault::new(path.key("cylinder"), what))
}

/// Whether a reading can be: the limits are the gauge's own, the key at fault is the file's.
fn check_reading(reading: &Reading, path: &KeyPath) -> Result<(), Fault> {
    let key = |error: GaugeError| match (reading, error) {
        (_, GaugeError::NoSupply { .. } | GaugeError::SupplyTooHigh { .. }) => "supply_kpa",
        (Reading::Share { .. }, _) => "loss_percent",
        _ => "held_kpa",
    };
    reading.check().map_err(|error| Fault::new(path.key(key(error)), error.to_string()))
}

/// What gauges read with the valve shut may differ by, and the class they may have: beyond, the entry is a slip.
const MOST_DISAGREEMENT: f64 = 0.2;
/// EN 837-1 has classes up to 4 % of the range.
const COARSEST_CLASS_PERCENT: f64 = 10.0;

fn check_gauges(gauges: &Gauges, path: &KeyPath) -> Result<(), Fault> {
    let most = HIGHEST_TEST_PRESSURE.as_kpa();
    for (key, kpa) in [("shut_supply_kpa", gauges.shut_supply_kpa), ("shut_held_kpa", gauges.shut_held_kpa)] {
        if let Some(kpa) = kpa.filter(|kpa| !(*kpa > 0.0 && *kpa <= most)) {
            return Err(Fault::new(path.key(key), format!("{kpa} kPa cannot be: above 0, at most {most:.0} kPa")));
        }
    }
    match (gauges.shut_supply_kpa, gauges.shut_held_kpa) {
        (Some(supply), Some(held)) if (held - supply).abs() > MOST_DISAGREEMENT * supply => {
            let what = format!(
                "{held} kPa beside {supply} kPa before the restrictor is no difference of gauges: shut the cylinder's \
                 valve, so that no air flows, and read both again; if they still differ by so much, renew one"
            );
            return Err(Fault::new(path.key("shut_held_kpa"), what));
        }
        (Some(_), None) => return Err(Fault::new(path.key("shut_held_kpa"), "is missing: give both gauges")),
        (None, Some(_)) => return Err(Fault::new(path.key("shut_supply_kpa"), "is missing: give both gauges")),
        _ => {}
    }
    if let Some(class) = gauges.class_percent.filter(|class| !(*class > 0.0 && *class <= COARSEST_CLASS_PERCENT)) {
        let what = format!("{class} % cannot be a gauge's class: as on its dial, 1.6 or 2.5");
        return Err(Fault::new(path.key("class_percent"), what));
    }
    if let Some(range) = gauges.range_kpa.filter(|range| !(*range > 0.0 && *range <= 10.0 * most)) {
        return Err(Fault::new(path.key("range_kpa"), format!("{range} kPa cannot be a gauge's full scale")));
    }
    match (gauges.class_percent, gauges.range_kpa) {
        (Some(_), None) => Err(Fault::new(path.key("range_kpa"), "is missing: a class is percent of the full scale")),
        (None, Some(_)) => Err(Fault::new(path.key("class_percent"), "is missing: give the class with the full scale")),
        _ => Ok(()),
    }
}

/// Whether a supply keeps to the pressure that the job allows. Asked before anything is kept; what is kept already is
/// not refused, or a limit given later would shut the job.
pub(crate) fn check_supply(record: &JobRecord, supply_kpa: Option<f64>, path: &KeyPath) -> Result<(), Fault> {
    let limit = record.limits.as_ref().and_then(|limits| limits.test_pressure_kpa);
    match (supply_kpa, limit) {
        // A psi typed in two places may differ in the last digit.
        (Some(supply), Some(limit)) if supply > limit * (1.0 + 1e-6) => {
            let shown = |kpa| GaugePressure::from_kpa(kpa).to_string();
            let what = format!(
                "{} is above this job's test pressure of {}: nothing was kept; let the pressure down, and never test above it",
                shown(supply),
                shown(limit)
            );
            Err(Fault::new(path.key("supply_kpa"), what))
        }
        _ => Ok(()),
    }
}

fn check_limits(limits: &MakerLimits, path: &KeyPath) -> Result<(), Fault> {
    for (key, percent) in [("loss_percent", limits.loss_percent), ("spread_percent", limits.spread_percent)] {
        if let Some(percent) = percent.filter(|percent| !(0.0..=100.0).contains(percent)) {
            return Err(Fault::new(path.key(key), format!("{percent} % cannot be a limit: from 0 to 100 %")));
        }
    }
    if let Some(kpa) = limits.test_pressure_kpa.filter(|kpa| !(*kpa > 0.0 && *kpa <= HIGHEST_TEST_PRESSURE.as_kpa())) {
        let what =
            format!("{kpa} kPa cannot be a test pressure: above 0, at most {:.0} kPa", HIGHEST_TEST_PRESSURE.as_kpa());
        return Err(Fault::new(path.key("test_pressure_kpa"), what));
    }
    if let Some(mm) = limits.restrictor_mm.filter(|mm| !(*mm > 0.0 && *mm <= WIDEST_RESTRICTOR_MM)) {
        return Err(Fault::new(path.key("restrictor_mm"), format!("{mm} mm cannot be a restrictor's diameter")));
    }
    check_text(limits.source.as_ref(), &path.key("source"))
}

fn check_microphone(microphone: &Microphone, path: &KeyPath) -> Result<(), Fault> {
    check_text(Some(&microphone.device), &path.key("device"))?;
    check_channels(microphone.channel.unwrap_or(1), microphone.far_channel, u32::MAX, path)
}

fn check_channels(channel: u32, far: Option<u32>, channels: u32, path: &KeyPath) -> Result<(), Fault> {
    let fits = |channel: u32| (1..=channels).contains(&channel);
    let of = if channels == u32::MAX { String::new() } else { format!(" of {channels}") };
    if !fits(channel) {
        return Err(Fault::new(path.key("channel"), format!("{channel}{of} cannot be: counted from 1")));
    }
    match far {
        Some(far) if !fits(far) => {
            Err(Fault::new(path.key("far_channel"), format!("{far}{of} cannot be: counted from 1")))
        }
        Some(far) if far == channel => {
            let what = format!("{far} is the channel at the opening: the second microphone has another");
            Err(Fault::new(path.key("far_channel"), what))
        }
        _ => Ok(()),
    }
}

fn check_clips(record: &JobRecord, root: &KeyPath) -> Result<(), Fault> {
    let mut files = BTreeSet::new();
    let mut takes = std::collections::HashSet::new();
    for (at, clip) in record.clips.iter().enumerate() {
        let path = root.key("clip").index(at);
        check_clip(clip, record, &path)?;
        check_file(&clip.file, "file", &mut files, &path)?;
        if let Some(original) = clip.import.as_ref().and_then(|import| import.original.as_ref()) {
            check_file(&original.file, "original_file", &mut files, &path)?;
        }
        check_take(&clip.subject, clip.take, &mut takes, &path)?;
    }
    for (at, pending) in record.pending.iter().enumerate() {
        let path = root.key("pending").index(at);
        check_pending(pending, record, &path)?;
        check_file(&pending.file, "file", &mut files, &path)?;
        if let Some(original) = &pending.original_file {
            check_file(original, "original_file", &mut files, &path)?;
        }
        check_take(&pending.subject, pending.take, &mut takes, &path)?;
    }
    Ok(())
}

fn check_take<'a>(
    subject: &'a Subject,
    take: u32,
    takes: &mut std::collections::HashSet<(&'a Subject, u32)>,
    path: &KeyPath,
) -> Result<(), Fault> {
    if take == 0 {
        return Err(Fault::new(path.key("take"), "0 cannot be: takes are counted from 1"));
    }
    if !takes.insert((subject, take)) {
        let what =
            format!("{take} is there twice for this cylinder, opening and air: number the takes one after the other");
        return Err(Fault::new(path.key("take"), what));
    }
    Ok(())
}

fn check_file<'a>(
    file: &'a FileName,
    key: &'static str,
    files: &mut BTreeSet<&'a FileName>,
    path: &KeyPath,
) -> Result<(), Fault> {
    if key == "file" && !file.as_str().ends_with(".wav") {
        return Err(Fault::new(path.key(key), format!("'{file}' is not a WAV file: clips are kept as .wav")));
    }
    if files.insert(file) {
        Ok(())
    } else {
        Err(Fault::new(path.key(key), format!("'{file}' is listed twice: remove one entry")))
    }
}

/// Whether a clip can be of this subject in this engine.
pub(crate) fn check_subject(subject: &Subject, record: &JobRecord, path: &KeyPath) -> Result<(), Fault> {
    match subject.cylinder {
        Some(cylinder) => check_cylinder(cylinder, record.cylinders, path)?,
        None if subject.air == Air::Off || subject.opening.name() == "rig" => {}
        None => {
            let what = format!("is missing: a clip with air {} is of one cylinder, say which", subject.air.name());
            return Err(Fault::new(path.key("cylinder"), what));
        }
    }
    let Some(neighbour) = subject.opening.neighbour() else { return Ok(()) };
    let fault = |what: String| Err(Fault::new(path.key("opening"), what));
    if !(1..=record.cylinders).contains(&neighbour) {
        return fault(format!("{} cannot be: this engine has {} cylinders", subject.opening, record.cylinders));
    }
    if subject.cylinder == Some(neighbour) {
        return fault(format!(
            "{} is the cylinder under test itself: the neighbour has another number",
            subject.opening
        ));
    }
    Ok(())
}

fn check_clip(clip: &ClipRecord, record: &JobRecord, path: &KeyPath) -> Result<(), Fault> {
    check_subject(&clip.subject, record, path)?;
    if !(clip.seconds >= 0.0 && clip.seconds.is_finite()) {
        return Err(Fault::new(path.key("seconds"), format!("{} cannot be a length", clip.seconds)));
    }
    for (key, count) in [("sample_rate_hz", clip.sample_rate_hz), ("channels", clip.channels)] {
        if count == 0 {
            return Err(Fault::new(path.key(key), "0 cannot be"));
        }
    }
    check_channels(clip.channel, clip.far_channel, clip.channels, path)?;
    check_text(clip.device.as_ref(), &path.key("device"))?;
    check_text(clip.application.as_ref(), &path.key("application"))?;
    check_text(clip.coding.as_ref(), &path.key("coding"))?;
    check_text(clip.left_out.as_ref(), &path.key("left_out"))?;
    check_text(clip.import.as_ref().map(|import| &import.name), &path.key("imported_from"))
}

fn check_pending(pending: &PendingClip, record: &JobRecord, path: &KeyPath) -> Result<(), Fault> {
    check_subject(&pending.subject, record, path)?;
    check_channels(pending.channel, pending.far_channel, u32::MAX, path)?;
    check_text(pending.device.as_ref(), &path.key("device"))
}
