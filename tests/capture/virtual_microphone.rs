//! Real capture through cpal, from virtual microphones.

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

    /// With this server as the one to be asked.
    fn at(&mut self, server: &Server) {
        self.pulse_server.clone_from(&server.address);
        self.home = Path::new(server.address.trim_start_matches("unix:")).parent().map(Path::to_owned);
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
    let apart = (0..there).find(|n| recorded[*n] != fed[at + n]);
    if let Some(n) = apart {
        let next = fed.windows(16).position(|window| window == &recorded[n..n + 16]);
        panic!("sample {n} of {there} differs from the feed's {}: {:?}, next {next:?}", at + n, &recorded[n..n + 8]);
    }
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
    let took: f64 =
        said.split("took ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a time").parse().expect("seconds");
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
        let (daemon_id, address) = line.trim().split_once(' ').expect("pulseaudio is missing: run 'make setup-tests'");
        Self { _folder: folder, shell, daemon_id: daemon_id.to_owned(), address: address.to_owned() }
    }

    fn play(&self, file: &Path) -> Ends {
        self.play_to("mic", file)
    }

    fn play_to(&self, sink: &str, file: &Path) -> Ends {
        let player = Command::new("paplay")
            .args(["--latency-msec=1000", &format!("--device={sink}")])
            .arg(file)
            .env("PULSE_SERVER", &self.address)
            .stderr(Stdio::null())
            .spawn();
        Ends(player.expect("paplay is missing: run 'make setup-tests'"))
    }

    /// Changes something in the server.
    fn pactl(&self, arguments: &[&str]) {
        let done =
            Command::new("pactl").args(arguments).env("PULSE_SERVER", &self.address).stdout(Stdio::null()).status();
        assert!(done.expect("pactl is missing: run 'make setup-tests'").success(), "{arguments:?}");
    }

    /// One more microphone, of this rate: what is played to `{name}-feed` is heard by `name`.
    fn microphone(&self, name: &str, rate_hz: u32, said: &str) {
        let (feed, rate) = (format!("sink_name={name}-feed"), format!("rate={rate_hz}"));
        self.pactl(&["load-module", "module-null-sink", &feed, &rate, "channels=1", "format=s16le"]);
        let (source, master) = (format!("source_name={name}"), format!("master={name}-feed.monitor"));
        let described = format!("source_properties=\"device.description='{said}'\"");
        self.pactl(&["load-module", "module-remap-source", &master, &source, "remix=no", &described]);
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
    feed_wav_at(48_000, path, samples);
}

