//! Recording from microphones: a made-up one for every fault, and on Linux real capture through cpal from
//! virtual microphones (ALSA's file device, the same at real pace, PulseAudio).

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use hissward::audio::{
    self, ChannelChoice, Ended, FakeCard, FakeEnd, LevelReport, Loss, MicError, Order, Recorded, SampleKind,
    StreamShape, WriteError,
};
use hissward::caveat::Caveat;
use hissward::units::{Level, Seconds};

const SHAPE: StreamShape = StreamShape { rate_hz: 48_000, channels: 2, kind: SampleKind::I16 };

/// Noise of 16-bit samples without a period, so that every place in it is known by its samples.
fn noise(samples: usize) -> Vec<i16> {
    let mut state = 0x2545_F491_4F6C_DD1D_u64;
    let mut next = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 48) as i16 / 4
    };
    (0..samples).map(|_| next()).collect()
}

fn scaled(samples: &[i16]) -> Vec<f32> {
    samples.iter().map(|sample| f32::from(*sample) / 32_768.0).collect()
}

fn card(seconds: f64, speed: f64, end: FakeEnd) -> FakeCard {
    let samples = noise((seconds * 48_000.0) as usize * 2);
    FakeCard { shape: SHAPE, samples: Arc::from(scaled(&samples)), speed, end }
}

fn order<'a>(file: &'a Path, seconds: Option<f64>, stop: &'a AtomicBool) -> Order<'a> {
    Order { file, input: None, length: seconds.map(Seconds), stop }
}

fn codes(caveats: &[Caveat]) -> Vec<&'static str> {
    caveats.iter().map(|caveat| caveat.code).collect()
}

fn recorded(card: &FakeCard, file: &Path, seconds: f64) -> Result<Recorded, MicError> {
    audio::record(card, &order(file, Some(seconds), &AtomicBool::new(false)), &mut |_| {})
}

#[test]
fn a_recording_is_as_long_as_asked_for_and_holds_what_came() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("c1-intake-off-t1.wav");
    let card = card(3.0, 20.0, FakeEnd::Again);
    let mut reports: Vec<LevelReport> = Vec::new();
    let done =
        audio::record(&card, &order(&file, Some(2.5), &AtomicBool::new(false)), &mut |level| reports.push(*level))
            .expect("records");
    assert!(matches!(done.ended, Ended::Full), "{:?}", done.ended);
    assert_eq!((done.frames, done.length(), codes(&done.caveats())), (120_000, Seconds(2.5), vec![]));
    for (channel, at) in [(1, 0), (2, 1)] {
        let (clip, caveats) = audio::read_clip(&file, ChannelChoice::Number(channel)).expect("reads");
        assert_eq!(codes(&caveats), [""; 0]);
        assert!(clip.samples().iter().eq(card.samples.iter().skip(at).step_by(2).take(120_000)));
    }
    assert!((15..=25).contains(&reports.len()), "{} reports of about a tenth of a second", reports.len());
    // Uniform noise within ±a quarter of full scale has a mean square of (1/4)²/3.
    let expected = Level::of_power(1.0 / 48.0).expect("a level").0;
    let level = reports[3].level.expect("no silence").0;
    assert!((level - expected).abs() < 0.2, "{level} dB FS, expected {expected}");
    assert!(reports.iter().all(|level| level.clipped == 0 && level.peak > level.level));
}

#[test]
fn the_stop_flag_ends_a_recording_of_no_set_length() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.wav");
    let stop = AtomicBool::new(false);
    let mut stop_after = |level: &LevelReport| stop.store(level.elapsed >= Seconds(0.5), Ordering::Release);
    let done =
        audio::record(&card(1.0, 10.0, FakeEnd::Again), &order(&file, None, &stop), &mut stop_after).expect("records");
    assert!(
        matches!(done.ended, Ended::Stopped) && done.length() >= Seconds(0.5) && done.length() < Seconds(2.0),
        "{done:?}"
    );
}

