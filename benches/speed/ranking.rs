//! `rank`, held against the Fourier transforms that it cannot do without.

use std::path::Path;

use realfft::RealFftPlanner;

use super::Failure;
use super::child::{Runs, program, run};
use super::material::{Six, sixty};
use super::stopwatch::{Pair, Spread, paired, processor_seconds};
use super::table::{Figure, Limit, section};

/// Samples in a frame at 48 kHz, and from one to the next.
const FRAME: usize = 2048;
const HOP: usize = FRAME / 2;

/// The bare transforms of clips: each frame put into the input, transformed in place, and forgotten.
struct Transforms {
    plan: std::sync::Arc<dyn realfft::RealToComplex<f32>>,
    input: Vec<f32>,
    output: Vec<realfft::num_complex::Complex<f32>>,
    scratch: Vec<realfft::num_complex::Complex<f32>>,
}

impl Transforms {
    fn new() -> Self {
        let plan = RealFftPlanner::<f32>::new().plan_fft_forward(FRAME);
        Self { input: plan.make_input_vec(), output: plan.make_output_vec(), scratch: plan.make_scratch_vec(), plan }
    }

    /// Processor seconds for all frames of all clips, on this thread.
    fn of(&mut self, clips: &[Vec<f32>]) -> Result<f64, Failure> {
        let mut fault = None;
        let took = processor_seconds(|| {
            for frame in clips.iter().flat_map(|clip| clip.windows(FRAME).step_by(HOP)) {
                self.input.copy_from_slice(frame);
                fault = self.plan.process_with_scratch(&mut self.input, &mut self.output, &mut self.scratch).err();
                std::hint::black_box(&self.output);
            }
        });
        fault.map_or(Ok(took), |fault| Err(fault.into()))
    }
}

/// The section.
pub fn measure(folder: &Path, six: &Six, rounds: usize) -> Result<String, Failure> {
    let mut transforms = Transforms::new();
    let mut runs = Vec::new();
    let whole = paired(
        rounds,
        || {
            let ran = run(&mut program(six.rank_arguments()))?;
            runs.push(ran);
            Ok::<_, Failure>(ran.wall_s)
        },
        || transforms.of(&six.samples),
    )?;
    // The first is the one that was not counted.
    let six_runs = Runs::of(&runs[1..]);
    let cpu: Vec<f64> = runs[1..].iter().map(|ran| ran.cpu_s / whole.b.median).collect();
    let in_process: Pair = paired(
        rounds,
        || {
            let mut failed = None;
            let took = processor_seconds(|| six.ranked().map(drop).map_err(|error| failed = Some(error)));
            failed.map_or(Ok(took), Err)
        },
        || transforms.of(&six.samples),
    )?;
    let job = sixty(folder)?.display().to_string();
    let sixty = super::child::repeated(rounds, || program(["rank", &job, "--json"]))?;
    let figures = [
        Figure::new("six clips of 6 s: whole process over bare transforms", whole.ratio, "×", Limit::AtMost(3.0)),
        Figure::new("… its processor time (all threads) over bare transforms", Spread::of(cpu), "×", Limit::None),
        Figure::new("… the arithmetic alone, one thread, over bare transforms", in_process.ratio, "×", Limit::None),
        Figure::new("… bare transforms (1680 frames of 2048), one thread", whole.b.times(1e3), "ms", Limit::None),
        Figure::new("… whole process", six_runs.wall_s.times(1e3), "ms", Limit::AtMost(80.0)).peak(six_runs.peak_mib),
        Figure::new(
            "60 clips (5 cylinders, 4 openings, off, on, on again)",
            sixty.wall_s.times(1e3),
            "ms",
            Limit::AtMost(500.0),
        )
        .peak(sixty.peak_mib),
        Figure::new("… its processor time", sixty.cpu_s.times(1e3), "ms", Limit::None),
    ];
    Ok(section("rank", "", &figures))
}
