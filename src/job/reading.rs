//! `job.toml` to [`JobRecord`]: every mistake of a hand is told with its line and key.

use std::fmt::Display;
use std::path::Path;
use std::str::FromStr;

use toml_edit::{Document, Item, TableLike, Value};

use crate::crank::Cycle;
use crate::job::amendment::Amendment;
use crate::job::checks::check;
use crate::job::error::{Fault, JobError, KeyPath, PathStep};
use crate::job::record::{
    ClipRecord, EngineTemperature, Found, GaugeReading, GaugeValue, Gauges, Import, JobRecord, MakerLimits, Microphone,
    Original, PendingClip, PendingKind, RigReading, SkippedStep, Step, Subject,
};
use crate::job::store::FORMAT;
use crate::job::when::When;

/// What a `job.toml` says, and its format where this version does not know it.
#[derive(Debug)]
pub(crate) struct Understood {
    pub record: JobRecord,
    pub newer_format: Option<u32>,
}

/// Reads and checks the text of a `job.toml`; `file` is for messages only.
pub(crate) fn read(text: &str, file: &Path) -> Result<Understood, JobError> {
    let document = Document::parse(text).map_err(|error| JobError::Syntax {
        file: file.to_owned(),
        line: error.span().map_or(1, |span| line_at(text, span.start)),
        what: error.message().replace('\n', ", "),
    })?;
    let mut newer_format = None;
    let told = |fault: Fault, newer_format| JobError::Line {
        file: file.to_owned(),
        line: line_of(&document, text, &fault.path),
        fault,
        newer_format,
    };
    let root = Cursor { table: document.as_table(), path: KeyPath::default() };
    match root.count("format").and_then(|format| root.needed("format", format)) {
        Ok(FORMAT) => {}
        Ok(0) => return Err(told(root.fault("format", "0 was never a format: write format = 1"), None)),
        Ok(newer) => newer_format = Some(newer),
        Err(fault) => return Err(told(fault, None)),
    }
    let record =
        job(&root).and_then(|record| check(&record).map(|()| record)).map_err(|fault| told(fault, newer_format))?;
    Ok(Understood { record, newer_format })
}

fn line_at(text: &str, byte: usize) -> usize {
    1 + text.bytes().take(byte).filter(|b| *b == b'\n').count()
}

/// The line of the deepest place on the path that exists.
fn line_of(document: &Document<&str>, text: &str, path: &KeyPath) -> usize {
    let mut item = document.as_item();
    let mut start = 0;
    for step in &path.0 {
        let inner = match step {
            PathStep::Key(key) => item.get(*key),
            PathStep::Index(index) => item.get(*index),
        };
        let Some(found) = inner else { break };
        start = found.span().map_or(start, |span| span.start);
        item = found;
    }
    line_at(text, start)
}

/// A table being read, and where it stands.
struct Cursor<'a> {
    table: &'a dyn TableLike,
    path: KeyPath,
}

impl<'a> Cursor<'a> {
    fn fault(&self, key: &'static str, what: impl Into<String>) -> Fault {
        Fault::new(self.path.key(key), what)
    }

    fn needed<T>(&self, key: &'static str, value: Option<T>) -> Result<T, Fault> {
        value.ok_or_else(|| self.fault(key, "is missing: add it"))
    }

    fn wrong_type(&self, key: &'static str, want: &str, got: &Item) -> Fault {
        self.fault(key, format!("should be {want}, but is {}", in_words(got.type_name())))
    }

    fn text(&self, key: &'static str) -> Result<Option<String>, Fault> {
        self.table
            .get(key)
            .map(|item| {
                let text = item.as_str().ok_or_else(|| self.wrong_type(key, "text in quotes", item))?;
                Ok(text.to_owned())
            })
            .transpose()
    }

    fn number(&self, key: &'static str) -> Result<Option<f64>, Fault> {
        self.table.get(key).map(|item| self.number_in(key, item.as_value(), item)).transpose()
    }

