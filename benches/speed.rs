//! `cargo bench --bench speed -- [PART …] [--rounds N]`
//!
//! How fast the program is: every figure beside its limit, as Markdown tables. Parts: rank, reference, import, commands, live
//! (without any, all). `make bench` runs it, on a machine that does nothing else.

#![expect(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "it is a program: the tables go to stdout, progress to stderr"
)]

#[path = "speed/mod.rs"]
mod harness;

use std::fs;
use std::path::Path;

use harness::material::Six;
use harness::{Failure, child, commands, imports, ranking, reference};

const PARTS: [&str; 5] = ["rank", "reference", "import", "commands", "live"];
/// Counted rounds of everything.
const ROUNDS: usize = 15;

fn main() -> Result<(), Failure> {
    let (mut parts, mut rounds) = (Vec::new(), ROUNDS);
    let mut words = std::env::args().skip(1).peekable();
    if words.next_if(|word| word == child::LAUNCH).is_some() {
        println!("{}", child::launch(words)?);
        return Ok(());
    }
    // What is measured in this process is measured by its thread's time: all of it has to run there.
    rayon::ThreadPoolBuilder::new().num_threads(1).use_current_thread().build_global()?;
    while let Some(word) = words.next() {
        match word.as_str() {
            "--rounds" => rounds = words.next().ok_or("--rounds needs a number")?.parse()?,
            // cargo's own word for a bench.
            "--bench" => {}
            part if PARTS.contains(&part) => parts.push(part.to_owned()),
            other => return Err(format!("{other}: there is {}", PARTS.join(", ")).into()),
        }
    }
    let wanted = |part: &str| parts.is_empty() || parts.iter().any(|word| word == part);
    let folder = tempfile::tempdir()?;
    let six = Six::simulated(folder.path())?;
    let mut text = String::new();
    let mut tell = |part: &str, told: &dyn Fn() -> Result<String, Failure>| -> Result<(), Failure> {
        if wanted(part) {
            eprintln!("{part} …");
            let told = told()?;
            println!("{told}");
            text += &told;
            text += "\n";
        }
        Ok(())
    };
    tell("rank", &|| ranking::measure(folder.path(), &six, rounds))?;
    tell("reference", &|| reference::measure(&six, rounds))?;
    tell("import", &|| imports::measure(folder.path(), rounds))?;
    tell("commands", &|| commands::measure(folder.path(), rounds))?;
    #[cfg(target_os = "linux")]
    tell("live", &harness::live::measure)?;
    let out = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/speed");
    fs::create_dir_all(&out)?;
    fs::write(out.join("speed.md"), text)?;
    Ok(())
}
