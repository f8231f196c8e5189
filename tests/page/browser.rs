//! A whole job in a real browser: what is on the disk is what the microphone heard.

use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use hissward::audio::{ChannelChoice, SampleKind, StreamShape, WavRecorder, read_clip};
use hissward::job::Job;

use crate::chromium::Chromium;
use crate::served::{Served, job};
use crate::uploads::send_demo;

/// The rate of the browser's fed microphone: at another one the browser resamples.
const RATE_HZ: usize = 44_100;
/// Longer than any test records.
const FEED_S: usize = 150;
/// The samples of one piece: a quarter of a second.
const PIECE: usize = RATE_HZ / 4;
/// So many samples in a row happen only once in the feed.
const MATCH: usize = 64;
/// Browsers one after the other: two at once on a small machine make each other skip sound.
static ALONE: Mutex<()> = Mutex::new(());

fn alone() -> MutexGuard<'static, ()> {
    ALONE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The fed device is not in step at its beginning.
const DISCARDED: usize = RATE_HZ / 2;

/// A noise that repeats itself nowhere, in steps of 16 bit. Its peaks thin out as those of air do (a sum of twelve equal
/// draws is all but Gaussian): noise that ends at one height everywhere is what a limiter makes, and is told as one.
fn feed(folder: &Path) -> (PathBuf, Vec<f32>) {
    let mut state = 0x9E37_79B9_u32;
    let mut four_draws = || {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        state.to_le_bytes().map(|draw| i32::from(draw) - 128).iter().sum::<i32>()
    };
    let samples: Vec<f32> =
        (0..FEED_S * RATE_HZ).map(|_| (four_draws() + four_draws() + four_draws()) as f32 / 32_768.0).collect();
    let path = folder.join("feed.wav");
    let shape = StreamShape { rate_hz: RATE_HZ as u32, channels: 1, kind: SampleKind::I16 };
    let mut writer = WavRecorder::create(&path, shape).expect("made");
    writer.write(&samples).expect("written");
    writer.finish().expect("finished");
    (path, samples)
}

/// How the browser turns 16-bit steps into numbers (seen in Chromium): 32,768 of them below zero, 32,767 above.
/// Gives the step back, and insists that it is one.
fn step_of(sample: f32) -> i16 {
    let steps = f64::from(sample) * if sample > 0.0 { 32_767.0 } else { 32_768.0 };
    assert!((steps - steps.round()).abs() < 1e-3, "{sample} is no 16-bit step: something worked on the sound");
    steps.round() as i16
}

/// Every sample of a clip after the first half second is the feed's, in order, none missing and none twice.
///
/// A browser on a busy machine skips some of its device's sound before any script sees it. Such a break is told from one
/// of ours by its place: ours would lie where one piece ends and the next begins. After it the feed has to go on.
/// Returns how many breaks of the browser's there were.
fn breaks_of_the_browser(clip: &[f32], feed: &[f32], name: &str) -> usize {
    let heard: Vec<i16> = clip.iter().map(|sample| step_of(*sample)).collect();
    let feed: Vec<i16> = feed.iter().map(|sample| (sample * 32_768.0) as i16).collect();
    let place_in_feed = |window: &[i16]| feed.windows(MATCH).position(|fed| fed == window);
    let (mut at, mut breaks) = (DISCARDED, 0);
    let mut fed_at = place_in_feed(&heard[at..at + MATCH]).unwrap_or_else(|| panic!("{name}: is not in the feed"));
    while let Some(good) = heard[at..].iter().zip(&feed[fed_at..]).position(|(got, fed)| got != fed) {
        let broken = at + good;
        assert_ne!(broken % PIECE, 0, "{name}: a piece is missing or there twice at sample {broken}");
        breaks += 1;
        // Silence may stand in the break; the feed goes on behind it, and never back.
        let resumed = (broken..(broken + RATE_HZ).min(heard.len() - MATCH))
            .find_map(|from| Some((from, place_in_feed(&heard[from..from + MATCH])?)));
        let (from, resumes) =
            resumed.unwrap_or_else(|| panic!("{name}: the feed does not go on after sample {broken}"));
        assert!(resumes >= fed_at + good, "{name}: sound is there twice after sample {broken}");
        (at, fed_at) = (from, resumes);
    }
    breaks
}

