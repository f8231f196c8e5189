//! Window, Welch spectra, third-octave bands.
