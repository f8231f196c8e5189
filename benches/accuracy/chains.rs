//! What recorders do to sound, by the real thing, from file to file: codecs by ffmpeg, speech processing by
//! `chains.py`. What is not installed is said, and its rows are left out.

use std::io::{self, BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::Mutex;

/// Something that a clip goes through.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Chain {
    /// MP3, 96 kbit/s.
    Mp3,
    /// AAC, 64 kbit/s.
    Aac,
    /// Opus, 24 kbit/s.
    Opus,
    /// Noise suppression of WebRTC.
    Suppression,
    /// Automatic gain of WebRTC.
    Gain,
    /// Both.
    SuppressionAndGain,
    /// RNNoise.
    RnNoise,
}

impl Chain {
    /// All of them.
    pub const ALL: [Self; 7] =
        [Self::Mp3, Self::Aac, Self::Opus, Self::Suppression, Self::Gain, Self::SuppressionAndGain, Self::RnNoise];

    /// What it is called in tables.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mp3 => "MP3 96",
            Self::Aac => "AAC 64",
            Self::Opus => "Opus 24",
            Self::Suppression => "WebRTC suppression",
            Self::Gain => "WebRTC gain",
            Self::SuppressionAndGain => "WebRTC suppression and gain",
            Self::RnNoise => "RNNoise",
        }
    }

    /// Codes of the caveats of which one names it.
    pub fn codes(self) -> &'static [&'static str] {
        match self {
            Self::Mp3 | Self::Aac | Self::Opus => &["lossy-coding"],
            Self::Suppression | Self::RnNoise => &["suppression-eaten", "suppression-shut-off"],
            Self::Gain => &["gain-rides"],
            Self::SuppressionAndGain => &["suppression-eaten", "suppression-shut-off", "gain-rides"],
        }
    }

    /// The ending of its files, and ffmpeg's words for a codec; or what `chains.py` calls it.
    fn by(self) -> By {
        match self {
            Self::Mp3 => By::Codec("mp3", &["-c:a", "libmp3lame", "-b:a", "96k"]),
            Self::Aac => By::Codec("m4a", &["-c:a", "aac", "-b:a", "64k"]),
            Self::Opus => By::Codec("opus", &["-c:a", "libopus", "-b:a", "24k"]),
            Self::Suppression => By::Processing("suppression"),
            Self::Gain => By::Processing("gain"),
            Self::SuppressionAndGain => By::Processing("suppression-and-gain"),
            Self::RnNoise => By::Processing("rnnoise"),
        }
    }
}

enum By {
    Codec(&'static str, &'static [&'static str]),
    Processing(&'static str),
}

/// The tools at hand.
pub struct Chains {
    python: PathBuf,
    has_ffmpeg: bool,
    has_python: bool,
    /// Helpers that wait for work.
    idle: Mutex<Vec<Helper>>,
}

struct Helper {
    child: Child,
    asks: ChildStdin,
    answers: BufReader<ChildStdout>,
}

impl Drop for Helper {
    fn drop(&mut self) {
        // It is ours, it holds nothing; that it is gone already is no fault.
        let _gone = self.child.kill();
        let _ended = self.child.wait();
    }
}

impl Chains {
    /// Looks what is there.
    pub fn look() -> Self {
        let python = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("target/chain-python/bin/python");
        let runs = |command: &mut Command| {
            command.stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok_and(|status| status.success())
        };
        let has_ffmpeg = runs(Command::new("ffmpeg").arg("-version"));
        let has_python = runs(Command::new(&python).args(["-c", "import pywebrtc_audio, pyrnnoise.rnnoise"]));
        Self { python, has_ffmpeg, has_python, idle: Mutex::new(Vec::new()) }
    }

    /// Whether a chain can be run here.
    pub fn can(&self, chain: Chain) -> bool {
        match chain.by() {
            By::Codec(..) => self.has_ffmpeg,
            By::Processing(_) => self.has_python,
        }
    }

    /// What lacks, in words; `None` where everything is there.
    pub fn lacking(&self) -> Option<String> {
        let lacks: Vec<&str> = [(self.has_ffmpeg, "ffmpeg"), (self.has_python, "pywebrtc-audio and pyrnnoise")]
            .into_iter()
            .filter_map(|(there, what)| (!there).then_some(what))
            .collect();
        (!lacks.is_empty()).then(|| format!("{} lacking: `make setup-accuracy` installs them", lacks.join(", ")))
    }

    /// Sends a WAV file through a chain; gives the file that comes out, beside it.
    pub fn run(&self, chain: Chain, wav: &Path) -> io::Result<PathBuf> {
        match chain.by() {
            By::Codec(ending, words) => {
                let out = wav.with_extension(ending);
                let done = Command::new("ffmpeg")
                    .args(["-v", "error", "-nostdin", "-y", "-threads", "1", "-i"])
                    .arg(wav)
                    .args(words)
                    .arg(&out)
                    .output()?;
                if !done.status.success() {
                    return Err(io::Error::other(String::from_utf8_lossy(&done.stderr).into_owned()));
                }
                Ok(out)
            }
            By::Processing(name) => {
                let out = wav.with_extension("out.wav");
                let waiting = self.idle.lock().ok().and_then(|mut idle| idle.pop());
                let mut helper = waiting.map_or_else(|| self.helper(), Ok)?;
                writeln!(helper.asks, "{name}\t{}\t{}", wav.display(), out.display())?;
                let mut answer = String::new();
                helper.answers.read_line(&mut answer)?;
                if answer.trim() != "ok" {
                    return Err(io::Error::other(format!("chains.py: {}", answer.trim())));
                }
                if let Ok(mut idle) = self.idle.lock() {
                    idle.push(helper);
                }
                Ok(out)
            }
        }
    }

    fn helper(&self) -> io::Result<Helper> {
        let script = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("benches/accuracy/chains.py");
        let mut child = Command::new(&self.python)
            .arg(script)
            .arg("--serve")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()?;
        let (Some(asks), Some(answers)) = (child.stdin.take(), child.stdout.take()) else {
            return Err(io::Error::other("chains.py: no way to talk to it"));
        };
        Ok(Helper { child, asks, answers: BufReader::new(answers) })
    }
}