#[test]
fn a_device_that_fails_leaves_what_came_before() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.wav");
    let begin = Instant::now();
    let done = recorded(&card(1.0, 10.0, FakeEnd::Fails("unplugged".to_owned())), &file, 60.0).expect("keeps it");
    assert!(begin.elapsed() < Duration::from_secs(2), "a storm of errors ends it at once: {:?}", begin.elapsed());
    assert!(matches!(&done.ended, Ended::Device(Loss::Failed(said)) if said == "unplugged"), "{:?}", done.ended);
    assert_eq!((done.length(), codes(&done.caveats())), (Seconds(1.0), vec!["device-failed"]));
    assert_eq!(audio::read_clip(&file, ChannelChoice::Number(1)).expect("reads").0.samples().len(), 48_000);
}

#[test]
fn a_device_that_falls_silent_and_never_lets_go_is_left_in_time() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.wav");
    let begin = Instant::now();
    let done = recorded(&card(1.0, 10.0, FakeEnd::Hangs), &file, 60.0).expect("keeps it");
    let took = begin.elapsed();
    assert!(
        took >= Duration::from_millis(2500) && took < Duration::from_secs(5),
        "2.5 s of silence, 1 s to let go: {took:?}"
    );
    assert!(matches!(done.ended, Ended::Device(Loss::Silent)) && !done.closed.let_go, "{done:?}");
    assert_eq!((done.length(), codes(&done.caveats())), (Seconds(1.0), vec!["device-silent"]));
}

#[test]
fn what_finds_no_room_is_counted_and_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.wav");
    let mut stalled = false;
    // The disk stalls once for longer than the ring holds: 8 s of sound, here at forty times the pace.
    let mut stall_once = |_: &LevelReport| {
        if !std::mem::replace(&mut stalled, true) {
            thread::sleep(Duration::from_millis(400));
        }
    };
    let card = card(1.0, 40.0, FakeEnd::Again);
    let done =
        audio::record(&card, &order(&file, Some(12.0), &AtomicBool::new(false)), &mut stall_once).expect("records");
    assert!(done.closed.lost_frames > 48_000, "{:?}", done.closed);
    assert_eq!(codes(&done.caveats()), ["sound-lost"]);
}

#[test]
fn nothing_half_written_stays_where_nothing_came() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.wav");
    let nothing = recorded(&card(0.0, 1.0, FakeEnd::Fails("gone".to_owned())), &file, 1.0);
    assert!(matches!(&nothing, Err(MicError::NoSound { detail, .. }) if detail == "gone"), "{nothing:?}");
    assert!(!file.exists());
    let nowhere = recorded(&card(1.0, 1.0, FakeEnd::Again), &folder.path().join("none/a.wav"), 1.0);
    assert!(matches!(nowhere, Err(MicError::Write(WriteError::System { .. }))), "{nowhere:?}");
    std::fs::write(&file, "mine").expect("writes");
    let taken = recorded(&card(1.0, 1.0, FakeEnd::Again), &file, 1.0);
    assert!(matches!(taken, Err(MicError::Write(WriteError::Exists { .. }))), "{taken:?}");
    assert_eq!(std::fs::read(&file).expect("reads"), b"mine");
}

#[cfg(target_os = "linux")]
mod virtual_microphone {
    use super::*;
    use hissward::audio::{SoundCard, SystemCard};
    use std::fs;
    use std::io::{BufRead, BufReader};
    use std::path::PathBuf;
    use std::process::{Child, Command, Stdio};
    use std::sync::Mutex;

    /// Virtual microphones at real pace share two cores badly: one test at a time.
    static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

    fn helper(name: &str) -> PathBuf {
        Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/virtual-mic").join(name)
    }

    /// A process that ends with the test.
    struct Ends(Child);

    impl Drop for Ends {
        fn drop(&mut self) {
            if let Err(error) = self.0.kill().and_then(|()| self.0.wait().map(|_| ())) {
                assert!(thread::panicking(), "a helper process could not be ended: {error}");
            }
        }
    }

    /// Where the environment of ALSA and of the sound server points.
    struct Surroundings {
        folder: tempfile::TempDir,
        asound: String,
        pulse_server: String,
        /// Where the server's clients keep their cookie.
        home: Option<PathBuf>,
    }

