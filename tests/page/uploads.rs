//! Recordings come in piece by piece: replayed, out of order, damaged, cut, killed, and still the same sound.

use hissward::job::{Job, Sha256};
use serde_json::{Value, json};

use crate::client::Client;
use crate::served::{Served, job};

const RATE_HZ: u32 = 44_100;
const PIECE: usize = 11_025;

/// A noise that repeats itself nowhere in a test, in steps of 16 bit so that it is exact in every format.
fn sound(pieces: usize) -> Vec<f32> {
    let mut state = 0x1234_5678_u32;
    (0..pieces * PIECE)
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            f32::from((state >> 16) as u16 as i16 / 16) / 32_768.0
        })
        .collect()
}

fn bytes_of(samples: &[f32]) -> Vec<u8> {
    samples.iter().flat_map(|sample| sample.to_le_bytes()).collect()
}

fn token(number: u32) -> String {
    format!("{number:032x}")
}

fn about(token: &str, opening: &str, air: &str) -> Value {
    json!({ "token": token, "cylinder": 2, "opening": opening, "air": air, "rate_hz": RATE_HZ, "device": "phone" })
}

struct Upload<'a> {
    client: &'a Client,
    path: String,
}

impl<'a> Upload<'a> {
    fn begin(client: &'a Client, job: &str, token: &str, opening: &str, air: &str) -> Self {
        client.post(&format!("/api/jobs/{job}/uploads"), &about(token, opening, air)).ok();
        Self { client, path: format!("/api/jobs/{job}/uploads/{token}") }
    }

    fn send(&self, sequence: usize, samples: &[f32]) -> crate::client::Answer {
        let bytes = bytes_of(samples);
        self.client.piece(&format!("{}/{sequence}", self.path), &bytes, &Sha256::of(&bytes).to_string())
    }

    fn finish(&self, pieces: usize) -> crate::client::Answer {
        self.client.post(&format!("{}/finish", self.path), &json!({ "pieces": pieces }))
    }
}

fn piece(sound: &[f32], at: usize) -> &[f32] {
    &sound[at * PIECE..(at + 1) * PIECE]
}

/// The samples of a job's only clip, after its hash was found right.
fn only_clip(served: &Served, name: &str) -> Vec<f32> {
    let job = Job::open(&served.job(name)).expect("a job");
    assert_eq!(job.record().clips.len(), 1);
    assert!(job.record().pending.is_empty(), "{:?}", job.record().pending);
    assert!(job.verify_clips().iter().all(|file| matches!(file.verdict, hissward::job::FileState::Intact)));
    let path = job.clip_path(&job.record().clips[0]).expect("there");
    let (clip, _) = hissward::audio::read_clip(&path, hissward::audio::ChannelChoice::First).expect("a recording");
    clip.samples().to_vec()
}

