//! Spectra held against closed forms, published tables, scipy, and a slow DFT.

use hissward::spectrum::{
    Average, BandWeights, FrameSpectra, ThirdOctave, cell_freedom, median_bias, quantile_over_mean, welch,
};
use hissward::units::Hertz;

const RATE_HZ: f64 = 48_000.0;
/// Single precision through a transform of some thousand points.
const SINGLE_PRECISION: f64 = 2e-4;

/// The signal of fixtures/spectrum/make.py.
fn shared_signal(count: usize) -> Vec<f32> {
    let mut state = 12_345u32;
    (0..count)
        .map(|n| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = f64::from(state) / 2f64.powi(31) - 1.0;
            let tone = |amplitude: f64, cycles: f64| amplitude * (std::f64::consts::TAU * cycles * n as f64).sin();
            (0.1 * noise + tone(0.5, 0.02) + tone(0.05, 0.21)) as f32
        })
        .collect()
}

fn stored(key: &str) -> Vec<f64> {
    let text = include_str!("../fixtures/spectrum/welch.json");
    let all: serde_json::Value = serde_json::from_str(text).expect("the fixture is JSON");
    all[key].as_array().expect("a list").iter().map(|d| d.as_f64().expect("a number")).collect()
}

/// scipy.signal.welch 1.17.1, hann, 512, detrend=False.
#[test]
fn mean_and_median_equal_scipy() {
    for (average, key) in [(Average::Mean, "mean"), (Average::Median, "median")] {
        let ours = welch(&shared_signal(12_000), RATE_HZ, 512, average).expect("a spectrum");
        let theirs = stored(key);
        assert_eq!(ours.density.len(), theirs.len());
        for (bin, (a, b)) in ours.density.iter().zip(&theirs).enumerate() {
            assert!((a / b - 1.0).abs() < 2e-3, "{key}, bin {bin}: {a:e} and scipy {b:e}");
        }
    }
}

/// The definition: X(k) = Σ w x e^(−2πikn/N), one-sided, over Σw².
#[test]
fn a_frame_equals_the_slow_transform() {
    const N: usize = 240;
    let signal = shared_signal(N);
    let window: Vec<f64> = (0..N).map(|n| 0.5 - 0.5 * (std::f64::consts::TAU * n as f64 / N as f64).cos()).collect();
    let squares: f64 = window.iter().map(|w| w * w).sum();
    let mut frames = Vec::new();
    FrameSpectra::new(N).push(&signal, |power| frames.push(power.to_vec()));
    assert_eq!(frames.len(), 1);
    let whole: f64 = frames[0].iter().map(|p| f64::from(*p)).sum();
    for (k, power) in frames[0].iter().enumerate() {
        let (mut re, mut im) = (0.0, 0.0);
        for (n, x) in signal.iter().enumerate() {
            let angle = std::f64::consts::TAU * (k * n) as f64 / N as f64;
            re += window[n] * f64::from(*x) * angle.cos();
            im -= window[n] * f64::from(*x) * angle.sin();
        }
        let sides = if k == 0 || k == N / 2 { 1.0 } else { 2.0 };
        // Mean square per bin: PSD × bin width = |X|² · sides / (N Σw²).
        let slow = sides * (re * re + im * im) / (N as f64 * squares);
        assert!((f64::from(*power) - slow).abs() < 1e-6 * whole, "bin {k}: {power:e} and {slow:e}");
    }
}

#[test]
fn blocks_of_any_size_give_the_same_frames() {
    let signal = shared_signal(10_000);
    let frames = |size: usize| {
        let (mut spectra, mut all) = (FrameSpectra::new(512), Vec::new());
        signal.chunks(size).for_each(|block| spectra.push(block, |power| all.push(power.to_vec())));
        all
    };
    let whole = frames(10_000);
    assert_eq!(whole.len(), (10_000 - 512) / 256 + 1);
    for size in [1, 7, 255, 256, 257, 512, 4_000] {
        assert_eq!(frames(size), whole, "blocks of {size}");
    }
}

/// A sine of amplitude A holds A²/2, wherever it lies between two bins.
#[test]
fn a_sine_holds_half_its_amplitude_squared() {
    for cycles in [0.1, 0.101, 0.1234] {
        let sine: Vec<f32> =
            (0..48_000).map(|n| (0.8 * (std::f64::consts::TAU * cycles * f64::from(n)).sin()) as f32).collect();
        let spectrum = welch(&sine, RATE_HZ, 2048, Average::Mean).expect("a spectrum");
        let power = spectrum.density.iter().sum::<f64>() * spectrum.bin_hz;
        assert!((power / 0.32 - 1.0).abs() < SINGLE_PRECISION, "{power}");
    }
}

