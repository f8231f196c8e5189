//! What makes noise: kinds asked for, and recordings given.

use hissward::audio::{ChannelChoice, read_clip};
use hissward::clip::Clip;
use hissward::simulate::{Dice, NoiseMix, NoiseSource, Recording};
use hissward::units::{Hertz, LevelDiff};

use super::Arguments;
use crate::console::Failure;

/// The rate where no recording says another.
const RATE: Hertz = Hertz(48_000.0);
/// Noises differ in level by this, dB (standard deviation).
const SPREAD_DB: f64 = 3.0;

/// The shop, drawn once: the same for all cylinders.
pub fn of(arguments: &Arguments) -> Result<(NoiseMix, Hertz), Failure> {
    let mut dice = Dice::seeded(arguments.seed);
    let kinds = arguments.kinds();
    if arguments.noise_file.is_empty() {
        return Ok((NoiseMix::of_kinds(&kinds, &mut dice), RATE));
    }
    let clips: Vec<Clip> = arguments
        .noise_file
        .iter()
        .map(|file| Ok(read_clip(file, ChannelChoice::First)?.0))
        .collect::<Result<_, Failure>>()?;
    let rate = clips.first().map_or(RATE, Clip::rate);
    let mut parts: Vec<(Box<dyn NoiseSource>, LevelDiff)> = Vec::new();
    for clip in &clips {
        let recording = Recording::new(clip, rate)?;
        // A recording's own level says nothing: it is brought to that of the kinds, about 0 dB.
        let level_db =
            level_db(clip).ok_or_else(|| format!("{}: silent, no noise: use another recording", clip.name()))?;
        parts.push((Box::new(recording), LevelDiff(SPREAD_DB * dice.normal() - level_db)));
    }
    for kind in kinds {
        parts.push((kind.draw(&mut dice), LevelDiff(SPREAD_DB * dice.normal())));
    }
    Ok((NoiseMix::new(parts), rate))
}

/// The level of a whole clip, dB FS; `None` for silence.
fn level_db(clip: &Clip) -> Option<f64> {
    let power = clip.samples().iter().map(|x| f64::from(*x) * f64::from(*x)).sum::<f64>() / clip.samples().len() as f64;
    (power > 0.0).then(|| 10.0 * power.log10())
}