fn new_job(browser: &mut Chromium) {
    browser.fill("input[name=engine]", "Three-cylinder petrol, workboat Gull");
    browser.fill("input[name=cylinders]", "3");
    browser.fill("input[name=firing_order]", "1-3-2");
    browser.click("#new button");
    browser.until("document.querySelector('#confirm')");
}

fn record(browser: &mut Chromium, opening: &str, air: &str) {
    browser.click(&format!("[data-opening={opening}]"));
    browser.click(&format!("[data-air={air}]"));
    browser.click("#record");
    browser.until("document.querySelector('#record[data-running]')");
}

/// Waits until so many clips are in the job.
fn until_clips(browser: &mut Chromium, served: &Served, count: usize) -> Job {
    for _ in 0..400 {
        let names: Vec<_> = std::fs::read_dir(served.folder.path().join("jobs")).expect("jobs").collect();
        let path = names.into_iter().next().expect("one").expect("a job").path();
        let job = Job::open(&path).expect("a job");
        if job.record().clips.len() >= count {
            return job;
        }
        std::thread::sleep(Duration::from_millis(100));
    }
    let shown = browser.ask("document.body.innerText");
    panic!("{count} clips never came: {shown} {:?}", browser.complaints());
}

#[test]
fn a_job_in_the_browser_keeps_every_sample_through_cuts_and_a_killed_server() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, fed) = feed(folder.path());
    let mut served = Served::start();
    let mut browser = Chromium::start(&path);
    browser.screen(390, 844, true);
    browser.light("light");
    browser.go(&format!("http://{}/", served.host));
    browser.until("document.querySelector('#code')");
    browser.picture("pair-phone");
    browser.fill("#code", &served.code);
    browser.click("form button");
    browser.until("document.querySelector('#new')");
    browser.picture("jobs-phone");
    new_job(&mut browser);
    browser.picture("cautions-phone");
    browser.click("#confirm");
    browser.until("document.querySelector('#record')");
    browser.picture("listen-phone");

    // A clip without trouble.
    record(&mut browser, "oil-filler", "off");
    std::thread::sleep(Duration::from_secs(3));
    browser.click("#record");
    until_clips(&mut browser, &served, 1);
    // The network is cut in the middle of a clip.
    record(&mut browser, "oil-filler", "on");
    browser.until("document.querySelector('#hiss-text').textContent.includes('dB')");
    browser.picture("recording-phone");
    browser.offline(true);
    std::thread::sleep(Duration::from_secs(3));
    browser.offline(false);
    std::thread::sleep(Duration::from_secs(1));
    browser.click("#record");
    until_clips(&mut browser, &served, 2);
    // The server is killed in the middle of a clip, and comes back.
    record(&mut browser, "intake", "on");
    std::thread::sleep(Duration::from_secs(2));
    served.kill();
    std::thread::sleep(Duration::from_secs(2));
    served.restart();
    std::thread::sleep(Duration::from_secs(2));
    browser.click("#record");
    let job = until_clips(&mut browser, &served, 3);

    let names: Vec<&str> = job.record().clips.iter().map(|clip| clip.file.as_str()).collect();
    assert_eq!(names, ["c1-oil-filler-off-t1.wav", "c1-oil-filler-on-t1.wav", "c1-intake-on-t1.wav"]);
    let mut whole = 0;
    for clip in &job.record().clips {
        let (read, _) = read_clip(&job.clip_path(clip).expect("there"), ChannelChoice::First).expect("a recording");
        assert_eq!((clip.sample_rate_hz, clip.overruns, clip.cut_short), (RATE_HZ as u32, 0, false), "{}", clip.file);
        assert!(clip.seconds > 2.5, "{}: {} s", clip.file, clip.seconds);
        whole += usize::from(breaks_of_the_browser(read.samples(), &fed, clip.file.as_str()) == 0);
    }
    assert!(whole > 0, "no clip came without a break");
    assert!(job.record().pending.is_empty());
    // Nothing waits on the phone any more.
    browser.until("import('/web/outbox.js').then((outbox) => outbox.waiting()).then((count) => count === 0)");
    assert_eq!(browser.complaints(), [""; 0]);
    assert_eq!(browser.strange_requests(&served.host), [""; 0]);
}

