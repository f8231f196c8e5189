//! The same ranking in Python with numpy and scipy (`benches/reference/rank.py`): the same numbers, and how much faster.

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use hissward::hiss::Floor;
use serde_json::Value;

use super::Failure;
use super::child::{Runs, program, run};
use super::material::{OPENINGS, Six};
use super::stopwatch::{paired, processor_seconds};
use super::table::{Figure, Limit, section};

/// How far the numbers may be apart: spectra are of single precision, and what follows from them is told to 0.01 dB.
const FLOOR_DB: f64 = 1e-3;
const PROBABILITY: f64 = 1e-4;
const LEVEL_DB: f64 = 2e-3;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn script(six: &Six) -> Command {
    let mut command = Command::new(python());
    command.arg(root().join("benches/reference/rank.py"));
    for (opening, pair) in OPENINGS.iter().zip(six.files.chunks_exact(2)) {
        command.arg(format!("{opening}={},{}", pair[0].2.display(), pair[1].2.display()));
    }
    command
}

/// The Python that `make bench` sets up.
fn python() -> PathBuf {
    root().join("target/bench-python/bin/python")
}

/// The script, waiting to rank once more; on one thread, as the program's arithmetic is here.
struct Waiting {
    child: Child,
    stdin: ChildStdin,
    stdout: BufReader<ChildStdout>,
}

impl Waiting {
    fn start(six: &Six) -> Result<Self, Failure> {
        let mut command = script(six);
        command.arg("--serve").envs([("OPENBLAS_NUM_THREADS", "1"), ("OMP_NUM_THREADS", "1")]);
        let mut child = command.stdin(Stdio::piped()).stdout(Stdio::piped()).spawn()?;
        let stdin = child.stdin.take().ok_or("no pipe to the script")?;
        let stdout = BufReader::new(child.stdout.take().ok_or("no pipe from the script")?);
        let mut waiting = Self { child, stdin, stdout };
        waiting.line()?;
        Ok(waiting)
    }

    fn line(&mut self) -> Result<String, Failure> {
        let mut line = String::new();
        self.stdout.read_line(&mut line)?;
        Ok(line.trim().to_owned())
    }

    fn seconds(&mut self) -> Result<f64, Failure> {
        writeln!(self.stdin)?;
        Ok(self.line()?.parse()?)
    }

    fn end(mut self) -> Result<(), Failure> {
        drop(self.stdin);
        self.child.wait()?;
        Ok(())
    }
}

/// The largest differences between the program's numbers and the script's: floors, probabilities, bounds of levels.
fn compare(six: &Six) -> Result<(f64, f64, f64), Failure> {
    let output = script(six).stderr(Stdio::inherit()).output()?;
    let theirs: Value = serde_json::from_slice(&output.stdout)?;
    let number = |value: &Value| value.as_f64().ok_or("the script gave something that is no number");
    let (sounds, ranking) = six.ranked()?;
    let (mut floor, mut probability, mut level) = (0.0f64, 0.0f64, 0.0f64);
    for (at, sound) in sounds.iter().enumerate() {
        let ours = Floor::of(sound).ok_or("a clip without a floor")?;
        for (b, db) in ours.level_db.iter().enumerate() {
            floor = floor.max((db - number(&theirs["floors_db"][at / 2][at % 2][b])?).abs());
        }
    }
    for (at, name) in OPENINGS.iter().enumerate() {
        let ours =
            ranking.openings.iter().find(|result| result.opening.name() == *name).ok_or("an opening is missing")?;
        probability = probability.max((ours.probability - number(&theirs["probabilities"][at])?).abs());
        level = level.max((ours.at_most.0 - number(&theirs["at_most_db"][at])?).abs());
    }
    probability = probability
        .max((ranking.tight_probability + ranking.elsewhere_probability - number(&theirs["elsewhere"])?).abs());
    Ok((floor, probability, level))
}

/// The section; an error where the numbers are apart.
pub fn measure(six: &Six, rounds: usize) -> Result<String, Failure> {
    if !python().exists() {
        return Ok("## beside numpy and scipy\n\nnot measured: `make bench` sets up its Python\n".to_owned());
    }
    let (floor, probability, level) = compare(six)?;
    let apart = format!(
        "Largest differences: floors {floor:.1e} dB (allowed {FLOOR_DB}), probabilities {probability:.1e} (allowed \
         {PROBABILITY}), bounds of the hiss level {level:.1e} dB (allowed {LEVEL_DB})."
    );
    // Not a number is apart, too.
    if !(floor <= FLOOR_DB && probability <= PROBABILITY && level <= LEVEL_DB) {
        return Err(format!("the program and benches/reference/rank.py do not agree. {apart}").into());
    }
    let mut waiting = Waiting::start(six)?;
    let arithmetic = paired(
        rounds,
        || waiting.seconds(),
        || {
            let mut failed = None;
            let took = processor_seconds(|| six.ranked().map(drop).map_err(|error| failed = Some(error)));
            failed.map_or(Ok(took), Err)
        },
    )?;
    waiting.end()?;
    let (mut theirs, mut ours) = (Vec::new(), Vec::new());
    let whole = paired(
        rounds,
        || {
            let ran = run(&mut script(six))?;
            theirs.push(ran);
            Ok::<_, Failure>(ran.wall_s)
        },
        || {
            let ran = run(&mut program(six.rank_arguments()))?;
            ours.push(ran);
            Ok(ran.wall_s)
        },
    )?;
    let (theirs, ours) = (Runs::of(&theirs[1..]), Runs::of(&ours[1..]));
    let figures = [
        Figure::new(
            "samples to probabilities and levels, processor time of one thread: script over program",
            arithmetic.ratio,
            "×",
            Limit::AtLeast(8.0),
        ),
        Figure::new("… script", arithmetic.a.times(1e3), "ms", Limit::None),
        Figure::new("… program", arithmetic.b.times(1e3), "ms", Limit::None),
        Figure::new("whole process: script over program", whole.ratio, "×", Limit::AtLeast(20.0)),
        Figure::new("… script", whole.a.times(1e3), "ms", Limit::None).peak(theirs.peak_mib),
        Figure::new("… program", whole.b.times(1e3), "ms", Limit::None).peak(ours.peak_mib),
    ];
    let steps = "The same six clips: short-time spectra, cells of the bands, floors of clips and their parts, contrasts, fits of \
                 every scale, hiss spectrum and level, accounts, levels. The program looks at each clip's fitness (cut-off, \
                 clipping, tones, gain steps) besides, which the script does not.";
    Ok(section("beside numpy and scipy", &format!("{steps} {apart}"), &figures))
}