#[test]
fn pieces_replayed_out_of_order_damaged_and_cut_give_the_same_sound() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let sound = sound(8);
    let upload = Upload::begin(&client, &name, &token(1), "oil-filler", "on");
    assert_eq!(upload.send(0, piece(&sound, 0)).ok()["next"], 1);
    // Out of order: told which is wanted, nothing taken.
    let ahead = upload.send(2, piece(&sound, 2));
    assert_eq!((ahead.status, &ahead.json()["want"]), (409, &json!(1)));
    // Replayed: answered as before, not taken twice.
    assert_eq!(upload.send(0, piece(&sound, 0)).ok()["next"], 1);
    // Replayed with another content: refused.
    assert_eq!(upload.send(0, piece(&sound, 5)).status, 422);
    // Damaged on the way: its hash tells.
    let other = bytes_of(piece(&sound, 3));
    let damaged = client.piece(&format!("{}/1", upload.path), &other, &Sha256::of(b"another").to_string());
    assert_eq!(damaged.refused(), (422, "damaged".to_owned()));
    // Cut off in the middle of the body: nothing taken.
    let bytes = bytes_of(piece(&sound, 1));
    client.send_truncated(&format!("{}/1", upload.path), &Sha256::of(&bytes).to_string(), bytes.len(), &bytes[..999]);
    // No whole samples, and no numbers.
    let odd = client.piece(&format!("{}/1", upload.path), &bytes[..3], &Sha256::of(&bytes[..3]).to_string());
    assert_eq!(odd.refused(), (422, "unfit".to_owned()));
    assert_eq!(upload.send(1, &[f32::NAN; 4]).refused(), (422, "unfit".to_owned()));
    // Oversized.
    let large = vec![0_u8; 1024 * 1024 + 4];
    let refused = client.piece(&format!("{}/1", upload.path), &large, &Sha256::of(&large).to_string());
    assert_eq!(refused.refused(), (413, "too-large".to_owned()));
    for at in 1..8 {
        assert_eq!(upload.send(at, piece(&sound, at)).ok()["next"], at + 1);
    }
    // Ended too early: told what is wanted.
    assert_eq!(upload.finish(9).status, 409);
    let done = upload.finish(8).ok();
    assert_eq!(done["clip"], "c2-oil-filler-on-t1.wav");
    // The answer was lost: asked again, the same.
    assert_eq!(upload.finish(8).ok(), done);
    assert_eq!(upload.send(3, piece(&sound, 3)).ok()["committed"], true);
    assert_eq!(only_clip(&served, &name), sound);
}

#[test]
fn a_killed_server_takes_the_recording_up_again() {
    let mut served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let sound = sound(12);
    let upload = Upload::begin(&client, &name, &token(2), "intake", "off");
    for at in 0..5 {
        upload.send(at, piece(&sound, at)).ok();
    }
    served.kill_and_restart();
    // The same session, the same recording; the phone does not know whether piece 4 arrived and sends it again.
    let upload = Upload::begin(&client, &name, &token(2), "intake", "off");
    assert_eq!(upload.send(4, piece(&sound, 4)).ok()["next"], 5);
    for at in 5..8 {
        upload.send(at, piece(&sound, at)).ok();
    }
    served.kill_and_restart();
    for at in 8..12 {
        upload.send(at, piece(&sound, at)).ok();
    }
    let done = upload.finish(12).ok();
    served.kill_and_restart();
    assert_eq!(upload.finish(12).ok()["clip"], done["clip"], "remembered over a restart");
    assert_eq!(only_clip(&served, &name), sound);
}

#[test]
fn a_recording_that_the_job_lost_sight_of_is_told_so() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let unknown = Upload { client: &client, path: format!("/api/jobs/{name}/uploads/{}", token(3)) };
    assert_eq!(unknown.send(0, &[0.1]).refused(), (404, "unknown-upload".to_owned()));
    let upload = Upload::begin(&client, &name, &token(4), "exhaust", "on");
    assert_eq!(upload.finish(0).status, 422, "no sound is no clip");
    assert!(Job::open(&served.job(&name)).expect("a job").record().pending.is_empty());
}

#[test]
fn two_phones_record_at_once_and_neither_disturbs_the_other() {
    let served = Served::start();
    let one = served.paired();
    let link = one.post("/api/further-device", &json!({})).ok();
    let mut other = served.stranger();
    other.pair(link["code"].as_str().expect("a code"));
    let name = job(&one);
    let sound = sound(6);
    let near = Upload::begin(&one, &name, &token(5), "intake", "on");
    let far = Upload::begin(&other, &name, &token(6), "exhaust", "on");
    for at in 0..3 {
        near.send(at, piece(&sound, at)).ok();
        far.send(at, piece(&sound, at + 3)).ok();
    }
    assert_eq!(near.finish(3).status, 200);
    assert_eq!(far.finish(3).status, 200);
    let job = Job::open(&served.job(&name)).expect("a job");
    let files: Vec<&str> = job.record().clips.iter().map(|clip| clip.file.as_str()).collect();
    assert_eq!(files, ["c2-intake-on-t1.wav", "c2-exhaust-on-t1.wav"]);
    for (clip, want) in job.record().clips.iter().zip([&sound[..3 * PIECE], &sound[3 * PIECE..]]) {
        let path = job.clip_path(clip).expect("there");
        let (read, _) = hissward::audio::read_clip(&path, hissward::audio::ChannelChoice::First).expect("a recording");
        assert_eq!(read.samples(), want);
    }
}

