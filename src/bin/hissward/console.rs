//! What a person and other programs see: data on stdout, talk on stderr.

use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use hissward::report::TextStyle;

use crate::printable::printable;

/// Any error that ends a command; its text says what, where and what to do.
pub type Failure = Box<dyn std::error::Error + Send + Sync>;

/// How a command ended where nothing failed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// Done: exit 0.
    Done,
    /// Measured, but every cylinder asked for is `cannot-tell` (or a pack was altered): exit 1.
    Undecided,
}

impl Outcome {
    /// The exit code.
    pub fn code(self) -> ExitCode {
        match self {
            Self::Done => ExitCode::SUCCESS,
            Self::Undecided => ExitCode::from(1),
        }
    }
}

/// The two streams, and how much is said.
#[derive(Debug, Clone, Copy)]
pub struct Console {
    quiet: bool,
}

impl Console {
    /// The console of this process's streams.
    pub fn new(quiet: bool) -> Self {
        Self { quiet }
    }

    /// Writes data to stdout; what would be an order to a terminal is written out.
    pub fn data(&self, text: &str) -> Result<(), Failure> {
        let text = printable(text, self.style() == TextStyle::Bold);
        let mut out = io::stdout().lock();
        match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            // A reader that has seen enough (`| head`) is no failure.
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
            Err(error) => {
                Err(format!("stdout: the result cannot be printed ({error}): send it elsewhere, or make room there")
                    .into())
            }
            Ok(()) => Ok(()),
        }
    }

    /// Says a line on stderr, unless told to be quiet.
    pub fn talk(&self, line: &str) {
        if !self.quiet {
            self.error_line(line);
        }
    }

    /// Says what went wrong, quiet or not.
    pub fn error(&self, text: &str) {
        self.error_line(&format!("hissward: {text}"));
    }

    /// Bold on a terminal, unless `NO_COLOR` asks for plain characters.
    pub fn style(&self) -> TextStyle {
        let plain = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        if io::stdout().is_terminal() && !plain { TextStyle::Bold } else { TextStyle::Plain }
    }

    /// Whether progress and colour make sense: stderr is a terminal, and nobody asked for silence.
    pub fn lively(&self) -> bool {
        !self.quiet && io::stderr().is_terminal()
    }

    /// Where progress is drawn: nowhere, unless it makes sense.
    pub fn progress_target(&self) -> indicatif::ProgressDrawTarget {
        use indicatif::ProgressDrawTarget;
        if self.lively() { ProgressDrawTarget::stderr() } else { ProgressDrawTarget::hidden() }
    }

    fn error_line(&self, line: &str) {
        let line = printable(line, false);
        let mut err = io::stderr().lock();
        // Where even stderr is gone there is nobody left to tell.
        let _gone = writeln!(err, "{line}");
    }
}
