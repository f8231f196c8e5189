//! The command, its job folder, and the demo folder.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use hissward::job::{FileState, GaugeValue, Job};
use hissward::simulate::DEMO_CYLINDERS;

fn hissward(arguments: &[&str], folder: &Path) -> assert_cmd::assert::Assert {
    Command::cargo_bin("hissward").expect("the program").args(arguments).current_dir(folder).assert()
}

#[test]
fn the_demo_folder_is_what_its_seed_makes() {
    let folder = tempfile::tempdir().expect("a folder");
    hissward(&["simulate", "--demo", "--out", "made"], folder.path()).success();
    let kept = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("demo-audio");
    let names = |path: &Path| -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(path)
            .expect("a folder")
            .map(|entry| entry.expect("an entry").file_name().into_string().expect("a plain name"))
            .collect();
        names.sort();
        names
    };
    let made = folder.path().join("made");
    assert_eq!(names(&made), names(&kept));
    let mut bytes = 0;
    for name in names(&kept) {
        let [made, kept] = [&made, &kept].map(|path| fs::read(path.join(&name)).expect("a file"));
        assert!(made == kept, "demo-audio/{name} is not what the seed makes");
        bytes += kept.len();
    }
    assert!(bytes < 15_000_000, "{bytes} bytes");
    assert_eq!(names(&kept).iter().filter(|name| name.ends_with(".wav")).count(), 6 * DEMO_CYLINDERS.len());
}

#[test]
fn the_command_prints_the_truth_it_built_in() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = "simulate --out boot-ü --cylinders 2 --seconds 0.5 --leak 2:intake:-5dB --seed 4 --json";
    let arguments: Vec<&str> = words.split(' ').collect();
    let output = hissward(&arguments, folder.path()).success().get_output().stdout.clone();
    let truth: serde_json::Value = serde_json::from_slice(&output).expect("JSON");
    assert_eq!(truth["seed"], 4);
    assert_eq!(truth["cylinders"][0]["leaks"].as_array().map(Vec::len), Some(0));
    let leak = &truth["cylinders"][1]["leaks"][0];
    assert_eq!((leak["opening"].as_str(), leak["path"].as_str()), (Some("intake"), Some("intake-valve")));
    assert_eq!((leak["hiss_db"].as_f64(), leak["hiss_to_noise_db"].as_f64()), (Some(-47.0), Some(-5.0)));
    let kept = fs::read(folder.path().join("boot-ü/truth.json")).expect("truth.json");
    assert_eq!(kept, output);
    for clip in truth["cylinders"][1]["clips"].as_array().expect("clips") {
        let file = folder.path().join("boot-ü/clips").join(clip["file"].as_str().expect("a name"));
        assert_eq!(hound::WavReader::open(file).expect("a WAV").duration(), 24_000);
    }
}

#[test]
fn the_command_refuses_and_leaves_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::create_dir(folder.path().join("full")).expect("a folder");
    fs::write(folder.path().join("full/mine.txt"), "mine").expect("a file");
    for words in [
        "simulate --out full --seconds 0.2",
        "simulate --out new --leak 4:intake:0",
        "simulate --out new --leak 1:rig:0",
        "simulate --out new --leak 1:intake:loud",
        "simulate --out new --noise trumpet",
        "simulate --out new --seconds 0",
        "simulate --out new --noise-file nowhere.wav",
        "simulate --out new --gauge 4:30%",
        "simulate --out new --rig 100psi:150psi",
    ] {
        let arguments: Vec<&str> = words.split(' ').collect();
        hissward(&arguments, folder.path()).code(2);
    }
    let left: Vec<_> = fs::read_dir(folder.path()).expect("a folder").collect();
    assert_eq!(left.len(), 1, "nothing half-written is left behind");
}

#[test]
fn a_simulated_job_is_a_job() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = "simulate --out hafen --cylinders 2 --seconds 0.5 --far --leak 2:intake:3dB --rig 100psi:97psi \
                 --gauge 1:100psi:92psi --gauge 2:30% --noise fan --quiet";
    let arguments: Vec<&str> = words.split_whitespace().collect();
    hissward(&arguments, folder.path()).success();
    let job = Job::open(&folder.path().join("hafen")).expect("a job");
    let record = job.record();
    assert_eq!(record.cylinders_heard(), [1, 2]);
    assert_eq!(record.latest_gauge(2).expect("a reading").value, GaugeValue::Loss { percent: 30.0, supply_kpa: None });
    assert!(record.rig.is_some());
    assert_eq!(record.clips.len(), 12);
    for (place, clip) in record.clips.iter().enumerate() {
        assert_eq!((clip.channels, clip.channel, clip.far_channel), (2, 1, Some(2)));
        assert_eq!(clip.visit, Some(place as u32 + 1));
    }
    assert!(job.verify_clips().iter().all(|file| matches!(file.verdict, FileState::Intact)));
}

#[test]
fn recordings_serve_as_noise_at_their_own_rate() {
    let folder = tempfile::tempdir().expect("a folder");
    let recordings = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fixtures");
    let file = |name: &str| recordings.join(name).display().to_string();
    let (crowd, saw) = (file("recordings/restaurant-crowd.flac"), file("recordings/saw-ripcut.flac"));
    let arguments = ["simulate", "--out", "crowd", "--cylinders", "1", "--seconds", "1", "--noise-file", &crowd];
    let arguments = [&arguments[..], &["--noise-file", &saw, "--noise", "fan", "--json"]].concat();
    let output = hissward(&arguments, folder.path()).success().get_output().stdout.clone();
    let truth: serde_json::Value = serde_json::from_slice(&output).expect("JSON");
    assert_eq!(truth["noise"], serde_json::json!(["fan", crowd, saw]));
    // 8 kHz telephone sound: the clips take its rate, or nothing is heard from 1 to 16 kHz and that is said.
    let narrow = file("audio/muffled.wav");
    let words = ["simulate", "--out", "two-rates", "--noise-file", &crowd, "--noise-file", &narrow];
    let told = hissward(&words, folder.path());
    let rates_agree = hound::WavReader::open(&narrow).expect("a WAV").spec().sample_rate == 48_000;
    if rates_agree {
        told.success()
    } else {
        told.code(2)
    };
}
