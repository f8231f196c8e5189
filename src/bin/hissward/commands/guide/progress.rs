//! What is to be done on a job's engine, and what its record says is done.

use hissward::guide::{CylinderTurn, Plan, Progress, Step};
use hissward::job::{JobRecord, JobWriter, SkippedStep, Step as JobStep, When};
use hissward::opening::{Air, Opening};
use hissward::pipeline::{Recovery, firing_order};
use hissward::units::Seconds;

use crate::console::Failure;

/// A clip that was cut short counts from here on; what is shorter is recorded again.
const LEAST_S: f64 = 3.0;

/// The plan for a job's engine: quiet and air clips, one round, no pause, unless changed.
pub fn plan_of(record: &JobRecord, openings: &[Opening]) -> Result<Plan, Failure> {
    let order = firing_order(record)?;
    let mut places: Vec<CylinderTurn> = Vec::new();
    for cylinder in order.cylinders() {
        let turn_deg = places.last().map(|before| order.turn(before.cylinder, cylinder)).transpose()?;
        places.push(CylinderTurn { cylinder, turn_deg });
    }
    let order_known = record.firing_order.is_some() || record.cylinders < 3;
    Ok(Plan {
        places,
        order_known,
        openings: openings.to_vec(),
        pulsed: false,
        least_rounds: 1,
        most_rounds: 1,
        pause: Seconds(0.0),
    })
}

/// What the record says is done.
pub fn progress_of(record: &JobRecord, pulsed: bool) -> Progress {
    let skipped = |step: JobStep| record.skipped.iter().filter(move |skipped| skipped.step == step);
    let mut progress = Progress {
        cautions: record.cautions_confirmed.is_some(),
        temperature: record.temperature.is_some(),
        rig: record.rig.is_some() || skipped(JobStep::Rig).next().is_some(),
        ..Progress::default()
    };
    progress.gauge.extend(record.gauge.iter().map(|reading| reading.cylinder));
    progress.gauge.extend(skipped(JobStep::Gauge).filter_map(|skipped| skipped.cylinder));
    for clip in skipped(JobStep::Clip) {
        if let (Some(cylinder), Some(opening), Some(air)) = (clip.cylinder, clip.opening.clone(), clip.air) {
            progress.skipped.insert((cylinder, opening, air));
        }
    }
    for cylinder in 1..=record.cylinders {
        for clip in record.clips_of(cylinder) {
            let is_pulsed = clip.subject.air == Air::Pulsed;
            if is_pulsed && !pulsed {
                // Clips beside the rounds were wished once, and are done.
                let key = (cylinder, clip.subject.opening.clone(), Air::Pulsed);
                *progress.wished.entry(key).or_default() += 1;
            }
            if is_pulsed || !pulsed {
                let key = (cylinder, clip.subject.opening.clone(), clip.subject.air);
                *progress.takes.entry(key).or_default() += 1;
            }
        }
    }
    progress
}

/// Cylinders on which all is done that was planned: their results were shown when they were new, and stand in the table.
pub fn mark_seen(plan: &Plan, progress: &mut Progress) {
    for place in &plan.places {
        let cylinder = place.cylinder;
        if progress.gauge.contains(&cylinder) && plan.open_visits(progress, cylinder).is_empty() {
            progress.seen.insert(cylinder);
        }
    }
}

/// A recovered clip that is too short to serve is left out, so that it is recorded again.
pub fn judge_recovery(job: &mut JobWriter, found: &Recovery) -> Result<(), Failure> {
    if let Recovery::Kept(clip) = found
        && clip.seconds < LEAST_S
    {
        job.leave_out(&clip.file, Some(format!("cut short after {:.1} s", clip.seconds)))?;
    }
    Ok(())
}

/// A step as the job keeps it.
pub fn skipped_step(step: &Step, reason: String) -> Option<SkippedStep> {
    let when = Some(When::now());
    let of = |step, cylinder, opening, air| SkippedStep { step, cylinder, opening, air, reason, when };
    match step {
        Step::Rig => Some(of(JobStep::Rig, None, None, None)),
        Step::Gauge(cylinder) => Some(of(JobStep::Gauge, Some(*cylinder), None, None)),
        Step::Clip(cylinder, visit) => {
            Some(of(JobStep::Clip, Some(*cylinder), Some(visit.opening.clone()), Some(visit.air)))
        }
        Step::Cautions | Step::Temperature | Step::Turn(_) | Step::Result(_) | Step::End => None,
    }
}
