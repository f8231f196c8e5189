//! What is kept of a clip: the power of every cell of the grid over time, and a few sums for its fitness.

use std::sync::{Arc, OnceLock};

use crate::simd::dispatch;
use crate::spectrum::PairSpectra;
use crate::units::{Hertz, Seconds};

use super::cutoff::cut_off;
use super::floor::Floor;
use super::grid::{BANDS, CELLS, END_OF_LEVEL_BANDS, FIRST_LEVEL_BAND, Grid, MEDIAN, PerBand, ROW_FRAMES};
use super::windows::{STRETCH_SHARES, loudest_stretches};

/// Rows kept at the most: three minutes. A longer clip keeps every second row, then every fourth, and so on,
/// so memory stays flat however long it is.
const MOST_ROWS: usize = 4096;
/// Samples of digital zero in a row that no microphone gives: one with so little noise of its own would need a converter's
/// last bit to lie over all sound for 32 samples.
const SILENT_RUN: u32 = 32;
/// Peaks of 256 samples each are counted in steps of this, dB under full scale, and so many steps; what lies within the last
/// number of steps under the highest is at the ceiling.
const PEAK_STEP_DB: f32 = 0.25;
const PEAK_STEPS: usize = 160;
const CEILING_STEPS: usize = 2;
/// What counts as full scale: 16-bit recorders clip at 32767/32768.
const FULL_SCALE: f32 = 32_766.5 / 32_768.0;
/// Samples at full scale in a row that count as clipped; a single one may be a peak that just fits.
const CLIPPED_RUN: u32 = 3;
/// Samples looked at and then transformed while they are in the processor's cache; a multiple of what is summed up at once.
const PIECE: usize = 1 << 15;
/// Cell power of digital silence: far under the quantisation noise of 24 bits.
const SILENCE: f32 = 1e-18;
/// The stretch below the bands of hiss, hertz.
const LOW_HZ: (f64, f64) = (60.0, 300.0);
/// Seconds over which loudness is followed for automatic gain.
const TRACE_SECONDS: f64 = 0.25;

/// Takes a clip in, block by block, and makes a [`ClipFeatures`] of it.
pub struct ClipAnalyzer {
    name: String,
    rate: Hertz,
    grid: Arc<Grid>,
    spectra: PairSpectra,
    rows: Vec<f32>,
    /// Every how many rows one is kept, and how many passed since.
    stride: usize,
    passed: usize,
    density: Vec<f64>,
    frames: usize,
    samples: u64,
    sum: f64,
    squares: f64,
    peak: f32,
    run: u32,
    clipped: u64,
    clipped_pieces: u64,
    zero_run: u32,
    zeroed: u64,
    /// How many pieces peak at each step under full scale.
    peaks: Vec<u32>,
    digest: [u32; 2],
}

impl ClipAnalyzer {
    /// A listener for sound of one rate.
    #[must_use]
    pub fn new(name: impl Into<String>, rate: Hertz) -> Self {
        let grid = Grid::shared(rate);
        Self {
            name: name.into(),
            rate,
            spectra: PairSpectra::new(grid.frame()),
            rows: Vec::new(),
            stride: 1,
            passed: 0,
            density: vec![0.0; grid.frame() / 2 + 1],
            grid,
            frames: 0,
            samples: 0,
            sum: 0.0,
            squares: 0.0,
            peak: 0.0,
            run: 0,
            clipped: 0,
            clipped_pieces: 0,
            zero_run: 0,
            zeroed: 0,
            peaks: vec![0; PEAK_STEPS],
            digest: [0; 2],
        }
    }

    /// Takes samples in, full scale ±1.
    pub fn push(&mut self, samples: &[f32]) {
        for piece in samples.chunks(PIECE) {
            dispatch(
                #[inline(always)]
                || self.measure(piece),
            );
            self.transform(piece);
        }
    }

