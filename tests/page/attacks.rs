//! What strangers try.

use std::io::{Read, Write};
use std::time::{Duration, Instant};

use serde_json::json;

use crate::served::{Served, job};

#[test]
fn a_foreign_origin_and_a_wrong_host_get_nowhere() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let path = format!("/api/jobs/{name}/cautions");
    let own = served.host.as_str();
    let kind = ("Content-Type", "application/json");
    let good = format!("http://{own}");
    assert_eq!(client.send("POST", &path, &[("Host", own), ("Origin", &good), kind], b"{}").status, 200);
    for origin in ["http://evil.example", "null", "http://localhost:1", "https://127.0.0.1", ""] {
        let answer = client.send("POST", &path, &[("Host", own), ("Origin", origin), kind], b"{}");
        assert_eq!(answer.refused(), (403, "foreign-origin".to_owned()), "{origin}");
    }
    assert_eq!(client.send("POST", &path, &[("Host", own), kind], b"{}").status, 403, "no origin at all");
    // A page elsewhere that reads by an image or a frame.
    let foreign = [("Host", own), ("Sec-Fetch-Site", "cross-site"), ("Sec-Fetch-Mode", "no-cors")];
    assert_eq!(client.send("GET", &format!("/api/jobs/{name}"), &foreign, b"").status, 403);
    // A name of the attacker's that points here.
    for host in ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:8417", ""] {
        let answer = client.send("GET", "/", &[("Host", host)], b"");
        assert_eq!(answer.status, 421, "{host}");
    }
    assert_eq!(client.send("GET", "/", &[], b"").status, 421, "no host");
    assert_eq!(client.send("GET", "/", &[("Host", own), ("Host", "evil.example")], b"").status, 421, "two hosts");
    // A form cannot say JSON.
    let form = [("Host", own), ("Origin", good.as_str()), ("Content-Type", "text/plain")];
    assert_eq!(client.send("POST", "/api/jobs", &form, b"{\"engine\":\"x\",\"cylinders\":1}").status, 422);
}

#[test]
fn who_is_not_paired_sees_nothing_and_the_customer_changes_nothing() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let stranger = served.stranger();
    let job_path = format!("/api/jobs/{name}");
    let stranger_paths =
        ["/api/jobs".to_owned(), job_path.clone(), format!("{job_path}/report"), format!("{job_path}/events")];
    for path in &stranger_paths {
        assert_eq!(stranger.get(path).refused(), (401, "not-paired".to_owned()), "{path}");
    }
    assert_eq!(stranger.get("/").status, 200, "the page itself asks for the code");
    let others = json!({ "engine": "Two-cylinder diesel, tender Tern", "cylinders": 2 });
    let others = client.post("/api/jobs", &others).ok()["name"].as_str().expect("a name").to_owned();
    assert_eq!(client.post("/api/jobs/none/customer-link", &json!({})).status, 404);
    let link = client.post(&format!("{job_path}/customer-link"), &json!({})).ok();
    let secret = link["link"].as_str().and_then(|link| link.split_once("view=")).expect("a link").1.to_owned();
    let mut customer = served.stranger();
    customer.view(&secret);
    assert_eq!(customer.get(&job_path).ok()["engine"], "Three-cylinder petrol, workboat Gull");
    for path in [
        "/api/jobs".to_owned(),
        format!("{job_path}/cautions"),
        format!("{job_path}/uploads"),
        "/api/further-device".to_owned(),
    ] {
        assert_eq!(customer.post(&path, &json!({})).refused(), (403, "read-only".to_owned()), "{path}");
    }
    // Another customer's job is not theirs, however its name is written.
    let listed = customer.get("/api/jobs").ok();
    let names: Vec<&str> =
        listed["jobs"].as_array().expect("a list").iter().filter_map(|j| j["name"].as_str()).collect();
    assert_eq!(names, [name.as_str()]);
    assert_eq!(client.get("/api/jobs").ok()["jobs"].as_array().map(Vec::len), Some(2));
    let spelled: String = others.bytes().map(|byte| format!("%{byte:02X}")).collect();
    for path in ["", "/report", "/events", "/ranking", "/picture"] {
        for other in [&others, &spelled] {
            let path = format!("/api/jobs/{other}{path}");
            assert_eq!(customer.get(&path).refused(), (404, "not-found".to_owned()), "{path}");
        }
    }
    assert_eq!(client.get(&format!("/api/jobs/{spelled}")).status, 200, "it is a good spelling for those who work");
    for who in [&client, &customer] {
        assert_eq!(who.post("/api/leave", &json!({})).status, 200);
        assert_eq!(who.get("/api/jobs").status, 401, "unpaired");
    }
}

