//! Whole commands as somebody in the shop waits for them, and the program's size.

use std::fs;
use std::path::Path;

use super::Failure;
use super::child::{PROGRAM, program, repeated, run};
use super::material::yard;
use super::stopwatch::Spread;
use super::table::{Figure, Limit, section};

/// The section.
pub fn measure(folder: &Path, rounds: usize) -> Result<String, Failure> {
    let demo = folder.join("demo");
    let demo_name = demo.display().to_string();
    let whole_demo = run(&mut program(["demo", "--out", &demo_name]))?;
    let report = repeated(rounds, || program(["report", &demo_name]))?;
    let yard = yard(folder, &demo)?.display().to_string();
    let history = repeated(rounds.min(5), || program(["history", &yard]))?;
    let version = repeated(4 * rounds, || program(["--version"]))?;
    let megabytes = fs::metadata(PROGRAM)?.len() as f64 / 1e6;
    let once = |value: f64| Spread::of(vec![value]);
    let figures = [
        Figure::new(
            "`report` of the demo job (18 clips; HTML with sound, PDF)",
            report.wall_s,
            "s",
            Limit::AtMost(0.7),
        )
        .peak(report.peak_mib),
        Figure::new("`history` over 2,000 jobs, warm", history.wall_s, "s", Limit::AtMost(3.0)).peak(history.peak_mib),
        Figure::new("`demo`, from nothing to the report", once(whole_demo.wall_s), "s", Limit::None)
            .peak(whole_demo.peak_mib),
        Figure::new("`--version`", version.wall_s.times(1e3), "ms", Limit::AtMost(10.0)).peak(version.peak_mib),
        Figure::new("the program's file, stripped", once(megabytes), "MB", Limit::AtMost(15.0)),
    ];
    Ok(section("commands", "", &figures))
}