    fn transform(&mut self, samples: &[f32]) {
        let Self { spectra, grid, rows, density, frames, stride, passed, .. } = self;
        spectra.push(samples, |power| {
            *frames += ROW_FRAMES;
            dispatch(
                #[inline(always)]
                || {
                    for (total, p) in density.iter_mut().zip(power) {
                        *total += f64::from(*p);
                    }
                    if *passed == 0 {
                        for cell in grid.cells() {
                            rows.push(cell.power(power) / ROW_FRAMES as f32 + SILENCE);
                        }
                    }
                },
            );
            *passed = (*passed + 1) % *stride;
            if rows.len() >= 2 * MOST_ROWS * BANDS * CELLS {
                thin(rows);
                *stride *= 2;
            }
        });
    }

    /// What has been taken in so far.
    #[must_use]
    pub fn sound(&self) -> ClipFeatures {
        let n = self.samples.max(1) as f64;
        let odd = self.spectra.odd();
        let frames = self.frames + usize::from(odd.is_some());
        let scale = 1.0 / frames.max(1) as f64 / self.grid.bin_hz();
        let mut bins: Vec<f64> = self.density.iter().map(|sum| sum * scale).collect();
        if let Some(odd) = odd {
            bins.iter_mut().zip(odd).for_each(|(density, power)| *density += f64::from(power) * scale);
        }
        let cut_off = cut_off(&bins, self.grid.bin_hz());
        ClipFeatures {
            name: self.name.clone(),
            rate: self.rate,
            duration: Seconds(self.samples as f64 / self.rate.0),
            rows: self.rows.clone(),
            row_seconds: self.grid.row_seconds() * self.stride as f64,
            quantile_bias_db: *self.grid.quantile_bias_db(),
            density: bins,
            bin_hz: self.grid.bin_hz(),
            bandwidth: cut_off.unwrap_or(Hertz(self.rate.0 / 2.0)),
            cut_off,
            mean: self.sum / n,
            mean_square: self.squares / n,
            peak: self.peak,
            clipped_share: self.clipped_pieces as f64 / self.peaks.iter().sum::<u32>().max(1) as f64,
            zeroed: self.zeroed,
            ceiling_share: ceiling_share(&self.peaks),
            digest: u64::from(self.digest[0]) << 32 | u64::from(self.digest[1]),
            coding: None,
            far: None,
            floor: Asked::default(),
            median: Asked::default(),
            stretches: Asked::default(),
        }
    }

    /// What has been taken in, at the end of a clip: as [`Self::sound`], without a copy of the rows.
    #[must_use]
    pub fn into_sound(mut self) -> ClipFeatures {
        let rows = std::mem::take(&mut self.rows);
        ClipFeatures { rows, ..self.sound() }
    }

