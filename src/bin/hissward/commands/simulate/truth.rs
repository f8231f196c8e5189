//! The truth, for people and for programs.

use hissward::simulate::{CaseClip, Truth};
use hissward::units::Level;
use serde::Serialize;

use super::folder::file_name;
use super::{Arguments, Cylinder};
use crate::console::Failure;

/// What was built in, with its keys in this order.
#[derive(Debug, Serialize)]
pub struct Printed {
    format: u32,
    tool: String,
    seed: u64,
    noise: Vec<String>,
    cylinders: Vec<PrintedCylinder>,
}

#[derive(Debug, Serialize)]
struct PrintedCylinder {
    cylinder: u32,
    seed: u64,
    noise_db: f64,
    leaks: Vec<PrintedLeak>,
    openings: Vec<PrintedOpening>,
    clips: Vec<PrintedClip>,
}

#[derive(Debug, Serialize)]
struct PrintedLeak {
    opening: String,
    path: &'static str,
    hiss_db: f64,
    hiss_to_noise_db: f64,
    hole_mm: f64,
}

#[derive(Debug, Serialize)]
struct PrintedOpening {
    opening: String,
    leaks: bool,
    hiss_db: Option<f64>,
}

#[derive(Debug, Serialize)]
struct PrintedClip {
    file: String,
    opening: String,
    air: &'static str,
    take: u32,
    visit: usize,
    seconds: f64,
    hiss_db: Option<f64>,
    noise_db: f64,
    placement_db: f64,
    drift_db: f64,
    valve_edges_s: Vec<f64>,
}

/// Gathers the truth of all cylinders.
pub fn of(arguments: &Arguments, cylinders: &[Cylinder]) -> Printed {
    Printed {
        format: 1,
        tool: format!("hissward {}", env!("CARGO_PKG_VERSION")),
        seed: if arguments.demo { hissward::simulate::DEMO_SEED } else { arguments.seed },
        noise: noise(arguments),
        cylinders: cylinders.iter().map(cylinder).collect(),
    }
}

/// Names of everything that makes noise.
fn noise(arguments: &Arguments) -> Vec<String> {
    let kinds = if arguments.demo { hissward::simulate::demo_noise().to_vec() } else { arguments.kinds() };
    let files = arguments.noise_file.iter().filter(|_| !arguments.demo).map(|file| file.display().to_string());
    kinds.iter().map(|kind| kind.name().to_owned()).chain(files).collect()
}

fn cylinder(cylinder: &Cylinder) -> PrintedCylinder {
    let Truth { seed, noise, leaks, openings } = &cylinder.case.truth;
    PrintedCylinder {
        cylinder: cylinder.number,
        seed: *seed,
        noise_db: hundredths(noise.0),
        leaks: leaks
            .iter()
            .map(|leak| PrintedLeak {
                opening: leak.opening.to_string(),
                path: leak.opening.path().name(),
                hiss_db: hundredths(leak.hiss.0),
                hiss_to_noise_db: hundredths(leak.hiss_to_noise.0),
                hole_mm: hundredths(leak.hole_mm),
            })
            .collect(),
        openings: openings
            .iter()
            .map(|opening| PrintedOpening {
                opening: opening.opening.to_string(),
                leaks: opening.leaks,
                hiss_db: opening.hiss.map(level),
            })
            .collect(),
        clips: cylinder.case.clips.iter().map(|made| clip(cylinder.number, made)).collect(),
    }
}

fn clip(cylinder: u32, made: &CaseClip) -> PrintedClip {
    let truth = &made.truth;
    PrintedClip {
        file: file_name(cylinder, &made.clip),
        opening: truth.opening.to_string(),
        air: truth.air.name(),
        take: truth.take,
        visit: truth.visit,
        seconds: truth.length.0,
        hiss_db: truth.hiss.map(level),
        noise_db: level(truth.noise),
        placement_db: hundredths(truth.placement.0),
        drift_db: hundredths(truth.drift.0),
        valve_edges_s: truth
            .valve
            .iter()
            .flat_map(|valve| valve.edges.iter().map(|edge| (edge.0 * 1e4).round() / 1e4))
            .collect(),
    }
}

fn level(level: Level) -> f64 {
    hundredths(level.0)
}

/// Rounded to 0.01; adding zero turns −0 into 0.
fn hundredths(number: f64) -> f64 {
    (number * 100.0).round() / 100.0 + 0.0
}

impl Printed {
    /// One object, for programs.
    pub fn to_json(&self) -> Result<String, Failure> {
        Ok(serde_json::to_string_pretty(self)? + "\n")
    }

    /// A line a leak, for people.
    pub fn to_text(&self) -> String {
        let mut text = format!("seed {}, noise: {}\n", self.seed, self.noise.join(", "));
        for cylinder in &self.cylinders {
            if cylinder.leaks.is_empty() {
                text += &format!("cylinder {}: tight, noise {:.1} dB FS\n", cylinder.cylinder, cylinder.noise_db);
            }
            for leak in &cylinder.leaks {
                text += &format!(
                    "cylinder {}: leaks at {}, hiss {:.1} dB FS, {:+.1} dB over the noise\n",
                    cylinder.cylinder, leak.opening, leak.hiss_db, leak.hiss_to_noise_db
                );
            }
        }
        text
    }
}
