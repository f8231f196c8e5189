//! Every kept input of the fuzz targets once through its reader: bytes from outside that once broke a promise, or show
//! a way through the code; then a short run of such inputs with something wrong with them. `make fuzz` looks for more.

#[path = "../../fuzz/readers/mod.rs"]
mod readers;

mod mutant;

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// Mutants for each reader: the same ones every time, so that who breaks a promise hears of it at once.
const MUTANTS: u64 = 300;
/// The longest that one input may take here; the slowest is a hundred times quicker.
const LONGEST: Duration = Duration::from_secs(20);
/// All corpora together, bytes.
const LARGEST: u64 = 2_000_000;
/// The most memory that any input may make the program take, KiB.
#[cfg(target_os = "linux")]
const MOST_MEMORY_KIB: u64 = 600 * 1024;

fn corpora() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus")
}

fn inputs(target: &str) -> Vec<PathBuf> {
    let listing = fs::read_dir(corpora().join(target)).unwrap_or_else(|error| panic!("{target}: {error}"));
    let mut inputs: Vec<PathBuf> = listing.map(|entry| entry.expect("an entry").path()).collect();
    inputs.sort();
    inputs
}

#[test]
fn every_kept_input_keeps_every_promise() {
    for (target, reader) in readers::READERS {
        let scratch = tempfile::tempdir().expect("a folder");
        let inputs = inputs(target);
        assert!(inputs.len() >= 3, "{target} has {} inputs", inputs.len());
        for input in inputs {
            let bytes = fs::read(&input).expect("it can be read");
            holds(reader, &bytes, scratch.path(), &input);
        }
    }
    memory_is_bounded();
}

/// What breaks a promise is left as a file, to be kept with the others once it is mended.
#[test]
fn kept_inputs_with_something_wrong_keep_every_promise() {
    for (target, reader) in readers::READERS {
        let scratch = tempfile::tempdir().expect("a folder");
        let kept: Vec<Vec<u8>> = inputs(target).iter().map(|input| fs::read(input).expect("it can be read")).collect();
        // Each runs the program several times: a tenth of them is enough every day.
        let mutants = if ["command_lines", "page_requests"].contains(&target) { MUTANTS / 10 } else { MUTANTS };
        for seed in 0..mutants {
            let bytes = mutant::mutant(&kept, &mut ChaCha8Rng::seed_from_u64(seed));
            let left = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("mutant-{target}-{seed}"));
            fs::write(&left, &bytes).expect("it can be written");
            holds(reader, &bytes, scratch.path(), &left);
            fs::remove_file(&left).expect("it can be removed");
        }
    }
    memory_is_bounded();
}

fn holds(reader: readers::Reader, bytes: &[u8], scratch: &Path, input: &Path) {
    let begun = Instant::now();
    let done = std::panic::catch_unwind(|| reader(bytes, scratch));
    assert!(done.is_ok(), "{} breaks a promise: see above", input.display());
    assert!(begun.elapsed() < LONGEST, "{}: {:?}", input.display(), begun.elapsed());
}

fn memory_is_bounded() {
    #[cfg(target_os = "linux")]
    {
        let status = fs::read_to_string("/proc/self/status").expect("Linux tells");
        let peak = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).expect("the peak");
        let peak: u64 = peak.trim().trim_end_matches(" kB").parse().expect("a number");
        assert!(peak < MOST_MEMORY_KIB, "{peak} KiB at the most");
    }
}

#[test]
fn the_corpora_are_small_and_each_has_its_target() {
    let names: Vec<&str> = readers::READERS.iter().map(|(name, _)| *name).collect();
    let mut bytes = 0;
    for entry in fs::read_dir(corpora()).expect("there are corpora") {
        let name = entry.expect("an entry").file_name().into_string().expect("UTF-8");
        assert!(names.contains(&name.as_str()), "{name} has no reader");
        bytes += inputs(&name).iter().map(|input| input.metadata().expect("it is there").len()).sum::<u64>();
    }
    assert!(bytes < LARGEST, "{bytes} bytes");
    let manifest = fs::read_to_string(corpora().with_file_name("Cargo.toml")).expect("fuzz/Cargo.toml");
    for name in names {
        assert!(manifest.contains(&format!("path = \"targets/{name}.rs\"")), "{name} has no target");
        assert!(corpora().with_file_name("targets").join(format!("{name}.rs")).exists(), "{name} has no target");
    }
}
