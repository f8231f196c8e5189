//! `hissward status`: how far a job is, what is missing, and the next command to copy.

use std::path::{Path, PathBuf};

use hissward::caveat::Fact;
use hissward::job::{CylinderStatus, GaugeValue, Job, Missing, Status};
use hissward::pipeline::{Mistake, likely_mistakes, rank_job};
use hissward::ranking::NextStep;
use hissward::words::Words;
use serde_json::{Value, json};

use crate::console::{Console, Failure, Outcome};
use crate::{language, open_job};

/// Arguments of `hissward status`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward status gull-2026-11-25")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// Prints JSON
    #[arg(long)]
    json: bool,
}

/// Looks, and says.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let job = open_job::for_reading(&arguments.job, "status", console)?;
    let words = language::of_job(job.record())?;
    let mut status = job.status();
    if status.missing.is_empty() {
        status.missing.extend(wanted(&job));
    }
    let mistakes = likely_mistakes(&job);
    if arguments.json {
        console.data(&format!("{:#}\n", as_json(&job, &status, &mistakes, &arguments.job, &words)))?;
    } else {
        console.data(&as_text(&job, &status, &mistakes, &arguments.job, &words))?;
    }
    Ok(Outcome::Done)
}

/// Where nothing is missing: what the ranking wants besides.
fn wanted(job: &Job) -> Option<Missing> {
    // What cannot be ranked is told by `rank`.
    let rankings = rank_job(job, None).ok()?;
    rankings.iter().find_map(|ranking| {
        let cylinder = ranking.cylinder?;
        Some(match &ranking.next.as_ref()?.step {
            NextStep::Clip(opening, air) => Missing::Clip { cylinder, opening: opening.clone(), air: *air },
            NextStep::Rig => Missing::Rig,
            NextStep::Gauge => Missing::Gauge(cylinder),
        })
    })
}

/// The command that does what is to be done next; the report where nothing is missing.
fn next_command(status: &Status, job: &Path) -> String {
    let job = job.display().to_string();
    status.missing.first().map_or_else(|| format!("hissward report {job}"), |missing| missing.command(&job))
}

fn number(value: f64) -> Fact {
    Fact::Number { value, decimals: 0 }
}

fn as_text(job: &Job, status: &Status, mistakes: &[Mistake], folder: &Path, words: &Words) -> String {
    let record = job.record();
    let facts = [("engine", Fact::Text(record.engine.clone())), ("cylinders", number(record.cylinders.into()))];
    let head = if record.cylinders == 1 { "status-head.one" } else { "status-head" };
    let mut lines = vec![words.say(head, &facts)];
    let rig = match (&record.rig, status.rig) {
        (Some(rig), _) => words.say("status-rig", &[("loss", Fact::Text(words.printed(rig.reading().loss().0, 0)))]),
        (None, true) => words.say("status-rig-skipped", &[]),
        (None, false) => words.say("status-rig-missing", &[]),
    };
    lines.push(rig);
    for one in &status.cylinders {
        lines.extend(cylinder_lines(
            one,
            record.clips.iter().filter(|clip| clip.subject.cylinder == Some(one.cylinder)),
            words,
        ));
    }
    for mistake in mistakes {
        lines.push(String::new());
        lines.push(said(mistake, words));
        lines.push(format!("    hissward amend {} {}", folder.display(), mistake.remedy()));
    }
    lines.push(String::new());
    if status.missing.is_empty() {
        lines.push(words.say("status-complete", &[]));
    } else {
        let parts: Vec<String> = status.missing.iter().map(|missing| missing_words(missing, words)).collect();
        lines.push(words.say("status-missing", &[("what", Fact::Text(parts.join("; ")))]));
        let minutes = f64::from(status.seconds()) / 60.0;
        lines.push(words.say("status-time", &[("minutes", number(minutes.ceil()))]));
    }
    lines.push(words.say("status-next", &[]));
    lines.push(format!("    {}", next_command(status, folder)));
    if status.missing.first().is_some_and(Missing::has_figures) {
        lines.push(words.say("status-figures", &[]));
    }
    lines.join("\n") + "\n"
}