#[test]
fn every_screen_has_large_targets_names_and_words_in_both_languages() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let mut browser = Chromium::start(&path);
    browser.screen(390, 844, true);
    browser.go(&format!("http://{}/#{}", served.host, served.code));
    browser.until("document.querySelector('#new')");
    assert_eq!(browser.ask("location.hash"), "", "the code leaves the address");
    new_job(&mut browser);
    browser.click("#confirm");
    browser.until("document.querySelector('#record')");
    for (width, height, phone, form) in
        [(390, 844, true, "phone"), (320, 640, true, "small"), (1280, 800, false, "desktop")]
    {
        browser.screen(width, height, phone);
        for (language, scheme) in [("en", "light"), ("de", "dark")] {
            browser.light(scheme);
            browser.click("[data-tab=more]");
            browser.click(&format!("button[lang={language}]"));
            browser.until(&format!("document.documentElement.lang === '{language}'"));
            for tab in ["listen", "gauge", "result", "more"] {
                browser.click(&format!("[data-tab={tab}]"));
                browser.until(&format!("document.querySelector('[data-tab={tab}]').ariaCurrent === 'true'"));
                std::thread::sleep(Duration::from_millis(150));
                browser.picture(&format!("{tab}-{form}-{language}-{scheme}"));
                let small = browser.ask(
                    "[...document.querySelectorAll('button, a.button, input:not([type=checkbox]), label.check')]\
                     .filter((one) => one.checkVisibility()).map((one) => [one, one.getBoundingClientRect()])\
                     .filter(([, box]) => box.height < 55.5 || box.width < 55.5)\
                     .map(([one, box]) => `${one.textContent} ${box.width}x${box.height}`)",
                );
                assert_eq!(small, serde_json::json!([]), "{tab} {form} {language}: too small for gloves");
                let nameless = browser.ask(
                    "[...document.querySelectorAll('button, input')].filter((one) => !(one.ariaLabel || one.textContent.trim() || one.labels?.length)).length",
                );
                assert_eq!(nameless, 0, "{tab}: without a name for a screen reader");
                let wide = browser.ask("document.documentElement.scrollWidth - innerWidth");
                assert!(
                    wide.as_f64().expect("a number") <= 0.0,
                    "{tab} {form} {language}: wider than the screen by {wide}"
                );
                let covered = browser.ask(
                    "[...document.querySelectorAll('main button, main a.button, main input')].filter((one) => one.checkVisibility()).filter((one) => {\
                     one.scrollIntoView({ block: 'nearest' }); const box = one.getBoundingClientRect();\
                     const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2); return !(one.contains(top) || top?.contains(one)); })\
                     .map((one) => one.outerHTML.slice(0, 90))",
                );
                browser.ask("scrollTo(0, 0)");
                assert_eq!(covered, serde_json::json!([]), "{tab} {form} {language}: something lies on it");
                let missing = browser.ask("document.body.innerText.match(/\\[[a-z-]+\\]/g)");
                assert!(missing.is_null(), "{tab} {language}: words are missing: {missing}");
                let overlapping = browser.ask(
                    "(() => { const boxes = [...document.querySelectorAll('.plan button')].map((one) => [one.textContent, one.getBoundingClientRect()]);\
                     return boxes.flatMap(([a, one], at) => boxes.slice(at + 1).filter(([, other]) => one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom).map(([b]) => `${a} / ${b}`)); })()",
                );
                assert_eq!(overlapping, serde_json::json!([]), "{tab} {form} {language}: buttons lie on each other");
            }
        }
    }
    assert_eq!(browser.complaints(), [""; 0]);
}

