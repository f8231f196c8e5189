//! What is written is read back, whatever it is.

use std::collections::BTreeSet;
use std::fs;

use hissward::crank::Cycle;
use hissward::job::{
    ClipRecord, EngineTemperature, FileName, GaugeReading, GaugeValue, Gauges, Import, Job, JobRecord, JobWriter,
    MakerLimits, Microphone, Original, PendingClip, PendingKind, RigReading, Sha256, SkippedStep, Step, Subject, When,
};
use hissward::opening::{Air, Opening};
use hissward::units::UnitSystem;
use proptest::prelude::*;
use proptest::{collection, option, sample};

use crate::helpers::{job_toml, place, workboat};

type Pair = Option<(f64, f64)>;

fn text() -> impl Strategy<Value = String> {
    // Quotes, backslashes, line breaks, marks of direction, emoji, TOML's own signs.
    let odd = sample::select(vec![
        "\"", "'", "\\", "\n", "\r\n", "\t", "\u{202e}", "🔧", "ä", "]]", "[[", "#", "=", "'''", "\"\"\"",
    ]);
    let part = prop_oneof![odd.prop_map(str::to_owned), "[a-zA-Z0-9 äöü]{0,8}"];
    collection::vec(part, 0..6).prop_map(|parts| parts.concat())
}

fn when() -> impl Strategy<Value = When> {
    let zone = sample::select(vec!["", "[Europe/Berlin]", "[Not/AnyMore]", "[Etc/Unknown]"]);
    let offset = sample::select(vec!["+00:00", "+01:00", "-09:30", "+05:45"]);
    (2020..2035, 1..=12, 1..=28, 0..24, 0..60, offset, zone).prop_map(
        |(year, month, day, hour, minute, offset, zone)| {
            format!("{year}-{month:02}-{day:02}T{hour:02}:{minute:02}:07{offset}{zone}").parse().expect("a moment")
        },
    )
}

fn value() -> impl Strategy<Value = GaugeValue> {
    prop_oneof![
        (0.0..99.999, option::of(1.0..1300.0))
            .prop_map(|(percent, supply_kpa)| GaugeValue::Loss { percent, supply_kpa }),
        (1.0..1300.0, 0.001..1.0).prop_map(|(supply_kpa, share): (f64, f64)| GaugeValue::Pressures {
            supply_kpa,
            held_kpa: supply_kpa * share
        }),
    ]
}

fn gauge(cylinders: u32) -> impl Strategy<Value = GaugeReading> {
    (1..=cylinders, value(), any::<bool>(), option::of(when())).prop_map(|(cylinder, value, cold, when)| GaugeReading {
        cylinder,
        value,
        cold,
        when,
    })
}

fn opening() -> impl Strategy<Value = Opening> {
    sample::select(vec!["intake", "exhaust", "oil-filler", "coolant-filler", "rig", "breather-2"])
        .prop_map(|name| name.parse().expect("an opening"))
}

fn air() -> impl Strategy<Value = Air> {
    sample::select(vec![Air::Off, Air::On, Air::Pulsed])
}

fn skipped(cylinders: u32) -> impl Strategy<Value = SkippedStep> {
    let step = sample::select(vec![Step::Rig, Step::Gauge, Step::Clip]);
    (step, option::of(1..=cylinders), option::of(opening()), option::of(air()), text(), option::of(when())).prop_map(
        |(step, cylinder, opening, air, reason, when)| SkippedStep { step, cylinder, opening, air, reason, when },
    )
}

fn sha256() -> impl Strategy<Value = Sha256> {
    any::<[u8; 32]>().prop_map(Sha256)
}

