//! Where there is no terminal: a line for each change, and lines of a pipe as keys.

use std::collections::VecDeque;
use std::io::BufRead;
use std::sync::mpsc::{self, Receiver, TryRecvError};
use std::thread;

use hissward::guide::{Key, Screen};

/// Lines in, lines out.
pub struct Lines {
    typed: Receiver<String>,
    keys: VecDeque<Key>,
    ended: bool,
    told: String,
}

impl Lines {
    /// Reads stdin on a thread of its own.
    pub fn start() -> Self {
        let (tell, typed) = mpsc::channel();
        thread::spawn(move || {
            for line in std::io::stdin().lock().lines() {
                // A pipe that breaks ends like one that closes.
                let Ok(line) = line else { return };
                if tell.send(line).is_err() {
                    return;
                }
            }
        });
        Self { typed, keys: VecDeque::new(), ended: false, told: String::new() }
    }

    /// The next key: an empty line is SPACE, a single letter that key, and anything else an entry with ENTER.
    pub fn key(&mut self, typing: bool) -> Option<Key> {
        if self.keys.is_empty() {
            match self.typed.try_recv() {
                Ok(line) => {
                    let line = line.trim();
                    self.keys.extend(line.chars().map(Key::Letter));
                    let is_command = line.chars().count() == 1 && !(typing && line.chars().all(|c| c.is_ascii_digit()));
                    if !is_command {
                        self.keys.push_back(Key::Go);
                    }
                }
                Err(TryRecvError::Disconnected) => self.ended = true,
                Err(TryRecvError::Empty) => {}
            }
        }
        self.keys.pop_front()
    }

    /// Whether nobody types any more.
    pub fn is_over(&self) -> bool {
        self.ended && self.keys.is_empty()
    }

    /// What is to be told of a screen: nothing where that was told already.
    pub fn change(&mut self, screen: &Screen) -> Option<String> {
        // What is measured moves all the time.
        let tell = screen.tell.iter().filter(|_| screen.live.is_none());
        let text: Vec<&str> =
            screen.big.iter().chain(tell).map(String::as_str).filter(|part| !part.is_empty()).collect();
        let line = format!("[{}] {}", screen.head, text.join(" | "));
        // What differs in its numbers only counts down: told once.
        let without_numbers: String = line.chars().filter(|c| !c.is_ascii_digit()).collect();
        if without_numbers == self.told {
            return None;
        }
        self.told = without_numbers;
        Some(format!("{line}\n    {}\n    {}", screen.missing, screen.keys))
    }
}
