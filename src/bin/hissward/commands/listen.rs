//! `hissward listen`: records a clip from the microphone into a job.

use std::path::PathBuf;
use std::str::FromStr;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use hissward::audio::{Ended, FinishedRecording, LevelReport, Speaker, SystemCard};
use hissward::caveat::Fact;
use hissward::guide::Beep;
use hissward::job::{CLIPS_FOLDER, FileName, JobWriter, RecordingPlan, When};
use hissward::opening::{Air, Opening};
use hissward::pipeline::{ClipVerdict, clip_verdict, keep_recording, leave_out_unfit, remember_microphone};
use hissward::units::Seconds;
use hissward::words::Words;
use serde_json::json;

use super::add;
use crate::console::{Console, Failure, Outcome};
use crate::language;
use crate::live::input::LiveInput;
use crate::live::rhythm::{beep, is_open};
use crate::{open_job, recorders};

/// Arguments of `hissward listen`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  hissward listen gull-2026-11-25 --at intake --air off --cylinder 2\n  \
    hissward listen gull-2026-11-25 --at oil-filler --air pulsed --cylinder 2 --seconds 12\n\n\
    Ctrl-C ends the recording and keeps it. Pulsed air: the clip begins with the last beep of the countdown, the valve \
    shut; from then on it is opened and shut every second, high beep open, low beep shut.")]
pub struct Arguments {
    /// Folder of the job
    job: PathBuf,
    /// Where the microphone is held
    #[arg(long, value_name = "OPENING")]
    at: String,
    /// Takes a name for an opening that nobody knows yet
    #[arg(long)]
    new_opening: bool,
    /// What the air does: off (quiet baseline), on, or pulsed
    #[arg(long, value_name = "off|on|pulsed", value_parser = Air::from_str)]
    air: Air,
    /// The cylinder under test; a quiet clip without one serves all cylinders
    #[arg(long, value_name = "N")]
    cylinder: Option<u32>,
    /// How long (default: 10, pulsed air 13)
    #[arg(long, value_name = "S", value_parser = seconds)]
    seconds: Option<f64>,
    /// The microphone, by its name in `hissward mics`; remembered for the job
    #[arg(long, value_name = "NAME")]
    microphone: Option<String>,
    /// No beeps
    #[arg(long)]
    silent: bool,
    /// Prints the clip as JSON
    #[arg(long)]
    json: bool,
}

/// A clip of this length serves; twice as long gains little, see `hissward::meter::Settling`.
const USUAL_S: f64 = 10.0;
/// Six shut and six open seconds, and the second by which the last may be late.
const PULSED_S: f64 = 13.0;
const COUNTDOWN_S: u32 = 3;
const LOOK: Duration = Duration::from_millis(20);

fn seconds(text: &str) -> Result<f64, String> {
    let number: f64 = text.replace(',', ".").parse().map_err(|_| format!("'{text}' is not a number of seconds"))?;
    if (0.5..=3600.0).contains(&number) { Ok(number) } else { Err("a clip is 0.5 to 3600 seconds long".to_owned()) }
}

/// Records, keeps, says.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let mut job = open_job::for_writing(&arguments.job, "listen", console)?;
    let at = job.record().opening(&arguments.at, arguments.new_opening)?;
    let words = language::of_job(job.record())?;
    let known = job.record().microphone.clone();
    let wanted = arguments.microphone.clone().or_else(|| known.as_ref().map(|known| known.device.clone()));
    let (channel, far_channel) = known.map_or((None, None), |known| (known.channel, known.far_channel));
    let mut input = LiveInput::open(&SystemCard, wanted.as_deref(), channel)?;
    let device = input.name().to_owned();
    recorders::warn(&device, &words, console);
    if arguments.microphone.is_some() {
        remember_microphone(&mut job, &device)?;
    }
    let stop = Arc::new(AtomicBool::new(false));
    let asked = Arc::clone(&stop);
    ctrlc::set_handler(move || asked.store(true, Ordering::Release))?;
    let speaker = if arguments.silent { Speaker::silent() } else { Speaker::system() };
    let length = Seconds(arguments.seconds.unwrap_or(if arguments.air == Air::Pulsed { PULSED_S } else { USUAL_S }));
    wait_for_sound(&mut input)?;
    if arguments.air == Air::Pulsed {
        count_down(&mut input, &speaker, &words, console);
    }
    let subject = job.record().subject(arguments.cylinder, at.clone(), arguments.air);
    let plan = RecordingPlan {
        subject,
        visit: None,
        since: When::now(),
        device: Some(device.clone()),
        processing: None,
        channel: channel.unwrap_or(1),
        far_channel,
    };
    let slot = job.start_recording(plan)?;
    if let Err(error) = input.record(slot.path(), slot.file.as_str(), Some(length)) {
        job.discard_recording(&slot.file)?;
        return Err(error.into());
    }
    console.talk(&words.say("listen-begins", &begin_facts(&at, arguments.air, length, &device, &words)));
    let ended = record(&mut input, arguments.air, &stop, &speaker, &words, console);
    let Some((recorded, sound)) = input.end_recording(ended) else {
        return Err("the recording is gone: record it again".into());
    };
    input.close();
    let recorded = match recorded {
        Ok(recorded) => recorded,
        Err(error) => {
            job.discard_recording(&slot.file)?;
            return Err(error.into());
        }
    };
    let verdict = clip_verdict(&sound, Some(arguments.air), &recorded.caveats());
    recorders::mark(Some(&device), &verdict.caveats, console);
    finish(&mut job, &slot.file, &recorded, &verdict, arguments, &words, console)
}

