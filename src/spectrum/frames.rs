//! Power spectra of windowed frames, from samples pushed in blocks of any size.

use std::sync::Arc;

use realfft::{RealFftPlanner, RealToComplex, num_complex::Complex};
use rustfft::{Fft, FftPlanner};

use super::cache::Cache;
use crate::simd::dispatch;

/// Frames last about this long at every rate: short against a hammer blow, and still a few bins in
/// the lowest third-octave band.
const FRAME_SECONDS: f64 = 2048.0 / 48_000.0;

/// Samples in a frame at a sample rate: the even number nearest to 42.7 ms whose prime factors are 2, 3
/// and 5, which the FFT likes.
///
/// ```
/// use hissward::spectrum::frame_length;
/// assert_eq!(frame_length(48_000.0), 2048);
/// assert_eq!(frame_length(44_100.0), 1920);
/// assert_eq!(frame_length(96_000.0), 4096);
/// ```
#[must_use]
pub fn frame_length(rate_hz: f64) -> usize {
    let wanted = rate_hz * FRAME_SECONDS;
    let smooth = |mut n: usize| {
        for prime in [2, 3, 5] {
            while n.is_multiple_of(prime) {
                n /= prime;
            }
        }
        n == 1
    };
    // Multiples of 8, so that half a frame is a whole number of vector lanes.
    let (low, high) = ((wanted * 0.9 / 8.0).floor() as usize, (wanted * 1.1 / 8.0).ceil() as usize);
    let better = |a: &usize, b: &usize| (*a as f64 - wanted).abs().total_cmp(&(*b as f64 - wanted).abs());
    (low.max(1)..=high).map(|n| n * 8).filter(|n| smooth(*n)).min_by(better).unwrap_or(256)
}

/// Window and transform of one length.
struct Plan<T: ?Sized> {
    transform: Arc<T>,
    window: Vec<f32>,
}

impl<T: ?Sized> Plan<T> {
    fn new(transform: Arc<T>, length: usize) -> Arc<Self> {
        Arc::new(Self { transform, window: hann(length).into_iter().map(|w| w as f32).collect() })
    }
}

static PLANS: Cache<usize, Plan<dyn RealToComplex<f32>>> = Cache::new();
static PAIR_PLANS: Cache<usize, Plan<dyn Fft<f32>>> = Cache::new();

/// Samples that wait for those that complete a stretch.
#[derive(Default)]
struct OverlapBuffer(Vec<f32>);

impl OverlapBuffer {
    /// Takes samples in; `each` sees every stretch of `length` that they complete, one `hop` samples (no more than `length`)
    /// after the other.
    fn push(&mut self, samples: &[f32], (length, hop): (usize, usize), mut each: impl FnMut(&[f32])) {
        // What waits is shorter than a stretch, so one more stretch of samples completes all that begin in it. The others lie
        // in the samples as they came.
        let waited = self.0.len();
        self.0.extend_from_slice(&samples[..samples.len().min(length)]);
        let mut from = 0;
        while from < waited && self.0.len() - from >= length {
            each(&self.0[from..from + length]);
            from += hop;
        }
        if from < waited {
            self.0.drain(..from);
            return;
        }
        let mut rest = &samples[from - waited..];
        while rest.len() >= length {
            each(&rest[..length]);
            rest = &rest[hop..];
        }
        self.0.clear();
        self.0.extend_from_slice(rest);
    }
}

/// One-sided power spectra of Hann-windowed frames with 50 % overlap.
///
/// A bin holds mean square (full scale 1), so that the sum over all bins of a frame is the frame's
/// windowed mean square: dB FS per bin, dB FS²/Hz once divided by the bin width.
pub struct FrameSpectra {
    plan: Arc<Plan<dyn RealToComplex<f32>>>,
    waiting: OverlapBuffer,
    input: Vec<f32>,
    output: Vec<Complex<f32>>,
    scratch: Vec<Complex<f32>>,
    power: Vec<f32>,
    /// Turns squared magnitudes into one-sided mean squares.
    scale: f32,
}

