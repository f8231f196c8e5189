//! `hissward hunt`: a live meter for going along a hose or round a gasket.

use std::io::{self, IsTerminal};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use hissward::audio::{Ended, Speaker, SystemCard};
use hissward::caveat::Fact;
use hissward::guide::Key;
use hissward::meter::{MeterReading, OCTAVES, Trail};
use hissward::opening::{Opening, Understood};
use hissward::units::{Hertz, Level};
use hissward::words::Words;
use ratatui::style::{Modifier, Style};

use crate::console::{Console, Failure, Outcome};
use crate::language;
use crate::live::big;
use crate::live::input::{LiveInput, said};
use crate::live::terminal::{Terminal, bar, octave_line, put, put_big, put_signs};

/// Arguments of `hissward hunt`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  hissward hunt --at rig\n\n\
    SPACE takes what is heard now for quiet; the big number is how far the hiss lies over it. With --tone a tone rises \
    with it: below the hiss, so that it does not disturb (use headphones). Without a terminal: two lines a second.")]
pub struct Arguments {
    /// The place, as a reminder on the screen
    #[arg(long, value_name = "OPENING", value_parser = meant)]
    at: Option<Opening>,
    /// The microphone, by its name in `hissward mics`
    #[arg(long, value_name = "NAME")]
    microphone: Option<String>,
    /// Channel of the microphone, counted from 1
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    channel: Option<u32>,
    /// A tone that rises with the hiss
    #[arg(long)]
    tone: bool,
    /// Ends after this many seconds
    #[arg(long, value_name = "S")]
    seconds: Option<f64>,
}

/// A reminder is what it is called.
fn meant(word: &str) -> Result<Opening, String> {
    Understood::opening(word, &[], true).map_err(|error| error.to_string())
}

const LOOK: Duration = Duration::from_millis(5);
/// A screen for each reading of the meter.
const DRAW: Duration = Duration::from_millis(20);
/// Without a terminal.
const LINE: Duration = Duration::from_millis(500);
/// The tone at quiet, and how far it rises for each decibel: two octaves for 24 dB, and it stays below the hiss.
const TONE_HZ: f64 = 130.0;
const OCTAVES_PER_DB: f64 = 1.0 / 12.0;
const HIGHEST_TONE_HZ: f64 = 520.0;
/// Quiet is taken by itself when so much has been heard.
const FIRST_QUIET: Duration = Duration::from_secs(2);

struct Hunt<'a> {
    trail: Trail,
    last: Option<MeterReading>,
    in_the_stream: bool,
    device: String,
    place: String,
    words: &'a Words,
    tone: bool,
}

/// Shows until somebody leaves.
pub fn run(arguments: &Arguments, console: &Console) -> Result<Outcome, Failure> {
    let words = language::usual()?;
    let mut input = LiveInput::open(&SystemCard, arguments.microphone.as_deref(), arguments.channel)?;
    let stop = Arc::new(AtomicBool::new(false));
    let asked = Arc::clone(&stop);
    ctrlc::set_handler(move || asked.store(true, Ordering::Release))?;
    let has_terminal = io::stdin().is_terminal() && io::stdout().is_terminal();
    let mut terminal = if has_terminal { Some(Terminal::take()?) } else { None };
    let place = arguments.at.as_ref().map_or_else(String::new, |at| format!(" {}", words.opening(at)));
    let mut hunt = Hunt {
        trail: Trail::default(),
        last: None,
        in_the_stream: false,
        device: input.name().to_owned(),
        place,
        words: &words,
        tone: arguments.tone,
    };
    // The output is opened when a tone is first wished for: many machines have none.
    let mut speaker = arguments.tone.then(Speaker::system);
    let (begin, mut drawn, mut quiet_taken, mut quiet_colour) = (Instant::now(), Instant::now(), false, None);
    let lost = loop {
        if stop.load(Ordering::Acquire) || arguments.seconds.is_some_and(|most| begin.elapsed().as_secs_f64() >= most) {
            break None;
        }
        let came = input.look(LOOK);
        came.readings.iter().for_each(|reading| hunt.trail.push(reading));
        hunt.in_the_stream = input.is_in_the_stream(quiet_colour.as_ref());
        hunt.last = came.readings.last().copied().or(hunt.last);
        if let Some(Ended::Device(loss)) = came.ended {
            break Some(said(&loss));
        }
        if !quiet_taken && begin.elapsed() >= FIRST_QUIET {
            quiet_taken = hunt.trail.remember_quiet();
            quiet_colour = input.colour();
        }
        if let Some(speaker) = &speaker {
            speaker.hold(hunt.pitch());
        }
        match &mut terminal {
            Some(terminal) => {
                match terminal.key()? {
                    Some(Key::Go | Key::Letter(' ')) => {
                        quiet_taken = hunt.trail.remember_quiet();
                        quiet_colour = input.colour();
                    }
                    Some(Key::Letter('p' | 'P')) => hunt.trail.drop_peak(),
                    Some(Key::Letter('t' | 'T')) => {
                        hunt.tone = !hunt.tone;
                        speaker.get_or_insert_with(Speaker::system);
                    }
                    Some(Key::Out | Key::Letter('q' | 'Q')) => break None,
                    _ => {}
                }
                if !came.readings.is_empty() && drawn.elapsed() >= DRAW {
                    drawn = Instant::now();
                    terminal.paint(|frame, pixel| hunt.draw(frame, pixel))?;
                }
            }
            None if drawn.elapsed() >= LINE => {
                drawn = Instant::now();
                console.data(&format!("{} {}\n", hunt.above(), hunt.line()))?;
            }
            None => {}
        }
    };
    drop(terminal);
    input.close();
    match lost {
        None => Ok(Outcome::Done),
        Some(said) => Err(words.say("hunt-lost", &[("said", Fact::Text(said))]).into()),
    }
}