#[test]
fn a_result_is_shown_as_it_stands_with_its_picture_and_report() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    let code =
        client.post("/api/further-device", &serde_json::json!({})).ok()["code"].as_str().expect("a code").to_owned();
    let mut browser = Chromium::start(&path);
    browser.screen(390, 844, true);
    browser.light("light");
    browser.go(&format!("http://{}/#{code}", served.host));
    browser.click(&format!("[data-job='{name}']"));
    browser.click("[data-cylinder='2']");
    browser.click("[data-tab=gauge]");
    for key in ["8", "0"] {
        browser.click(&format!("[data-key='{key}']"));
    }
    browser.click("[data-field=held]");
    for key in ["6", "1"] {
        browser.click(&format!("[data-key='{key}']"));
    }
    browser.picture("gauge-typed-phone");
    browser.click("#keep");
    browser.until("document.querySelector('pre + h2 + pre').textContent.includes('24')");
    browser.picture("gauge-kept-phone");
    browser.click("[data-tab=result]");
    // Clips sent by another phone grow the result on this screen by themselves.
    send_demo(&client, &name, 2);
    browser.until("document.querySelector('.answer[data-call]')");
    browser.until("document.querySelectorAll('.list li').length === 6");
    browser.until("document.querySelectorAll('.answer .bar').length === 4");
    browser.ask("document.querySelector('.picture').loading = 'eager'");
    browser.until("document.querySelector('.picture').complete && document.querySelector('.picture').naturalWidth > 0");
    browser.picture("result-full-phone");
    browser.screen(1280, 800, false);
    browser.light("dark");
    std::thread::sleep(Duration::from_millis(300));
    browser.picture("result-full-desktop-dark");
    browser.click("[data-tab=listen]");
    browser.until("document.querySelector('.plan')");
    browser.picture("listen-done-desktop-dark");
    let shown = browser.ask(&format!("fetch('/api/jobs/{name}/report?in=de').then((answer) => answer.text())"));
    assert!(shown.as_str().is_some_and(|page| page.contains("<html lang=\"de\">") && page.contains("Gull")), "{shown}");
    assert_eq!(browser.complaints(), [""; 0]);
    assert_eq!(browser.strange_requests(&served.host), [""; 0]);
}

#[test]
fn pulsed_air_is_led_second_by_second_and_motion_stays_away_where_it_is_not_wished() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let mut browser = Chromium::start(&path);
    browser.screen(390, 844, true);
    // A phone that keeps its automatic gain, whatever it is asked.
    browser.before_pages(
        "const told = MediaStreamTrack.prototype.getSettings;\
         MediaStreamTrack.prototype.getSettings = function () { return { ...told.call(this), autoGainControl: true }; };",
    );
    browser.go(&format!("http://{}/#{}", served.host, served.code));
    browser.until("document.querySelector('#new')");
    new_job(&mut browser);
    browser.click("#confirm");
    browser.until("document.querySelector('#record')");
    browser.click("[data-opening=exhaust]");
    browser.click("[data-air=pulsed]");
    browser.picture("pulsed-ready-phone");
    browser.ask(
        "window.rhythm = []; new MutationObserver(() => { const beat = document.querySelector('#beat'); const said = beat && !beat.hidden && beat.textContent;\
         if (said && said !== rhythm.at(-1)?.said) rhythm.push({ said, at: performance.now() }); })\
         .observe(document.querySelector('#main'), { subtree: true, childList: true, attributes: true, characterData: true })",
    );
    browser.click("#record");
    browser.until("document.querySelector('#record[data-running]')");
    let moves = "getComputedStyle(document.querySelector('#record')).animationName";
    browser.still(false);
    assert_eq!(browser.ask(moves), "breathe");
    browser.still(true);
    assert_eq!(browser.ask(moves), "none", "no motion where the system asks for none");
    browser.until("document.querySelector('#beat').hasAttribute('data-open')");
    browser.picture("pulsed-open-phone");
    browser.until("!document.querySelector('#beat').hasAttribute('data-open')");
    browser.picture("pulsed-shut-phone");
    assert!(
        browser
            .ask("document.querySelector('#mic').textContent")
            .as_str()
            .is_some_and(|text| text.contains("automatic gain"))
    );
    // It ends by itself, after six times shut and open and what the last may be late.
    let job = until_clips(&mut browser, &served, 1);
    let clip = &job.record().clips[0];
    assert_eq!((clip.subject.air.name(), clip.processing.as_deref()), ("pulsed", Some("gain")));
    assert!((13.0..13.6).contains(&clip.seconds), "{} s", clip.seconds);
    let rhythm = browser.ask("rhythm");
    let rhythm = rhythm.as_array().expect("a list");
    let said: Vec<&str> = rhythm.iter().filter_map(|beat| beat["said"].as_str()).collect();
    assert_eq!(said[..4], ["SHUT", "OPEN", "SHUT", "OPEN"], "{said:?}");
    assert!((12..=14).contains(&said.len()), "{said:?}");
    let at: Vec<f64> = rhythm.iter().filter_map(|beat| beat["at"].as_f64()).collect();
    let mut apart: Vec<f64> = at.windows(2).map(|two| two[1] - two[0]).collect();
    apart.sort_by(f64::total_cmp);
    // Single beats may be late on a busy machine, the typical one is not.
    assert!((900.0..1100.0).contains(&apart[apart.len() / 2]), "a second each: {apart:?} ms");
    assert_eq!(browser.complaints(), [""; 0]);
}