prop_compose! {
    fn clip(cylinders: u32)(
        cylinder in 1..=cylinders, opening in opening(), air in air(), take in 1..9_u32, visit in option::of(1..99_u32),
        recorded in option::of(when()), seconds in 0.0..20_000.0, rate in 8_000..192_000_u32, device in option::of(text()),
        processing in option::of(sample::select(vec!["gain".to_owned(), "echo noise".to_owned()])), far in option::of(Just(2)), sha in sha256(), cut_short in any::<bool>(), overruns in 0..3_u32,
        left_out in option::of(text()), import in option::of((when(), text(), option::of(sha256()))), one_channel in any::<bool>(),
        application in option::of(text()), coding in option::of(text()),
    ) -> ClipRecord {
        let file = FileName::of_clip(Some(cylinder), &opening, air, take);
        let import = import.map(|(when, name, original)| Import {
            when,
            name,
            original: original.map(|sha256| Original { file: file.of_original("m4a"), sha256 }),
        });
        ClipRecord {
            subject: Subject { cylinder: Some(cylinder), opening, air }, file, take, visit, recorded, seconds,
            sample_rate_hz: rate, channels: 2, channel: 1, far_channel: far, one_channel, device, application, coding, processing, sha256: sha, cut_short, overruns,
            left_out, import,
        }
    }
}

/// Pending clips are given takes of their own (from 100), so that they meet none of the clips.
fn pending(cylinders: u32) -> impl Strategy<Value = PendingClip> {
    let kind = sample::select(vec![PendingKind::Recording, PendingKind::Import]);
    (kind, 1..=cylinders, opening(), air(), 100..110_u32, when(), option::of(text())).prop_map(
        |(kind, cylinder, opening, air, take, since, device)| {
            let file = FileName::of_clip(Some(cylinder), &opening, air, take);
            PendingClip {
                kind,
                original_file: (kind == PendingKind::Import).then(|| file.of_original("flac")),
                file,
                subject: Subject { cylinder: Some(cylinder), opening, air },
                take,
                visit: None,
                since,
                channel: 1,
                far_channel: None,
                processing: device.as_ref().map(|_| "unknown".to_owned()),
                device,
            }
        },
    )
}

prop_compose! {
    fn texts()(
        shop in option::of(text()), customer in option::of(text()), tested_by in option::of(text()),
        notes in option::of(text()), made_with in option::of(text()), created in option::of(when()),
        cautions_confirmed in option::of(when()), language in option::of(sample::select(vec!["en", "de"])),
    ) -> JobRecord {
        let language = language.map(str::to_owned);
        JobRecord { shop, customer, tested_by, notes, made_with, created, cautions_confirmed, language, ..JobRecord::default() }
    }
}

prop_compose! {
    fn settings()(
        units in option::of(sample::select(vec![UnitSystem::Metric, UnitSystem::Psi])),
        temperature in option::of(sample::select(vec![EngineTemperature::Hot, EngineTemperature::Cold])),
        restrictor_mm in option::of(0.1..10.0), ambient_kpa in option::of(50.0..110.0),
        air_temperature_c in option::of(-40.0..60.0),
        limits in option::of((
            option::of(0.0..100.0), option::of(0.0..100.0), option::of(1.0..1300.0), option::of(0.1..10.0), option::of(text()),
        )),
        gauges in option::of((option::of((1.0..1000.0, 0.9..1.1)), option::of((0.5..4.0, 100.0..2500.0)), option::of(when()))),
        microphone in option::of((text(), option::of(1..3_u32))),
        rig in option::of((value(), option::of(when()))),
        two_stroke in any::<bool>(),
    ) -> JobRecord {
        JobRecord {
            units, temperature, restrictor_mm, ambient_kpa, air_temperature_c,
            cycle: if two_stroke { Cycle::TwoStroke } else { Cycle::FourStroke },
            limits: limits.map(|(loss_percent, spread_percent, test_pressure_kpa, restrictor_mm, source)| MakerLimits {
                loss_percent, spread_percent, test_pressure_kpa, restrictor_mm, source,
            }),
            gauges: gauges.map(|(shut, class, when): (Pair, Pair, _)| Gauges {
                shut_supply_kpa: shut.map(|(supply, _)| supply), shut_held_kpa: shut.map(|(supply, share)| supply * share),
                class_percent: class.map(|(class, _)| class), range_kpa: class.map(|(_, range)| range), when,
            }),
            microphone: microphone.map(|(device, channel)| Microphone { device, channel, far_channel: Some(9) }),
            rig: rig.map(|(value, when)| RigReading { value, when }),
            ..JobRecord::default()
        }
    }
}

