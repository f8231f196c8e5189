//! The page in a real browser (Debian's chromium), at the width of a phone and of a desktop.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use hissward::report::ReportHead;
use serde_json::Value;

use crate::evidence::{self, Evidence};

/// Checks accessibility: WCAG and good practice.
const AXE: &str = include_str!("axe/axe.min.js");
/// Looks at the page and tells the test.
const LOOK: &str = include_str!("browser.js");
/// The longest that a browser may take.
const PATIENCE: Duration = Duration::from_secs(120);

/// Ends the browser when the test ends, however it ends.
struct Browser(Child);

impl Drop for Browser {
    fn drop(&mut self) {
        // It may have ended by itself.
        drop(self.0.kill());
        drop(self.0.wait());
    }
}

/// What the browser says of a page at a width; every request it made is in `requests`.
fn looked_at(page: &str, width: u32) -> Value {
    // The page forbids every script, the test's too: for the test alone its own are let in.
    let policy = "default-src 'none'; ";
    assert!(page.contains(policy));
    let page = page.replace(policy, "default-src 'none'; script-src 'unsafe-inline'; connect-src 'self'; ");
    let page = page.replace("</body>", &format!("<script>{AXE}</script>\n<script>{LOOK}</script>\n</body>"));
    // A browser's window is never as narrow as a phone; a frame is.
    let frame = format!(
        "<!DOCTYPE html><title>frame</title><iframe src=\"/report.html\" style=\"width:{width}px;height:844px;border:0\"></iframe>"
    );
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = listener.local_addr().expect("an address");
    let profile = tempfile::tempdir().expect("a folder");
    let browser = Command::new("chromium")
        .args(["--headless=new", "--no-sandbox", "--disable-gpu", "--mute-audio", "--no-first-run"])
        .args(["--autoplay-policy=no-user-gesture-required", "--disable-background-networking"])
        .arg(format!("--user-data-dir={}", profile.path().display()))
        .arg("--window-size=1400,1000")
        .arg(format!("http://{address}/"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    let _browser = Browser(browser.expect("chromium is needed (make setup-tests)"));
    listener.set_nonblocking(true).expect("a patient listener");
    let until = Instant::now() + PATIENCE;
    let mut requests = Vec::new();
    loop {
        assert!(Instant::now() < until, "the browser says nothing; it asked for {requests:?}");
        let Ok((stream, _)) = listener.accept() else {
            std::thread::sleep(Duration::from_millis(20));
            continue;
        };
        if let Some(mut said) = served(stream, &page, &frame, &mut requests) {
            said["requests"] = requests.into();
            return said;
        }
    }
}

/// Answers one request: the page, or nothing; what is posted is the result.
fn served(mut stream: TcpStream, page: &str, frame: &str, requests: &mut Vec<String>) -> Option<Value> {
    stream.set_nonblocking(false).ok()?;
    stream.set_read_timeout(Some(Duration::from_secs(10))).ok()?;
    let mut reader = BufReader::new(stream.try_clone().ok()?);
    let mut line = String::new();
    reader.read_line(&mut line).ok()?;
    let mut length = 0;
    loop {
        let mut header = String::new();
        if reader.read_line(&mut header).ok()? == 0 || header.trim().is_empty() {
            break;
        }
        if let Some((name, value)) = header.split_once(':')
            && name.eq_ignore_ascii_case("content-length")
        {
            length = value.trim().parse().ok()?;
        }
    }
    let head = |status: &str, kind: &str, length: usize| {
        format!("HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {length}\r\nConnection: close\r\n\r\n")
    };
    if line.starts_with("POST /result ") {
        let mut body = vec![0; length];
        reader.read_exact(&mut body).ok()?;
        stream.write_all(head("204 No Content", "text/plain", 0).as_bytes()).ok()?;
        return serde_json::from_slice(&body).ok();
    }
    let path = line.split(' ').nth(1).unwrap_or_default().to_owned();
    let (status, body) = match path.as_str() {
        "/" => ("200 OK", frame),
        "/report.html" => ("200 OK", page),
        _ => ("404 Not Found", ""),
    };
    // Browsers ask a server for its icon, and open connections that they do not use.
    if !["/", "/report.html", "/favicon.ico", ""].contains(&path.as_str()) {
        requests.push(path);
    }
    stream.write_all(head(status, "text/html; charset=utf-8", body.len()).as_bytes()).ok()?;
    stream.write_all(body.as_bytes()).ok()?;
    None
}

/// What must hold of any page of ours.
fn is_sound(said: &Value, name: &str) {
    assert_eq!(said["overflow"], 0, "{name}: {}", said["wide"]);
    assert_eq!(said["wide"], Value::Array(Vec::new()), "{name}: what runs out of the window");
    assert_eq!(said["requests"], Value::Array(Vec::new()), "{name}: requests");
    assert_eq!(said["fetched"], Value::Array(Vec::new()), "{name}: what was fetched besides data in the page");
    assert_eq!(said["undecoded"], 0, "{name}: pictures that do not decode");
    assert_eq!(said["font"], true, "{name}: the font in the page is used");
    assert_eq!(said["violations"], Value::Array(Vec::new()), "{name}: accessibility");
}

#[test]
fn the_page_holds_on_a_phone_and_on_a_desktop() {
    let page = evidence::boat_with_sounds().page("en");
    for width in [390, 1280] {
        let said = looked_at(&page, width);
        let name = format!("boat at {width}");
        assert_eq!(said["width"], width, "{name}");
        is_sound(&said, &name);
        assert!(said["pictures"].as_u64().is_some_and(|count| count >= 37), "{name}: {}", said["pictures"]);
        let front = said["front"].as_f64().expect("an appendix");
        assert!((500.0..4000.0).contains(&front), "{name}: page one is {front} pixels high");
        // Quiet and air at nine openings: 33 s shared by 18, with 0.3 s between the two.
        let players = said["players"].as_array().expect("players");
        assert_eq!(players.len(), 9, "{name}");
        for player in players {
            let seconds = player.as_f64().unwrap_or_else(|| panic!("{name}: a player cannot play: {player}"));
            assert!((seconds - (2.0 * 33.0 / 18.0 + 0.3)).abs() < 0.02, "{name}: {seconds}");
        }
        assert!(said["played"].as_f64().is_some_and(|seconds| seconds > 0.2), "{name}: {}", said["played"]);
        assert!(said["loud"].as_f64().is_some_and(|peak| peak > 0.1), "{name}: the sound is heard: {}", said["loud"]);
    }
}

#[test]
fn a_hostile_page_holds_too() {
    let head = ReportHead {
        engine:
            "</h1><script>fetch('/evil')</script><img src=/evil onerror=fetch('/evil')> שלום \u{202e}abc\u{202c} 🛥️"
                .into(),
        date: Some("<iframe src=/evil></iframe>".into()),
        notes: Some("W".repeat(10_000)),
        ..ReportHead::default()
    };
    let page = Evidence { head, ..evidence::boat() }.page("de");
    for width in [390, 1280] {
        is_sound(&looked_at(&page, width), &format!("hostile at {width}"));
    }
}

#[test]
fn the_checker_sees_faults() {
    let page = evidence::boat().page("en");
    let broken = page.replace(
        "</main>",
        "<div style=\"width:3000px\">x</div><img src=\"data:image/png;base64,AAAA\"><p style=\"color:#ddd\">faint</p></main>",
    );
    let said = looked_at(&broken, 390);
    assert!(said["overflow"].as_i64().is_some_and(|pixels| pixels > 1000), "{}", said["overflow"]);
    assert_eq!(said["undecoded"], 1);
    let found = said["violations"].to_string();
    assert!(found.contains("image-alt") && found.contains("color-contrast"), "{found}");
}
