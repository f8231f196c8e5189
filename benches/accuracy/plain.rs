//! The methods that the program is to beat, and their one tool.

use hissward::opening::{Air, Opening};
use hissward::simulate::{Case, CaseClip};
use realfft::RealFftPlanner;

/// Edges of the third-octave bands from 1 to 16 kHz, hertz. Source: IEC 61260-1:2014, exact values.
pub const BAND_HZ: (f64, f64) = (891.251, 17_782.794);
/// The single band of the plain methods, hertz.
const SINGLE_BAND_HZ: (f64, f64) = (2000.0, 10_000.0);
const FRAME: usize = 4096;
/// Air is open from these seconds of each two (late by 0.1 to 0.5 s), and shut in these.
const OPEN_S: (f64, f64) = (1.5, 2.0);
const SHUT_S: (f64, f64) = (0.5, 1.0);

/// A plain method.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// Power of the air clip.
    TotalRms,
    /// Power of the air clip less that of the quiet clip.
    RmsExcess,
    /// Power from 2 to 10 kHz, air over quiet.
    BandRatio,
    /// Power from 2 to 10 kHz, air less quiet.
    BandDifference,
}

impl Method {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::TotalRms, Self::RmsExcess, Self::BandRatio, Self::BandDifference];

    /// What it is called in tables.
    pub fn name(self) -> &'static str {
        match self {
            Self::TotalRms => "total RMS",
            Self::RmsExcess => "RMS excess",
            Self::BandRatio => "2–10 kHz ratio",
            Self::BandDifference => "2–10 kHz difference",
        }
    }
}

/// Mean square between two frequencies: Hann frames of 4096 samples, half overlapping.
pub fn power_between(samples: &[f32], rate_hz: f64, (low_hz, high_hz): (f64, f64)) -> f64 {
    let transform = RealFftPlanner::<f32>::new().plan_fft_forward(FRAME);
    let window: Vec<f32> =
        (0..FRAME).map(|n| 0.5 - 0.5 * (std::f32::consts::TAU * n as f32 / FRAME as f32).cos()).collect();
    let weight: f64 = window.iter().map(|w| f64::from(w * w)).sum();
    let mut spectrum = transform.make_output_vec();
    let (mut sum, mut frames) = (0.0, 0);
    let bins = (low_hz * FRAME as f64 / rate_hz).round() as usize..(high_hz * FRAME as f64 / rate_hz).round() as usize;
    for start in (0..(samples.len() + 1).saturating_sub(FRAME)).step_by(FRAME / 2) {
        let mut input: Vec<f32> = samples[start..start + FRAME].iter().zip(&window).map(|(x, w)| x * w).collect();
        if transform.process(&mut input, &mut spectrum).is_ok() {
            sum += spectrum[bins.clone()].iter().map(|x| f64::from(x.norm_sqr())).sum::<f64>();
            frames += 1;
        }
    }
    // One side of the spectrum holds half; a frame's power is the sum over its bins over N·Σw².
    2.0 * sum / (f64::from(frames.max(1)) * FRAME as f64 * weight)
}

/// Powers of one opening: whole band and single band, air and quiet.
struct Powers {
    opening: Opening,
    all: (f64, f64),
    band: (f64, f64),
}

/// The opening that each method names, in the order of [`Method::ALL`].
pub fn tops(case: &Case) -> [Option<Opening>; 4] {
    let powers: Vec<Powers> = case.truth.openings.iter().filter_map(|at| powers(case, &at.opening)).collect();
    Method::ALL.map(|method| {
        let score = |p: &Powers| match method {
            Method::TotalRms => p.all.0,
            Method::RmsExcess => p.all.0 - p.all.1,
            Method::BandRatio => p.band.0 / p.band.1,
            Method::BandDifference => p.band.0 - p.band.1,
        };
        powers.iter().max_by(|a, b| score(a).total_cmp(&score(b))).map(|p| p.opening.clone())
    })
}

fn powers(case: &Case, opening: &Opening) -> Option<Powers> {
    let clip = |air: Air| case.clips.iter().find(|clip| clip.truth.opening == *opening && clip.truth.air == air);
    let (on, off) = match (clip(Air::On), clip(Air::Off), clip(Air::Pulsed)) {
        (Some(on), Some(off), _) => (vec![on.clip.samples()], vec![off.clip.samples()]),
        (_, _, Some(pulsed)) => (pieces(pulsed, OPEN_S), pieces(pulsed, SHUT_S)),
        _ => return None,
    };
    let rate_hz = case.clips.first()?.clip.rate().0;
    let mean = |pieces: &[&[f32]], band: (f64, f64)| {
        pieces.iter().map(|piece| power_between(piece, rate_hz, band)).sum::<f64>() / pieces.len() as f64
    };
    let all = (0.0, rate_hz / 2.0);
    Some(Powers {
        opening: opening.clone(),
        all: (mean(&on, all), mean(&off, all)),
        band: (mean(&on, SINGLE_BAND_HZ), mean(&off, SINGLE_BAND_HZ)),
    })
}

/// The same part of each two seconds.
fn pieces(clip: &CaseClip, (from_s, to_s): (f64, f64)) -> Vec<&[f32]> {
    let rate_hz = clip.clip.rate().0;
    let samples = clip.clip.samples();
    let at = |s: f64| (s * rate_hz) as usize;
    (0..)
        .map(|k| 2.0 * f64::from(k))
        .map(|base_s| at(base_s + from_s)..at(base_s + to_s))
        .take_while(|range| range.end <= samples.len())
        .map(|range| &samples[range])
        .collect()
}