/// The demo engine's clips of one cylinder, sent as a phone sends them.
pub fn send_demo(client: &Client, job: &str, cylinder: u32) {
    send_demo_from(client, job, cylinder, &[]);
}

/// The same from a phone that left some of its processing on.
fn send_demo_from(client: &Client, job: &str, cylinder: u32, processing: &[&str]) {
    let clips = demo_clips(cylinder);
    assert_eq!(clips.len(), 6, "three openings, quiet and air");
    for (number, (opening, air, file)) in clips.iter().enumerate() {
        let (clip, _) = hissward::audio::read_clip(file, hissward::audio::ChannelChoice::First).expect("a recording");
        let token = token(100 * cylinder + number as u32);
        let about = json!({
            "token": token, "cylinder": cylinder, "opening": opening, "air": air,
            "rate_hz": clip.rate().0 as u32, "device": "phone", "processing": processing,
        });
        client.post(&format!("/api/jobs/{job}/uploads"), &about).ok();
        let upload = Upload { client, path: format!("/api/jobs/{job}/uploads/{token}") };
        let pieces: Vec<&[f32]> = clip.samples().chunks(60_000).collect();
        for (at, samples) in pieces.iter().enumerate() {
            upload.send(at, samples).ok();
        }
        upload.finish(pieces.len()).ok();
    }
}

fn demo_clips(cylinder: u32) -> Vec<(String, String, std::path::PathBuf)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-audio");
    let mut found = Vec::new();
    for opening in ["intake", "exhaust", "oil-filler"] {
        for air in ["off", "on"] {
            let file = folder.join(format!("c{cylinder}-{opening}-{air}-t1.wav"));
            found.push((opening.to_owned(), air.to_owned(), file));
        }
    }
    found
}

#[test]
fn what_a_phone_left_on_stands_in_ranking_and_report() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    send_demo_from(&client, &name, 2, &["gain", "noise"]);
    let record = Job::open(&served.job(&name)).expect("a job");
    let clips = &record.record().clips;
    assert!(clips.iter().all(|clip| clip.processing.as_deref() == Some("gain noise")), "{clips:?}");
    assert!(clips.iter().all(|clip| clip.device.as_deref() == Some("phone")), "{clips:?}");
    let ranked = client.get(&format!("/api/jobs/{name}/ranking?in=en")).ok();
    for opening in ranked["results"][0]["openings"].as_array().expect("openings") {
        let codes: Vec<&str> =
            opening["caveats"].as_array().expect("caveats").iter().filter_map(|one| one["code"].as_str()).collect();
        for code in ["processing-gain", "processing-noise"] {
            // Quiet and air: two clips.
            assert_eq!(codes.iter().filter(|one| **one == code).count(), 2, "{opening}");
        }
    }
    let report = client.get(&format!("/api/jobs/{name}/report?in=de")).body;
    assert!(report.contains("die Verstärkung selbst geregelt"), "the caveat stands in the report");
    let unknown = json!({
        "token": token(9), "cylinder": 2, "opening": "rig", "air": "on", "rate_hz": RATE_HZ, "device": "phone",
        "processing": ["magic"],
    });
    assert_eq!(client.post(&format!("/api/jobs/{name}/uploads"), &unknown).refused(), (422, "unfit".to_owned()));
}

