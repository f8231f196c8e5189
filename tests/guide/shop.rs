//! A shop for the guide: a microphone that hears what the screen asks for, a terminal of 80 × 24, a job folder.

use std::fs;
use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::sync::atomic::{AtomicBool, AtomicU32, Ordering};
use std::sync::{Arc, Mutex, MutexGuard};
use std::thread;
use std::time::{Duration, Instant};

/// Virtual microphones share two cores badly: one test at a time.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// Sound comes so much faster than in life.
const SPEED: f64 = 3.0;
const RATE_HZ: f64 = 48_000.0;
/// Flags of open(2) on Linux: a FIFO opened for both never blocks the one who opens it.
const O_NONBLOCK: i32 = 0o4000;

/// How many times longer than on an idle machine a wait may last before it counts as a failure.
const PATIENCE: f64 = 6.0;

pub const PROGRAM: &str = env!("CARGO_BIN_EXE_hissward");

/// Noise at the pace of a microphone, as loud as is wished at the moment.
struct Sound {
    /// Loudness as the bits of an `f32`, full scale 1.
    loudness: Arc<AtomicU32>,
    ends: Arc<AtomicBool>,
    /// Nothing comes: the plug is out.
    unplugged: Arc<AtomicBool>,
    /// When the loudness last changed in what was sent.
    changed: Arc<Mutex<Option<Instant>>>,
    thread: Option<thread::JoinHandle<()>>,
}

impl Sound {
    fn play(fifo: PathBuf, speed: f64) -> Self {
        let loudness = Arc::new(AtomicU32::new(0.003_f32.to_bits()));
        let ends = Arc::new(AtomicBool::new(false));
        let unplugged = Arc::new(AtomicBool::new(false));
        let changed = Arc::new(Mutex::new(None));
        let (shared, over, out) = (Arc::clone(&loudness), Arc::clone(&ends), Arc::clone(&unplugged));
        let noted = Arc::clone(&changed);
        let thread = thread::spawn(move || {
            let open = fs::OpenOptions::new().read(true).write(true).custom_flags(O_NONBLOCK).open(fifo);
            let mut pipe = open.expect("the FIFO opens");
            let mut before = shared.load(Ordering::Acquire);
            let (begin, mut sent, mut state) = (Instant::now(), 0_u64, 0x2545_F491_4F6C_DD1D_u64);
            while !over.load(Ordering::Acquire) {
                let due = (begin.elapsed().as_secs_f64() * speed * RATE_HZ) as u64;
                while sent < due {
                    let now = shared.load(Ordering::Acquire);
                    if std::mem::replace(&mut before, now) != now {
                        *noted.lock().expect("a moment") = Some(Instant::now());
                    }
                    let gain = f32::from_bits(now) * 32_768.0;
                    let block: Vec<u8> = (0..240)
                        .flat_map(|_| {
                            state ^= state << 13;
                            state ^= state >> 7;
                            state ^= state << 17;
                            let sample = (state >> 40) as f32 / (1_u64 << 23) as f32 - 1.0;
                            ((sample * gain) as i16).to_le_bytes()
                        })
                        .collect();
                    sent += 240;
                    // Where nobody reads, sound is lost, as before a microphone that is not recorded from.
                    if !out.load(Ordering::Acquire) {
                        drop(pipe.write(&block));
                    }
                }
                thread::sleep(Duration::from_millis(2));
            }
        });
        Self { loudness, ends, unplugged, changed, thread: Some(thread) }
    }
}

impl Drop for Sound {
    fn drop(&mut self) {
        self.ends.store(true, Ordering::Release);
        let ended = self.thread.take().map(thread::JoinHandle::join);
        assert!(ended.is_none_or(|ended| ended.is_ok()) || thread::panicking());
    }
}

/// The shop.
pub struct Shop {
    folder: tempfile::TempDir,
    /// Where the job lies, if not in the shop's own folder.
    elsewhere: Option<PathBuf>,
    sound: Sound,
    _one: MutexGuard<'static, ()>,
}

impl Shop {
    /// A shop with a job for the three-cylinder engine of a workboat.
    pub fn new() -> Self {
        Self::at_speed(SPEED)
    }

    /// The same, where time is to be measured.
    pub fn at_speed(speed: f64) -> Self {
        Self::made(speed, None)
    }

    /// The same, where the job lies on a disk of its own.
    pub fn on_disk(disk: &Path) -> Self {
        Self::made(1.0, Some(disk.join("job")))
    }

    fn made(speed: f64, elsewhere: Option<PathBuf>) -> Self {
        let one = ONE_AT_A_TIME.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let folder = tempfile::tempdir().expect("a folder");
        let feed = folder.path().join("feed");
        assert!(Command::new("mkfifo").arg(&feed).status().expect("mkfifo").success());
        let template = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/virtual-mic/asound-file.conf");
        let text = fs::read_to_string(template).expect("the template").replace("FEED", &feed.display().to_string());
        fs::write(folder.path().join("asound.conf"), text).expect("writes");
        let shop = Self { sound: Sound::play(feed, speed), folder, elsewhere, _one: one };
        let job = shop.job();
        let made = shop
            .command(&["new", &job, "--engine", "three-cylinder petrol, workboat", "--cylinders", "3"])
            .args(["--firing-order", "1-3-2", "--restrictor", "0.040in", "--quiet"])
            .output();
        assert!(made.expect("starts").status.success());
        shop
    }

    pub fn job(&self) -> String {
        let own = || self.folder.path().join("job");
        self.elsewhere.clone().unwrap_or_else(own).display().to_string()
    }

