//! Screens in a terminal: no colour, any size from 60 × 20, over any line.

use std::io::{self, IsTerminal};
use std::thread;
use std::time::{Duration, Instant};

use hissward::guide::{Key, Screen};
use hissward::meter::OCTAVES;
use hissward::units::Level;
use ratatui::crossterm::event::{self, Event, KeyCode, KeyEventKind, KeyModifiers};
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::widgets::{Paragraph, Wrap};
use ratatui::{DefaultTerminal, Frame};

use super::big;

/// The lowest level of a bar, dB FS; full scale is its other end.
const BAR_FROM_DB: f64 = -90.0;

/// How often keys are looked for: a look is three calls of the system, and nobody feels a fiftieth of a second.
const KEYS_EVERY: Duration = Duration::from_millis(20);

/// A terminal that shows screens and hears keys.
pub struct Terminal {
    terminal: DefaultTerminal,
    pixel: char,
    /// When a look last found no key.
    no_key: Option<Instant>,
}

impl Terminal {
    /// Takes the terminal over.
    pub fn take() -> io::Result<Self> {
        watch_for_hang_up();
        Ok(Self { terminal: ratatui::try_init()?, pixel: if speaks_utf8() { '█' } else { '#' }, no_key: None })
    }

    /// The next of the keys pressed, if any.
    ///
    /// # Errors
    /// What the system says; also where the terminal is gone (its window was shut, the line was cut).
    pub fn key(&mut self) -> io::Result<Option<Key>> {
        if self.no_key.is_some_and(|looked| looked.elapsed() < KEYS_EVERY) {
            return Ok(None);
        }
        if !io::stdin().is_terminal() {
            return Err(io::Error::new(io::ErrorKind::NotConnected, "the terminal is gone"));
        }
        while event::poll(Duration::ZERO)? {
            let Event::Key(key) = event::read()? else { continue };
            if key.kind == KeyEventKind::Release {
                continue;
            }
            let control = key.modifiers.contains(KeyModifiers::CONTROL);
            return Ok(Some(match key.code {
                KeyCode::Char('c') if control => Key::Out,
                KeyCode::Enter => Key::Go,
                KeyCode::Esc => Key::Out,
                KeyCode::Backspace => Key::Back,
                KeyCode::Char(letter) => Key::Letter(letter),
                _ => continue,
            }));
        }
        self.no_key = Some(Instant::now());
        Ok(None)
    }

    /// Shows a screen of the guide.
    pub fn show(&mut self, screen: &Screen) -> io::Result<()> {
        let pixel = self.pixel;
        self.terminal.draw(|frame| draw(frame, screen, pixel)).map(|_| ())
    }

    /// Shows whatever `paint` paints.
    pub fn paint(&mut self, paint: impl FnOnce(&mut Frame<'_>, char)) -> io::Result<()> {
        let pixel = self.pixel;
        self.terminal.draw(|frame| paint(frame, pixel)).map(|_| ())
    }
}

/// How long the program is given to end by itself once its terminal is gone.
const LEFT_TO_END: Duration = Duration::from_secs(3);

/// Ends the program some seconds after its terminal is gone. Reading keys of a terminal that goes away in that very
/// moment never comes back, and would keep a core busy for good. Clips are on disk as they are recorded: the next start
/// finds them.
fn watch_for_hang_up() {
    thread::spawn(|| {
        loop {
            thread::sleep(LEFT_TO_END);
            if !io::stdin().is_terminal() {
                thread::sleep(LEFT_TO_END);
                std::process::exit(2);
            }
        }
    });
}

impl Drop for Terminal {
    fn drop(&mut self) {
        ratatui::restore();
    }
}

/// Whether the terminal shows more than ASCII, as far as it says.
fn speaks_utf8() -> bool {
    let said =
        ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|name| std::env::var(name).ok().filter(|v| !v.is_empty()));
    cfg!(not(unix)) || said.is_some_and(|said| said.to_lowercase().replace('-', "").contains("utf8"))
}

/// Lines of signs that are one column wide each, in place from column 1; what is beyond the screen is left out.
pub fn put_signs<'a>(frame: &mut Frame<'_>, row: u16, lines: impl Iterator<Item = &'a str>, style: Style) {
    let area = frame.area();
    for (line, y) in lines.zip(row..area.height) {
        for (sign, x) in line.chars().zip(0..area.width) {
            frame.buffer_mut()[(x, y)].set_char(sign).set_style(style);
        }
    }
}

/// A line or lines of words in place, from column 1.
pub fn put(frame: &mut Frame<'_>, row: u16, height: u16, text: &str, style: Style) {
    let area = frame.area();
    if row < area.height {
        let rect = Rect { x: 0, y: row, width: area.width, height: height.min(area.height - row) };
        frame.render_widget(Paragraph::new(text.to_owned()).style(style).wrap(Wrap { trim: false }), rect);
    }
}

/// A word in big letters; returns how many rows it took.
pub fn put_big(frame: &mut Frame<'_>, row: u16, word: &str, pixel: char) -> u16 {
    let rows = big::rows(word, frame.area().width as usize, pixel);
    put_signs(frame, row, rows.iter().map(String::as_str), Style::new().add_modifier(Modifier::BOLD));
    big::ROWS as u16
}