#[test]
fn what_another_program_left_is_kept_by_the_page_and_what_a_phone_sends_stays_the_phones() {
    let mut served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let sound = sound(4);
    let upload = Upload::begin(&client, &name, &token(7), "intake", "on");
    upload.send(0, piece(&sound, 0)).ok();
    served.kill();
    // Another program begins a recording and is killed.
    let mut writer = hissward::job::JobWriter::open(&served.job(&name), "test").expect("a job");
    let subject = writer.record().subject(Some(2), "exhaust".parse().expect("a name"), hissward::opening::Air::Off);
    let plan = hissward::job::RecordingPlan {
        subject,
        visit: None,
        since: hissward::job::When::now(),
        device: None,
        processing: None,
        channel: 1,
        far_channel: None,
    };
    let slot = writer.start_recording(plan).expect("a place");
    let shape = hissward::audio::StreamShape { rate_hz: RATE_HZ, channels: 1, kind: hissward::audio::SampleKind::I16 };
    let mut recorder = hissward::audio::WavRecorder::create(slot.path(), shape).expect("made");
    recorder.write(&sound).expect("written");
    recorder.sync().expect("on the disk");
    drop((recorder, writer));
    served.restart();
    let upload = Upload::begin(&client, &name, &token(7), "intake", "on");
    upload.send(1, piece(&sound, 1)).ok();
    upload.finish(2).ok();
    let job = Job::open(&served.job(&name)).expect("a job");
    let kept: Vec<(&str, bool)> = job.record().clips.iter().map(|clip| (clip.file.as_str(), clip.cut_short)).collect();
    assert_eq!(kept, [("c2-exhaust-off-t1.wav", true), ("c2-intake-on-t1.wav", false)]);
}

#[test]
fn the_page_ranks_as_add_and_rank_do_to_the_last_digit() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    send_demo(&client, &name, 2);
    let ranked = client.get(&format!("/api/jobs/{name}/ranking?in=en"));
    assert_eq!(ranked.status, 200, "{}", ranked.body);
    let other = served.folder.path().join("added");
    let run = |arguments: &[&str]| {
        let done = std::process::Command::new(env!("CARGO_BIN_EXE_hissward")).args(arguments).output().expect("runs");
        assert!(done.status.code() != Some(2), "{arguments:?}: {}", String::from_utf8_lossy(&done.stderr));
        String::from_utf8(done.stdout).expect("UTF-8")
    };
    let other = other.to_str().expect("UTF-8");
    run(&[
        "new",
        other,
        "--engine",
        "Three-cylinder petrol, workboat Gull",
        "--cylinders",
        "3",
        "--firing-order",
        "1-3-2",
        "--hot",
    ]);
    for (opening, air, file) in demo_clips(2) {
        run(&["add", other, "--at", &opening, "--air", &air, "--cylinder", "2", file.to_str().expect("UTF-8")]);
    }
    let added = run(&["rank", other, "--json"]);
    assert_eq!(ranked.json()["results"][0]["openings"].as_array().map(Vec::len), Some(3));
    assert_eq!(ranked.body, added);
}

#[test]
fn a_job_edited_by_hand_is_ranked_anew() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    send_demo(&client, &name, 2);
    let path = format!("/api/jobs/{name}/ranking?in=en");
    let openings = |body: &Value| -> Vec<String> {
        let openings = body["results"][0]["openings"].as_array().expect("openings").iter();
        openings.map(|one| one["opening"].as_str().expect("a name").to_owned()).collect()
    };
    let before = client.get(&path).ok();
    assert!(openings(&before).contains(&"exhaust".to_owned()), "{before}");
    // The same files, said to be of another place.
    let file = served.job(&name).join("job.toml");
    let text = std::fs::read_to_string(&file).expect("a job");
    std::fs::write(&file, text.replace("\"exhaust\"", "\"dipstick\"")).expect("written");
    let after = client.get(&path).ok();
    assert!(!openings(&after).contains(&"exhaust".to_owned()), "{after}");
    assert!(openings(&after).contains(&"dipstick".to_owned()), "{after}");
}

