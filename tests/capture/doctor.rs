//! `hissward doctor`: a recorder judged by what it made of the noise, and what is said of the computer.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use hissward::meter::STEADY_NOISE;

/// A recording of the trial's noise, begun 0.4 s before it, with this gain over time.
fn recording(path: &Path, gain_db: impl Fn(f64) -> f64) {
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: 48_000,
        bits_per_sample: 16,
        sample_format: hound::SampleFormat::Int,
    };
    let mut wav = hound::WavWriter::create(path, spec).expect("a file");
    let mut state = 1_u32;
    for at in 0..(13.0 * 48_000.0) as usize {
        let t = at as f64 / 48_000.0 - 0.4;
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let even = f64::from(state) / f64::from(u32::MAX) * 2.0 - 1.0;
        let mut begin = 0.0;
        let mut share = 0.0;
        for (length, under) in STEADY_NOISE {
            if (begin..begin + length.0).contains(&t) {
                share = under.map_or(0.0, |under| under.ratio().sqrt());
            }
            begin += length.0;
        }
        let sample = (0.2 * share + 0.000_5) * 10_f64.powf(gain_db(t) / 20.0) * even;
        wav.write_sample((sample * 32_767.0) as i16).expect("a sample");
    }
    wav.finalize().expect("whole");
}

fn doctor(folder: &Path, arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_hissward"));
    command.current_dir(folder).env("XDG_CONFIG_HOME", folder.join("config")).arg("doctor").args(arguments);
    command.output().expect("it runs")
}

fn json(output: &Output) -> serde_json::Value {
    serde_json::from_slice(&output.stdout)
        .unwrap_or_else(|error| panic!("{error}: {}", String::from_utf8_lossy(&output.stderr)))
}

#[test]
fn a_phone_that_fades_steady_sound_is_found_out_and_remembered() {
    let folder = tempfile::tempdir().expect("a folder");
    recording(&folder.path().join("fair.wav"), |_| 0.0);
    recording(&folder.path().join("fading.wav"), |t| -(6.0 * (t - 2.0)).clamp(0.0, 14.0));
    let tried = |file: &str, device: &str| {
        doctor(folder.path(), &["--try-recorder", "--from", file, "--device", device, "--json"])
    };
    let fair = tried("fair.wav", "good phone");
    assert_eq!(fair.status.code(), Some(0), "{}", String::from_utf8_lossy(&fair.stderr));
    let fair = json(&fair);
    assert_eq!((&fair["fit"], &fair["recorder"]["faults"]), (&true.into(), &serde_json::json!([])));
    // 12 dB louder was played.
    let rose = fair["recorder"]["rose_db"].as_f64().expect("a number");
    assert!((rose - 12.0).abs() < 0.5, "{rose}");
    let fading = tried("fading.wav", "bad phone");
    assert_eq!(fading.status.code(), Some(1));
    let fading = json(&fading);
    assert_eq!(fading["recorder"]["faults"], serde_json::json!(["fades"]));
    assert!(fading["checks"][0]["remedy"].as_str().is_some_and(|remedy| remedy.contains("suppression")), "{fading}");
    let kept = fs::read_to_string(folder.path().join("config/hissward/recorder-trials.toml")).expect("kept");
    assert!(kept.contains("[\"bad phone\"]") && kept.contains("faults = [\"fades\"]"), "{kept}");
    // A recording of something else is no trial.
    let missing = doctor(folder.path(), &["--try-recorder", "--from", "none.wav", "--device", "x"]);
    assert_eq!(missing.status.code(), Some(2));
}

#[test]
fn the_computer_is_looked_at_and_everything_unfit_has_a_remedy() {
    let folder = tempfile::tempdir().expect("a folder");
    let output = doctor(folder.path(), &["--json"]);
    assert!(matches!(output.status.code(), Some(0 | 1)), "{}", String::from_utf8_lossy(&output.stderr));
    let told = json(&output);
    let checks = told["checks"].as_array().expect("checks");
    for wanted in ["microphone", "browser", "network", "disk", "clock"] {
        assert!(checks.iter().any(|check| check["check"] == wanted), "{wanted}: {told}");
    }
    let bad = checks.iter().any(|check| check["state"] == "bad");
    assert_eq!(told["fit"], !bad);
    for check in checks {
        assert_eq!(check["remedy"].is_null(), check["state"] == "fine", "{check}");
        let said = format!("{}{}", check["found"], check["remedy"]);
        assert!(!said.contains("[doctor") && !said.contains("{$"), "{check}");
    }
}