fn begin_facts(at: &Opening, air: Air, length: Seconds, device: &str, words: &Words) -> [(&'static str, Fact); 4] {
    [
        ("at", Fact::Text(words.opening(at))),
        ("air", Fact::Text(air.name().to_owned())),
        ("seconds", Fact::Number { value: length.0, decimals: 0 }),
        ("device", Fact::Text(device.to_owned())),
    ]
}

fn finish(
    job: &mut JobWriter,
    file: &FileName,
    recorded: &FinishedRecording,
    verdict: &ClipVerdict,
    arguments: &Arguments,
    words: &Words,
    console: &Console,
) -> Result<Outcome, Failure> {
    let clip = keep_recording(job, file, recorded)?;
    leave_out_unfit(job, &clip, verdict, words)?;
    add::tell(&clip, verdict, &arguments.job, words, console);
    let clips = job.folder().join(CLIPS_FOLDER);
    if arguments.json {
        let mut row = add::describe(&clip, verdict, &clips, words);
        row["cut_short"] = json!(clip.cut_short);
        row["overruns"] = json!(clip.overruns);
        row["device"] = json!(clip.device);
        console.data(&format!("{:#}\n", json!({ "format": 1, "clips": [row] })))?;
    } else {
        console.data(&format!("{}\n", clips.join(clip.file.as_str()).display()))?;
    }
    Ok(Outcome::Done)
}

/// The first block may come seconds late; a clip begins with what is heard after it.
fn wait_for_sound(input: &mut LiveInput) -> Result<(), Failure> {
    loop {
        let came = input.look(LOOK);
        match came.ended {
            Some(Ended::Device(loss)) => {
                return Err(format!(
                    "the microphone '{}' gave no sound ({}): plug it in again, or choose another (see 'hissward mics')",
                    input.name(),
                    crate::live::input::said(&loss)
                )
                .into());
            }
            _ if !came.readings.is_empty() => return Ok(()),
            _ => {}
        }
    }
}

/// A beep each second; returns right after the last, which is where the clip begins.
fn count_down(input: &mut LiveInput, speaker: &Speaker, words: &Words, console: &Console) {
    let left = [("seconds", Fact::Number { value: f64::from(COUNTDOWN_S), decimals: 0 })];
    console.talk(&words.say("listen-starts", &left));
    for _ in 0..COUNTDOWN_S {
        beep(speaker, Beep::Count);
        // Time is counted in sound heard: what came meanwhile must not be in the clip.
        let mut readings = 0;
        while (readings as f64) < 1.0 / hissward::meter::STEP.0 {
            let came = input.look(LOOK);
            readings += came.readings.len();
            if came.ended.is_some() {
                return;
            }
        }
    }
    beep(speaker, Beep::Shut);
}

/// Records until the clip is full, somebody stops it, or no more comes.
fn record(
    input: &mut LiveInput,
    air: Air,
    stop: &AtomicBool,
    speaker: &Speaker,
    words: &Words,
    console: &Console,
) -> Ended {
    let mut line = LevelLine::new(console);
    let mut second = 0;
    loop {
        if stop.load(Ordering::Acquire) {
            line.end();
            return Ended::Stopped;
        }
        let came = input.look(LOOK);
        let at = input.recorded().unwrap_or(Seconds(0.0));
        if air == Air::Pulsed && at.0 as u64 > second && came.ended.is_none() {
            second = at.0 as u64;
            beep(speaker, if is_open(at) { Beep::Open } else { Beep::Shut });
        }
        if let Some(report) = &came.report {
            let state =
                (air == Air::Pulsed).then(|| words.say(if is_open(at) { "listen-open" } else { "listen-shut" }, &[]));
            line.show(report, state.as_deref(), words);
        }
        if let Some(ended) = came.ended {
            line.end();
            return ended;
        }
    }
}

/// The level while it records: one line that changes in a terminal, else one line a second.
struct LevelLine<'a> {
    console: &'a Console,
    bar: indicatif::ProgressBar,
    told_s: u64,
}

impl<'a> LevelLine<'a> {
    fn new(console: &'a Console) -> Self {
        let bar = indicatif::ProgressBar::with_draw_target(None, console.progress_target());
        // A template that is ours: where it had a fault, the plain line serves.
        let bar = match indicatif::ProgressStyle::with_template("{msg}") {
            Ok(style) => bar.with_style(style),
            Err(_) => bar,
        };
        Self { console, bar, told_s: 0 }
    }

    fn show(&mut self, report: &LevelReport, state: Option<&str>, words: &Words) {
        let level = |level: Option<hissward::units::Level>| {
            Fact::Text(level.map_or_else(|| "-".to_owned(), |level| words.printed(level.0, 1)))
        };
        let clipped =
            if report.clipped > 0 { format!("  {}", words.say("listen-clipped", &[])) } else { String::new() };
        let facts = [
            ("elapsed", Fact::Number { value: report.elapsed.0, decimals: 1 }),
            ("level", level(report.level)),
            ("peak", level(report.peak)),
            ("clipped", Fact::Text(clipped)),
        ];
        let text = format!("{:5}{}", state.unwrap_or(""), words.say("listen-level", &facts));
        if self.console.lively() {
            self.bar.set_message(text);
            self.bar.tick();
        } else if report.elapsed.0 as u64 > self.told_s {
            self.told_s = report.elapsed.0 as u64;
            self.console.talk(text.trim());
        }
    }

    fn end(&self) {
        self.bar.finish_and_clear();
    }
}
