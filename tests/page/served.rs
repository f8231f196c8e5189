//! A bench page being served, by the program itself.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::client::{Answer, Client};

/// The program, its folder of jobs, and where it listens.
pub struct Served {
    child: Child,
    /// The folder of jobs.
    pub folder: tempfile::TempDir,
    /// `127.0.0.1:PORT`.
    pub host: String,
    /// The pairing code it printed.
    pub code: String,
}

impl Served {
    /// Serves a new folder of jobs.
    pub fn start() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let (child, host, code) = spawned(folder.path(), &folder.path().join("data"), None, false);
        Self { child, folder, host, code }
    }

    /// Serves a new folder of jobs, by a person who can press Enter.
    pub fn start_with_keyboard() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let (child, host, code) = spawned(folder.path(), &folder.path().join("data"), None, true);
        Self { child, folder, host, code }
    }

    /// A second page of the same person, for another folder of jobs.
    pub fn second_of_the_same_person(&self) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let (child, host, code) = spawned(folder.path(), &self.folder.path().join("data"), None, false);
        Self { child, folder, host, code }
    }

    /// A second page of the same person, for the same folder of jobs: where it listens, and its code.
    pub fn second_of_the_same_folder(&self) -> SecondPage {
        let data = self.folder.path().join("data");
        let (child, host, code) = spawned(self.folder.path(), &data, None, false);
        SecondPage { child, host, code }
    }

    /// Presses Enter in the terminal; gives the code that is shown then.
    pub fn press_enter(&mut self) -> String {
        self.child.stdin.as_mut().expect("a keyboard").write_all(b"\n").expect("pressed");
        let told = BufReader::new(self.child.stderr.take().expect("piped"));
        let mut lines = told.lines().map(|line| line.expect("UTF-8"));
        lines.find(|line| line.contains("a new code was asked for")).expect("told");
        let line = lines.find(|line| line.starts_with("Pairing code: ")).expect("a code");
        // It goes on talking; somebody has to listen.
        std::thread::spawn(move || lines.for_each(drop));
        line.trim_start_matches("Pairing code: ").split(' ').next().unwrap_or_default().to_owned()
    }

    /// Kills the program where it stands, as a power cut would.
    pub fn kill(&mut self) {
        self.child.kill().expect("killed");
        self.child.wait().expect("gone");
    }

    /// Ends the program as the system does that shuts down; says how it ended.
    pub fn told_to_end(&mut self) -> ExitStatus {
        let told = Command::new("kill").args(["-TERM", &self.child.id().to_string()]).status();
        assert!(told.expect("kill runs").success());
        self.child.wait().expect("gone")
    }

    /// Serves the same folder on the same port again.
    pub fn restart(&mut self) {
        let port = self.host.rsplit_once(':').expect("a port").1.to_owned();
        let data = self.folder.path().join("data");
        let (child, host, code) = spawned(self.folder.path(), &data, Some(&port), false);
        (self.child, self.host, self.code) = (child, host, code);
    }

    /// Ends the program and serves again at once.
    pub fn kill_and_restart(&mut self) {
        self.kill();
        self.restart();
    }

    /// A client that is not paired.
    pub fn stranger(&self) -> Client {
        Client::new(&self.host)
    }

    /// A client that is paired.
    pub fn paired(&self) -> Client {
        let mut client = self.stranger();
        client.pair(&self.code);
        client
    }

    /// The folder of a job.
    pub fn job(&self, name: &str) -> PathBuf {
        self.folder.path().join("jobs").join(name)
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        // It may have been killed by the test.
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

/// A second page for a folder that is served already.
pub struct SecondPage {
    child: Child,
    /// `127.0.0.1:PORT`.
    pub host: String,
    /// The pairing code it printed.
    pub code: String,
}

impl Drop for SecondPage {
    fn drop(&mut self) {
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

fn spawned(folder: &Path, data: &Path, port: Option<&str>, keyboard: bool) -> (Child, String, String) {
    let jobs = folder.join("jobs");
    std::fs::create_dir_all(&jobs).expect("made");
    let mut command = Command::new(env!("CARGO_BIN_EXE_hissward"));
    command.args(["page", "--no-open"]).arg(&jobs).env("XDG_DATA_HOME", data);
    if let Some(port) = port {
        command.args(["--port", port]);
    }
    // What nobody reads must not fill a pipe.
    let pipe = || if keyboard { Stdio::piped() } else { Stdio::null() };
    command.stdin(pipe()).stdout(Stdio::piped()).stderr(pipe());
    // The port of a killed server may take a moment to be free.
    let until = Instant::now() + Duration::from_secs(10);
    loop {
        let mut child = command.spawn().expect("the program runs");
        let mut line = String::new();
        BufReader::new(child.stdout.take().expect("piped")).read_line(&mut line).expect("a line");
        if let Some((host, code)) = line.trim().strip_prefix("http://").and_then(|rest| rest.split_once("/#")) {
            return (child, host.to_owned(), code.to_owned());
        }
        child.wait().expect("ended");
        assert!(Instant::now() < until, "no address was printed: {line}");
        std::thread::sleep(Duration::from_millis(100));
    }
}

/// Starts the demo's job on the page and confirms its cautions.
pub fn job(client: &Client) -> String {
    let new = json!({ "engine": "Three-cylinder petrol, workboat Gull", "cylinders": 3, "firing_order": "1-3-2", "hot": true });
    let name = client.post("/api/jobs", &new).ok()["name"].as_str().expect("a name").to_owned();
    client.post(&format!("/api/jobs/{name}/cautions"), &json!({})).ok();
    name
}

impl Answer {
    /// The JSON of an answer that has to be good.
    pub fn ok(self) -> Value {
        assert_eq!(self.status, 200, "{}", self.body);
        self.json()
    }
}