    impl Surroundings {
        fn new(asound: impl Fn(&Path) -> String) -> Self {
            let folder = tempfile::tempdir().expect("a folder");
            let asound = asound(folder.path());
            Self { folder, asound, pulse_server: "unix:/nowhere".to_owned(), home: None }
        }

        fn path(&self, name: &str) -> PathBuf {
            self.folder.path().join(name)
        }

        /// This test program again, in these surroundings: a process's environment is set before it starts.
        fn child(&self, task: &str, seconds: f64) -> Command {
            fs::write(self.path("asound.conf"), &self.asound).expect("writes");
            let mut child = Command::new(std::env::current_exe().expect("this program"));
            child
                .args(["--exact", "virtual_microphone::child", "--ignored", "--nocapture"])
                .env("ALSA_CONFIG_PATH", format!("/usr/share/alsa/alsa.conf:{}", self.path("asound.conf").display()))
                .env("PULSE_SERVER", &self.pulse_server)
                .env("CAPTURE_TASK", task)
                .env("CAPTURE_FILE", self.path("recorded.wav"))
                .env("CAPTURE_SECONDS", seconds.to_string())
                .stdout(Stdio::piped())
                .stderr(Stdio::piped());
            if let Some(home) = &self.home {
                child.env("HOME", home);
            }
            child
        }

        fn run(&self, task: &str, seconds: f64) -> String {
            self.outcome(self.child(task, seconds).spawn().expect("starts"))
        }

        /// What a child has to say, its stderr silent apart from it.
        fn outcome(&self, child: Child) -> String {
            let output = child.wait_with_output().expect("ends");
            let err = String::from_utf8_lossy(&output.stderr);
            assert!(!err.contains("ALSA lib"), "alsa-lib talks: {err}");
            fs::read_to_string(self.path("recorded.said")).unwrap_or_else(|_| panic!("the child said nothing: {err}"))
        }

        fn recorded(&self) -> Vec<i16> {
            let reader = hound::WavReader::open(self.path("recorded.wav")).expect("a recording");
            assert_eq!((reader.spec().channels, reader.spec().sample_rate), (1, 48_000));
            reader.into_samples::<i16>().map(|sample| sample.expect("a sample")).collect()
        }
    }

    /// Runs in the surroundings that another test made; does nothing by itself.
    #[test]
    #[ignore = "run by the tests below in a process of its own"]
    fn child() {
        let Ok(task) = std::env::var("CAPTURE_TASK") else { return };
        let file = std::env::var_os("CAPTURE_FILE").map(PathBuf::from).expect("a file");
        let seconds: f64 = std::env::var("CAPTURE_SECONDS").expect("seconds").parse().expect("a number");
        let say = |text: &str| fs::write(file.with_extension("said"), text).expect("says");
        if task == "list" {
            let inputs = SystemCard.inputs().expect("lists");
            let lines: Vec<String> =
                inputs.iter().map(|i| format!("{}|{}|{}|{}", i.id, i.name, i.worth.name(), i.is_default)).collect();
            say(&lines.join(";"));
            return;
        }
        let begin = Instant::now();
        let mut first = None;
        let stop = AtomicBool::new(false);
        let result = audio::record(&SystemCard, &order(&file, Some(seconds), &stop), &mut |_| {
            first.get_or_insert_with(|| begin.elapsed());
        });
        let took = begin.elapsed().as_secs_f64() - first.unwrap_or_default().as_secs_f64();
        match result {
            Ok(done) => say(&format!(
                "{:?} took {took:.2} lost {} overruns {}",
                done.ended, done.closed.lost_frames, done.closed.overruns
            )),
            Err(error) => say(&format!("error {error}")),
        }
    }

    /// Where a recording begins within what was fed, both whole from there on.
    fn place(recorded: &[i16], fed: &[i16]) -> usize {
        let head = &recorded[..64];
        let at = fed.windows(64).position(|window| window == head).expect("the recording begins somewhere in the feed");
        let there = recorded.len().min(fed.len() - at);
        assert!(recorded[..there] == fed[at..at + there], "samples differ from the feed's");
        at
    }

    fn raw(samples: &[i16]) -> Vec<u8> {
        samples.iter().flat_map(|sample| sample.to_le_bytes()).collect()
    }

