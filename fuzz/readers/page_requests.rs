//! A sequence of requests to the bench page, the whole way: the program serves, is killed, and serves again.

use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};

use hissward::job::{FileState, Job, JobRecord, JobWriter, Sha256};

use super::command_lines::in_folder;

/// Requests of one input.
const MOST_REQUESTS: usize = 24;
/// Restarts of one input.
const MOST_RESTARTS: usize = 2;
/// The longest that an answer may take.
const PATIENCE: Duration = Duration::from_secs(15);

/// The program at work.
struct Serving {
    child: Child,
    host: String,
    code: String,
}

impl Serving {
    fn start(folder: &Path) -> Self {
        let until = Instant::now() + PATIENCE;
        loop {
            let mut command = in_folder(folder);
            command.args(["page", "--no-open", "jobs"]).env("XDG_DATA_HOME", folder.join("data"));
            let mut child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("it starts");
            let mut line = String::new();
            BufReader::new(child.stdout.take().expect("stdout")).read_line(&mut line).expect("a line");
            if let Some((host, code)) = line.trim().strip_prefix("http://").and_then(|rest| rest.split_once("/#")) {
                return Self { child, host: host.to_owned(), code: code.to_owned() };
            }
            child.wait().expect("it is ours");
            assert!(Instant::now() < until, "no address was printed: {line}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    fn kill(&mut self) {
        self.child.kill().expect("it is ours");
        self.child.wait().expect("it is ours");
    }
}

impl Drop for Serving {
    fn drop(&mut self) {
        // It may have been killed before.
        drop(self.child.kill());
        drop(self.child.wait());
    }
}

/// Somebody who asks, and what they may.
#[derive(Default)]
struct Visitor {
    cookie: Option<String>,
    /// Came in by the pairing code.
    works: bool,
}

/// Sends one request; the status, the head and the body of what comes back.
fn ask(host: &str, visitor: &Visitor, method: &str, path: &str, more: &str, body: &[u8]) -> (u16, String, String) {
    let mut stream = TcpStream::connect(host).expect("it listens");
    stream.set_read_timeout(Some(PATIENCE)).expect("set");
    let cookie = visitor.cookie.as_ref().map_or_else(String::new, |cookie| format!("Cookie: {cookie}\r\n"));
    let head = format!(
        "{method} {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n\
         Content-Type: application/json\r\nContent-Length: {}\r\n{cookie}{more}\r\n",
        body.len()
    );
    // What is refused early is not read to its end.
    let _refused = stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(body));
    let mut bytes = Vec::new();
    let mut block = [0; 65_536];
    while let Ok(got @ 1..) = stream.read(&mut block) {
        bytes.extend_from_slice(&block[..got]);
        assert!(bytes.len() < 64 * 1024 * 1024, "{method} {path}: an answer without end");
    }
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let (head, body) = text.split_once("\r\n\r\n").unwrap_or_else(|| panic!("{method} {path}: no answer: {text}"));
    let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).expect("a status");
    assert_ne!(status, 500, "{method} {path}: {body}");
    (status, head.to_owned(), body.to_owned())
}

fn keep_cookie(head: &str, visitor: &mut Visitor, works: bool) {
    let cookie = head.lines().find(|line| line.to_lowercase().starts_with("set-cookie:"));
    if let Some(cookie) = cookie.and_then(|line| line.split([':', ';']).nth(1)) {
        *visitor = Visitor { cookie: Some(cookie.trim().to_owned()), works };
    }
}