#[test]
fn the_whole_way_goes_by_the_keyboard_alone() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let mut browser = Chromium::start(&path);
    browser.screen(1280, 800, false);
    browser.light("light");
    browser.go(&format!("http://{}/", served.host));
    browser.tab_to("#code");
    browser.type_text(&served.code);
    browser.key("Enter");
    browser.tab_to("input[name=engine]");
    browser.picture("jobs-desktop");
    browser.type_text("Three-cylinder petrol, workboat Gull");
    browser.tab_to("input[name=cylinders]");
    browser.ask("document.activeElement.select?.()");
    browser.type_text("3");
    browser.tab_to("#new button:not([type=button])");
    browser.key("Enter");
    browser.tab_to("#confirm");
    browser.picture("cautions-desktop");
    browser.key(" ");
    browser.tab_to("[data-cylinder='2']");
    browser.key("Enter");
    assert_eq!(browser.ask("document.activeElement.dataset.cylinder"), "2", "the focus stays where it was");
    browser.tab_to("[data-opening=exhaust]");
    browser.picture("keyboard-focus-desktop");
    browser.key(" ");
    assert_eq!(browser.ask("document.activeElement.dataset.opening"), "exhaust");
    browser.tab_to("[data-air=off]");
    browser.key("Enter");
    browser.tab_to("#record");
    browser.key("Enter");
    browser.until("document.querySelector('#record[data-running]')");
    std::thread::sleep(Duration::from_secs(2));
    browser.tab_to("#record");
    browser.key("Enter");
    let job = until_clips(&mut browser, &served, 1);
    assert_eq!(job.record().clips[0].file.as_str(), "c2-exhaust-off-t1.wav");
    browser.tab_to("[data-tab=gauge]");
    browser.key("Enter");
    for key in ["8", "0"] {
        browser.tab_to(&format!("[data-key='{key}']"));
        browser.key("Enter");
    }
    browser.tab_to("[data-field=held]");
    browser.key(" ");
    for key in ["6", "1"] {
        browser.tab_to(&format!("[data-key='{key}']"));
        browser.key(" ");
    }
    browser.tab_to("#keep");
    browser.picture("keyboard-gauge-desktop");
    browser.key("Enter");
    browser.until("document.querySelector('pre + h2 + pre').textContent.includes('24')");
    // What has the focus is on the screen: the page scrolls to it once it is drawn anew, which a busy machine does late.
    browser.until("(() => { const box = document.activeElement.getBoundingClientRect(); return box.bottom <= innerHeight && box.top >= 0; })()");
    assert_eq!(browser.complaints(), [""; 0]);
}