    fn file_device(folder: &Path) -> String {
        let template = fs::read_to_string(helper("asound-file.conf")).expect("the template");
        template.replace("FEED", &folder.join("feed").display().to_string())
    }

    #[test]
    fn a_file_as_microphone_comes_through_bit_for_bit() {
        let _one = ONE_AT_A_TIME.lock();
        let surroundings = Surroundings::new(file_device);
        let fed = noise(48_000 * 10);
        fs::write(surroundings.path("feed"), raw(&fed)).expect("writes");
        let said = surroundings.run("record", 3.0);
        assert!(said.starts_with("Full"), "{said}");
        let recorded = surroundings.recorded();
        assert_eq!((recorded.len(), place(&recorded, &fed)), (144_000, 0));
        let list = surroundings.run("list", 0.0);
        assert_eq!(list, "alsa:default|Default Audio Device|useful|true", "pseudo devices are left out");
    }

    #[test]
    fn a_microphone_at_real_pace_loses_nothing() {
        let _one = ONE_AT_A_TIME.lock();
        let surroundings = Surroundings::new(file_device);
        let fed = noise(48_000 * 20);
        fs::write(surroundings.path("feed.s16"), raw(&fed)).expect("writes");
        let made = Command::new("mkfifo").arg(surroundings.path("feed")).status().expect("mkfifo");
        assert!(made.success());
        let pace = Command::new("python3")
            .arg(helper("pace.py"))
            .args([surroundings.path("feed.s16"), surroundings.path("feed")])
            .spawn();
        let _pace = Ends(pace.expect("python3"));
        let said = surroundings.run("record", 4.0);
        assert!(said.starts_with("Full") && said.contains("lost 0 overruns 0"), "{said}");
        let took: f64 = said
            .split("took ")
            .nth(1)
            .and_then(|rest| rest.split(' ').next())
            .expect("a time")
            .parse()
            .expect("seconds");
        assert!((3.0..5.0).contains(&took), "4 s of sound in {took} s after the first tenth");
        let recorded = surroundings.recorded();
        assert_eq!(recorded.len(), 192_000);
        place(&recorded, &fed);
    }

    /// A sound server of our own with one microphone, and something to hear in it.
    struct Server {
        /// Its files; removed with it.
        _folder: tempfile::TempDir,
        shell: Ends,
        daemon_id: String,
        address: String,
    }

    impl Server {
        fn start() -> Self {
            let script = format!(
                "source {} '' ; echo $PA_PID $PULSE_SERVER; read -r _; kill $PA_PID 2>/dev/null; true",
                helper("pulse-mic.sh").display()
            );
            let folder = tempfile::tempdir().expect("a folder");
            let shell = Command::new("bash")
                .args(["-c", &script])
                .env("TMPDIR", folder.path())
                .stdin(Stdio::piped())
                .stdout(Stdio::piped())
                .spawn();
            let mut shell = Ends(shell.expect("bash"));
            let mut line = String::new();
            BufReader::new(shell.0.stdout.take().expect("piped")).read_line(&mut line).expect("reads");
            let (daemon_id, address) =
                line.trim().split_once(' ').expect("pulseaudio is missing: run 'make setup-tests'");
            Self { _folder: folder, shell, daemon_id: daemon_id.to_owned(), address: address.to_owned() }
        }

        fn play(&self, file: &Path) -> Ends {
            let player = Command::new("paplay")
                .args(["--latency-msec=20", "--device=mic"])
                .arg(file)
                .env("PULSE_SERVER", &self.address)
                .stderr(Stdio::null())
                .spawn();
            Ends(player.expect("paplay is missing: run 'make setup-tests'"))
        }

        fn kill(&self) {
            let killed = Command::new("kill").args(["-9", &self.daemon_id]).status().expect("kill");
            assert!(killed.success());
        }
    }

    impl Drop for Server {
        fn drop(&mut self) {
            let done = Command::new("kill").arg(&self.daemon_id).stderr(Stdio::null()).status();
            assert!(done.is_ok() || thread::panicking());
            // Its shell ends with its input.
            drop(self.shell.0.stdin.take());
        }
    }