    fn number_in(&self, key: &'static str, value: Option<&Value>, item: &Item) -> Result<f64, Fault> {
        let number = value.and_then(|value| value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64)));
        match number {
            Some(number) if number.is_finite() => Ok(number),
            Some(_) => Err(self.fault(key, "is not a finite number: leave the key out if the value is not known")),
            None => Err(self.wrong_type(key, "a number without its unit (the key names the unit)", item)),
        }
    }

    fn count(&self, key: &'static str) -> Result<Option<u32>, Fault> {
        self.table.get(key).map(|item| self.count_in(key, item.as_integer(), item)).transpose()
    }

    fn count_in(&self, key: &'static str, whole: Option<i64>, item: &Item) -> Result<u32, Fault> {
        let whole = whole.ok_or_else(|| self.wrong_type(key, "a whole number", item))?;
        u32::try_from(whole).map_err(|_| self.fault(key, format!("{whole} is out of range: a whole number from 0 up")))
    }

    fn flag(&self, key: &'static str) -> Result<bool, Fault> {
        self.table
            .get(key)
            .map(|item| item.as_bool().ok_or_else(|| self.wrong_type(key, "true or false", item)))
            .transpose()
            .map(|flag| flag.unwrap_or(false))
    }

    fn list<T>(
        &self,
        key: &'static str,
        entry: impl Fn(&Value, &Item) -> Result<T, Fault>,
    ) -> Result<Option<Vec<T>>, Fault> {
        let Some(item) = self.table.get(key) else { return Ok(None) };
        let list = item.as_array().ok_or_else(|| self.wrong_type(key, "a list in [ ]", item))?;
        list.iter().map(|value| entry(value, item)).collect::<Result<_, _>>().map(Some)
    }

    /// A text that means something: a name, a moment, a hash.
    fn meant<T: FromStr<Err: Display>>(&self, key: &'static str) -> Result<Option<T>, Fault> {
        self.text(key)?.map(|text| text.parse().map_err(|error: T::Err| self.fault(key, error.to_string()))).transpose()
    }

    /// A moment: text, or TOML's own date and time with an offset.
    fn when(&self, key: &'static str) -> Result<Option<When>, Fault> {
        match self.table.get(key).and_then(Item::as_datetime) {
            Some(moment) => {
                let text = moment.to_string();
                text.parse().map(Some).map_err(|error: crate::job::WhenError| self.fault(key, error.to_string()))
            }
            None => self.meant(key),
        }
    }

    /// One of a few words.
    fn word<T: Copy>(&self, key: &'static str, words: &[(&'static str, T)]) -> Result<Option<T>, Fault> {
        self.text(key)?
            .map(|text| {
                let found = words.iter().find(|(word, _)| *word == text);
                found.map(|(_, meaning)| *meaning).ok_or_else(|| {
                    let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
                    self.fault(key, format!("'{text}' is not known here: write {}", list.join(" or ")))
                })
            })
            .transpose()
    }

    fn table(&self, key: &'static str) -> Result<Option<Cursor<'a>>, Fault> {
        self.table
            .get(key)
            .map(|item| {
                let table = item.as_table_like().ok_or_else(|| self.wrong_type(key, "a table", item))?;
                Ok(Cursor { table, path: self.path.key(key) })
            })
            .transpose()
    }

    /// Entries under `[[key]]`, or `key = [{ … }, …]`.
    fn tables<T>(&self, key: &'static str, entry: fn(&Cursor<'_>) -> Result<T, Fault>) -> Result<Vec<T>, Fault> {
        let Some(item) = self.table.get(key) else { return Ok(Vec::new()) };
        let wrong = || self.wrong_type(key, &format!("entries, each under [[{key}]]"), item);
        let found: Vec<&dyn TableLike> = match item {
            Item::ArrayOfTables(list) => list.iter().map(|table| table as &dyn TableLike).collect(),
            Item::Value(Value::Array(list)) => {
                let inline = |value: &'a Value| value.as_inline_table().map(|table| table as &dyn TableLike);
                list.iter().map(inline).collect::<Option<_>>().ok_or_else(wrong)?
            }
            _ => return Err(wrong()),
        };
        let path = self.path.key(key);
        found.into_iter().enumerate().map(|(at, table)| entry(&Cursor { table, path: path.index(at) })).collect()
    }
}

fn in_words(type_name: &str) -> &str {
    match type_name {
        "string" => "text",
        "integer" => "a whole number",
        "float" => "a number",
        "boolean" => "true or false",
        "datetime" => "a date",
        "array" => "a list",
        "array of tables" => "a row of [[ ]] entries",
        _ => "a table",
    }
}

/// Words of `job.toml` for [`Cycle`].
pub(crate) const CYCLES: [(&str, Cycle); 2] = [("four-stroke", Cycle::FourStroke), ("two-stroke", Cycle::TwoStroke)];
/// Words for [`EngineTemperature`].
pub(crate) const TEMPERATURES: [(&str, EngineTemperature); 2] =
    [("hot", EngineTemperature::Hot), ("cold", EngineTemperature::Cold)];
