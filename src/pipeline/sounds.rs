//! Recordings to what a report plays and shows: excerpts at one gain, quiet and air one after the other.

use rayon::prelude::*;

use crate::audio::{FlacError, flac, resampled};
use crate::clip::Clip;
use crate::opening::{Air, Opening};
use crate::plot::Stretch;
use crate::report::{ReportSound, ReportSounds};
use crate::spectrum::spectrogram;
use crate::units::{Hertz, LevelDiff, Seconds};

/// The rate that sounds are played at: every browser plays FLAC without loss, and at this rate it holds all that most
/// ears and loudspeakers give, up to 15 kHz, in two thirds of the bytes.
const PLAYED: Hertz = Hertz(32_000.0);
/// All excerpts together are to be no longer than this, so that a page of three cylinders with them stays under 3 MB
/// (32 kHz, 16 bit, FLAC of a noise at 8 to 13 bits a sample, base64).
const TOGETHER_S: f64 = 33.0;
/// An excerpt is never longer.
const LONGEST_S: f64 = 6.0;
/// Nor shorter: less is no sound to be judged by ear.
const SHORTEST_S: f64 = 1.0;
/// Silence between two excerpts.
const PAUSE_S: f64 = 0.3;
/// Fades at an excerpt's ends, against clicks.
const FADE_S: f64 = 0.01;
/// A column of a strip.
const COLUMN_S: f64 = 0.08;
/// This share of the samples is to lie under [`LOUDEST`] at the common gain; the rest, bangs, may be cut.
const UNDER_SHARE: f64 = 0.999;
/// Half of full scale.
const LOUDEST: f64 = 0.5;
/// The most gain, dB: a silent recording is not blown up to its last bit.
const MOST_GAIN_DB: f64 = 36.0;

/// The recordings of one opening and take, in the order in which they are to be played.
#[derive(Debug, Clone)]
pub struct SoundSource {
    /// The cylinder; `None` for the rig alone.
    pub cylinder: Option<u32>,
    /// Where it was recorded.
    pub opening: Opening,
    /// Which repeat.
    pub take: u32,
    /// The recordings, all of one rate.
    pub clips: Vec<(Air, Clip)>,
}

/// Excerpts from the middle of every recording, at one gain for all, as FLAC with the spectrograms of the same samples.
///
/// The excerpts are as long as leaves the report small enough to be sent: 6 s at most, less where there are many.
///
/// # Errors
/// [`FlacError`] where the encoder refuses.
pub fn report_sounds(sources: &[SoundSource]) -> Result<ReportSounds, FlacError> {
    let excerpt = excerpt_of(sources.iter().map(|source| source.clips.len()).sum()).0;
    let excerpts = || sources.iter().flat_map(|source| &source.clips).map(|(_, clip)| middle(clip, excerpt));
    let gain = common_gain(excerpts());
    let sounds =
        sources.par_iter().filter(|source| !source.clips.is_empty()).map(|source| sound(source, excerpt, gain));
    Ok(ReportSounds { sounds: sounds.collect::<Result<_, _>>()?, gain, excerpt: Seconds(excerpt) })
}

/// How long an excerpt is where there are so many.
pub(super) fn excerpt_of(count: usize) -> Seconds {
    Seconds((TOGETHER_S / count.max(1) as f64).clamp(SHORTEST_S, LONGEST_S))
}

/// The middle of a recording: its ends hold the hand on the microphone.
fn middle(clip: &Clip, seconds: f64) -> &[f32] {
    let samples = clip.samples();
    let wanted = ((seconds * clip.rate().0) as usize).min(samples.len());
    let first = (samples.len() - wanted) / 2;
    &samples[first..first + wanted]
}

/// The gain in whole decibels at which the loudest excerpt's samples, but for a thousandth, stay under half of full scale.
fn common_gain<'a>(excerpts: impl Iterator<Item = &'a [f32]>) -> LevelDiff {
    let loudest = excerpts.map(usual_peak).fold(0.0, f64::max);
    if loudest <= 0.0 {
        return LevelDiff(0.0);
    }
    LevelDiff((20.0 * (LOUDEST / loudest).log10()).floor().clamp(0.0, MOST_GAIN_DB))
}

