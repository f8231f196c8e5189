//! A fleet's data set: 100,000 jobs of made-up engines over five years in twenty yards, written as `history --out` does.
//! `make fleet` asks DuckDB and Spark three questions of it. Arguments: the folder, how many jobs.

#![expect(clippy::print_stderr, reason = "a bench tells how long it took")]

use std::path::PathBuf;
use std::time::Instant;

use hissward::export::DataSet;
use hissward::history::{Calls, CylinderCall, CylinderVisit, Moment, Visit};
use hissward::job::{GaugeReading, GaugeValue, JobRecord, RigReading};
use hissward::opening::{EscapePath, Opening};
use hissward::pipeline::cylinder_reading;
use hissward::ranking::Call;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

type Failure = Box<dyn std::error::Error>;

const YARDS: u32 = 20;
const YEARS: [&str; 5] = ["2022", "2023", "2024", "2025", "2026"];
const SUPPLY_KPA: f64 = 551.6;
/// Openings listened at.
const OPENINGS: [&str; 4] = ["intake", "exhaust", "oil-filler", "coolant-filler"];

fn main() -> Result<(), Failure> {
    let mut arguments = std::env::args().skip(1).filter(|argument| argument != "--bench");
    let folder = PathBuf::from(arguments.next().ok_or("give a folder for the data set")?);
    let jobs: u32 = arguments.next().map_or(Ok(100_000), |count| count.parse())?;
    if folder.exists() {
        std::fs::remove_dir_all(&folder)?;
    }
    let begun = Instant::now();
    let mut set = DataSet::open(&folder)?;
    let mut rng = ChaCha8Rng::seed_from_u64(20);
    let engines = jobs / YEARS.len() as u32;
    for engine in 0..engines {
        let cylinders = [2, 3, 4, 6][engine as usize % 4];
        // Wear differs from cylinder to cylinder; one in fifteen gets much worse.
        let wear: Vec<(f64, f64)> = (0..cylinders)
            .map(|_| (rng.random_range(2.0..8.0), if rng.random_range(0..15_u32) == 0 { 7.0 } else { 0.5 }))
            .collect();
        for place in 0..YEARS.len() {
            set.push(&visit(engine, place, &wear, &mut rng)?)?;
        }
    }
    let grown = set.finish()?;
    eprintln!("{} jobs written in {:.1} s to {}", grown.added, begun.elapsed().as_secs_f64(), folder.display());
    Ok(())
}

/// One engine in one year.
fn visit(engine: u32, place: usize, wear: &[(f64, f64)], rng: &mut ChaCha8Rng) -> Result<Visit, Failure> {
    let yard = engine % YARDS;
    // Every fifth yard's rig leaks more from year to year.
    let rig_percent = 1.0 + if yard.is_multiple_of(5) { 1.2 * place as f64 } else { 0.0 } + rng.random_range(-0.2..0.2);
    let held = |percent: f64| SUPPLY_KPA * (1.0 - percent / 100.0);
    let record = JobRecord {
        engine: format!("Boat {engine}"),
        cylinders: wear.len() as u32,
        rig: Some(RigReading {
            value: GaugeValue::Pressures { supply_kpa: SUPPLY_KPA, held_kpa: held(rig_percent) },
            when: None,
        }),
        ..JobRecord::default()
    };
    let mut rows = Vec::new();
    for (at, (begin, each_year)) in wear.iter().enumerate() {
        let percent = begin + each_year * place as f64 + rig_percent + rng.random_range(-0.5..0.5);
        let value = GaugeValue::Pressures { supply_kpa: SUPPLY_KPA, held_kpa: held(percent) };
        let reading = GaugeReading { cylinder: at as u32 + 1, value, cold: false, when: None };
        let gauge = cylinder_reading(&record, &reading)?;
        let heard = if percent > 8.0 { Some(heard(percent, rng)?) } else { None };
        let opened = percent > 25.0 && rng.random_range(0..3_u32) == 0;
        let found = heard.as_ref().filter(|_| opened).map(|heard| vec![truth(heard, rng)]);
        rows.push(CylinderVisit { cylinder: reading.cylinder, cold: false, gauge: Some(gauge), heard, found });
    }
    // 25 November each year; days since 1970-01-01 of 2022-11-25 (calc: date -u -d 2022-11-25 +%s, by 86,400).
    let day_number = 19_321 + 365 * place as i32 + i32::from(place > 1);
    let day = format!("{}-11-25", YEARS[place]);
    Ok(Visit {
        job: format!("yard-{yard}/boat-{engine}/{day}"),
        engine: record.engine,
        cylinders: record.cylinders,
        moment: Some(Moment { unix_s: i64::from(day_number) * 86_400, day, day_number }),
        shop: Some(format!("Yard {yard}")),
        restrictor: None,
        calls: Calls::Known,
        revision: 1,
        rows,
    })
}

/// What the sound said: the more is lost, the likelier it is located.
fn heard(percent: f64, rng: &mut ChaCha8Rng) -> Result<CylinderCall, Failure> {
    let opening: Opening = OPENINGS[rng.random_range(0..OPENINGS.len())].parse()?;
    let sure = rng.random_range(0.0..40.0) < percent;
    let (call, probability) = match (sure, rng.random_range(0..2_u32)) {
        (true, _) => (Call::Located, rng.random_range(0.95..1.0)),
        (false, 0) => (Call::CannotTell, rng.random_range(0.3..0.95)),
        (false, _) => (Call::NoneHeard, rng.random_range(0.0..0.3)),
    };
    Ok(CylinderCall { call, openings: vec![opening], probability: Some(probability) })
}

/// What was found: as likely what was said as was said.
fn truth(heard: &CylinderCall, rng: &mut ChaCha8Rng) -> EscapePath {
    let said = heard.openings.first().map_or(EscapePath::Other, Opening::path);
    if rng.random_range(0.0..1.0) < heard.probability.unwrap_or(0.0) { said } else { EscapePath::Other }
}
