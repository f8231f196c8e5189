//! Third-octave bands by IEC 61260-1, and how spectral bins share out among them.

use crate::units::Hertz;

/// A third-octave band by its place `x` from the 1 kHz band: exact midband `1000 · 10^(x/10)` Hz.
///
/// IEC 61260-1:2014 (base ten, `G = 10^(3/10)`).
///
/// ```
/// use hissward::spectrum::ThirdOctave;
/// let band = ThirdOctave(6);
/// assert!((band.midband().0 - 3981.072).abs() < 0.001);
/// assert!((band.lower().0 - 3548.134).abs() < 0.001);
/// assert!((band.upper().0 - 4466.836).abs() < 0.001);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ThirdOctave(pub i32);

impl ThirdOctave {
    /// Exact midband frequency.
    #[must_use]
    pub fn midband(self) -> Hertz {
        Hertz(1000.0 * 10f64.powf(f64::from(self.0) / 10.0))
    }

    /// Lower band edge: midband times `10^(−1/20)`.
    #[must_use]
    pub fn lower(self) -> Hertz {
        self.edge(0.0)
    }

    /// Upper band edge: midband times `10^(1/20)`.
    #[must_use]
    pub fn upper(self) -> Hertz {
        self.edge(1.0)
    }

    /// The frequency a share of the way (0 to 1, in logarithmic frequency) from the lower edge to the upper.
    #[must_use]
    pub fn edge(self, share: f64) -> Hertz {
        Hertz(1000.0 * 10f64.powf((f64::from(self.0) - 0.5 + share) / 10.0))
    }
}

/// How much of each bin falls into a band: the bins inside whole, those at the edges by the share that lies inside.
#[derive(Debug, Clone, PartialEq)]
pub struct BandWeights {
    first_bin: usize,
    weights: Vec<f32>,
}

impl BandWeights {
    /// The weights of a band from `low` to `high` for bins `bin_hz` apart, each reaching half a bin to both sides.
    ///
    /// `bins` is how many there are; what lies above the last is not in the band.
    #[must_use]
    pub fn new(low: Hertz, high: Hertz, bin_hz: f64, bins: usize) -> Self {
        let first_bin = ((low.0 / bin_hz - 0.5).ceil().max(0.0) as usize).min(bins);
        let first_bin = first_bin.saturating_sub(1);
        let end = ((high.0 / bin_hz + 0.5).ceil().max(0.0) as usize + 1).min(bins);
        let share = |bin: usize| {
            let (from, to) = ((bin as f64 - 0.5) * bin_hz, (bin as f64 + 0.5) * bin_hz);
            ((to.min(high.0) - from.max(low.0)) / bin_hz).clamp(0.0, 1.0) as f32
        };
        let mut weights: Vec<f32> = (first_bin..end).map(share).collect();
        let lead = weights.iter().take_while(|w| **w == 0.0).count();
        weights.drain(..lead);
        while weights.last() == Some(&0.0) {
            weights.pop();
        }
        Self { first_bin: first_bin + lead, weights }
    }

    /// The power that a spectrum (mean square per bin) holds in the band.
    #[must_use]
    #[inline(always)]
    pub fn power(&self, bins: &[f32]) -> f32 {
        // Several sums side by side: one alone waits for each addition before the next.
        let inside = bins.get(self.first_bin..).unwrap_or(&[]);
        let both = self.weights.len().min(inside.len());
        let (weights, rest) = self.weights[..both].as_chunks::<8>();
        let (powers, rest_of_powers) = inside[..both].as_chunks::<8>();
        let mut sums = [0.0f32; 8];
        for (weight, power) in weights.iter().zip(powers) {
            for lane in 0..8 {
                sums[lane] += weight[lane] * power[lane];
            }
        }
        sums.iter().sum::<f32>() + rest.iter().zip(rest_of_powers).map(|(weight, power)| weight * power).sum::<f32>()
    }

    /// The weights, from the first bin that counts.
    #[must_use]
    pub fn weights(&self) -> &[f32] {
        &self.weights
    }
}
