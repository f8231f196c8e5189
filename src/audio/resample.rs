//! Another sample rate: for sounds that are to be sent, not for measuring.

use std::f64::consts::PI;

use crate::units::Hertz;

/// Half the kernel's length, in samples of the lower rate.
const HALF: f64 = 80.0;
/// Parameter of the Kaiser window for a stop band of 80 dB: 0.1102·(A − 8.7) (Kaiser 1974).
const BETA: f64 = 0.1102 * (80.0 - 8.7);
/// The middle of the filter's slope, as a share of half the lower rate. The slope is 0.06 of it wide (Kaiser's
/// estimate, (A − 8)/(2.285·length)), so the pass band reaches 0.94.
const CUT: f64 = 0.969;

/// The samples at `to`, by a windowed sinc: amplitudes stay the same up to 0.94 of half the lower rate.
///
/// Rates are taken as whole hertz. Where they are equal, or `to` is not a rate, the samples are given back as they are.
///
/// ```
/// use hissward::audio::resampled;
/// use hissward::units::Hertz;
/// let second = vec![0.25_f32; 48_000];
/// let fewer = resampled(&second, Hertz(48_000.0), Hertz(32_000.0));
/// assert_eq!(fewer.len(), 32_000);
/// assert!((fewer[16_000] - 0.25).abs() < 1e-4);
/// ```
#[must_use]
pub fn resampled(samples: &[f32], from: Hertz, to: Hertz) -> Vec<f32> {
    let (from, to) = (from.0.round().max(0.0) as u64, to.0.round().max(0.0) as u64);
    if from == to || from == 0 || to == 0 || samples.is_empty() {
        return samples.to_vec();
    }
    let common = greatest_common_divisor(from, to);
    let (step, phases) = ((from / common) as usize, (to / common) as usize);
    let kernels = kernels(step, phases);
    let count = (samples.len() * phases).div_ceil(step);
    let one = |place: usize| {
        let at = place * step;
        let (whole, phase) = (at / phases, at % phases);
        let kernel = &kernels[phase];
        let half = kernel.len() / 2;
        let first = (whole + 1).saturating_sub(half);
        let skipped = half - (whole + 1 - first);
        let sum: f64 = kernel[skipped..].iter().zip(&samples[first..]).map(|(k, x)| k * f64::from(*x)).sum();
        sum as f32
    };
    (0..count).map(one).collect()
}

/// For each place of an output sample between two input samples: the weights of the inputs round it.
fn kernels(step: usize, phases: usize) -> Vec<Vec<f64>> {
    // The lower rate's share of the input's.
    let share = (phases as f64 / step as f64).min(1.0);
    let half = (HALF / share).ceil() as usize;
    let kernel = |phase: usize| {
        let shift = phase as f64 / phases as f64;
        let weight = |tap: usize| {
            let away = tap as f64 + 1.0 - half as f64 - shift;
            sinc(away * share * CUT) * window(away / half as f64)
        };
        let weights: Vec<f64> = (0..2 * half).map(weight).collect();
        let sum: f64 = weights.iter().sum();
        weights.into_iter().map(|weight| weight / sum).collect()
    };
    (0..phases).map(kernel).collect()
}

fn sinc(x: f64) -> f64 {
    if x == 0.0 { 1.0 } else { (PI * x).sin() / (PI * x) }
}

/// Kaiser's window over −1 to 1.
fn window(x: f64) -> f64 {
    if x.abs() >= 1.0 { 0.0 } else { bessel_i0(BETA * (1.0 - x * x).sqrt()) / bessel_i0(BETA) }
}

/// The modified Bessel function of order 0, by its power series (Abramowitz and Stegun 9.6.12).
fn bessel_i0(x: f64) -> f64 {
    let quarter = x * x / 4.0;
    let (mut term, mut sum, mut place) = (1.0, 1.0, 1.0);
    while term > sum * 1e-15 {
        term *= quarter / (place * place);
        sum += term;
        place += 1.0;
    }
    sum
}

fn greatest_common_divisor(mut a: u64, mut b: u64) -> u64 {
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The amplitude that a tone of amplitude 1 comes out with, dB.
    fn gain_db(hz: f64, from: f64, to: f64) -> f64 {
        let tone: Vec<f32> =
            (0..from as usize).map(|n| (std::f64::consts::TAU * hz * n as f64 / from).sin() as f32).collect();
        let out = resampled(&tone, Hertz(from), Hertz(to));
        // Its ends are half outside; what is left is 0.96 s, whole periods of every tone asked for.
        let inner = &out[640..out.len() - 640];
        let power = inner.iter().map(|x| f64::from(*x).powi(2)).sum::<f64>() / inner.len() as f64;
        10.0 * (2.0 * power).log10()
    }

    #[test]
    fn tones_keep_their_amplitude_up_to_the_end_of_the_pass_band() {
        for from in [44_100.0, 48_000.0, 96_000.0] {
            for hz in [50.0, 1_000.0, 8_000.0, 14_000.0, 14_900.0] {
                let gain = gain_db(hz, from, 32_000.0);
                assert!(gain.abs() < 0.01, "{hz} Hz from {from} Hz: {gain} dB");
            }
        }
    }

    #[test]
    fn what_lies_above_does_not_fold_back() {
        for hz in [16_100.0, 17_000.0, 20_000.0, 23_000.0] {
            let gain = gain_db(hz, 48_000.0, 32_000.0);
            assert!(gain < -75.0, "{hz} Hz: {gain} dB");
        }
    }

    #[test]
    fn equal_rates_and_silence_stay_as_they_are() {
        let some = [0.5, -0.25, 0.125];
        assert_eq!(resampled(&some, Hertz(32_000.0), Hertz(32_000.0)), some);
        assert_eq!(resampled(&[], Hertz(48_000.0), Hertz(32_000.0)), Vec::<f32>::new());
    }
}
