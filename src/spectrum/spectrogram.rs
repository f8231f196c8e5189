//! A recording as a carpet of levels: time to the right, frequency upwards, for pictures.

use realfft::RealFftPlanner;

use super::frames::hann;
use crate::units::{Hertz, Level, Seconds};

/// Length of one spectrum: short enough to see a bang, long enough to part the low bands.
const WINDOW_S: f64 = 0.043;
/// Bands to an octave.
const PER_OCTAVE: f64 = 6.0;
/// The lowest band edge: below lies what shakes the microphone, not what hisses.
pub const LOWEST_HZ: f64 = 200.0;
/// The highest band edge there can be.
pub const HIGHEST_HZ: f64 = 20_000.0;
/// Nothing is shown above this share of the sample rate.
const HIGHEST_SHARE: f64 = 0.48;

/// Levels by time and frequency.
#[derive(Debug, Clone, PartialEq)]
pub struct Spectrogram {
    /// Band edges from low to high: one more than there are bands.
    pub edges: Vec<Hertz>,
    /// One column per step of time, each with a level per band from low to high; `None` for digital silence.
    pub columns: Vec<Vec<Option<Level>>>,
    /// How much time all columns cover.
    pub duration: Seconds,
}

/// The spectrogram of samples: band levels in dB FS, six bands to an octave from 200 Hz, one column per `step`.
///
/// Each column is the mean over periodic Hann windows of 43 ms, overlapping by half, whose middles lie in its step;
/// the power of a band is the sum of `2·|X_k|² / (N·Σw²)` over its share of bins (Parseval: over all bins it is the mean square).
/// At the ends the window is moved inside, so that no silence is mixed in. A recording shorter than one window
/// has no columns.
///
/// ```
/// use hissward::spectrum::spectrogram;
/// use hissward::units::{Hertz, Seconds};
/// let sine: Vec<f32> = (0..48_000).map(|n| (n as f32 * 0.130_899_7).sin() * 0.1).collect(); // 1 kHz
/// let found = spectrogram(&sine, Hertz(48_000.0), Seconds(0.1));
/// assert_eq!(found.columns.len(), 10);
/// ```
#[must_use]
pub fn spectrogram(samples: &[f32], rate: Hertz, step: Seconds) -> Spectrogram {
    let length = ((rate.0 * WINDOW_S / 2.0).round() as usize) * 2;
    let edges = edges(rate);
    let duration = Seconds(samples.len() as f64 / rate.0);
    if samples.len() < length || length < 2 {
        return Spectrogram { edges, columns: Vec::new(), duration };
    }
    let window = hann(length);
    let scale = 2.0 / (length as f64 * window.iter().map(|w| w * w).sum::<f64>());
    let window: Vec<f32> = window.into_iter().map(|w| w as f32).collect();
    let transform = RealFftPlanner::<f32>::new().plan_fft_forward(length);
    let (mut time, mut bins) = (transform.make_input_vec(), transform.make_output_vec());
    let count = (duration.0 / step.0).round().max(1.0) as usize;
    let mut fault = false;
    let columns: Vec<Vec<Option<Level>>> = (0..count)
        .map(|place| {
            let first = (place as f64 * samples.len() as f64 / count as f64) as usize;
            let end = ((place as f64 + 1.0) * samples.len() as f64 / count as f64) as usize;
            let middles = ((end - first) / (length / 2)).max(1);
            let mut powers = vec![0.0; bins.len()];
            for part in 0..middles {
                let middle = first + (2 * part + 1) * (end - first) / (2 * middles);
                let start = middle.saturating_sub(length / 2).min(samples.len() - length);
                for (slot, (sample, weight)) in time.iter_mut().zip(samples[start..].iter().zip(&window)) {
                    *slot = sample * weight;
                }
                // Lengths are those the plan made, so it cannot refuse; if it did, no level would be shown.
                fault |= transform.process(&mut time, &mut bins).is_err();
                let share = scale / middles as f64;
                powers.iter_mut().zip(&bins).for_each(|(sum, bin)| *sum += f64::from(bin.norm_sqr()) * share);
            }
            let bin_hz = rate.0 / length as f64;
            edges.windows(2).map(|band| Level::of_power(power_between(&powers, bin_hz, band[0], band[1]))).collect()
        })
        .collect();
    let columns = if fault { Vec::new() } else { columns };
    Spectrogram { edges, columns, duration }
}

/// Edges of six bands to an octave, as far as the rate allows.
fn edges(rate: Hertz) -> Vec<Hertz> {
    let top = HIGHEST_HZ.min(rate.0 * HIGHEST_SHARE);
    let count = ((top / LOWEST_HZ).log2() * PER_OCTAVE).floor().max(1.0) as u32;
    (0..=count).map(|place| Hertz(LOWEST_HZ * (f64::from(place) / PER_OCTAVE).exp2())).collect()
}

/// The power between two frequencies, each bin spread evenly over its width.
fn power_between(powers: &[f64], bin_hz: f64, low: Hertz, high: Hertz) -> f64 {
    let (low, high) = (low.0 / bin_hz + 0.5, high.0 / bin_hz + 0.5);
    let last = (high.floor() as usize).min(powers.len() - 1);
    (low.floor() as usize..=last)
        .map(|bin| {
            let covered = (high.min(bin as f64 + 1.0) - low.max(bin as f64)).max(0.0);
            powers[bin] * covered
        })
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    const RATE: Hertz = Hertz(48_000.0);

    fn sine(hz: f64, amplitude: f64, seconds: f64) -> Vec<f32> {
        let count = (RATE.0 * seconds) as usize;
        (0..count).map(|n| (amplitude * (std::f64::consts::TAU * hz * n as f64 / RATE.0).sin()) as f32).collect()
    }

    #[test]
    fn a_sine_keeps_its_mean_square_and_stays_in_its_band() {
        // A sine of amplitude A has a mean square of A²/2: 0.1 is −23.01 dB FS.
        let found = spectrogram(&sine(4000.0, 0.1, 1.0), RATE, Seconds(0.1));
        for column in &found.columns {
            let total: f64 = column.iter().flatten().map(|level| level.power()).sum();
            assert!((10.0 * total.log10() - -23.01).abs() < 0.02, "{total}");
            let loudest = (0..column.len()).max_by(|a, b| {
                let level = |at: &usize| column[*at].map_or(f64::NEG_INFINITY, |level| level.0);
                level(a).total_cmp(&level(b))
            });
            let at = loudest.expect("bands");
            assert!(found.edges[at].0 <= 4000.0 && found.edges[at + 1].0 >= 4000.0);
        }
    }

    #[test]
    fn what_begins_in_the_middle_shows_there() {
        let mut sound = vec![0.0; 24_000];
        sound.extend(sine(4000.0, 0.1, 0.5));
        let found = spectrogram(&sound, RATE, Seconds(0.1));
        let loud: Vec<bool> =
            found.columns.iter().map(|column| column.iter().flatten().any(|level| level.0 > -40.0)).collect();
        assert_eq!(loud, [vec![false; 5], vec![true; 5]].concat());
        assert!(found.columns[0].iter().all(Option::is_none), "digital silence has no level");
    }

    #[test]
    fn short_and_narrow_recordings_are_borne() {
        assert!(spectrogram(&sine(1000.0, 0.1, 0.02), RATE, Seconds(0.1)).columns.is_empty());
        let narrow = spectrogram(&[0.1; 8000], Hertz(8000.0), Seconds(0.1));
        assert!(narrow.edges.last().is_some_and(|top| top.0 <= 3840.0));
        assert_eq!(narrow.columns.len(), 10);
    }
}