#[test]
fn a_code_is_good_once_and_five_wrong_ones_lock() {
    let served = Served::start();
    let first = served.paired();
    let mut second = served.stranger();
    assert_eq!(second.try_code(&served.code).refused(), (403, "wrong-code".to_owned()), "spent");
    for _ in 0..4 {
        assert_eq!(second.try_code("AAAA-AAAA").status, 403);
    }
    let further = first.post("/api/further-device", &json!({})).ok()["code"].as_str().expect("a code").to_owned();
    let locked = second.try_code(&further);
    assert_eq!(locked.refused(), (429, "locked".to_owned()));
    let seconds: u64 = locked
        .head
        .lines()
        .find_map(|line| line.strip_prefix("retry-after: "))
        .expect("told")
        .parse()
        .expect("seconds");
    assert!((50..=60).contains(&seconds), "{seconds}");
    assert_eq!(first.get("/api/jobs").status, 200, "those inside are not disturbed");
}

#[test]
fn names_from_outside_never_reach_the_disk() {
    let served = Served::start();
    let client = served.paired();
    std::fs::write(served.folder.path().join("secret.txt"), "secret").expect("written");
    for path in [
        "/web/../secret.txt",
        "/web/..%2fsecret.txt",
        "/web/%2e%2e/%2e%2e/secret.txt",
        "/web//etc/passwd",
        "/web/..%5csecret.txt",
        "/api/jobs/..",
        "/api/jobs/%2e%2e",
        "/api/jobs/..%2f..%2fetc",
        "/api/jobs/.%00",
        "/api/jobs/%2fetc/report",
        "/../../etc/passwd",
    ] {
        let answer = client.get(path);
        assert_eq!(answer.status, 404, "{path}: {}", answer.body);
        assert!(!answer.body.contains("root:") && answer.body != "secret", "{path}");
    }
    let name = job(&client);
    for opening in ["../../x", "a/b", "..", "A", "", "x\u{0}"] {
        let about = json!({ "token": "0".repeat(32), "cylinder": 2, "opening": opening, "air": "on", "rate_hz": 44_100, "device": "d" });
        assert_eq!(client.post(&format!("/api/jobs/{name}/uploads"), &about).status, 422, "{opening}");
    }
    for token in ["../../../../x", "..%2f..%2fx", "short"] {
        let status = client.get(&format!("/api/jobs/{name}/uploads/{token}")).status;
        assert!(matches!(status, 404 | 422), "{token}: {status}");
    }
    let new = json!({ "engine": "../../../etc/cron.d/x", "cylinders": 1 });
    let made = client.post("/api/jobs", &new).ok()["name"].as_str().expect("a name").to_owned();
    assert!(made.starts_with("etc-cron-d-x-") && served.job(&made).join("job.toml").is_file(), "{made}");
    let large = json!({ "engine": "x".repeat(20_000), "cylinders": 1 });
    assert_eq!(client.post("/api/jobs", &large).refused(), (413, "too-large".to_owned()));
}

#[test]
fn every_answer_carries_its_headers() {
    let served = Served::start();
    let client = served.paired();
    for path in ["/", "/web/main.js", "/api/jobs", "/nothing"] {
        let head = client.get(path).head.to_lowercase();
        for header in [
            "content-security-policy: default-src 'none'; script-src 'self'",
            "x-content-type-options: nosniff",
            "referrer-policy: no-referrer",
            "cross-origin-resource-policy: same-origin",
        ] {
            assert!(head.contains(header), "{path}: {header}\n{head}");
        }
        assert!(!head.contains("unsafe"), "{path}");
    }
    let mut fresh = served.stranger();
    let code = client.post("/api/further-device", &json!({})).ok()["code"].as_str().expect("a code").to_owned();
    let cookie = fresh.try_code(&code).head;
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"), "{cookie}");
}

#[test]
fn two_hundred_slow_clients_hold_nobody_up() {
    let served = Served::start();
    let client = served.paired();
    let slow: Vec<_> = (0..200)
        .map(|_| {
            let mut stream = client.connected();
            stream.write_all(b"GET / HTTP/1.1\r\nHost: ").expect("sent");
            stream
        })
        .collect();
    let begun = Instant::now();
    assert_eq!(client.get("/api/jobs").status, 200);
    assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
    // And they are shown the door.
    let mut last = slow.into_iter().next_back().expect("one");
    let mut left = Vec::new();
    // Ends when the server hangs up; the client's own patience is half a minute.
    drop(last.read_to_end(&mut left));
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}
