//! The grid in which hiss is looked for: third-octave bands from 400 Hz to 40 kHz, as far as a clip reaches, each cut into
//! four cells.

use std::sync::Arc;

use crate::spectrum::{BandWeights, Cache, ThirdOctave, cell_freedom, frame_length, quantile_over_mean};
use crate::units::Hertz;

/// The lowest band: 400 Hz.
pub const LOWEST_BAND: i32 = -4;
/// The highest band: 40 kHz, where a jet still rises and a shop has fallen off. A clip at 48 kHz reaches the 20 kHz band.
pub const HIGHEST_BAND: i32 = 16;
/// Bands in the grid.
pub const BANDS: usize = (HIGHEST_BAND - LOWEST_BAND + 1) as usize;
/// The first band of the hiss level: 1 kHz.
pub const FIRST_LEVEL_BAND: usize = (0 - LOWEST_BAND) as usize;
/// The place after the last band of the hiss level: 16 kHz.
pub const END_OF_LEVEL_BANDS: usize = (12 - LOWEST_BAND + 1) as usize;
/// Cells in a band. A tone, or a bang, spoils its own cell and leaves the others.
pub const CELLS: usize = 4;
/// Frames averaged into one row of cells, one frame's length of sound: the two of a pair.
pub const ROW_FRAMES: usize = 2;
/// The quantile of a band's cells that stands for its floor: the moments and gaps with the least foreign noise.
pub const FLOOR_QUANTILE: f64 = 0.05;

/// The median of a band's cells: what it does half of the time.
pub const MEDIAN: f64 = 0.5;

/// One value for every band of the grid.
pub type PerBand = [f64; BANDS];

/// The band at a place of the grid.
#[must_use]
pub fn band(place: usize) -> ThirdOctave {
    ThirdOctave(LOWEST_BAND + place as i32)
}

/// The bands of the hiss level (1 to 16 kHz) among the first `bands`.
#[must_use]
pub fn level_bands(bands: usize) -> std::ops::Range<usize> {
    FIRST_LEVEL_BAND.min(bands.saturating_sub(1))..bands.min(END_OF_LEVEL_BANDS)
}

/// The grid at one sample rate.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    cells: Vec<BandWeights>,
    quantile_bias_db: PerBand,
    median_bias_db: PerBand,
    frame: usize,
    rate_hz: f64,
}

static GRIDS: Cache<u64, Grid> = Cache::new();

impl Grid {
    /// The grid for a sample rate, made at its first clip.
    #[must_use]
    pub(super) fn shared(rate: Hertz) -> Arc<Self> {
        GRIDS.get(rate.0.to_bits(), || Arc::new(Self::new(rate)))
    }

    /// The grid for a sample rate.
    #[must_use]
    pub fn new(rate: Hertz) -> Self {
        let frame = frame_length(rate.0);
        let (bin_hz, bins) = (rate.0 / frame as f64, frame / 2 + 1);
        let mut cells = Vec::with_capacity(BANDS * CELLS);
        let (mut quantile_bias_db, mut median_bias_db) = ([0.0; BANDS], [0.0; BANDS]);
        for place in 0..BANDS {
            let share = |cell: usize| band(place).edge(cell as f64 / CELLS as f64);
            let of_band: Vec<BandWeights> =
                (0..CELLS).map(|cell| BandWeights::new(share(cell), share(cell + 1), bin_hz, bins)).collect();
            let freedoms: Vec<f64> = of_band.iter().map(|cell| cell_freedom(cell.weights(), ROW_FRAMES)).collect();
            // A band above half the rate has no bins: it is not there ([`Grid::bands_below`]), and nothing is to be known of it.
            quantile_bias_db[place] = 10.0 * quantile_over_mean(&freedoms, FLOOR_QUANTILE).log10();
            median_bias_db[place] = 10.0 * quantile_over_mean(&freedoms, MEDIAN).log10();
            cells.extend(of_band);
        }
        Self { cells, quantile_bias_db, median_bias_db, frame, rate_hz: rate.0 }
    }

    /// Samples in a frame.
    #[must_use]
    pub fn frame(&self) -> usize {
        self.frame
    }

    /// Distance between bins, hertz.
    #[must_use]
    pub fn bin_hz(&self) -> f64 {
        self.rate_hz / self.frame as f64
    }

    /// Seconds from one row of cells to the next.
    #[must_use]
    pub fn row_seconds(&self) -> f64 {
        (ROW_FRAMES * self.frame / 2) as f64 / self.rate_hz
    }

    /// How far the floor quantile of steady noise lies from its mean, dB (negative), per band.
    #[must_use]
    pub fn quantile_bias_db(&self) -> &PerBand {
        &self.quantile_bias_db
    }

    /// The same for the median.
    #[must_use]
    pub fn median_bias_db(&self) -> &PerBand {
        &self.median_bias_db
    }

    /// Every cell's share of the bins, band by band.
    pub(super) fn cells(&self) -> &[BandWeights] {
        &self.cells
    }

    /// How many bands lie wholly below a frequency.
    #[must_use]
    pub fn bands_below(limit: Hertz) -> usize {
        (0..BANDS).take_while(|place| band(*place).upper().0 <= limit.0).count()
    }
}