fn feed_wav_at(sample_rate: u32, path: &Path, samples: &[i16]) {
    let spec =
        hound::WavSpec { channels: 1, sample_rate, bits_per_sample: 16, sample_format: hound::SampleFormat::Int };
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
    surroundings.at(&server);
    let fed = noise(48_000 * 30);
    feed_wav(&surroundings.path("feed.wav"), &fed);
    let list = surroundings.run("list", 0.0);
    assert!(list.contains("server:vmic|") && list.contains("|useful|true"), "{list}");
    assert!(list.contains("server:mic.monitor|") && list.contains("|monitor|"), "{list}");

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

/// Microphones as `hissward mics` lists them, by name.
fn mics(surroundings: &Surroundings, options: &[&str]) -> Vec<(String, serde_json::Value)> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hissward"));
    command.args(["mics", "--json"]).args(options).env("PULSE_SERVER", &surroundings.pulse_server);
    if let Some(home) = &surroundings.home {
        command.env("HOME", home);
    }
    let output = command.output().expect("runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let listed: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(listed["format"], 1);
    let inputs = listed["inputs"].as_array().expect("a list");
    inputs.iter().map(|input| (input["name"].as_str().expect("a name").to_owned(), input.clone())).collect()
}

#[test]
fn mics_hears_what_a_microphone_is_good_for() {
    let _one = ONE_AT_A_TIME.lock();
    let server = Server::start();
    let mut surroundings = Surroundings::new(|_| String::new());
    surroundings.at(&server);
    // Says 48 kHz, and gives what a headset gives: sound of 16 kHz, made to fit on its way.
    server.microphone("wireless", 48_000, "Wireless headset");
    server.microphone("telephone", 16_000, "Telephone headset");
    server.microphone("muted", 44_100, "Desk microphone");
    feed_wav(&surroundings.path("room.wav"), &noise(48_000 * 60));
    feed_wav_at(16_000, &surroundings.path("narrow.wav"), &noise(16_000 * 60));
    let _playing = [
        server.play_to("mic", &surroundings.path("room.wav")),
        server.play_to("wireless-feed", &surroundings.path("narrow.wav")),
        server.play_to("telephone-feed", &surroundings.path("narrow.wav")),
    ];
    // Players come a second late, and another second later where the machine is busy.
    let begin = Instant::now();
    let found = loop {
        let found = mics(&surroundings, &[]);
        let silent = found.iter().filter(|(_, mic)| mic["worth"] == "muted").count();
        if silent == 1 || begin.elapsed() > Duration::from_secs(30) {
            break found;
        }
    };
    let of = |part: &str| {
        let mut those = found.iter().filter(|(name, mic)| name.contains(part) && mic["worth"] != "monitor");
        those.next().map(|(_, mic)| mic.clone()).unwrap_or_else(|| panic!("no {part} in {found:?}"))
    };
    let good = found.iter().find(|(_, mic)| mic["id"] == "server:vmic").map(|(_, mic)| mic.clone()).expect("vmic");
    assert_eq!((&good["worth"], &good["default"], &good["channels"]), (&"useful".into(), &true.into(), &1.into()));
    assert_eq!((&good["sample_rate_hz"], &good["bandwidth_hz"]), (&48_000.into(), &24_000.0.into()), "{good}");
    let wireless = of("Wireless headset");
    assert_eq!((&wireless["worth"], &wireless["sample_rate_hz"]), (&"narrow-band".into(), &48_000.into()));
    let ends_hz = wireless["bandwidth_hz"].as_f64().expect("heard");
    // The server's resampler falls by 6 dB at 7.1 to 7.3 kHz and by 12 dB at 7.6 kHz (measured in 100 Hz steps).
    assert!((7_000.0..=7_700.0).contains(&ends_hz), "{wireless}");
    // Its rate says enough: nobody listens to it.
    let telephone = of("Telephone headset");
    assert_eq!((&telephone["worth"], &telephone["bandwidth_hz"]), (&"narrow-band".into(), &serde_json::Value::Null));
    let muted = of("Desk microphone");
    assert_eq!((&muted["worth"], &muted["bandwidth_hz"]), (&"muted".into(), &serde_json::Value::Null), "{muted}");
    let monitors = found.iter().filter(|(_, mic)| mic["worth"] == "monitor" && mic["level_db"].is_null()).count();
    assert_eq!(monitors, 4, "each output's own: {found:?}");
    let untried = mics(&surroundings, &["--no-trial"]);
    assert!(untried.iter().all(|(_, mic)| mic["bandwidth_hz"].is_null()) && untried.len() == found.len());
}

#[test]
fn a_microphone_that_is_pulled_out_ends_its_recording_at_once() {
    let _one = ONE_AT_A_TIME.lock();
    let server = Server::start();
    let mut surroundings = Surroundings::new(|_| String::new());
    surroundings.at(&server);
    let child = surroundings.child("record", 60.0).spawn().expect("starts");
    thread::sleep(Duration::from_secs(3));
    let begin = Instant::now();
    let pulled = Command::new("pactl")
        .args(["unload-module", "module-remap-source"])
        .env("PULSE_SERVER", &server.address)
        .status();
    assert!(pulled.expect("pactl is missing: run 'make setup-tests'").success());
    let said = surroundings.outcome(child);
    assert!(begin.elapsed() < Duration::from_secs(5), "{:?}", begin.elapsed());
    assert!(said.starts_with("Device("), "{said}");
    assert!(surroundings.recorded().len() > 48_000, "what came before is kept");
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