impl Hunt<'_> {
    /// How far over quiet, in whole decibels with its sign; a dash before quiet is known.
    fn above(&self) -> String {
        match self.trail.above_quiet() {
            Some(above) => {
                let number = format!("{:+.0}", above.0);
                let number = if number == "-0" { "+0".to_owned() } else { number };
                self.words.say("hunt-above", &[("above", Fact::Text(number))])
            }
            None => "-".to_owned(),
        }
    }

    fn line(&self) -> String {
        let level = |level: Option<Level>| {
            Fact::Text(level.map_or_else(|| "-".to_owned(), |level| self.words.printed(level.0, 1)))
        };
        let facts = [
            ("level", level(self.trail.now())),
            ("quiet", level(self.trail.quiet())),
            ("peak", level(self.trail.peak())),
        ];
        let line = self.words.say("hunt-level", &facts);
        if self.in_the_stream { format!("{line}   {}", self.words.say("guide-in-the-stream", &[])) } else { line }
    }

    /// The tone's pitch: rises with the hiss, and stays below it.
    fn pitch(&self) -> Option<Hertz> {
        let above = self.trail.above_quiet().filter(|_| self.tone)?;
        (above.0 > 1.0).then(|| Hertz((TONE_HZ * (above.0 * OCTAVES_PER_DB).exp2()).min(HIGHEST_TONE_HZ)))
    }

    fn draw(&self, frame: &mut ratatui::Frame<'_>, pixel: char) {
        let (width, height) = (frame.area().width as usize, frame.area().height);
        let reversed = Style::new().add_modifier(Modifier::REVERSED);
        let facts = [("where", Fact::Text(self.place.clone())), ("device", Fact::Text(self.device.clone()))];
        put(frame, 0, 1, &format!("{:width$}", self.words.say("hunt-head", &facts)), reversed);
        let clipped = self.last.is_some_and(|reading| reading.clipped > 0);
        let word = if clipped { self.words.say("hunt-loud", &[]) } else { self.above() };
        let row = 2 + put_big(frame, 2, &word, pixel) + 1;
        let line = bar(self.trail.now(), width, pixel);
        put_signs(frame, row, [&*line; 2].into_iter(), Style::new());
        put(frame, row + 2, 1, &self.line(), Style::new().add_modifier(Modifier::BOLD));
        put(
            frame,
            row + 3,
            1,
            &octave_line(self.last.map_or([None; OCTAVES.len()], |last| last.octaves)),
            Style::new(),
        );
        let rows = height.saturating_sub(row + 7);
        put_signs(
            frame,
            row + 5,
            self.trail_rows(width, rows as usize, pixel).iter().map(String::as_str),
            Style::new(),
        );
        if self.trail.quiet().is_none() {
            put(frame, height.saturating_sub(2), 1, &self.words.say("hunt-quiet-first", &[]), Style::new());
        }
        let keys = self.words.say("hunt-keys", &[]);
        put(frame, height.saturating_sub(1), 1, &format!("{keys:width$}"), reversed);
    }

    /// The last ten seconds, oldest left: from 6 dB under quiet upwards, 3 dB a row and more where it is louder.
    fn trail_rows(&self, width: usize, rows: usize, pixel: char) -> Vec<String> {
        let columns = self.trail.columns(width);
        let lowest = columns.iter().flatten().map(|level| level.0).fold(f64::INFINITY, f64::min);
        let highest = columns.iter().flatten().map(|level| level.0).fold(f64::NEG_INFINITY, f64::max);
        if rows == 0 || !lowest.is_finite() {
            return Vec::new();
        }
        let from = self.trail.quiet().map_or(lowest, |quiet| quiet.0) - 6.0;
        let step = ((highest - from) / rows as f64).max(3.0);
        let filled = |level: &Option<Level>, row: usize| {
            level.is_some_and(|level| (level.0 - from) / step >= (rows - row) as f64 - 0.5)
        };
        let row_text =
            |row| columns.iter().map(|level| if filled(level, row) { pixel } else { ' ' }).collect::<String>();
        (0..rows).map(row_text).collect()
    }
}

// Five rows of letters, a bar, two lines and the trail fit 24 lines.
const _: () = assert!(2 + big::ROWS + 1 + 4 + 1 + 2 < 24);