#[test]
fn a_recording_made_elsewhere_is_taken_in_as_add_does_it() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let (opening, air, file) = demo_clips(2).into_iter().next().expect("a clip");
    let bytes = std::fs::read(&file).expect("a recording");
    let origin = format!("http://{}", served.host);
    let headers = [("Host", served.host.as_str()), ("Origin", origin.as_str())];
    let path =
        |opening: &str| format!("/api/jobs/{name}/add?in=en&opening={opening}&air={air}&cylinder=2&name=..%2Fx.wav");
    let told = client.send("POST", &path(&opening), &headers, &bytes).ok();
    assert_eq!(told["fit"], true, "{told}");
    let taken = Job::open(&served.job(&name)).expect("a job");
    let clip = &taken.record().clips[0];
    assert_eq!((clip.subject.opening.name(), clip.subject.cylinder), (opening.as_str(), Some(2)));
    assert_eq!(clip.sha256, Sha256::of(&bytes), "byte for byte");
    // What is no recording is refused and leaves nothing.
    let refused = client.send("POST", &path("intake"), &headers, b"no sound").refused();
    assert_eq!(refused, (422, "unfit".to_owned()));
    assert_eq!(client.send("POST", &path("..%2Fx"), &headers, &bytes).status, 422);
    assert_eq!(Job::open(&served.job(&name)).expect("a job").record().clips.len(), 1);
}

#[test]
fn the_pages_report_is_the_command_lines() {
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    send_demo(&client, &name, 2);
    let page = client.get(&format!("/api/jobs/{name}/report?in=en"));
    let paper = client.get(&format!("/api/jobs/{name}/report.pdf?in=en"));
    assert!(paper.head.to_lowercase().contains("content-type: application/pdf") && paper.body.starts_with("%PDF-"));
    let folder = served.job(&name);
    let done = std::process::Command::new(env!("CARGO_BIN_EXE_hissward"))
        .args(["report", "--language", "en"])
        .arg(&folder)
        .output()
        .expect("runs");
    assert!(done.status.code() != Some(2), "{}", String::from_utf8_lossy(&done.stderr));
    assert_eq!(page.body, std::fs::read_to_string(folder.join("results/report.html")).expect("a report"));
}

#[test]
fn both_microphones_of_a_phone_are_kept_each_as_it_was() {
    let mut served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let path = format!("/api/jobs/{name}/uploads");
    let mut about = about(&token(20), "exhaust", "on");
    about["channels"] = json!(3);
    assert_eq!(client.post(&path, &about).refused(), (422, "unfit".to_owned()));
    about["channels"] = json!(2);
    about["settings"] = json!("asked raw; got raw\u{1b}, 2 channels");
    client.post(&path, &about).ok();
    let upload = Upload { client: &client, path: format!("{path}/{}", token(20)) };
    let sound = sound(8);
    let both: Vec<f32> = sound.iter().flat_map(|sample| [*sample, -sample / 4.0]).collect();
    let pieces: Vec<&[f32]> = both.chunks(2 * PIECE).collect();
    assert_eq!(upload.send(0, &pieces[0][1..]).refused(), (422, "unfit".to_owned()), "half a moment");
    for (at, piece) in pieces.iter().enumerate() {
        upload.send(at, piece).ok();
        if at == 3 {
            served.kill_and_restart();
        }
    }
    let done = upload.finish(8).ok();
    assert_eq!(done["seconds"], 2.0);
    assert_eq!(only_clip(&served, &name), sound);
    let kept = Job::open(&served.job(&name)).expect("a job");
    assert_eq!((kept.record().clips[0].channels, kept.record().clips[0].channel), (2, 1));
    assert_eq!(kept.record().clips[0].application.as_deref(), Some("asked raw; got raw, 2 channels"));
    let path = kept.clip_path(&kept.record().clips[0]).expect("there");
    let second = hissward::audio::read_clip(&path, hissward::audio::ChannelChoice::Number(2)).expect("a recording").0;
    assert!(second.samples().iter().zip(&sound).all(|(second, first)| *second == -first / 4.0));
}