/// The bytes are requests: what, by whom, and what it holds.
pub fn page_requests(bytes: &[u8], scratch: &Path) {
    let folder = scratch.join("page-requests");
    if folder.exists() {
        fs::remove_dir_all(&folder).expect("it goes");
    }
    let job = folder.join("jobs/gull");
    fs::create_dir_all(folder.join("jobs")).expect("a folder");
    let record = JobRecord { engine: "workboat".to_owned(), cylinders: 3, ..JobRecord::default() };
    drop(JobWriter::create(&job, record, "fuzz").expect("a job"));
    let mut serving = Serving::start(&folder);
    let mut visitors: [Visitor; 3] = Default::default();
    let (mut link, mut restarts, mut left) = (None::<String>, 0, bytes);
    for _ in 0..MOST_REQUESTS {
        let [what, who, rest @ ..] = left else { break };
        left = rest;
        let visitor = &mut visitors[usize::from(*who) % 3];
        let host = serving.host.clone();
        let argument = u32::from(*who) / 3;
        match what % 12 {
            0 | 1 => {
                let code = if what % 12 == 0 { serving.code.clone() } else { format!("{argument:08}") };
                let (_, head, _) =
                    ask(&host, visitor, "POST", "/api/pair", "", format!("{{\"code\":\"{code}\"}}").as_bytes());
                keep_cookie(&head, visitor, true);
            }
            2 => {
                let (status, _, body) = ask(&host, visitor, "POST", "/api/jobs/gull/customer-link", "", b"{}");
                assert!(visitor.works || status >= 400, "somebody who may only look made a link");
                link = body
                    .split_once("#view=")
                    .map(|(_, rest)| rest.chars().take_while(char::is_ascii_alphanumeric).collect())
                    .or(link);
            }
            3 => {
                let secret = link.clone().unwrap_or_else(|| format!("{argument:032x}"));
                let (_, head, _) =
                    ask(&host, visitor, "POST", "/api/pair", "", format!("{{\"view\":\"{secret}\"}}").as_bytes());
                keep_cookie(&head, visitor, false);
            }
            4 => drop(ask(&host, visitor, "POST", "/api/leave", "", b"{}")),
            5 => {
                let begin = format!(
                    "{{\"token\":\"{argument:032x}\",\"cylinder\":1,\"opening\":\"intake\",\"air\":\"on\",\"rate_hz\":48000,\"device\":\"phone\"}}"
                );
                let (status, ..) = ask(&host, visitor, "POST", "/api/jobs/gull/uploads", "", begin.as_bytes());
                assert!(visitor.works || status >= 400, "somebody who may only look sent a recording");
            }
            6 => {
                let (piece, rest) = left.split_at(left.len().min(64));
                left = rest;
                let hash = format!("X-Sha256: {}\r\n", Sha256::of(piece));
                let path = format!("/api/jobs/gull/uploads/{argument:032x}/{}", argument % 4);
                drop(ask(&host, visitor, "POST", &path, &hash, piece));
            }
            7 => {
                let path = format!("/api/jobs/gull/uploads/{argument:032x}/finish");
                drop(ask(&host, visitor, "POST", &path, "", format!("{{\"pieces\":{argument}}}").as_bytes()));
            }
            8 if restarts < MOST_RESTARTS => {
                restarts += 1;
                serving.kill();
                serving = Serving::start(&folder);
            }
            9 => {
                let (body, rest) = left.split_at(left.len().min(usize::from(*who)));
                left = rest;
                let path = ["/api/jobs", "/api/jobs/gull/gauge", "/api/jobs/gull/rig", "/api/jobs/gull/leave-out"]
                    [argument as usize % 4];
                let (status, ..) = ask(&host, visitor, "POST", path, "", body);
                assert!(visitor.works || status >= 400, "somebody who may only look wrote to {path}");
            }
            10 => {
                let path = [
                    "/",
                    "/api/session",
                    "/api/jobs",
                    "/api/jobs/gull",
                    "/api/jobs/../gull",
                    "/api/jobs/gull/ranking",
                    "/web/../x",
                    "/api/words/xx",
                ][argument as usize % 8];
                drop(ask(&host, visitor, "GET", path, "", b""));
            }
            _ => {
                // No request at all.
                let (raw, rest) = left.split_at(left.len().min(usize::from(*who)));
                left = rest;
                let mut stream = TcpStream::connect(&host).expect("it listens");
                let _refused = stream.write_all(raw);
            }
        }
    }
    assert!(serving.child.try_wait().expect("it is ours").is_none(), "the page ended by itself");
    serving.kill();
    let job = Job::open(&job).expect("the job is whole");
    assert!(
        job.verify_clips().iter().all(|clip| matches!(clip.verdict, FileState::Intact)),
        "clips are what they were"
    );
}