#[test]
fn the_customer_looks_on_and_changes_nothing() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let client = served.paired();
    let name = job(&client);
    send_demo(&client, &name, 2);
    let link = client.post(&format!("/api/jobs/{name}/customer-link"), &serde_json::json!({})).ok()["link"]
        .as_str()
        .expect("a link")
        .to_owned();
    let mut browser = Chromium::start(&path);
    browser.screen(390, 844, true);
    browser.light("light");
    browser.go(&link);
    browser.until("document.querySelector('.note')?.textContent.includes('View only')");
    assert!(
        browser.ask("location.href").as_str().is_some_and(|address| !address.contains("view=")),
        "the secret leaves the address"
    );
    // The result is there at once; what a customer cannot do is not shown.
    browser.click("[data-cylinder='2']");
    browser.until("document.querySelector('.answer[data-call]')");
    assert_eq!(browser.ask("document.querySelector('[data-tab=result]').ariaCurrent"), "true");
    let dead = "document.querySelectorAll('#record, #keep, #undo, [data-tab=listen], [data-tab=gauge]').length";
    assert_eq!(browser.ask(dead), 0);
    assert_eq!(browser.ask("[...document.querySelectorAll('main button:disabled')].length"), 0);
    browser.picture("customer-result-phone");
    // A button brought to life by hand helps nobody: the program refuses.
    let tried = browser.ask(&format!(
        "fetch('/api/jobs/{name}/gauge', {{ method: 'POST', headers: {{ 'Content-Type': 'application/json' }}, body: '{{\"cylinder\":2,\"loss\":\"1\"}}' }}).then((answer) => answer.status)"
    ));
    assert_eq!(tried, 403);
    assert!(Job::open(&served.job(&name)).expect("a job").record().gauge.is_empty());
    assert_eq!(browser.complaints(), [""; 0]);
}

/// The page in a browser on a phone, with a job whose cautions are confirmed.
fn at_work(served: &Served, feed: &Path) -> (Chromium, String) {
    let client = served.paired();
    let name = job(&client);
    let code =
        client.post("/api/further-device", &serde_json::json!({})).ok()["code"].as_str().expect("a code").to_owned();
    let mut browser = Chromium::start(feed);
    browser.screen(390, 844, true);
    browser.light("light");
    browser.go(&format!("http://{}/#{code}", served.host));
    browser.click(&format!("[data-job='{name}']"));
    browser.until("document.querySelector('#record')");
    (browser, name)
}

fn type_reading(browser: &mut Chromium, supply: &str, held: &str) {
    browser.click("[data-tab=gauge]");
    browser.click("[data-choice=unit-psi]");
    browser.click("[data-field=supply]");
    // The keyboard's own figures, as a person at a desk presses them.
    for key in supply.chars() {
        browser.key(&key.to_string());
    }
    type_held(browser, held);
}

/// The supply stays from one reading to the next.
fn type_held(browser: &mut Chromium, held: &str) {
    browser.click("[data-field=held]");
    for key in held.chars() {
        browser.key(&key.to_string());
    }
}

#[test]
fn a_clip_that_is_no_good_does_not_count_and_every_step_is_undone() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let (mut browser, name) = at_work(&served, &path);
    let record_of = || Job::open(&served.job(&name)).expect("a job").record().clone();
    record(&mut browser, "exhaust", "on");
    std::thread::sleep(Duration::from_millis(700));
    browser.click("#record");
    browser.until("document.querySelector('.step.bad')");
    browser.picture("unfit-clip-phone");
    let short = record_of();
    assert!(short.clips.len() == 1 && short.clips[0].left_out.is_some(), "{:?}", short.clips);
    record(&mut browser, "exhaust", "on");
    std::thread::sleep(Duration::from_secs(5));
    browser.picture("recording-phone");
    browser.click("#record");
    browser.until("document.querySelector('.step:not(.bad) #undo')");
    assert!(record_of().clips[1].left_out.is_none());
    browser.picture("kept-clip-phone");
    browser.click("#undo");
    browser.until("document.querySelector('.step')?.textContent.includes('Changed')");
    assert!(record_of().clips[1].left_out.is_some());
    browser.click("#undo");
    browser.until("!document.querySelector('.step #undo')");
    assert!(record_of().clips[1].left_out.is_none(), "taken in again");
    // A reading is seen with its loss before it is kept, and taken back.
    type_reading(&mut browser, "100", "39");
    browser.until("document.querySelector('#lost.much')?.textContent.includes('61')");
    browser.picture("gauge-much-phone");
    browser.click("#keep");
    browser.until("document.querySelector('.step #undo')");
    assert_eq!(record_of().gauge.len(), 1);
    browser.click("#undo");
    browser.until("!document.querySelector('.step #undo')");
    assert_eq!(record_of().gauge.len(), 0);
    assert!(record_of().amended.len() >= 3, "what was changed stays to be seen");
    // So is one of the rig: the first goes, the second gives way to the first again.
    browser.click("[data-choice=whom-rig]");
    type_held(&mut browser, "97");
    browser.click("#keep");
    browser.until("document.querySelector('.step #undo')");
    let held = |record: &hissward::job::JobRecord| record.rig.as_ref().map(|rig| rig.value);
    let first = held(&record_of());
    assert!(first.is_some());
    type_held(&mut browser, "90");
    browser.click("#keep");
    browser.until("document.querySelector('.step #undo') && document.querySelector('pre').textContent.includes('10')");
    assert_ne!(held(&record_of()), first);
    browser.click("#undo");
    browser.until("!document.querySelector('.step #undo')");
    assert_eq!(held(&record_of()), first);
    browser.click("[data-choice=whom-cylinder]");
    // The job's own data are put right, and back.
    browser.click("[data-tab=more]");
    browser.fill("#about input[name=customer]", "Harbour yard");
    browser.fill("#about input[name=notes]", "second visit");
    browser.click("#about button:not([type=button])");
    browser.until("document.querySelector('.step #undo')");
    browser.picture("job-details-phone");
    let record = record_of();
    assert_eq!((record.customer.as_deref(), record.notes.as_deref()), (Some("Harbour yard"), Some("second visit")));
    browser.click("#undo");
    browser.until("!document.querySelector('.step #undo')");
    assert_ne!(record_of().customer.as_deref(), Some("Harbour yard"));
    // A clip is put at its right place from the list.
    browser.click("[data-tab=result]");
    browser.ask("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    browser.picture("clips-phone");
    browser.ask("document.querySelectorAll('.mend select[name=opening]')[1].value = 'intake'");
    browser.ask("document.querySelectorAll('.mend form button')[1].click()");
    browser.until("document.querySelector('.step #undo')");
    assert_eq!(record_of().clips[1].subject.opening.name(), "intake");
    browser.click("#undo");
    browser.until("!document.querySelector('.step #undo')");
    assert_eq!(record_of().clips[1].subject.opening.name(), "exhaust");
    assert_eq!(browser.complaints(), [""; 0]);
}

