//! The main job as a person calls it: loose clips on the command line, from real recordings and from bad files.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;
use hissward::audio::{ChannelChoice, read_clip};
use hissward::spectrum::{Average, BandWeights, ThirdOctave, welch};
use serde_json::Value;

const RATE: u32 = 48_000;
const SIX_SECONDS: usize = 6 * RATE as usize;

fn recording(name: &str) -> Vec<f32> {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/recordings").join(format!("{name}.flac"));
    read_clip(&file, ChannelChoice::First).expect("a recording").0.samples().to_vec()
}

/// Six seconds from a place on, going round at the end.
fn stretch(samples: &[f32], from: usize) -> Vec<f32> {
    samples.iter().cycle().skip(from % samples.len()).take(SIX_SECONDS).copied().collect()
}

/// Mean power from 1 to 16 kHz: the third-octave bands of the hiss level.
fn band_power(samples: &[f32]) -> f64 {
    let spectrum = welch(samples, f64::from(RATE), 2048, Average::Mean).expect("a spectrum");
    let density: Vec<f32> = spectrum.density.iter().map(|d| (d * spectrum.bin_hz) as f32).collect();
    let bands = BandWeights::new(ThirdOctave(0).lower(), ThirdOctave(12).upper(), spectrum.bin_hz, density.len());
    f64::from(bands.power(&density))
}

fn mixed(noise: &[f32], hiss: &[f32], hiss_to_noise_db: f64) -> Vec<f32> {
    let factor = (band_power(noise) / band_power(hiss) * 10f64.powf(hiss_to_noise_db / 10.0)).sqrt() as f32;
    noise.iter().zip(hiss).map(|(n, h)| n + factor * h).collect()
}

fn write(file: &Path, samples: &[f32], rate: u32) {
    let spec =
        hound::WavSpec { channels: 1, sample_rate: rate, bits_per_sample: 16, sample_format: hound::SampleFormat::Int };
    let mut wav = hound::WavWriter::create(file, spec).expect("a file");
    for sample in samples {
        wav.write_sample((sample * 0.25 * 32_767.0).round().clamp(-32_768.0, 32_767.0) as i16).expect("room");
    }
    wav.finalize().expect("a whole file");
}

fn hissward() -> Command {
    let mut command = Command::cargo_bin("hissward").expect("the program");
    command.env("NO_COLOR", "1");
    command
}

const OPENINGS: [&str; 3] = ["intake", "exhaust", "oil-filler"];

/// Quiet and air clips of three openings in a real noise; one of them hisses, the others hear its spill 15 dB under it.
fn job_of(folder: &Path, noise: &str, hiss: &str, leak: Option<usize>, hiss_to_noise_db: f64) -> Vec<String> {
    let (noise, hiss) = (recording(noise), recording(hiss));
    let mut words = Vec::new();
    for (at, opening) in OPENINGS.iter().enumerate() {
        let (off, on) = (folder.join(format!("{opening}-off.wav")), folder.join(format!("{opening}-on.wav")));
        write(&off, &stretch(&noise, 31_000 * at), RATE);
        let quiet = stretch(&noise, 31_000 * at + 150_000);
        let air = match leak {
            None => quiet,
            Some(place) if place == at => mixed(&quiet, &stretch(&hiss, 5_000 * at), hiss_to_noise_db),
            Some(_) => mixed(&quiet, &stretch(&hiss, 5_000 * at), hiss_to_noise_db - 15.0),
        };
        write(&on, &air, RATE);
        words.extend(["--off".to_owned(), format!("{opening}={}", off.display())]);
        words.extend(["--on".to_owned(), format!("{opening}={}", on.display())]);
    }
    words
}

