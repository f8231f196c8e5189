//! Recording from microphones: a made-up one for every fault, and on Linux real capture through cpal from
//! virtual microphones (ALSA's file device, the same at real pace, PulseAudio).

mod callback;
mod doctor;
#[cfg(target_os = "linux")]
mod virtual_microphone;

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use hissward::audio::{
    self, ChannelChoice, Ended, FakeCard, FakeEnd, FinishedRecording, LevelReport, MicError, Order, SampleKind,
    StreamLoss, StreamShape, WriteError,
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

fn recorded(card: &FakeCard, file: &Path, seconds: f64) -> Result<FinishedRecording, MicError> {
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
    // A report each tenth of a second; on a busy machine more comes at once, and the reports are fewer.
    assert!((4..=25).contains(&reports.len()), "{} reports", reports.len());
    assert!(reports.windows(2).all(|two| two[1].elapsed.0 - two[0].elapsed.0 > 0.0999), "{reports:?}");
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
    assert!(begin.elapsed() < Duration::from_secs(20), "a storm of errors ends it at once: {:?}", begin.elapsed());
    assert!(matches!(&done.ended, Ended::Device(StreamLoss::Failed(said)) if said == "unplugged"), "{:?}", done.ended);
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
        took >= Duration::from_millis(2500) && took < Duration::from_secs(20),
        "2.5 s of silence, 1 s to let go, and what a busy machine takes: {took:?}"
    );
    assert!(matches!(done.ended, Ended::Device(StreamLoss::Silent)) && !done.closed.let_go, "{done:?}");
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
