//! Window, power spectra by Welch's method, third-octave bands by IEC 61260-1.
//!
//! Everything is in mean squares re full scale, so a spectrum integrates to the mean square of the
//! signal and its level is in dB FS. Sources: Welch, P. D. (1967), IEEE Trans. Audio Electroacoust.
//! AU-15(2); IEC 61260-1:2014; the median's bias: Allen et al. (2012), App. B.

mod band;
mod cache;
mod frames;
mod independence;
mod spectrogram;
mod welch;

pub use band::{BandWeights, ThirdOctave};
pub(crate) use cache::Cache;
pub use frames::{FrameSpectra, PairSpectra, frame_length};
pub use independence::{cell_freedom, quantile_over_mean};
pub use spectrogram::{Spectrogram, spectrogram};
pub(crate) use welch::quantile_of;
pub use welch::{Average, Interval, Spectrum, SpectrumError, median_bias, welch};