fn record() -> impl Strategy<Value = JobRecord> {
    (1..=6_u32).prop_flat_map(|cylinders| {
        let order = Just((1..=cylinders).collect::<Vec<_>>()).prop_shuffle();
        let lists = (
            collection::vec(gauge(cylinders), 0..4),
            collection::vec(skipped(cylinders), 0..3),
            collection::vec(clip(cylinders), 0..5),
            collection::vec(pending(cylinders), 0..3),
        );
        ("[A-Za-z]{1,9}", option::of(order), any::<bool>(), lists, texts(), settings()).prop_map(
            move |(engine, firing_order, uneven, (gauge, skipped, clips, pending), texts, settings)| {
                let mut files = BTreeSet::new();
                let angles = (0..cylinders).map(|at| f64::from(at) * 59.5).collect();
                JobRecord {
                    engine,
                    cylinders,
                    firing_angles_deg: firing_order.is_some().then_some(angles).filter(|_| uneven),
                    banks: firing_order.as_ref().map(|order| order.chunks(2).map(<[u32]>::to_vec).collect()),
                    firing_order,
                    gauge,
                    skipped,
                    clips: clips.into_iter().filter(|clip| files.insert(clip.file.clone())).collect(),
                    pending: pending.into_iter().filter(|pending| files.insert(pending.file.clone())).collect(),
                    shop: texts.shop,
                    customer: texts.customer,
                    tested_by: texts.tested_by,
                    notes: texts.notes,
                    made_with: texts.made_with,
                    created: texts.created,
                    cautions_confirmed: texts.cautions_confirmed,
                    language: texts.language,
                    ..settings
                }
            },
        )
    })
}

fn read_back(path: &std::path::Path) -> JobRecord {
    Job::open(path).expect("it can be read").record().clone()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    /// Write, read, compare; then change it into any other record, read, compare: what a hand put in stays.
    #[test]
    fn any_record_is_read_back_and_changed_into_any_other(first in record(), second in record()) {
        let (_folder, path) = place();
        drop(JobWriter::create(&path, first.clone(), "test").expect("it can be written"));
        prop_assert_eq!(read_back(&path), first);

        let by_hand = format!("# by hand, on top\nkey_of_mine = [1, 0x0f] # kept\n{}\n[table_of_mine]\na.b = 1\n# at the end\n", job_toml(&path));
        fs::write(path.join("job.toml"), by_hand).expect("a hand may write");
        let mut job = JobWriter::open(&path, "test").expect("it can be opened to write");
        job.change(|record| { *record = second.clone(); Ok(()) }).expect("it can be changed");
        prop_assert_eq!(read_back(&path), second);
        let text = job_toml(&path);
        for kept in ["# by hand, on top\nkey_of_mine = [1, 0x0f] # kept\n", "[table_of_mine]\na.b = 1\n", "# at the end\n"] {
            prop_assert!(text.contains(kept), "{} is gone from\n{}", kept, text);
        }
    }
}

#[test]
fn nothing_is_written_that_was_not_given() {
    let (_folder, path) = place();
    let record = JobRecord { engine: "Petrol".to_owned(), cylinders: 1, ..JobRecord::default() };
    drop(JobWriter::create(&path, record, "test").expect("a new job"));
    let text = job_toml(&path);
    let keys: Vec<&str> = text.lines().filter(|line| !line.starts_with('#')).collect();
    assert_eq!(keys, ["format = 1", "engine = \"Petrol\"", "cylinders = 1"]);
}

/// The format as published. A change here is a change of what other programs and older folders rely on.
#[test]
fn a_job_reads_as_people_expect() {
    let (_folder, path) = place();
    let mut job = JobWriter::create(&path, workboat(), "test").expect("a new job");
    job.add_gauge_reading(crate::helpers::reading(2, 552.0, 414.0)).expect("a reading");
    crate::helpers::record(&mut job, crate::helpers::subject(Some(2), "oil-filler", Air::On)).expect("a clip");
    insta::assert_snapshot!(job_toml(&path));
}