    fn feed_wav(path: &Path, samples: &[i16]) {
        let spec = hound::WavSpec {
            channels: 1,
            sample_rate: 48_000,
            bits_per_sample: 16,
            sample_format: hound::SampleFormat::Int,
        };
        let mut writer = hound::WavWriter::create(path, spec).expect("creates");
        samples.iter().for_each(|sample| writer.write_sample(*sample).expect("writes"));
        writer.finalize().expect("ends");
    }

    /// Sound without the silence before the player came.
    fn without_silence(recorded: &[i16]) -> &[i16] {
        let begin = recorded.windows(8).position(|window| window.iter().all(|sample| *sample != 0)).expect("sound");
        &recorded[begin..]
    }

    #[test]
    fn a_sound_server_gives_its_microphone_bit_for_bit_and_its_end_is_told() {
        let _one = ONE_AT_A_TIME.lock();
        let server = Server::start();
        let mut surroundings = Surroundings::new(|_| String::new());
        surroundings.pulse_server.clone_from(&server.address);
        surroundings.home = Path::new(server.address.trim_start_matches("unix:")).parent().map(Path::to_owned);
        let fed = noise(48_000 * 30);
        feed_wav(&surroundings.path("feed.wav"), &fed);
        let list = surroundings.run("list", 0.0);
        assert!(list.contains("pulseaudio:vmic|") && list.contains("|useful|true"), "{list}");
        assert!(list.contains("pulseaudio:mic.monitor|") && list.contains("|monitor|"), "{list}");

        let player = server.play(&surroundings.path("feed.wav"));
        let said = surroundings.run("record", 4.0);
        assert!(said.starts_with("Full") && said.contains("lost 0 overruns 0"), "{said}");
        let recorded = surroundings.recorded();
        assert_eq!(recorded.len(), 192_000);
        let sound = without_silence(&recorded);
        assert!(sound.len() > 96_000, "{} samples of sound", sound.len());
        place(sound, &fed);
        drop(player);

        fs::remove_file(surroundings.path("recorded.wav")).expect("removes");
        let player = server.play(&surroundings.path("feed.wav"));
        let child = surroundings.child("record", 60.0).spawn().expect("starts");
        thread::sleep(Duration::from_secs(4));
        let begin = Instant::now();
        server.kill();
        let said = surroundings.outcome(child);
        assert!(begin.elapsed() < Duration::from_secs(6), "{:?}", begin.elapsed());
        assert!(said.starts_with("Device("), "{said}");
        let recorded = surroundings.recorded();
        assert!(recorded.len() > 48_000, "{} samples kept", recorded.len());
        place(without_silence(&recorded), &fed);
        drop(player);
    }

    #[test]
    fn a_sound_server_that_dies_behind_alsa_is_left_in_time() {
        let _one = ONE_AT_A_TIME.lock();
        let server = Server::start();
        let device = format!(
            "pcm.!default {{ type pulse server \"{0}\" device vmic }}\nctl.!default {{ type pulse server \"{0}\" }}",
            server.address
        );
        let surroundings = Surroundings::new(|_| device.clone());
        let child = surroundings.child("record", 60.0).spawn().expect("starts");
        thread::sleep(Duration::from_secs(4));
        let begin = Instant::now();
        server.kill();
        let said = surroundings.outcome(child);
        assert!(begin.elapsed() < Duration::from_secs(8), "{:?}", begin.elapsed());
        assert!(said.starts_with("Device("), "{said}");
        assert!(surroundings.recorded().len() > 48_000);
    }

    #[test]
    fn a_machine_without_a_microphone_says_so() {
        let _one = ONE_AT_A_TIME.lock();
        let nothing = "pcm.!default { type hw card 99 }\nctl.!default { type hw card 99 }".to_owned();
        let surroundings = Surroundings::new(|_| nothing.clone());
        let list = surroundings.run("list", 0.0);
        // Where the machine has a card, that is listed; the broken default never is.
        assert!(!list.contains("default|"), "{list}");
        if list.is_empty() {
            let said = surroundings.run("record", 1.0);
            assert!(said.contains("no microphone was found") && said.contains("plug one in"), "{said}");
            assert!(!surroundings.path("recorded.wav").exists());
        }
    }
}