/// A bar for a level, as wide as the screen.
pub fn bar(level: Option<Level>, width: usize, pixel: char) -> String {
    let share = level.map_or(0.0, |level| ((level.0 - BAR_FROM_DB) / -BAR_FROM_DB).clamp(0.0, 1.0));
    let full = (share * width as f64).round() as usize;
    let rest = if pixel == '#' { '.' } else { '░' };
    (0..width).map(|at| if at < full { pixel } else { rest }).collect()
}

/// Rows of a bar, its figures and the blank below.
const LIVE_ROWS: u16 = 4;
/// Rows of a big word and the blank below.
const BIG_ROWS: u16 = big::ROWS as u16 + 1;

fn draw(frame: &mut Frame<'_>, screen: &Screen, pixel: char) {
    let area = frame.area();
    let (width, height) = (area.width as usize, area.height);
    let bold = Style::new().add_modifier(Modifier::BOLD);
    put(frame, 0, 1, &format!("{:width$}", screen.head), Style::new().add_modifier(Modifier::REVERSED));
    let entry_rows = if screen.entry.is_some() { 2 } else { 0 };
    let live_rows = if screen.live.is_some() { LIVE_ROWS } else { 0 };
    let last = height.saturating_sub(3 + entry_rows);
    let words: Vec<&String> = screen.big.iter().filter(|word| !word.is_empty()).collect();
    let tell: Vec<Vec<String>> = screen.tell.iter().map(|line| wrapped(line, width)).collect();
    let rows_of = |lines: &[Vec<String>]| lines.iter().map(Vec::len).sum::<usize>() as u16;
    // What is to be done is told whole: for that the big words give way, one after the other.
    let fits = |big: usize| {
        let plain = (words.len() - big) as u16;
        2 + big as u16 * BIG_ROWS + plain + live_rows + rows_of(&tell) <= last
    };
    let big = (0..=words.len()).rev().find(|big| fits(*big)).unwrap_or(0);
    let mut row = 2;
    for word in &words[..big] {
        row += put_big(frame, row, word, pixel) + 1;
    }
    for word in &words[big..] {
        put(frame, row, 1, &word.to_uppercase(), bold);
        row += 1;
    }
    if screen.live.is_some() {
        let line = bar(screen.live.and_then(|live| live.level), width, pixel);
        put_signs(frame, row, [&*line; 2].into_iter(), Style::new());
        put(frame, row + 2, 1, &screen.measured, bold);
        row += LIVE_ROWS;
    }
    row = put_whole(frame, row, last, &tell, bold);
    if let Some(entry) = &screen.entry {
        let caret = if pixel == '#' { '_' } else { '▏' };
        put(frame, height.saturating_sub(4), 1, &format!("> {entry}{caret}"), bold);
    }
    // A large screen shows what is known besides: all of a part, or none of it.
    let more: Vec<Vec<String>> = screen.more.iter().map(|line| wrapped(line, width)).collect();
    let table: Vec<Vec<String>> = screen.table.iter().map(|line| vec![line.clone()]).collect();
    if !table.is_empty() && row + 1 + rows_of(&table) <= last {
        row = put_whole(frame, row + 1, last, &table, Style::new());
    }
    if !more.is_empty() && row < last {
        put_whole(frame, row + 1, last, &more, Style::new());
    }
    put(frame, height.saturating_sub(2), 1, &screen.missing, Style::new());
    put(
        frame,
        height.saturating_sub(1),
        1,
        &format!("{:width$}", screen.keys),
        Style::new().add_modifier(Modifier::REVERSED),
    );
}

/// Paragraphs one below the other, each whole: one that does not fit before `last` is left out with all after it, and
/// three points say so. Returns the row after them.
fn put_whole(frame: &mut Frame<'_>, mut row: u16, last: u16, paragraphs: &[Vec<String>], style: Style) -> u16 {
    for (at, lines) in paragraphs.iter().enumerate() {
        let needed = lines.len() as u16 + u16::from(at + 1 < paragraphs.len());
        if row + needed > last && row + lines.len() as u16 > last {
            put(frame, row, 1, "…", style);
            return row + 1;
        }
        for line in lines {
            put(frame, row, 1, line, style);
            row += 1;
        }
    }
    row
}

/// A paragraph in lines of at most so many columns, broken between words.
fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for line in text.split('\n') {
        let mut now = String::new();
        for word in line.split(' ') {
            let length = now.chars().count();
            if length > 0 && length + 1 + word.chars().count() > width {
                lines.push(std::mem::take(&mut now));
            } else if length > 0 {
                now.push(' ');
            }
            now.push_str(word);
        }
        lines.push(now);
    }
    lines
}

/// The octave bands in a line: what is heard where.
pub fn octave_line(levels: [Option<Level>; OCTAVES.len()]) -> String {
    let cell = |(hz, level): (f64, Option<Level>)| {
        format!("{:.0}k {}", hz / 1000.0, level.map_or_else(|| "  -".to_owned(), |level| format!("{:3.0}", level.0)))
    };
    OCTAVES.into_iter().zip(levels).map(cell).collect::<Vec<_>>().join("   ")
}
