//! Window, Welch spectra, third-octave bands; levels by time and frequency for pictures.

mod spectrogram;

pub use spectrogram::{Spectrogram, spectrogram};