/// Words for [`Step`].
pub(crate) const STEPS: [(&str, Step); 3] = [("rig", Step::Rig), ("gauge", Step::Gauge), ("clip", Step::Clip)];
/// Words for [`PendingKind`].
pub(crate) const KINDS: [(&str, PendingKind); 2] =
    [("recording", PendingKind::Recording), ("import", PendingKind::Import)];

fn job(root: &Cursor<'_>) -> Result<JobRecord, Fault> {
    let counts = |key| root.list(key, |value, item| root.count_in(key, value.as_integer(), item));
    let numbers = |key| root.list(key, |value, item| root.number_in(key, Some(value), item));
    Ok(JobRecord {
        made_with: root.text("made_with")?,
        created: root.when("created")?,
        engine: root.needed("engine", root.text("engine")?)?,
        cylinders: root.needed("cylinders", root.count("cylinders")?)?,
        cycle: root.word("cycle", &CYCLES)?.unwrap_or_default(),
        firing_order: counts("firing_order")?,
        firing_angles_deg: numbers("firing_angles_deg")?,
        banks: banks(root)?,
        temperature: root.word("temperature", &TEMPERATURES)?,
        restrictor_mm: root.number("restrictor_mm")?,
        ambient_kpa: root.number("ambient_kpa")?,
        air_temperature_c: root.number("air_temperature_c")?,
        shop: root.text("shop")?,
        customer: root.text("customer")?,
        tested_by: root.text("tested_by")?,
        notes: root.text("notes")?,
        language: root.text("language")?,
        units: root.meant("units")?,
        cautions_confirmed: root.when("cautions_confirmed")?,
        limits: root.table("limits")?.map(|table| limits(&table)).transpose()?,
        microphone: root.table("microphone")?.map(|table| microphone(&table)).transpose()?,
        gauges: root.table("gauges")?.map(|table| gauges(&table)).transpose()?,
        rig: root.table("rig")?.map(|table| rig(&table)).transpose()?,
        gauge: root.tables("gauge", gauge)?,
        found: root.tables("found", found)?,
        skipped: root.tables("skipped", skipped)?,
        clips: root.tables("clip", clip)?,
        amended: root.tables("amended", amended)?,
        pending: root.tables("pending", pending)?,
    })
}

/// A list of lists of cylinders.
fn banks(root: &Cursor<'_>) -> Result<Option<Vec<Vec<u32>>>, Fault> {
    root.list("banks", |bank, item| {
        let cylinders = bank
            .as_array()
            .ok_or_else(|| root.fault("banks", "should hold a list for each bank, as in [[1, 2, 3], [4, 5, 6]]"))?;
        cylinders.iter().map(|value| root.count_in("banks", value.as_integer(), item)).collect()
    })
}

fn limits(table: &Cursor<'_>) -> Result<MakerLimits, Fault> {
    Ok(MakerLimits {
        loss_percent: table.number("loss_percent")?,
        spread_percent: table.number("spread_percent")?,
        test_pressure_kpa: table.number("test_pressure_kpa")?,
        restrictor_mm: table.number("restrictor_mm")?,
        source: table.text("source")?,
    })
}

fn microphone(table: &Cursor<'_>) -> Result<Microphone, Fault> {
    Ok(Microphone {
        device: table.needed("device", table.text("device")?)?,
        channel: table.count("channel")?,
        far_channel: table.count("far_channel")?,
    })
}

fn gauges(table: &Cursor<'_>) -> Result<Gauges, Fault> {
    Ok(Gauges {
        shut_supply_kpa: table.number("shut_supply_kpa")?,
        shut_held_kpa: table.number("shut_held_kpa")?,
        class_percent: table.number("class_percent")?,
        range_kpa: table.number("range_kpa")?,
        when: table.when("when")?,
    })
}

fn rig(table: &Cursor<'_>) -> Result<RigReading, Fault> {
    Ok(RigReading { value: shown_by(table)?, when: table.when("when")? })
}

/// What a gauge showed: two pressures, or a loss with or without its supply.
fn shown_by(table: &Cursor<'_>) -> Result<GaugeValue, Fault> {
    match (table.number("loss_percent")?, table.number("supply_kpa")?, table.number("held_kpa")?) {
        (Some(percent), supply_kpa, None) => Ok(GaugeValue::Loss { percent, supply_kpa }),
        (None, supply, held) => Ok(GaugeValue::Pressures {
            supply_kpa: table.needed("supply_kpa", supply)?,
            held_kpa: table.needed("held_kpa", held)?,
        }),
        (Some(_), _, Some(_)) => {
            let what = "stands beside held_kpa: a reading is either a loss or two pressures, remove one";
            Err(table.fault("loss_percent", what))
        }
    }
}