impl FrameSpectra {
    /// Frames of `length` samples (an even number).
    #[must_use]
    pub fn new(length: usize) -> Self {
        let length = length.max(2) & !1;
        let plan = PLANS.get(length, || Plan::new(RealFftPlanner::<f32>::new().plan_fft_forward(length), length));
        // Periodic Hann: mean of the squared window is 3/8 (1/4 + 1/8: cos² has the mean 1/2).
        let scale = 2.0 / (0.375 * (length as f64).powi(2));
        Self {
            input: plan.transform.make_input_vec(),
            output: plan.transform.make_output_vec(),
            scratch: plan.transform.make_scratch_vec(),
            power: vec![0.0; length / 2 + 1],
            plan,
            waiting: OverlapBuffer::default(),
            scale: scale as f32,
        }
    }

    /// Samples in a frame.
    #[must_use]
    pub fn length(&self) -> usize {
        self.plan.window.len()
    }

    /// Takes samples in; `each` sees the power spectrum of every frame they complete.
    pub fn push(&mut self, samples: &[f32], mut each: impl FnMut(&[f32])) {
        let stretch = (self.length(), self.length() / 2);
        let mut waiting = std::mem::take(&mut self.waiting);
        waiting.push(samples, stretch, |frame| {
            self.transform(frame);
            each(&self.power);
        });
        self.waiting = waiting;
    }

    fn transform(&mut self, frame: &[f32]) {
        dispatch(
            #[inline(always)]
            || {
                for ((slot, sample), weight) in self.input.iter_mut().zip(frame).zip(&self.plan.window) {
                    *slot = sample * weight;
                }
            },
        );
        let done = self.plan.transform.process_with_scratch(&mut self.input, &mut self.output, &mut self.scratch);
        // The buffers are of the transform's own making, so their lengths fit; a refusal would leave silence.
        if done.is_err() {
            self.output.fill(Complex::new(0.0, 0.0));
        }
        dispatch(
            #[inline(always)]
            || {
                for (power, bin) in self.power.iter_mut().zip(&self.output) {
                    *power = bin.norm_sqr() * self.scale;
                }
            },
        );
        // DC and half the rate have no partner on the other side.
        self.power[0] *= 0.5;
        if let Some(last) = self.power.last_mut() {
            *last *= 0.5;
        }
    }
}

/// Sums of the power spectra of two neighbouring frames each (as [`FrameSpectra`] gives them one by one).
///
/// Two real frames go through one complex transform: of `z = a + i b`, `|Z[k]|² + |Z[N−k]|²` is twice `|A[k]|² + |B[k]|²`.
/// That halves the transforms, and what takes real spectra out of complex ones falls away.
pub struct PairSpectra {
    plan: Arc<Plan<dyn Fft<f32>>>,
    waiting: OverlapBuffer,
    values: Vec<Complex<f32>>,
    scratch: Vec<Complex<f32>>,
    squares: Vec<f32>,
    power: Vec<f32>,
    scale: f32,
}

impl PairSpectra {
    /// Frames of `length` samples (an even number).
    #[must_use]
    pub fn new(length: usize) -> Self {
        let length = length.max(2) & !1;
        let plan = PAIR_PLANS.get(length, || Plan::new(FftPlanner::<f32>::new().plan_fft_forward(length), length));
        let zero = Complex::new(0.0, 0.0);
        Self {
            waiting: OverlapBuffer::default(),
            values: vec![zero; length],
            scratch: vec![zero; plan.transform.get_inplace_scratch_len()],
            squares: vec![0.0; length],
            power: vec![0.0; length / 2 + 1],
            // One-sided, as for single frames; half of it for the two halves that are added.
            scale: (1.0 / (0.375 * (length as f64).powi(2))) as f32,
            plan,
        }
    }

    /// Takes samples in; `each` sees the sum of the power spectra of every two frames they complete.
    pub fn push(&mut self, samples: &[f32], mut each: impl FnMut(&[f32])) {
        let length = self.plan.window.len();
        let mut waiting = std::mem::take(&mut self.waiting);
        waiting.push(samples, (length + length / 2, length), |frames| {
            self.transform(&frames[..length], &frames[length / 2..]);
            each(&self.power);
        });
        self.waiting = waiting;
    }