    #[inline(always)]
    fn measure(&mut self, samples: &[f32]) {
        for piece in samples.chunks(256) {
            let first = self.samples as u32;
            self.samples += piece.len() as u64;
            // In lanes: one sum alone waits for each addition before the next. Each quantity in a loop of its own: so the
            // compiler sees the lanes.
            const LANES: usize = 8;
            let (mut sums, mut squares, mut peaks) = ([0.0f32; LANES], [0.0f32; LANES], [0.0f32; LANES]);
            let (mut digests, mut zeros) = ([[0u32; LANES]; 2], [0u32; LANES]);
            let louder = |peak: f32, sample: f32| if sample.abs() > peak { sample.abs() } else { peak };
            // Two sums of samples, each times an odd number that its place in the clip gives: how the sound is cut into
            // blocks on its way here makes no difference.
            let mixed = |digest: u32, sample: f32, place: u32, factor: u32| {
                digest.wrapping_add(sample.to_bits().wrapping_mul(place.wrapping_mul(factor) | 1))
            };
            const FACTORS: [u32; 2] = [0x9e37_79b1, 0x85eb_ca6b];
            let (eights, rest) = piece.as_chunks::<LANES>();
            for eight in eights {
                for lane in 0..LANES {
                    sums[lane] += eight[lane];
                    squares[lane] += eight[lane] * eight[lane];
                }
            }
            for eight in eights {
                for lane in 0..LANES {
                    peaks[lane] = louder(peaks[lane], eight[lane]);
                }
            }
            for (sum, factor) in digests.iter_mut().zip(FACTORS) {
                for (at, eight) in eights.iter().enumerate() {
                    let place = first.wrapping_add((at * LANES) as u32);
                    for lane in 0..LANES {
                        sum[lane] = mixed(sum[lane], eight[lane], place.wrapping_add(lane as u32), factor);
                    }
                }
            }
            for eight in eights {
                for lane in 0..LANES {
                    zeros[lane] += u32::from(eight[lane] == 0.0);
                }
            }
            let of_rest = first.wrapping_add((eights.len() * LANES) as u32);
            for (lane, sample) in rest.iter().enumerate() {
                sums[lane] += sample;
                squares[lane] += sample * sample;
                peaks[lane] = louder(peaks[lane], *sample);
                zeros[lane] += u32::from(*sample == 0.0);
                for (sum, factor) in digests.iter_mut().zip(FACTORS) {
                    sum[lane] = mixed(sum[lane], *sample, of_rest.wrapping_add(lane as u32), factor);
                }
            }
            let peak = peaks.into_iter().fold(0.0, f32::max);
            self.sum += f64::from(sums.iter().sum::<f32>());
            self.squares += f64::from(squares.iter().sum::<f32>());
            self.peak = self.peak.max(peak);
            let step = (-20.0 * peak.max(1e-9).log10() / PEAK_STEP_DB).max(0.0) as usize;
            self.peaks[step.min(PEAK_STEPS - 1)] += 1;
            for (all, lanes) in self.digest.iter_mut().zip(digests) {
                *all = lanes.into_iter().fold(*all, u32::wrapping_add);
            }
            // Only a piece with so many zeros can begin, hold or end a run of them.
            if self.zero_run > 0 || zeros.into_iter().sum::<u32>() > 0 {
                self.count_zeroed(piece);
            }
            if peak >= FULL_SCALE {
                let before = self.clipped;
                self.count_clipped(piece);
                self.clipped_pieces += u64::from(self.clipped > before);
            } else {
                self.run = 0;
            }
        }
    }

    fn count_zeroed(&mut self, piece: &[f32]) {
        for sample in piece {
            self.zero_run = if *sample == 0.0 { self.zero_run.saturating_add(1) } else { 0 };
            match self.zero_run.cmp(&SILENT_RUN) {
                std::cmp::Ordering::Less => {}
                std::cmp::Ordering::Equal => self.zeroed += u64::from(SILENT_RUN),
                std::cmp::Ordering::Greater => self.zeroed += 1,
            }
        }
    }

    fn count_clipped(&mut self, piece: &[f32]) {
        for sample in piece {
            self.run = if sample.abs() >= FULL_SCALE { self.run + 1 } else { 0 };
            match self.run.cmp(&CLIPPED_RUN) {
                std::cmp::Ordering::Less => {}
                std::cmp::Ordering::Equal => self.clipped += u64::from(CLIPPED_RUN),
                std::cmp::Ordering::Greater => self.clipped += 1,
            }
        }
    }
}

/// Share of the pieces that peak within half a decibel of the highest.
fn ceiling_share(peaks: &[u32]) -> f64 {
    let all = peaks.iter().map(|count| f64::from(*count)).sum::<f64>().max(1.0);
    let highest = peaks.iter().position(|count| *count > 0).unwrap_or(0);
    peaks.iter().skip(highest).take(1 + CEILING_STEPS).map(|count| f64::from(*count)).sum::<f64>() / all
}

/// Keeps every second row.
fn thin(rows: &mut Vec<f32>) {
    let width = BANDS * CELLS;
    let kept = rows.len() / width / 2;
    for row in 1..kept {
        rows.copy_within(2 * row * width..(2 * row + 1) * width, row * width);
    }
    rows.truncate(kept * width);
}