    /// Waits until so many seconds of sound of a clip that is being recorded are on the disk.
    pub fn wait_for_sound(&self, clip: &str, seconds: f64) {
        let file = Path::new(&self.job()).join("clips").join(format!("{clip}.part"));
        let bytes = (seconds * RATE_HZ) as u64 * 2;
        let begin = Instant::now();
        while fs::metadata(&file).map_or(0, |found| found.len()) < bytes {
            assert!(begin.elapsed().as_secs_f64() < PATIENCE * 10.0, "no {seconds} s of sound in {}", file.display());
            thread::sleep(Duration::from_millis(10));
        }
    }

    /// A file in the shop's own folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn job_file(&self) -> String {
        fs::read_to_string(Path::new(&self.job()).join("job.toml")).expect("job.toml")
    }

    /// How loud it is at the microphone, full scale 1.
    pub fn loudness(&self, loudness: f32) {
        self.sound.loudness.store(loudness.to_bits(), Ordering::Release);
    }

    /// Pulls the microphone's plug out, or puts it in again.
    pub fn unplug(&self, out: bool) {
        self.sound.unplugged.store(out, Ordering::Release);
    }

    /// When the last change of loudness was sent to the microphone.
    pub fn changed(&self) -> Option<Instant> {
        *self.sound.changed.lock().expect("a moment")
    }

    pub fn environment(&self) -> [(&'static str, String); 5] {
        let conf = self.folder.path().join("asound.conf").display().to_string();
        [
            ("ALSA_CONFIG_PATH", format!("/usr/share/alsa/alsa.conf:{conf}")),
            ("PULSE_SERVER", "unix:/nowhere".to_owned()),
            ("LANG", "C.UTF-8".to_owned()),
            ("LC_ALL", "C.UTF-8".to_owned()),
            ("TERM", "xterm".to_owned()),
        ]
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(PROGRAM);
        command.args(arguments).envs(self.environment());
        command
    }

    /// A command in a terminal of its own.
    pub fn terminal(&self, arguments: &[&str]) -> Terminal {
        self.terminal_with(arguments, &[])
    }

    /// The same, with more in its environment.
    pub fn terminal_with(&self, arguments: &[&str], more: &[(&str, &str)]) -> Terminal {
        let (pty, pts) = pty_process::blocking::open().expect("a pseudo-terminal");
        pty.resize(pty_process::Size::new(24, 80)).expect("80 × 24");
        let command = pty_process::blocking::Command::new(PROGRAM)
            .args(arguments)
            .envs(self.environment())
            .envs(more.iter().copied());
        Terminal::over(command.spawn(pts).expect("starts"), pty)
    }
}

fn lines(count: u16) -> NonZeroU16 {
    NonZeroU16::new(count).expect("some")
}

/// What a person sees, and the keys.
pub struct Terminal {
    pub child: Child,
    pty: Arc<pty_process::blocking::Pty>,
    screen: Arc<Mutex<(vt100::Parser, Instant)>>,
}

impl Terminal {
    fn over(child: Child, pty: pty_process::blocking::Pty) -> Self {
        let pty = Arc::new(pty);
        let screen = Arc::new(Mutex::new((vt100::Parser::new(lines(24), lines(80), 0), Instant::now())));
        let (reader, shown) = (Arc::clone(&pty), Arc::clone(&screen));
        thread::spawn(move || {
            let mut block = [0_u8; 4096];
            // A terminal whose program has ended gives an error.
            while let Ok(count) = (&*reader).read(&mut block) {
                if count == 0 {
                    return;
                }
                let mut held = shown.lock().expect("the screen");
                held.0.process(&block[..count]);
                held.1 = Instant::now();
            }
        });
        Self { child, pty, screen }
    }

    /// The screen as text.
    pub fn text(&self) -> String {
        self.screen.lock().expect("the screen").0.screen().contents()
    }

    /// The screen's first big row and more as text, with the moment of its last change.
    pub fn text_and_time(&self) -> (String, Instant) {
        let held = self.screen.lock().expect("the screen");
        (held.0.screen().contents(), held.1)
    }

    pub fn press(&self, keys: &str) {
        (&*self.pty).write_all(keys.as_bytes()).expect("keys");
    }

    /// Waits until the screen holds this, and says it.
    pub fn wait(&self, what: &str, seconds: f64) -> String {
        self.wait_for(what, seconds, |text| text.contains(what))
    }

    pub fn wait_for(&self, told: &str, seconds: f64, holds: impl Fn(&str) -> bool) -> String {
        let begin = Instant::now();
        loop {
            let text = self.text();
            if holds(&text) {
                assert!(!text.contains("[guide-") && !text.contains("[mind-"), "a message no catalogue has:\n{text}");
                return text;
            }
            assert!(
                begin.elapsed().as_secs_f64() < PATIENCE * seconds,
                "'{told}' did not come in {seconds} s:\n{text}"
            );
            thread::sleep(Duration::from_millis(10));
        }
    }

    /// Waits until the program has ended.
    pub fn ended(&mut self) -> bool {
        let begin = Instant::now();
        while begin.elapsed().as_secs_f64() < PATIENCE * 10.0 {
            if let Some(status) = self.child.try_wait().expect("a child") {
                return status.success();
            }
            thread::sleep(Duration::from_millis(20));
        }
        panic!("it did not end:\n{}", self.text());
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        if !matches!(self.child.try_wait(), Ok(Some(_))) {
            let ended = self.child.kill().and_then(|()| self.child.wait());
            assert!(ended.is_ok() || thread::panicking());
        }
    }
}