    /// The power spectrum of the last frame, where it has no second.
    #[must_use]
    pub fn odd(&self) -> Option<Vec<f32>> {
        let mut odd = None;
        FrameSpectra::new(self.plan.window.len()).push(&self.waiting.0, |power| odd = Some(power.to_vec()));
        odd
    }

    fn transform(&mut self, first: &[f32], second: &[f32]) {
        dispatch(
            #[inline(always)]
            || {
                let samples = first.iter().zip(second).zip(&self.plan.window);
                for (value, ((a, b), weight)) in self.values.iter_mut().zip(samples) {
                    *value = Complex::new(a * weight, b * weight);
                }
            },
        );
        self.plan.transform.process_with_scratch(&mut self.values, &mut self.scratch);
        dispatch(
            #[inline(always)]
            || self.fold(),
        );
    }

    /// Makes power out of what the transform left.
    #[inline(always)]
    fn fold(&mut self) {
        for (square, value) in self.squares.iter_mut().zip(&self.values) {
            *square = value.norm_sqr() * self.scale;
        }
        // DC and half the rate have no partner on the other side: they are their own, and count once.
        let half = self.squares.len() / 2;
        self.power[0] = self.squares[0];
        self.power[half] = self.squares[half];
        let (below, above) = (&self.squares[1..half], &self.squares[half + 1..]);
        for ((power, low), high) in self.power[1..half].iter_mut().zip(below).zip(above.iter().rev()) {
            *power = low + high;
        }
    }
}

/// The periodic Hann window: `w[n] = 0.5 − 0.5 cos(2πn/N)`.
pub(crate) fn hann(length: usize) -> Vec<f64> {
    let step = std::f64::consts::TAU / length as f64;
    (0..length).map(|n| 0.5 - 0.5 * (step * n as f64).cos()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_of_any_size_complete_the_same_stretches() {
        let samples: Vec<f32> = (0..60_u8).map(f32::from).collect();
        for (length, hop) in [(8, 4), (12, 8), (6, 6), (1, 1)] {
            let wanted: Vec<Vec<f32>> = samples.windows(length).step_by(hop).map(<[f32]>::to_vec).collect();
            for size in 1..=samples.len() {
                let (mut waiting, mut stretches) = (OverlapBuffer::default(), Vec::new());
                for block in samples.chunks(size) {
                    waiting.push(block, (length, hop), |stretch| stretches.push(stretch.to_vec()));
                    waiting.push(&[], (length, hop), |_| panic!("nothing came"));
                    assert!(waiting.0.len() < length, "what waits stays small");
                }
                assert_eq!(stretches, wanted, "{length}, {hop} in blocks of {size}");
            }
        }
    }

    #[test]
    fn two_frames_at_once_give_what_they_give_one_by_one() {
        let mut state = 1_u32;
        let samples: Vec<f32> = (0..2048 * 5 + 700)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (state >> 8) as f32 / (1 << 24) as f32 - 0.4
            })
            .collect();
        for length in [2048, 1920, 2] {
            let mut singly: Vec<Vec<f32>> = Vec::new();
            FrameSpectra::new(length).push(&samples, |power| singly.push(power.to_vec()));
            let mut spectra = PairSpectra::new(length);
            let mut pairs: Vec<Vec<f32>> = Vec::new();
            samples.chunks(999).for_each(|block| spectra.push(block, |power| pairs.push(power.to_vec())));
            assert_eq!(
                (pairs.len(), spectra.odd()),
                (singly.len() / 2, singly.chunks_exact(2).remainder().first().cloned())
            );
            for (pair, two) in pairs.iter().zip(singly.chunks_exact(2)) {
                let whole: f32 = pair.iter().sum();
                for (bin, sum) in pair.iter().enumerate() {
                    let wanted = two[0][bin] + two[1][bin];
                    assert!((sum - wanted).abs() < 1e-6 * wanted + 1e-9 * whole, "{length}, {bin}: {sum}, {wanted}");
                }
            }
        }
    }
}