/// What is kept of a clip.
#[derive(Debug, Clone, PartialEq)]
pub struct ClipFeatures {
    name: String,
    rate: Hertz,
    duration: Seconds,
    rows: Vec<f32>,
    row_seconds: f64,
    quantile_bias_db: PerBand,
    density: Vec<f64>,
    bin_hz: f64,
    bandwidth: Hertz,
    cut_off: Option<Hertz>,
    mean: f64,
    mean_square: f64,
    peak: f32,
    clipped_share: f64,
    zeroed: u64,
    ceiling_share: f64,
    digest: u64,
    coding: Option<String>,
    far: Option<Box<ClipFeatures>>,
    floor: Asked<Option<Floor>>,
    median: Asked<Option<Floor>>,
    stretches: Asked<Option<[Floor; STRETCH_SHARES.len()]>>,
}

/// Worked out when it is first asked for: a clip is compared with its own opening's and with other cylinders'.
#[derive(Debug, Clone)]
struct Asked<T>(OnceLock<T>);

impl<T> Default for Asked<T> {
    fn default() -> Self {
        Self(OnceLock::new())
    }
}

impl<T> PartialEq for Asked<T> {
    /// It follows from the rest of the clip.
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl ClipFeatures {
    /// The floor of the whole clip; `None` where it is shorter than one row of cells.
    #[must_use]
    pub fn floor(&self) -> Option<&Floor> {
        self.floor.0.get_or_init(|| Floor::of(self)).as_ref()
    }

    /// The median of the clip's cells in place of the low quantile: what it does half of the time.
    #[must_use]
    pub fn median(&self) -> Option<&Floor> {
        let median = || {
            let (rows, row_seconds) = self.rows();
            Floor::of_rows(&rows.collect::<Vec<_>>(), row_seconds, MEDIAN)
        };
        self.median.0.get_or_init(median).as_ref()
    }

    /// Floors of the loudest stretches of the clip, one for each of [`STRETCH_SHARES`]: the air may have come late, or gone
    /// early. `None` of a clip that is too short.
    #[must_use]
    pub fn loudest_stretches(&self) -> Option<&[Floor; STRETCH_SHARES.len()]> {
        self.stretches.0.get_or_init(|| loudest_stretches(self)).as_ref()
    }

    /// Power below the bands of hiss, 60 to 300 Hz, dB FS: wind on the capsule has most of its own there.
    #[must_use]
    pub fn low_db(&self) -> f64 {
        let bin = |hz: f64| ((hz / self.bin_hz).round() as usize).min(self.density.len());
        let power: f64 = self.density[bin(LOW_HZ.0)..bin(LOW_HZ.1)].iter().sum::<f64>() * self.bin_hz;
        10.0 * power.max(f64::MIN_POSITIVE).log10()
    }

    /// Offset of steady noise's median from its mean, dB, per band.
    #[must_use]
    pub fn median_bias_db(&self) -> PerBand {
        *Grid::shared(self.rate).median_bias_db()
    }

    /// The same clip with what a second microphone a step away heard meanwhile (another channel of the same recording).
    #[must_use]
    pub fn tracked_by(mut self, far: Self) -> Self {
        self.far = Some(Box::new(far));
        self
    }

    /// The same recording with its two microphones the other way round; itself where there is only one.
    #[must_use]
    pub fn swapped(mut self) -> Self {
        match self.far.take() {
            Some(far) => far.tracked_by(self),
            None => self,
        }
    }

    /// The same clip, known to come from a file whose coding throws parts of the sound away.
    #[must_use]
    pub fn coded_as(mut self, coding: impl Into<String>) -> Self {
        self.coding = Some(coding.into());
        self
    }

    /// The lossy coding that it came in, where its file says so.
    #[must_use]
    pub fn coding(&self) -> Option<&str> {
        self.coding.as_deref()
    }

    /// Share of the samples that are digital zero, 32 or more in a row.
    #[must_use]
    pub fn zeroed_share(&self) -> f64 {
        self.zeroed as f64 / (self.duration.0 * self.rate.0).max(1.0)
    }

    /// Rows of the far channel, as [`Self::rows`]; `None` where there is no far channel.
    #[must_use]
    pub fn far_rows(&self) -> Option<std::slice::ChunksExact<'_, f32>> {
        self.far.as_ref().map(|far| far.rows.chunks_exact(BANDS * CELLS))
    }