/// IEC 61260-1:2014 exact midbands and edges.
#[test]
fn bands_lie_where_iec_61260_puts_them() {
    for (x, exact, lower, upper) in [
        (-10, 100.000, 89.125, 112.202),
        (-4, 398.107, 354.813, 446.684),
        (0, 1000.000, 891.251, 1122.018),
        (3, 1995.262, 1778.279, 2238.721),
        (6, 3981.072, 3548.134, 4466.836),
        (9, 7943.282, 7079.458, 8912.509),
        (12, 15_848.932, 14_125.375, 17_782.794),
        (13, 19_952.623, 17_782.794, 22_387.211),
    ] {
        let band = ThirdOctave(x);
        for (got, wanted) in [(band.midband(), exact), (band.lower(), lower), (band.upper(), upper)] {
            assert!((got.0 - wanted).abs() < 0.0006, "band {x}: {got:?} is not {wanted}");
        }
    }
}

/// Bin fractions: bands side by side share out every bin, none twice.
#[test]
fn neighbouring_bands_share_out_the_power() {
    let bins = vec![1.0f32; 1025];
    let bin_hz = RATE_HZ / 2048.0;
    let sum: f32 = (-4..=12)
        .map(|x| BandWeights::new(ThirdOctave(x).lower(), ThirdOctave(x).upper(), bin_hz, 1025).power(&bins))
        .sum();
    let wanted = (ThirdOctave(12).upper().0 - ThirdOctave(-4).lower().0) / bin_hz;
    assert!((f64::from(sum) - wanted).abs() < 1e-3, "{sum} is not {wanted}");
    // What lies above half the rate is not there.
    let beyond = BandWeights::new(Hertz(30_000.0), Hertz(40_000.0), bin_hz, 1025);
    assert_eq!(beyond.power(&bins), 0.0);
}

/// Reckoned from Welch 1967, Eq. 12 (equivalent degrees of freedom) and chi-square.
#[test]
fn intervals_are_those_of_the_table() {
    for (frames, low, high) in
        [(8, 0.5481, 2.3738), (16, 0.6403, 1.7786), (32, 0.7216, 1.4783), (64, 0.7894, 1.3083), (128, 0.8434, 1.2048)]
    {
        let spectrum = welch(&shared_signal(256 * (frames + 1)), RATE_HZ, 512, Average::Mean).expect("a spectrum");
        assert_eq!(spectrum.frames, frames);
        let interval = spectrum.interval(0.95);
        // Half of the table's last digit.
        assert!((interval.low - low).abs() < 6e-5 && (interval.high - high).abs() < 6e-5, "K {frames}: {interval:?}");
    }
}

/// The median average of scipy 1.17.1, which cites Allen et al. 2012, App. B.
#[test]
fn the_bias_of_the_median_is_that_of_the_table() {
    for (frames, bias) in
        [(3, 0.833_333), (5, 0.783_333), (9, 0.745_635), (21, 0.716_390), (51, 0.702_855), (101, 0.698_073)]
    {
        assert!((median_bias(frames) - bias).abs() < 6e-7, "n {frames}: {}", median_bias(frames));
    }
}

/// A low quantile over its bias tells the density of steady noise; so does the mean.
#[test]
fn a_quantile_of_steady_noise_tells_its_density() {
    let mut state = 99u32;
    let mut uniform = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(state >> 8) / f64::from(1u32 << 24) - 0.5
    };
    // Twelve uniform values make one that is as good as Gaussian, variance 1.
    let noise: Vec<f32> = (0..480_000).map(|_| (0..12).map(|_| uniform()).sum::<f64>() as f32).collect();
    let level = |average| {
        let spectrum = welch(&noise, RATE_HZ, 1024, average).expect("a spectrum");
        let inner = &spectrum.density[10..500];
        inner.iter().sum::<f64>() / inner.len() as f64
    };
    let truth = 2.0 / RATE_HZ;
    for average in [Average::Mean, Average::Median, Average::Quantile(0.2)] {
        // 490 bins of 937 frames: 1 % is some five standard errors of the 20 % quantile's mean.
        assert!((level(average) / truth - 1.0).abs() < 0.01, "{average:?}: {}", level(average) / truth);
    }
    // The partner that must fail: a quantile without its bias.
    assert!(level(Average::Quantile(0.2)) * quantile_over_mean(&[2.0], 0.2) < 0.3 * truth);
}

#[test]
fn freedom_grows_with_bins_and_frames_and_never_beyond_their_number() {
    let one = cell_freedom(&[1.0], 1);
    let many = cell_freedom(&[1.0; 20], 2);
    assert!((one - 2.0).abs() < 1e-12);
    assert!(many > 20.0 && many < 2.0 * 20.0 * 2.0, "{many}");
}

#[test]
fn what_cannot_be_is_refused() {
    assert!(welch(&[0.0; 100], RATE_HZ, 512, Average::Mean).is_err());
    assert!(welch(&[0.0; 1000], RATE_HZ, 512, Average::Quantile(1.0)).is_err());
}
