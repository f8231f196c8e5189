//! A headless Chromium with a fed microphone, driven over its debugging pipe: no driver, no socket.

use std::collections::VecDeque;
use std::io::{BufRead, BufReader, Write};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use base64::Engine;
use serde_json::{Value, json};

/// How long a command or a wait may take.
const PATIENCE: Duration = Duration::from_secs(40);

/// The browser with one page.
pub struct Chromium {
    child: Child,
    to: ChildStdin,
    from: Receiver<Value>,
    events: VecDeque<Value>,
    next: u64,
    session: Option<String>,
    _profile: tempfile::TempDir,
}

impl Chromium {
    /// Starts it; the microphone hears the WAV, again and again.
    pub fn start(feed: &Path) -> Self {
        let profile = tempfile::tempdir().expect("a folder");
        let mut command = Command::new("sh");
        // The pipe's ends are descriptors 3 and 4.
        command.args(["-c", "exec 3<&0 4>&1 </dev/null >/dev/null 2>&1; exec chromium \"$@\"", "sh"]);
        command.args([
            "--headless=new",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--remote-debugging-pipe",
            "--autoplay-policy=no-user-gesture-required",
            "--use-fake-device-for-media-stream",
            "--use-fake-ui-for-media-stream",
            "--no-first-run",
            "--disable-background-networking",
            "--mute-audio",
        ]);
        command.arg(format!("--use-file-for-fake-audio-capture={}", feed.display()));
        command.arg(format!("--user-data-dir={}", profile.path().display()));
        command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null()).process_group(0);
        let mut child = command.spawn().expect("sh runs");
        let to = child.stdin.take().expect("piped");
        let out = BufReader::new(child.stdout.take().expect("piped"));
        let (sender, from) = channel();
        std::thread::spawn(move || {
            for message in out.split(0).map_while(Result::ok) {
                let told = serde_json::from_slice(&message).expect("JSON from the browser");
                if sender.send(told).is_err() {
                    break;
                }
            }
        });
        let mut browser = Self { child, to, from, events: VecDeque::new(), next: 1, session: None, _profile: profile };
        let target = browser.call("Target.createTarget", &json!({ "url": "about:blank" }))["targetId"].clone();
        let attached = browser.call("Target.attachToTarget", &json!({ "targetId": target, "flatten": true }));
        browser.session = attached["sessionId"].as_str().map(str::to_owned);
        for domain in ["Page.enable", "Runtime.enable", "Network.enable", "Log.enable"] {
            browser.call(domain, &json!({}));
        }
        browser
    }

    /// One command and its result.
    pub fn call(&mut self, method: &str, parameters: &Value) -> Value {
        let id = self.next;
        self.next += 1;
        let mut message = json!({ "id": id, "method": method, "params": parameters });
        if let Some(session) = &self.session {
            message["sessionId"] = json!(session);
        }
        self.to.write_all(format!("{message}\0").as_bytes()).and_then(|()| self.to.flush()).expect("the browser hears");
        loop {
            let told = self.from.recv_timeout(PATIENCE).unwrap_or_else(|_| panic!("no answer to {method}"));
            if told["id"] == id {
                assert!(told["error"].is_null(), "{method}: {told}");
                return told["result"].clone();
            }
            self.events.push_back(told);
        }
    }

    /// The size of the screen, and whether it is a phone's.
    pub fn screen(&mut self, width: u32, height: u32, phone: bool) {
        let density = if phone { 2 } else { 1 };
        let metrics = json!({ "width": width, "height": height, "deviceScaleFactor": density, "mobile": phone });
        self.call("Emulation.setDeviceMetricsOverride", &metrics);
    }

    /// Light or dark, as the system would say.
    pub fn light(&mut self, scheme: &str) {
        let features = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.call("Emulation.setEmulatedMedia", &features);
    }

    /// Cuts the network, or joins it again.
    pub fn offline(&mut self, cut: bool) {
        let conditions = json!({ "offline": cut, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 });
        self.call("Network.emulateNetworkConditions", &conditions);
    }

    /// Goes to an address.
    pub fn go(&mut self, address: &str) {
        self.call("Page.navigate", &json!({ "url": address }));
    }

    /// What a piece of script says.
    pub fn ask(&mut self, script: &str) -> Value {
        let parameters =
            json!({ "expression": script, "awaitPromise": true, "returnByValue": true, "userGesture": true });
        let told = self.call("Runtime.evaluate", &parameters);
        assert!(told["exceptionDetails"].is_null(), "{script}: {told}");
        told["result"]["value"].clone()
    }

    /// Waits until a script says true.
    pub fn until(&mut self, script: &str) {
        let end = Instant::now() + PATIENCE;
        while self.ask(&format!("Boolean({script})")) != json!(true) {
            if Instant::now() > end {
                let shown = self.ask("document.body.innerText");
                panic!("never true: {script}\n{shown}\n{:?}", self.complaints());
            }
            std::thread::sleep(Duration::from_millis(100));
        }
    }

    /// Waits for an element and clicks it.
    pub fn click(&mut self, selector: &str) {
        let element = format!("document.querySelector({})", json!(selector));
        self.until(&format!("{element} && !{element}.disabled"));
        self.ask(&format!("{element}.click()"));
    }

    /// Writes into a field.
    pub fn fill(&mut self, selector: &str, text: &str) {
        self.until(&format!("document.querySelector({})", json!(selector)));
        self.ask(&format!("document.querySelector({}).value = {}", json!(selector), json!(text)));
    }

    /// Whether the system asks for no motion.
    pub fn still(&mut self, still: bool) {
        let value = if still { "reduce" } else { "no-preference" };
        let features = json!({ "features": [{ "name": "prefers-reduced-motion", "value": value }] });
        self.call("Emulation.setEmulatedMedia", &features);
    }

    /// A key, pressed and let go.
    pub fn key(&mut self, key: &str) {
        let (code, number, text) = match key {
            "Tab" => ("Tab", 9, ""),
            "Enter" => ("Enter", 13, "\r"),
            " " => ("Space", 32, " "),
            one => (one, u32::from(one.to_uppercase().as_bytes()[0]), one),
        };
        let mut event = json!({ "type": "keyDown", "key": key, "code": code, "windowsVirtualKeyCode": number });
        if !text.is_empty() {
            event["text"] = json!(text);
        }
        self.call("Input.dispatchKeyEvent", &event);
        let up = json!({ "type": "keyUp", "key": key, "code": code, "windowsVirtualKeyCode": number });
        self.call("Input.dispatchKeyEvent", &up);
    }

    /// Goes by the tabulator until this has the focus, and no further than the page has places.
    pub fn tab_to(&mut self, selector: &str) {
        let there = format!("document.activeElement?.matches({})", json!(selector));
        self.until(&format!("document.querySelector({})", json!(selector)));
        for _ in 0..80 {
            if self.ask(&format!("Boolean({there})")) == json!(true) {
                return;
            }
            self.key("Tab");
        }
        panic!("the keyboard never comes to {selector}: {}", self.ask("document.activeElement.outerHTML"));
    }

    /// Types a text where the focus is.
    pub fn type_text(&mut self, text: &str) {
        self.call("Input.insertText", &json!({ "text": text }));
    }

    /// Runs a script before those of every page that is opened from now on.
    pub fn before_pages(&mut self, script: &str) {
        self.call("Page.addScriptToEvaluateOnNewDocument", &json!({ "source": script }));
    }

    /// Keeps a picture of what the screen shows, and of the whole page, where the tests keep what they check.
    pub fn picture(&mut self, name: &str) {
        let shown = self.ask("document.body.innerText");
        let nameless = self.ask("/\\[[a-z]+-[a-z.-]+\\]/.test(document.body.innerText)");
        assert_eq!(nameless, false, "a message that no catalogue has: {shown}");
        self.whole_picture(&format!("{name}-whole"));
        let shot = self.call("Page.captureScreenshot", &json!({ "format": "png" }));
        keep(name, &shot);
    }

    fn whole_picture(&mut self, name: &str) {
        let size = self.call("Page.getLayoutMetrics", &json!({}))["cssContentSize"].clone();
        let clip = json!({ "x": 0, "y": 0, "width": size["width"], "height": size["height"], "scale": 1 });
        let shot = self
            .call("Page.captureScreenshot", &json!({ "format": "png", "clip": clip, "captureBeyondViewport": true }));
        keep(name, &shot);
    }

    /// Exceptions, errors on the console, and what the security policy refused.
    pub fn complaints(&mut self) -> Vec<String> {
        self.call("Runtime.evaluate", &json!({ "expression": "0" }));
        let bad = |event: &&Value| match event["method"].as_str() {
            Some("Runtime.exceptionThrown") => true,
            // What a cut network or a killed server brings about is no fault of the page.
            Some("Log.entryAdded") => {
                event["params"]["entry"]["level"] == "error" && event["params"]["entry"]["source"] != "network"
            }
            _ => false,
        };
        self.events.iter().filter(bad).map(ToString::to_string).collect()
    }

    /// Addresses asked for that are not the page's own.
    pub fn strange_requests(&self, host: &str) -> Vec<String> {
        let asked = self.events.iter().filter(|event| event["method"] == "Network.requestWillBeSent");
        let urls = asked.filter_map(|event| event["params"]["request"]["url"].as_str());
        let own = |url: &&str| {
            url.starts_with(&format!("http://{host}/")) || url.starts_with("data:") || *url == "about:blank"
        };
        urls.filter(|url| !own(url)).map(str::to_owned).collect()
    }
}

fn keep(name: &str, shot: &Value) {
    let bytes =
        base64::engine::general_purpose::STANDARD.decode(shot["data"].as_str().expect("a picture")).expect("base64");
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("page");
    std::fs::create_dir_all(&folder)
        .and_then(|()| std::fs::write(folder.join(format!("{name}.png")), bytes))
        .expect("kept");
}

impl Drop for Chromium {
    fn drop(&mut self) {
        // Closing the pipe ends the browser and its children; the shell became it.
        drop(self.child.kill());
        drop(self.child.wait());
    }
}
