//! A clip at another rate: a windowed sinc, as recorders resample.

use hissward::clip::Clip;
use hissward::units::Hertz;

/// Zero crossings to each side.
const HALF: f64 = 24.0;
/// The cut-off, as a share of half the lower rate.
const PASS: f64 = 0.94;
/// Steps between samples at which the filter is laid out; rates of recorders are met within 2·10⁻⁴ of a sample.
const PHASES: usize = 640;

/// The clip at another rate.
pub fn at_rate(clip: &Clip, rate: Hertz) -> Clip {
    let (from_hz, to_hz) = (clip.rate().0, rate.0);
    let cut = PASS * (to_hz / from_hz).min(1.0);
    let reach = (HALF / cut).ceil() as isize;
    let tap = |away: f64| {
        let x = std::f64::consts::PI * away * cut;
        let sinc = if x.abs() < 1e-9 { 1.0 } else { x.sin() / x };
        let place = away / (reach as f64);
        if place.abs() >= 1.0 { 0.0 } else { cut * sinc * (0.5 + 0.5 * (std::f64::consts::PI * place).cos()) }
    };
    let filters: Vec<Vec<f32>> = (0..=PHASES)
        .map(|phase| (1 - reach..=reach).map(|at| tap(at as f64 - phase as f64 / PHASES as f64) as f32).collect())
        .collect();
    let samples = clip.samples();
    let count = (samples.len() as f64 * to_hz / from_hz).floor() as usize;
    let made = (0..count)
        .map(|n| {
            let place = n as f64 * from_hz / to_hz;
            let whole = place.floor();
            let filter = &filters[((place - whole) * PHASES as f64).round() as usize];
            let first = whole as isize + 1 - reach;
            let taps = filter.iter().enumerate();
            taps.map(|(k, tap)| {
                let at = first + k as isize;
                usize::try_from(at).ok().and_then(|at| samples.get(at)).map_or(0.0, |x| x * tap)
            })
            .sum::<f32>()
            .clamp(-1.0, 1.0)
        })
        .collect();
    Clip::new(made, rate, clip.name().to_owned()).expect("a rate that recorders write")
}