fn ranked(words: &[String]) -> Value {
    let run = hissward().arg("rank").args(words).arg("--json").assert();
    let output = run.get_output();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{output:?}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// Real noises and a real escaping gas (CC0, see fixtures/MANIFEST.toml), mixed at +5 dB.
#[test]
fn a_real_hiss_in_real_noise_is_located_rightly() {
    let mut located = 0;
    let noises = ["restaurant-crowd", "furnace", "pumpjack", "saw-ripcut", "guitar", "truck-start"];
    for (turn, noise) in noises.iter().enumerate() {
        let folder = tempfile::tempdir().expect("a folder");
        let leak = turn % 3;
        let all = ranked(&job_of(folder.path(), noise, "nitro-gas", Some(leak), 5.0));
        let result = &all["results"][0];
        let first = &result["openings"][0];
        assert_eq!(first["opening"], OPENINGS[leak], "{noise}: {result:#}");
        if result["call"] == "located" {
            located += 1;
            assert_eq!(result["answer_set"][0], OPENINGS[leak], "{noise}");
        }
    }
    assert!(located >= 5, "located in {located} of {} noises", noises.len());
}

#[test]
fn a_tight_engine_in_real_noise_is_not_located() {
    for noise in ["restaurant-crowd", "furnace", "pumpjack", "saw-ripcut", "guitar", "truck-start"] {
        let folder = tempfile::tempdir().expect("a folder");
        let all = ranked(&job_of(folder.path(), noise, "nitro-gas", None, 0.0));
        let call = all["results"][0]["call"].as_str().expect("a call").to_owned();
        assert!(call == "none-heard" || call == "cannot-tell", "{noise}: {call}");
    }
}

struct Clips {
    _folder: tempfile::TempDir,
    off: PathBuf,
    on: PathBuf,
    bad: PathBuf,
}

fn clips(bad: &str) -> Clips {
    let folder = tempfile::tempdir().expect("a folder");
    let noise = recording("furnace");
    let (off, on) = (folder.path().join("off.wav"), folder.path().join("on.wav"));
    write(&off, &stretch(&noise, 0), RATE);
    write(&on, &stretch(&noise, 150_000), RATE);
    Clips { bad: folder.path().join(bad), off, on, _folder: folder }
}

fn rank_with(clips: &Clips, on: &Path) -> (i32, Value, String) {
    let run = hissward()
        .arg("rank")
        .arg("--off")
        .arg(&clips.off)
        .args([
            "--on",
            &format!("intake={}", clips.on.display()),
            "--on",
            &format!("exhaust={}", on.display()),
            "--json",
        ])
        .assert();
    let output = run.get_output();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(!said.contains("panicked"), "{said}");
    (output.status.code().expect("an exit code"), serde_json::from_slice(&output.stdout).unwrap_or(Value::Null), said)
}

/// Fails with exit 2 and says the file's name and `advice`.
fn refused(clips: &Clips, advice: &str) {
    let (code, _, said) = rank_with(clips, &clips.bad);
    assert_eq!(code, 2, "{said}");
    let name = clips.bad.file_name().expect("a name").to_string_lossy().into_owned();
    assert!(said.contains(&name) && said.contains(advice), "'{advice}' and the name are not in: {said}");
}

#[test]
fn files_that_cannot_be_are_refused_by_name_with_advice() {
    refused(&clips("missing.wav"), "check");
    let empty = clips("empty.wav");
    fs::write(&empty.bad, b"").expect("room");
    refused(&empty, "again");
    let text = clips("text.wav");
    fs::write(&text.bad, "These are words, not sound.\n".repeat(40)).expect("room");
    refused(&text, "text file");
    let short = clips("short.wav");
    write(&short.bad, &recording("furnace")[..RATE as usize / 5], RATE);
    refused(&short, "six seconds");
    let nan = clips("nan.wav");
    let spec = hound::WavSpec {
        channels: 1,
        sample_rate: RATE,
        bits_per_sample: 32,
        sample_format: hound::SampleFormat::Float,
    };
    let mut wav = hound::WavWriter::create(&nan.bad, spec).expect("a file");
    (0..SIX_SECONDS).for_each(|n| wav.write_sample(if n == 9_000 { f32::NAN } else { 0.01 }).expect("room"));
    wav.finalize().expect("a whole file");
    refused(&nan, "not a number");
}

/// The codes of all caveats of a ranking.
fn codes(all: &Value) -> Vec<String> {
    let result = &all["results"][0];
    let own =
        result["openings"].as_array().into_iter().flatten().flat_map(|o| o["caveats"].as_array().into_iter().flatten());
    let whole = result["caveats"].as_array().into_iter().flatten();
    own.chain(whole).filter_map(|c| c["code"].as_str().map(str::to_owned)).collect()
}

#[test]
fn files_that_may_be_doubted_are_ranked_with_a_caveat() {
    let silent = clips("silent.wav");
    write(&silent.bad, &vec![0.0; SIX_SECONDS], RATE);
    let clipped = clips("clipped.wav");
    write(&clipped.bad, &stretch(&recording("furnace"), 0).iter().map(|x| x * 400.0).collect::<Vec<_>>(), RATE);
    let rates = clips("other-rate.wav");
    write(&rates.bad, &stretch(&recording("furnace"), 150_000), 44_100);
    let same = clips("same.wav");
    fs::copy(&same.off, &same.bad).expect("room");
    let cut = clips("cut-off.wav");
    let whole = fs::read(&cut.on).expect("a file");
    fs::write(&cut.bad, &whole[..whole.len() * 3 / 4]).expect("room");
    for (clips, code) in [
        (silent, "silent"),
        (clipped, "clipped"),
        (rates, "different-rates"),
        (same, "same-recording"),
        (cut, "cut-off-file"),
    ] {
        let (exit, all, said) = rank_with(&clips, &clips.bad);
        assert!(exit == 0 || exit == 1, "{code}: exit {exit}: {said}");
        assert!(codes(&all).iter().any(|found| found == code), "{code} is not among {:?}", codes(&all));
        assert_ne!(all["results"][0]["call"], "located", "{code}");
    }
}

#[test]
fn a_path_with_blanks_and_umlauts_is_a_path() {
    let clips = clips("Öleinfüll öffnung an.wav");
    fs::copy(&clips.on, &clips.bad).expect("room");
    let (exit, _, said) = rank_with(&clips, &clips.bad);
    assert!(exit == 0 || exit == 1, "{said}");
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = job_of(folder.path(), "furnace", "nitro-gas", Some(1), 0.0);
    let bytes = || hissward().arg("rank").args(&words).arg("--json").assert().get_output().stdout.clone();
    assert_eq!(bytes(), bytes());
}

#[test]
fn the_picture_is_written_whole_or_not_at_all() {
    let folder = tempfile::tempdir().expect("a folder");
    let words = job_of(folder.path(), "furnace", "nitro-gas", Some(1), 10.0);
    for (name, beginning) in [("picture.png", &b"\x89PNG"[..]), ("picture.svg", b"<?xml")] {
        let file = folder.path().join(name);
        hissward().arg("rank").args(&words).arg("--plot").arg(&file).assert().success();
        let bytes = fs::read(&file).expect("a picture");
        assert!(bytes.starts_with(beginning) || bytes.starts_with(b"<svg"), "{name}");
    }
    let nowhere = folder.path().join("no/such/folder/picture.png");
    hissward().arg("rank").args(&words).arg("--plot").arg(&nowhere).assert().code(2);
}

#[test]
fn air_clips_without_a_quiet_one_are_refused_with_advice() {
    let clips = clips("none.wav");
    let run = hissward().args(["rank", "--on", &format!("intake={}", clips.on.display())]).assert().code(2);
    assert!(String::from_utf8_lossy(&run.get_output().stderr).contains("--off"));
}

/// The words of a text, in order.
fn without_figures(text: &str) -> Vec<&str> {
    text.split(|sign: char| !sign.is_alphabetic()).filter(|word| !word.is_empty()).collect()
}

#[test]
fn a_cylinder_is_held_beside_the_others_whichever_is_asked_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let demo = hissward().arg("demo").current_dir(&folder).output().expect("runs");
    assert_eq!(demo.status.code(), Some(0), "{}", String::from_utf8_lossy(&demo.stderr));
    let rank = |more: &[&str]| {
        let done = hissward().args(["rank", "hissward-demo"]).args(more).current_dir(&folder).output().expect("runs");
        String::from_utf8(done.stdout).expect("UTF-8")
    };
    let all: Value = serde_json::from_str(&rank(&["--json"])).expect("JSON");
    let alone: Value = serde_json::from_str(&rank(&["--cylinder", "2", "--json"])).expect("JSON");
    assert_eq!(all["results"][1]["cylinder"], 2);
    assert_eq!(alone["results"].as_array().map(Vec::len), Some(1));
    assert_eq!(alone["results"][0], all["results"][1], "to the last digit");
    let text = rank(&["--cylinder", "2"]);
    // Cylinder 2's rings leak: oil filler rises by 11.6 dB, by 0.9 and 0.3 dB elsewhere, and by about 0 at the others.
    let line =
        text.lines().find(|line| line.contains("Compared with the other cylinders, oil filler stands out by +7"));
    assert!(line.is_some(), "{text}");
    // The README shows this very text. Figures may move with the ranking; a stale wording may not stay.
    let readme = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md")).expect("the README");
    let shown = readme.split("```\n").find(|block| block.starts_with("Cylinder 2:")).expect("the demo's answer");
    let demo = String::from_utf8(demo.stdout).expect("UTF-8");
    let printed = &demo[demo.find("Cylinder 2:").expect("printed")..demo.find("Cylinder 3:").expect("printed")];
    assert_eq!(without_figures(shown), without_figures(printed), "README.md shows what the demo prints");
    let report = fs::read_to_string(folder.path().join("hissward-demo/results/report.html")).expect("a report");
    assert!(
        report.contains("Compared with the other cylinders, oil filler stands out by +7"),
        "it stands in the report, too"
    );
}