fn usual_peak(samples: &[f32]) -> f64 {
    let mut sizes: Vec<f32> = samples.iter().map(|x| x.abs()).collect();
    let at = ((sizes.len() as f64 * UNDER_SHARE) as usize).min(sizes.len().saturating_sub(1));
    if sizes.is_empty() {
        return 0.0;
    }
    f64::from(*sizes.select_nth_unstable_by(at, f32::total_cmp).1)
}

fn sound(source: &SoundSource, excerpt: f64, gain: LevelDiff) -> Result<ReportSound, FlacError> {
    // Clips of one opening come from one microphone; where rates differ the first is played at its own.
    let rate = source.clips[0].1.rate();
    let clips = source.clips.iter().filter(|(_, clip)| clip.rate() == rate);
    let heard_at = if rate.0 > PLAYED.0 { PLAYED } else { rate };
    let factor = gain.ratio().sqrt() as f32;
    let mut played: Vec<f32> = Vec::new();
    let mut stretches = Vec::new();
    for (air, clip) in clips {
        if !played.is_empty() {
            played.resize(played.len() + (PAUSE_S * heard_at.0) as usize, 0.0);
        }
        let begins = Seconds(played.len() as f64 / heard_at.0);
        let part = middle(clip, excerpt);
        let sound = spectrogram(part, rate, Seconds(COLUMN_S));
        let fade = (FADE_S * heard_at.0).max(1.0) as f32;
        let part = resampled(part, rate, heard_at);
        let last = part.len().saturating_sub(1);
        played.extend(part.iter().enumerate().map(|(place, sample)| {
            let edge = (place.min(last - place) as f32 / fade).min(1.0);
            sample * factor * edge
        }));
        stretches.push((*air, Stretch { name: air.name().to_owned(), begins, sound }));
    }
    let SoundSource { cylinder, opening, take, .. } = source.clone();
    Ok(ReportSound { cylinder, opening, take, stretches, kind: "audio/flac", file: flac(&played, heard_at)? })
}

#[cfg(test)]
mod tests {
    use super::*;
    const RATE: Hertz = Hertz(48_000.0);

    fn clip(amplitude: f32, seconds: usize) -> Clip {
        let mut state = 1_u32;
        let noise = (0..48_000 * seconds).map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (f64::from(state) / f64::from(u32::MAX) * 2.0 - 1.0) as f32 * amplitude
        });
        Clip::new(noise.collect(), RATE, "noise").expect("a clip")
    }

    fn source(clips: Vec<(Air, Clip)>) -> SoundSource {
        SoundSource { cylinder: Some(1), opening: "exhaust".parse().expect("a name"), take: 1, clips }
    }

    #[test]
    fn quiet_and_air_follow_each_other_at_one_gain() {
        let sources = [source(vec![(Air::Off, clip(0.01, 8)), (Air::On, clip(0.05, 8))])];
        let found = report_sounds(&sources).expect("sounds");
        // Even noise: 0.999 of it lies under 0.04995, and 20 lg(0.5/0.04995) is 20.01 dB.
        assert_eq!((found.gain, found.excerpt), (LevelDiff(20.0), Seconds(6.0)));
        let [sound] = &found.sounds[..] else { panic!("one sound") };
        let begins: Vec<f64> = sound.stretches.iter().map(|(_, stretch)| stretch.begins.0).collect();
        assert_eq!(begins, [0.0, 6.3]);
        assert_eq!(sound.stretches[1].1.sound.columns.len(), 75);
        assert!(sound.file.starts_with(b"fLaC"));
    }

    #[test]
    fn many_recordings_are_played_shorter() {
        let one = || source(vec![(Air::Off, clip(0.01, 5)), (Air::On, clip(0.05, 5))]);
        let found = report_sounds(&vec![one(); 14]).expect("sounds");
        assert_eq!(found.excerpt, Seconds(TOGETHER_S / 28.0));
        let bytes: usize = found.sounds.iter().map(|sound| sound.file.len()).sum();
        // White noise is the dearest: 33 s of it at 14 bits a sample, and a little for the frames.
        assert!(bytes * 4 / 3 < 2_800_000, "{bytes}");
    }

    #[test]
    fn silence_stays_silence() {
        let quiet = Clip::new(vec![0.0; 48_000], RATE, "silent").expect("a clip");
        let found = report_sounds(&[source(vec![(Air::Off, quiet)])]).expect("sounds");
        assert_eq!(found.gain, LevelDiff(0.0));
    }
}
