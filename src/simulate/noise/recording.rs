//! A given recording as a source of noise: excerpts from anywhere in it.

use super::super::dice::Dice;
use super::source::NoiseSource;
use crate::clip::Clip;
use crate::units::{Hertz, Seconds};

/// A recording of which each stretch is another excerpt, joined by crossfades where it is too short.
#[derive(Debug, Clone)]
pub struct Recording {
    samples: Vec<f32>,
}

/// Why a recording is no source of noise.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RecordingError {
    /// Its rate is not the simulation's.
    #[error("{name}: recorded at {got_hz} Hz, the simulation runs at {needed_hz} Hz: convert the recording first")]
    Rate {
        /// The recording's name.
        name: String,
        /// Its rate, hertz.
        got_hz: f64,
        /// The simulation's rate, hertz.
        needed_hz: f64,
    },
    /// It is shorter than two crossfades.
    #[error("{name}: {got_s:.2} s are too short for noise, {SHORTEST_S} s are needed: use a longer recording")]
    Short {
        /// The recording's name.
        name: String,
        /// Its length, seconds.
        got_s: f64,
    },
}

/// Shortest recording taken, seconds.
const SHORTEST_S: f64 = 0.5;
/// Length of a crossfade, seconds.
const CROSSFADE_S: f64 = 0.05;

impl Recording {
    /// Takes a clip as a source of noise for simulations at `rate`.
    ///
    /// # Errors
    /// [`RecordingError`] where its rate differs or it is shorter than half a second.
    pub fn new(clip: &Clip, rate: Hertz) -> Result<Self, RecordingError> {
        if clip.rate() != rate {
            return Err(RecordingError::Rate {
                name: clip.name().to_owned(),
                got_hz: clip.rate().0,
                needed_hz: rate.0,
            });
        }
        if clip.duration().0 < SHORTEST_S {
            return Err(RecordingError::Short { name: clip.name().to_owned(), got_s: clip.duration().0 });
        }
        Ok(Self { samples: clip.samples().to_vec() })
    }

    /// All of it, full scale 1.
    #[must_use]
    pub fn samples(&self) -> &[f32] {
        &self.samples
    }
}

impl NoiseSource for Recording {
    fn render(&self, dice: &mut Dice, length: Seconds, rate: Hertz) -> Vec<f32> {
        let needed = (length.0 * rate.0).round() as usize;
        let spare = self.samples.len().saturating_sub(needed);
        let mut at = if spare > 0 { dice.below(spare + 1) } else { dice.below(self.samples.len() / 2) };
        let mut out = Vec::with_capacity(needed);
        let fade = (CROSSFADE_S * rate.0) as usize;
        while out.len() < needed {
            let piece = &self.samples[at..self.samples.len().min(at + needed - out.len() + fade)];
            join(&mut out, piece, fade);
            at = dice.below(self.samples.len() / 2);
        }
        out.truncate(needed);
        out
    }
}

/// Lays a piece over the end of what is there with equal power.
fn join(out: &mut Vec<f32>, piece: &[f32], fade: usize) {
    let fade = fade.min(out.len()).min(piece.len());
    let from = out.len() - fade;
    for (k, (old, new)) in out[from..].iter_mut().zip(piece).enumerate() {
        let share = (k as f32 + 0.5) / fade as f32;
        *old = *old * (1.0 - share).sqrt() + new * share.sqrt();
    }
    out.extend_from_slice(&piece[fade..]);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clip(seconds: f64) -> Clip {
        let samples = (0..(seconds * 8000.0) as usize).map(|n| if n % 2 == 0 { 0.5 } else { -0.5 }).collect();
        Clip::new(samples, Hertz(8000.0), "test").expect("a clip")
    }

    #[test]
    fn a_short_recording_is_looped_without_gaps() {
        let source = Recording::new(&clip(0.7), Hertz(8000.0)).expect("long enough");
        let stretch = source.render(&mut Dice::seeded(1), Seconds(3.0), Hertz(8000.0));
        assert_eq!(stretch.len(), 24_000);
        let power = stretch.iter().map(|x| x * x).sum::<f32>() / 24_000.0;
        assert!(power > 0.2, "no silent gaps: {power}");
    }

    #[test]
    fn excerpts_differ() {
        let ramp = (0..80_000).map(|n| n as f32 / 80_000.0).collect();
        let ramp = Clip::new(ramp, Hertz(8000.0), "ramp").expect("a clip");
        let source = Recording::new(&ramp, Hertz(8000.0)).expect("long enough");
        let mut dice = Dice::seeded(1);
        let [one, other] = [0, 1].map(|_| source.render(&mut dice, Seconds(1.0), Hertz(8000.0)));
        assert!((one[0] - other[0]).abs() > 1e-3);
        assert!((one[8] - one[0] - 1e-4).abs() < 1e-6, "an excerpt is untouched");
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        assert!(matches!(Recording::new(&clip(2.0), Hertz(48_000.0)), Err(RecordingError::Rate { .. })));
        assert!(matches!(Recording::new(&clip(0.2), Hertz(8000.0)), Err(RecordingError::Short { .. })));
    }
}
