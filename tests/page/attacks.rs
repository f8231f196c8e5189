//! What strangers try.

use std::collections::BTreeSet;
use std::io::{Read, Write};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

use crate::client::Client;
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

/// A page's link for the customer of a job: its secret.
fn customer_link(client: &Client, name: &str) -> String {
    let link = client.post(&format!("/api/jobs/{name}/customer-link"), &json!({})).ok();
    link["link"].as_str().and_then(|link| link.split_once("view=")).expect("a link").1.to_owned()
}

#[test]
fn a_customer_who_comes_again_and_again_ends_nobody_elses_session() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let secret = customer_link(&client, &name);
    let mut customer = served.stranger();
    let cookies: BTreeSet<String> = (0..200)
        .map(|_| {
            customer.view(&secret);
            customer.cookie.clone().expect("a cookie")
        })
        .collect();
    assert_eq!(cookies.len(), 1, "one link, one session");
    assert_eq!(client.get("/api/jobs").status, 200, "who works still works");
    assert_eq!(customer.get(&format!("/api/jobs/{name}")).status, 200);
    let kept = std::fs::read(served.folder.path().join("data/hissward/page/sessions.json")).expect("kept");
    let kept: Value = serde_json::from_slice(&kept).expect("JSON");
    let count = |table: &str| kept[table].as_object().map(serde_json::Map::len);
    assert_eq!((count("working"), count("links")), (Some(1), Some(1)));
}

#[test]
fn a_customers_session_ends_with_the_link_and_with_the_next_link() {
    let mut served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let path = format!("/api/jobs/{name}");
    let first = customer_link(&client, &name);
    let mut customer = served.stranger();
    customer.view(&first);
    assert_eq!(customer.get(&path).status, 200);
    let second = customer_link(&client, &name);
    assert_eq!(customer.get(&path).refused(), (401, "not-paired".to_owned()), "the next link ends it");
    assert_eq!(customer.post("/api/pair", &json!({ "view": first })).refused(), (403, "wrong-code".to_owned()));
    customer.view(&second);
    served.kill_and_restart();
    assert_eq!(customer.get(&path).status, 200, "a restart ends nothing");
    assert_eq!(customer.delete(&format!("{path}/customer-link")).refused(), (403, "read-only".to_owned()));
    assert_eq!(client.delete(&format!("{path}/customer-link")).ok()["ended"], true);
    assert_eq!(customer.get(&path).status, 401, "ended with its link");
    assert_eq!(customer.post("/api/pair", &json!({ "view": second })).status, 403);
    assert_eq!(client.get(&path).status, 200);
}

#[test]
fn a_session_of_one_folder_opens_no_other() {
    let here = Served::start();
    let there = here.second_of_the_same_person();
    let (working, other) = (here.paired(), there.paired());
    let name = job(&working);
    assert_eq!(job(&other), name, "jobs of the same name in both");
    let mut customer = here.stranger();
    customer.view(&customer_link(&working, &name));
    let path = format!("/api/jobs/{name}");
    for (who, what) in [(&working, "who works"), (&customer, "the customer")] {
        let mut thief = there.stranger();
        // As it is, and under the name by which the other page knows its own.
        for cookie in [who.cookie.clone(), who.token_as(&other)] {
            thief.cookie = cookie;
            assert_eq!(thief.get(&path).refused(), (401, "not-paired".to_owned()), "{what}");
        }
    }
    assert_ne!(working.token_as(&other), working.cookie, "one browser can be paired with both");
    // Neither page lost the other's.
    assert_eq!((working.get(&path).status, other.get(&path).status, customer.get(&path).status), (200, 200, 200));
}

#[test]
fn two_pages_keep_each_others_sessions_and_end_them_for_both() {
    let mut served = Served::start();
    let second = served.second_of_the_same_folder();
    let first = served.paired();
    let mut at_second = Client::new(&second.host);
    at_second.pair(&second.code);
    let mut third = served.stranger();
    let code = first.post("/api/further-device", &json!({})).ok()["code"].as_str().expect("a code").to_owned();
    third.pair(&code);
    served.kill_and_restart();
    assert_eq!(
        (first.get("/api/jobs").status, third.get("/api/jobs").status),
        (200, 200),
        "pairing elsewhere ends none"
    );
    // A phone that is unpaired at one page is unpaired at the other.
    assert_eq!(at_second.post("/api/leave", &json!({})).status, 200);
    let mut moved = served.stranger();
    moved.cookie = at_second.cookie.clone();
    assert_eq!((at_second.get("/api/jobs").status, moved.get("/api/jobs").status), (401, 401));
    let mut elsewhere = Client::new(&second.host);
    elsewhere.cookie = third.cookie.clone();
    assert_eq!(elsewhere.get("/api/jobs").status, 200);
    third.post("/api/leave", &json!({}));
    assert_eq!(elsewhere.get("/api/jobs").status, 401);
}

#[test]
fn wrong_codes_hold_up_the_address_that_sent_them_and_nobody_else() {
    let served = Served::start();
    let mut attacker = Client::from(&served.host, [127, 0, 0, 2]);
    for round in 0..12 {
        let refused = attacker.try_code("AAAA-AAAA").refused();
        let expected = if round < 5 { (403, "wrong-code".to_owned()) } else { (429, "locked".to_owned()) };
        assert_eq!(refused, expected, "{round}");
    }
    assert_eq!(attacker.try_code(&served.code).refused(), (429, "locked".to_owned()), "even the right one");
    let client = served.paired();
    assert_eq!(client.get("/api/jobs").status, 200);
}

#[test]
fn the_person_at_the_computer_pairs_whatever_was_tried_from_there() {
    let mut served = Served::start_with_keyboard();
    let mut person = served.stranger();
    for _ in 0..8 {
        person.try_code("AAAA-AAAA");
    }
    assert_eq!(person.try_code(&served.code).refused(), (429, "locked".to_owned()));
    let code = served.press_enter();
    assert_eq!(person.try_code(&served.code).refused(), (429, "locked".to_owned()), "the old code is spent");
    assert_eq!(person.try_code(&code).status, 200, "{code}");
    assert_eq!(person.get("/api/jobs").status, 200);
    assert_eq!(person.try_code(&code).status, 403, "once");
}

#[test]
fn one_address_that_hoards_connections_keeps_nobody_out() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let mut screen = client.listening(&format!("/api/jobs/{name}/events"));
    screen.set_read_timeout(Some(Duration::from_secs(20))).expect("set");
    let mut hoard: Vec<_> = (0..600).map(|_| client.connected()).collect();
    let begun = Instant::now();
    for path in ["/api/jobs", "/"] {
        assert_eq!(client.get(path).status, 200, "from the same address");
    }
    assert_eq!(Client::from(&served.host, [127, 0, 0, 3]).get("/").status, 200, "from another");
    assert!(begun.elapsed() < Duration::from_secs(2), "{:?}", begun.elapsed());
    // What came first had to go long before its ten seconds, what is at work had not.
    let mut left = Vec::new();
    drop(hoard[0].read_to_end(&mut left));
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
    client.post(&format!("/api/jobs/{name}/rig"), &json!({ "supply": "80psi", "held": "79psi" })).ok();
    let mut told = Vec::new();
    while !String::from_utf8_lossy(&told).contains("event: job") {
        let mut block = [0; 1024];
        let got = screen.read(&mut block).expect("still told");
        assert_ne!(got, 0, "the screen was cut off");
        told.extend_from_slice(&block[..got]);
    }
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
