//! The folder that is made: all of it or nothing.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use hissward::clip::Clip;
use hissward::job::{GaugeReading, GaugeValue, JobRecord, JobWriter, RigReading, When};
use hissward::pipeline::take_in_case;

use super::truth::Printed;
use super::{Arguments, Cylinder};
use crate::console::Failure;

/// What the demo's folder says about itself.
const DEMO_README: &str = include_str!("demo_readme.md");

/// Full scale of 16 bit.
const FULL_SCALE_16_BIT: f32 = 32_768.0;

/// What the engine of a simulated job is called.
const ENGINE: &str = "simulated engine";

/// Writes job and truth (or the demo's clips and truth) beside the place, then moves the finished folder there.
pub fn write(arguments: &Arguments, cylinders: &[Cylinder], truth: &Printed) -> Result<(), Failure> {
    let out = arguments.out.as_path();
    check_free(out)?;
    let parent = match out.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    };
    fs::create_dir_all(&parent).map_err(|error| said(&parent, &error))?;
    let draft =
        tempfile::Builder::new().prefix(".hissward-").tempdir_in(&parent).map_err(|error| said(&parent, &error))?;
    if arguments.demo {
        for cylinder in cylinders {
            for clip in &cylinder.case.clips {
                write_wav(&draft.path().join(file_name(cylinder.number, &clip.clip)), &clip.clip)?;
            }
        }
        put(&draft.path().join("README.md"), DEMO_README)?;
    } else {
        write_job(draft.path(), arguments, cylinders)?;
    }
    put(&draft.path().join("truth.json"), &truth.to_json()?)?;
    if out.exists() {
        // Only an empty folder comes this far.
        fs::remove_dir(out).map_err(|error| said(out, &error))?;
    }
    fs::rename(draft.path(), out).map_err(|error| said(out, &error))?;
    open_to_all(out)
}

fn write_job(folder: &Path, arguments: &Arguments, cylinders: &[Cylinder]) -> Result<(), Failure> {
    let now = When::now();
    let record = JobRecord {
        made_with: Some(concat!("hissward ", env!("CARGO_PKG_VERSION")).to_owned()),
        created: Some(now.clone()),
        engine: ENGINE.to_owned(),
        cylinders: arguments.cylinders,
        notes: Some(format!("Simulated (seed {}): truth.json says what was built in.", arguments.seed)),
        ..JobRecord::default()
    };
    let mut job = JobWriter::create(folder, record, "simulate")?;
    if let Some(rig) = &arguments.rig {
        let (supply_kpa, held_kpa) = (rig.supply.as_kpa(), rig.held.as_kpa());
        job.set_rig(RigReading { value: GaugeValue::Pressures { supply_kpa, held_kpa }, when: Some(now.clone()) })?;
    }
    for reading in &arguments.gauges {
        let (cylinder, value) = (reading.cylinder, reading.value);
        job.add_gauge_reading(GaugeReading { cylinder, value, cold: false, when: Some(now.clone()) })?;
    }
    for cylinder in cylinders {
        take_in_case(&mut job, cylinder.number, &cylinder.case, &now)?;
    }
    Ok(())
}

/// A temporary folder is for its owner alone; a finished one is not.
#[cfg(unix)]
fn open_to_all(out: &Path) -> Result<(), Failure> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(out, fs::Permissions::from_mode(0o755)).map_err(|error| said(out, &error))
}

#[cfg(not(unix))]
fn open_to_all(_out: &Path) -> Result<(), Failure> {
    Ok(())
}

/// `c2-oil-filler-on-t1.wav`.
pub fn file_name(cylinder: u32, clip: &Clip) -> String {
    format!("c{cylinder}-{}.wav", clip.name())
}

/// Whether the place is free: looked at before the work, and again before the folder is moved there.
pub fn check_free(out: &Path) -> Result<(), Failure> {
    match fs::read_dir(out).map(|mut entries| entries.next().is_none()) {
        Ok(true) => Ok(()),
        Ok(false) => {
            Err(format!("{}: holds files already: name a folder that does not exist yet", out.display()).into())
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(said(out, &error)),
    }
}

fn write_wav(path: &Path, clip: &Clip) -> Result<(), Failure> {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: clip.rate().0 as u32,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let wrong = |error: hound::Error| match error {
        hound::Error::IoError(error) => said(path, &error),
        other => other.into(),
    };
    let mut writer = hound::WavWriter::create(path, spec).map_err(wrong)?;
    for sample in clip.samples() {
        writer.write_sample((sample * FULL_SCALE_16_BIT) as i16).map_err(wrong)?;
    }
    writer.finalize().map_err(wrong)
}

fn put(path: &Path, text: &str) -> Result<(), Failure> {
    fs::write(path, text).map_err(|error| said(path, &error))
}

fn said(path: &Path, error: &io::Error) -> Failure {
    format!("{}: {error}: choose a folder that can be written, or make room for some 10 MB", path.display()).into()
}