fn gauge(table: &Cursor<'_>) -> Result<GaugeReading, Fault> {
    let value = shown_by(table)?;
    Ok(GaugeReading {
        cylinder: table.needed("cylinder", table.count("cylinder")?)?,
        value,
        cold: table.flag("cold")?,
        when: table.when("when")?,
    })
}

fn found(table: &Cursor<'_>) -> Result<Found, Fault> {
    Ok(Found {
        cylinder: table.needed("cylinder", table.count("cylinder")?)?,
        path: table.needed("path", table.meant("path")?)?,
        note: table.text("note")?,
        when: table.when("when")?,
    })
}

fn skipped(table: &Cursor<'_>) -> Result<SkippedStep, Fault> {
    Ok(SkippedStep {
        step: table.needed("step", table.word("step", &STEPS)?)?,
        cylinder: table.count("cylinder")?,
        opening: table.meant("opening")?,
        air: table.meant("air")?,
        reason: table.needed("reason", table.text("reason")?)?,
        when: table.when("when")?,
    })
}

fn amended(table: &Cursor<'_>) -> Result<Amendment, Fault> {
    Ok(Amendment {
        when: table.needed("when", table.when("when")?)?,
        of: table.needed("of", table.text("of")?)?,
        key: table.needed("key", table.text("key")?)?,
        from: table.text("from")?,
        to: table.text("to")?,
    })
}

fn subject(table: &Cursor<'_>) -> Result<Subject, Fault> {
    Ok(Subject {
        cylinder: table.count("cylinder")?,
        opening: table.needed("opening", table.meant("opening")?)?,
        air: table.needed("air", table.meant("air")?)?,
    })
}

fn clip(table: &Cursor<'_>) -> Result<ClipRecord, Fault> {
    Ok(ClipRecord {
        file: table.needed("file", table.meant("file")?)?,
        subject: subject(table)?,
        take: table.needed("take", table.count("take")?)?,
        visit: table.count("visit")?,
        recorded: table.when("recorded")?,
        seconds: table.needed("seconds", table.number("seconds")?)?,
        sample_rate_hz: table.needed("sample_rate_hz", table.count("sample_rate_hz")?)?,
        channels: table.needed("channels", table.count("channels")?)?,
        channel: table.count("channel")?.unwrap_or(1),
        far_channel: table.count("far_channel")?,
        one_channel: table.flag("one_channel")?,
        device: table.text("device")?,
        application: table.text("application")?,
        coding: table.text("coding")?,
        processing: table.text("processing")?,
        sha256: table.needed("sha256", table.meant("sha256")?)?,
        cut_short: table.flag("cut_short")?,
        overruns: table.count("overruns")?.unwrap_or(0),
        left_out: table.text("left_out")?,
        import: import(table)?,
    })
}

fn import(table: &Cursor<'_>) -> Result<Option<Import>, Fault> {
    let Some(when) = table.when("imported")? else {
        let orphan =
            ["imported_from", "original_file", "original_sha256"].into_iter().find(|key| table.table.contains_key(key));
        return orphan
            .map_or(Ok(None), |key| Err(table.fault(key, "stands without imported: say when it was taken in")));
    };
    let original = table
        .meant("original_file")?
        .map(|file| {
            let sha256 = table.needed("original_sha256", table.meant("original_sha256")?)?;
            Ok(Original { file, sha256 })
        })
        .transpose()?;
    Ok(Some(Import { when, name: table.needed("imported_from", table.text("imported_from")?)?, original }))
}

fn pending(table: &Cursor<'_>) -> Result<PendingClip, Fault> {
    Ok(PendingClip {
        kind: table.needed("kind", table.word("kind", &KINDS)?)?,
        file: table.needed("file", table.meant("file")?)?,
        original_file: table.meant("original_file")?,
        subject: subject(table)?,
        take: table.needed("take", table.count("take")?)?,
        visit: table.count("visit")?,
        since: table.needed("since", table.when("since")?)?,
        channel: table.count("channel")?.unwrap_or(1),
        far_channel: table.count("far_channel")?,
        device: table.text("device")?,
        processing: table.text("processing")?,
    })
}