fn cylinder_lines<'a>(
    one: &CylinderStatus,
    clips: impl Iterator<Item = &'a hissward::job::ClipRecord>,
    words: &Words,
) -> Vec<String> {
    let loss = one.reading.as_ref().map_or_else(
        || words.say("status-not-read", &[]),
        |reading| {
            let name = if reading.cold { "status-lost-cold" } else { "status-lost" };
            words.say(name, &[("loss", Fact::Text(words.printed(reading.value.reading().loss().0, 0)))])
        },
    );
    let mut lines = vec![format!("{}: {loss}", words.cylinder(Some(one.cylinder)))];
    for clip in clips {
        let left_out = clip
            .left_out
            .as_ref()
            .map(|reason| format!("  {}", words.say("status-left-out", &[("reason", Fact::Text(reason.clone()))])));
        lines.push(format!(
            "    {:<32} {}, {}, {} s{}",
            clip.file.as_str(),
            words.opening(&clip.subject.opening),
            words.say(&format!("air-{}", clip.subject.air.name()), &[]),
            words.number(clip.seconds, 1),
            left_out.unwrap_or_default()
        ));
    }
    lines
}

fn missing_words(missing: &Missing, words: &Words) -> String {
    match missing {
        Missing::Rig => words.say("status-missing-rig", &[]),
        Missing::Gauge(cylinder) => words.say("status-missing-gauge", &[("cylinder", number((*cylinder).into()))]),
        Missing::Clip { cylinder, opening, air } => {
            let facts = [
                ("cylinder", number((*cylinder).into())),
                ("opening", Fact::Text(words.opening(opening))),
                ("air", Fact::Text(words.say(&format!("air-{}", air.name()), &[]))),
            ];
            words.say("status-missing-clip", &facts)
        }
    }
}

/// A likely mistake in a sentence.
pub fn said(mistake: &Mistake, words: &Words) -> String {
    let clips = mistake.clips();
    let name = |at: usize| Fact::Text(clips.get(at).map_or_else(String::new, |clip| clip.to_string()));
    let cylinder = if let Mistake::AirNotOpen { cylinder, .. } = mistake { *cylinder } else { 0 };
    words.say(mistake.code(), &[("file", name(0)), ("other", name(1)), ("cylinder", number(cylinder.into()))])
}

fn as_json(job: &Job, status: &Status, mistakes: &[Mistake], folder: &Path, words: &Words) -> Value {
    let folder_name = folder.display().to_string();
    let cylinders: Vec<Value> = status.cylinders.iter().map(|one| cylinder_json(job, one)).collect();
    let missing: Vec<Value> = status
        .missing
        .iter()
        .map(|missing| {
            let (cylinder, opening, air) = match missing {
                Missing::Rig => (None, None, None),
                Missing::Gauge(cylinder) => (Some(*cylinder), None, None),
                Missing::Clip { cylinder, opening, air } => (Some(*cylinder), Some(opening.name()), Some(air.name())),
            };
            let what = match missing {
                Missing::Rig => "rig",
                Missing::Gauge(_) => "gauge",
                Missing::Clip { .. } => "clip",
            };
            json!({
                "what": what, "cylinder": cylinder, "opening": opening, "air": air, "seconds": missing.seconds(),
                "command": missing.command(&folder_name),
            })
        })
        .collect();
    let mistakes: Vec<Value> = mistakes
        .iter()
        .map(|mistake| {
            let clips: Vec<String> = mistake.clips().iter().map(ToString::to_string).collect();
            json!({
                "code": mistake.code(), "clips": clips, "text": said(mistake, words),
                "command": format!("hissward amend {folder_name} {}", mistake.remedy()),
            })
        })
        .collect();
    json!({
        "format": 1,
        "engine": job.record().engine,
        "rig": status.rig,
        "cylinders": cylinders,
        "missing": missing,
        "mistakes": mistakes,
        "seconds": status.seconds(),
        "next": next_command(status, folder),
    })
}

fn cylinder_json(job: &Job, one: &CylinderStatus) -> Value {
    let reading = one.reading.as_ref().map(|reading| {
        let (supply_kpa, held_kpa) = match reading.value {
            GaugeValue::Pressures { supply_kpa, held_kpa } => (Some(supply_kpa), Some(held_kpa)),
            GaugeValue::Loss { .. } => (None, None),
        };
        json!({
            "supply_kpa": supply_kpa, "held_kpa": held_kpa, "loss_percent": reading.value.reading().loss().0,
            "cold": reading.cold,
        })
    });
    let clips: Vec<Value> = job
        .record()
        .clips
        .iter()
        .filter(|clip| clip.subject.cylinder == Some(one.cylinder))
        .map(|clip| {
            json!({
                "file": clip.file.as_str(), "opening": clip.subject.opening.name(), "air": clip.subject.air.name(),
                "take": clip.take, "seconds": clip.seconds, "left_out": clip.left_out, "gone": job.is_gone(&clip.file),
            })
        })
        .collect();
    json!({ "cylinder": one.cylinder, "reading": reading, "clips": clips })
}