#[test]
fn a_reading_waits_for_the_network_as_a_recording_does() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let (mut browser, name) = at_work(&served, &path);
    type_reading(&mut browser, "80", "61");
    browser.offline(true);
    browser.click("#keep");
    browser.until("document.querySelector('#waiting').textContent.includes('1')");
    browser.until("document.querySelector('#notices [data-topic=offline]')");
    browser.picture("waiting-phone");
    assert!(Job::open(&served.job(&name)).expect("a job").record().gauge.is_empty());
    browser.offline(false);
    browser.until("document.querySelector('#waiting').textContent === ''");
    browser.until("!document.querySelector('#notices [data-topic=offline]')");
    assert_eq!(Job::open(&served.job(&name)).expect("a job").record().gauge.len(), 1);
    assert_eq!(browser.complaints(), [""; 0]);
}

#[test]
fn a_whole_cylinder_is_recorded_without_a_touch() {
    let _alone = alone();
    let folder = tempfile::tempdir().expect("a folder");
    let (path, _) = feed(folder.path());
    let served = Served::start();
    let (mut browser, name) = at_work(&served, &path);
    browser.click("#round");
    browser.until("document.querySelector('#left').textContent.includes('begins')");
    browser.picture("round-moving-phone");
    browser.until("document.querySelector('#left').textContent.includes('left')");
    browser.picture("round-recording-phone");
    let clips = || Job::open(&served.job(&name)).expect("a job").record().clips.clone();
    until_clips(&mut browser, &served, 1);
    // It goes on to the next by itself.
    browser.until("document.querySelector('#left').textContent.includes('begins')");
    browser.until("document.querySelector('#record[data-running]')");
    std::thread::sleep(Duration::from_secs(2));
    browser.click("#record");
    browser.until("!document.body.hasAttribute('data-recording')");
    let two = until_clips(&mut browser, &served, 2);
    let places: Vec<(&str, &str)> =
        two.record().clips.iter().map(|clip| (clip.subject.opening.name(), clip.subject.air.name())).collect();
    assert_ne!(places[0], places[1], "{places:?}");
    assert!((9.9..10.6).contains(&clips()[0].seconds), "{} s", clips()[0].seconds);
    assert_eq!(browser.complaints(), [""; 0]);
}