    /// The clip's name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Samples per second.
    #[must_use]
    pub fn rate(&self) -> Hertz {
        self.rate
    }

    /// How long the clip is.
    #[must_use]
    pub fn duration(&self) -> Seconds {
        self.duration
    }

    /// The highest frequency in it: where a coder cut it off, else half the rate.
    #[must_use]
    pub fn bandwidth(&self) -> Hertz {
        self.bandwidth
    }

    /// Where a lossy coder or a resampler cut it off.
    #[must_use]
    pub fn cut_off(&self) -> Option<Hertz> {
        self.cut_off
    }

    /// Long-term power spectral density (mean of all frames), mean square per hertz, and the distance of its bins in hertz.
    #[must_use]
    pub fn density(&self) -> (&[f64], f64) {
        (&self.density, self.bin_hz)
    }

    /// Mean of the samples (DC), full scale 1.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.mean
    }

    /// Mean square of the samples, full scale 1.
    #[must_use]
    pub fn mean_square(&self) -> f64 {
        self.mean_square
    }

    /// The largest magnitude of a sample.
    #[must_use]
    pub fn peak(&self) -> f32 {
        self.peak
    }

    /// Share of the clip, in pieces of 256 samples, in which three samples or more in a row sit at full scale.
    #[must_use]
    pub fn clipped_share(&self) -> f64 {
        self.clipped_share
    }

    /// Share of the clip, in pieces of 256 samples, that peaks within half a decibel of its highest peak.
    #[must_use]
    pub fn ceiling_share(&self) -> f64 {
        self.ceiling_share
    }

    /// A number that two different recordings have in common only by a chance of 2⁻⁶⁴.
    #[must_use]
    pub fn digest(&self) -> u64 {
        self.digest
    }

    /// Offset of the floor quantile of steady noise from its mean, dB, per band.
    #[must_use]
    pub fn quantile_bias_db(&self) -> &PerBand {
        &self.quantile_bias_db
    }

    /// Rows of cell powers (mean square), one after the other, and the seconds between them.
    pub fn rows(&self) -> (std::slice::ChunksExact<'_, f32>, f64) {
        (self.rows.chunks_exact(BANDS * CELLS), self.row_seconds)
    }

    /// Mean power of every band, dB FS.
    #[must_use]
    pub fn mean_db(&self) -> PerBand {
        let (rows, _) = self.rows();
        let count = rows.len().max(1) as f64;
        let mut sums = [0.0f64; BANDS];
        for row in rows {
            for (sum, cells) in sums.iter_mut().zip(row.chunks_exact(CELLS)) {
                *sum += f64::from(cells.iter().sum::<f32>());
            }
        }
        sums.map(|sum| 10.0 * (sum / count).max(f64::MIN_POSITIVE).log10())
    }

    /// Loudness (1–16 kHz) in steps of a quarter of a second, dB FS: what automatic gain would show in.
    #[must_use]
    pub fn trace_db(&self) -> Vec<f64> {
        let (rows, row_seconds) = self.rows();
        let step = ((TRACE_SECONDS / row_seconds).round() as usize).max(1);
        let loud: Vec<f64> = rows
            .map(|row| f64::from(row[FIRST_LEVEL_BAND * CELLS..END_OF_LEVEL_BANDS * CELLS].iter().sum::<f32>()))
            .collect();
        loud.chunks(step)
            .map(|part| 10.0 * (part.iter().sum::<f64>() / part.len() as f64).max(f64::MIN_POSITIVE).log10())
            .collect()
    }
}
