//! A harbour yard's job folders, made up.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use hissward::job::{GaugeReading, GaugeValue, Job, JobRecord, JobWriter, RigReading, When};
use hissward::opening::Opening;
use hissward::pipeline::keep_ranking;
use hissward::ranking::{Call, HissReading, Member, OpeningResult, Ranking};
use hissward::units::{GaugePressure, Level, LevelDiff};
use hissward::words::Words;
use tempfile::TempDir;

pub const GULL: &str = "Three-cylinder petrol, workboat Gull";

pub struct Yard {
    pub folder: TempDir,
}

/// What a job of the yard holds.
pub struct Planned {
    pub job: &'static str,
    pub engine: &'static str,
    pub day: Option<&'static str>,
    /// Supply and held, psi.
    pub rig_psi: Option<(f64, f64)>,
    /// Held of 80 psi, by cylinder from 1.
    pub held_psi: Vec<f64>,
    pub cold: bool,
}

impl Default for Planned {
    fn default() -> Self {
        let rig_psi = Some((80.0, 78.0));
        Self { job: "job", engine: GULL, day: Some("2026-11-25"), rig_psi, held_psi: vec![75.0; 3], cold: false }
    }
}

fn kpa(psi: f64) -> f64 {
    GaugePressure::from_psi(psi).as_kpa()
}

impl Yard {
    pub fn new() -> Self {
        Self { folder: TempDir::new().expect("a folder") }
    }

    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    pub fn add(&self, planned: &Planned) -> PathBuf {
        let folder = self.path().join(planned.job);
        fs::create_dir_all(folder.parent().expect("below the yard")).expect("a folder");
        let when: Option<When> = planned.day.map(|day| format!("{day}T09:30:00+01:00").parse().expect("a moment"));
        let gauge = (1..).zip(&planned.held_psi).map(|(cylinder, held)| GaugeReading {
            cylinder,
            value: GaugeValue::Pressures { supply_kpa: kpa(80.0), held_kpa: kpa(*held) },
            cold: planned.cold,
            when: when.clone(),
        });
        let record = JobRecord {
            engine: planned.engine.to_owned(),
            cylinders: planned.held_psi.len() as u32,
            restrictor_mm: Some(1.016),
            rig: planned.rig_psi.map(|(supply, held)| RigReading {
                value: GaugeValue::Pressures { supply_kpa: kpa(supply), held_kpa: kpa(held) },
                when: None,
            }),
            gauge: gauge.collect(),
            ..JobRecord::default()
        };
        JobWriter::create(&folder, record, "test").expect("a job");
        folder
    }

    /// The workboat before and after its rings were renewed.
    pub fn gull(&self) -> (PathBuf, PathBuf) {
        let before = self.add(&Planned { job: "before", held_psi: vec![75.0, 54.0, 76.0], ..Planned::default() });
        let day = Some("2026-12-02");
        let after = self.add(&Planned { job: "after", day, held_psi: vec![75.0, 74.0, 76.0], ..Planned::default() });
        (before, after)
    }

    pub fn hissward(&self, arguments: &[&str]) -> Command {
        let mut command = Command::cargo_bin("hissward").expect("the program");
        command.current_dir(self.path()).env("NO_COLOR", "1").args(arguments);
        command
    }

    pub fn printed(&self, arguments: &[&str]) -> String {
        let out = self.hissward(arguments).assert().success().get_output().stdout.clone();
        String::from_utf8(out).expect("UTF-8")
    }

    pub fn json(&self, arguments: &[&str]) -> serde_json::Value {
        serde_json::from_str(&self.printed(arguments)).expect("JSON on stdout, and nothing else")
    }
}

/// Gives a job an air clip of one cylinder as its record has it (the sound is not read here), and a kept ranking.
pub fn ranked(folder: &Path, cylinder: u32, call: Call, opening: &str) {
    let text = fs::read_to_string(folder.join("job.toml")).expect("job.toml");
    fs::write(folder.join("job.toml"), text + &clip(cylinder, opening, 1)).expect("job.toml");
    let job = Job::open(folder).expect("the job");
    keep_ranking(&job, &[ranking(cylinder, call, opening)], &Words::of("en").expect("English")).expect("kept");
}

pub fn clip(cylinder: u32, opening: &str, take: u32) -> String {
    format!(
        "\n[[clip]]\nfile = \"c{cylinder}-{opening}-on-t{take}.wav\"\ncylinder = {cylinder}\nopening = \"{opening}\"\n\
         air = \"on\"\ntake = {take}\nseconds = 6.0\nsample_rate_hz = 48000\nchannels = 1\nsha256 = \"{}\"\n",
        format!("{take:02x}").repeat(32)
    )
}

fn ranking(cylinder: u32, call: Call, opening: &str) -> Ranking {
    let opening: Opening = opening.parse().expect("an opening");
    let heard = HissReading::Heard { level: Level(-47.0), low: Level(-49.0), high: Level(-45.5) };
    let nothing = call == Call::NoneHeard;
    Ranking {
        cylinder: Some(cylinder),
        call,
        answer_set: vec![if nothing { Member::Elsewhere } else { Member::Opening(opening.clone()) }],
        openings: vec![OpeningResult {
            opening,
            probability: if nothing { 0.03 } else { 0.98 },
            hiss: if nothing { HissReading::Bound } else { heard },
            above_quiet: Some(LevelDiff(6.0)),
            at_most: Level(-45.5),
            spill: false,
            takes: 1,
            bands: Vec::new(),
            caveats: Vec::new(),
        }],
        elsewhere_probability: if nothing { 0.97 } else { 0.02 },
        caveats: Vec::new(),
        ..Ranking::default()
    }
}
