//! Power in the bands that levels integrate: the third-octaves from 1 to 16 kHz.

use super::exact;
use super::filter::Chain;

/// Lower edge of the third-octave band at 1 kHz, hertz. Source: IEC 61260-1:2014, 1000·10^(−0.05).
pub(super) const BAND_LOW_HZ: f64 = 891.250_938;
/// Upper edge of the third-octave band at 16 kHz, hertz. Source: IEC 61260-1:2014, 10^4.25.
pub(super) const BAND_HIGH_HZ: f64 = 17_782.794_1;

/// Butterworth, order 12: quality factors of its sections. Steep, for most noises have far more power below the band.
const LOW_EDGE_Q: [f64; 6] = [0.504_314, 0.541_196, 0.630_236, 0.821_340, 1.306_563, 3.830_649];
/// Butterworth, order 4: at the high edge little is left.
const HIGH_EDGE_Q: [f64; 2] = [0.541_196, 1.306_563];
/// Points at which a filter's power is summed over the band; fine enough for a quality factor of 10.
const POINTS: usize = 600;

/// Where the band ends at this rate: at 16 kHz's upper edge, or below half the rate.
fn band_high_hz(rate_hz: f64) -> f64 {
    BAND_HIGH_HZ.min(0.49 * rate_hz)
}

/// Mean square of samples within the band, by Butterworth filters in exact arithmetic.
pub(super) fn band_power(samples: &[f64], rate_hz: f64) -> f64 {
    let mut chain = Chain::new(rate_hz);
    for q in LOW_EDGE_Q {
        chain = chain.high_pass(BAND_LOW_HZ, q);
    }
    if band_high_hz(rate_hz) >= BAND_HIGH_HZ {
        for q in HIGH_EDGE_Q {
            chain = chain.low_pass(BAND_HIGH_HZ, q);
        }
    }
    let mut filtered = samples.to_vec();
    chain.run(&mut filtered);
    filtered.iter().map(|x| x * x).sum::<f64>() / filtered.len().max(1) as f64
}

/// Mean square within the band of white noise (variance 1) behind a filter: (2/rate)·∫|H|² df.
pub(super) fn chain_power(chain: &Chain) -> f64 {
    let rate_hz = chain.rate_hz();
    let ratio = band_high_hz(rate_hz) / BAND_LOW_HZ;
    let step = exact::ln(ratio) / POINTS as f64;
    let sum: f64 = (0..POINTS)
        .map(|k| {
            // The midpoint rule on a logarithmic axis: df = f·d(ln f).
            let hz = BAND_LOW_HZ * exact::exp(step * (k as f64 + 0.5));
            chain.power_at(hz) * hz * step
        })
        .sum();
    2.0 / rate_hz * sum
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::simulate::Dice;

    #[test]
    fn filter_and_integral_agree_on_coloured_noise() {
        let chain = Chain::new(48_000.0).soft_low_pass(2000.0).peak(6000.0, 9.0, 4.0);
        let mut dice = Dice::seeded(1);
        let mut noise: Vec<f64> = (0..480_000).map(|_| dice.normal()).collect();
        chain.run(&mut noise);
        let apart_db = 10.0 * (band_power(&noise, 48_000.0) / chain_power(&chain)).log10();
        // Statistics alone give 4.343/√(BT) ≈ 0.02 dB; the filter's finite slopes some hundredths more.
        assert!(apart_db.abs() < 0.1, "{apart_db} dB apart");
    }

    #[test]
    fn what_lies_below_the_band_does_not_count() {
        let sine = |hz: f64| -> Vec<f64> {
            (0..48_000).map(|n| (std::f64::consts::TAU * hz * f64::from(n) / 48_000.0).sin()).collect()
        };
        assert!(band_power(&sine(300.0), 48_000.0) < 1e-4);
        let inside_db = 10.0 * (band_power(&sine(4000.0), 48_000.0) / 0.5).log10();
        assert!(inside_db.abs() < 0.02, "a sine inside keeps A²/2: {inside_db} dB off");
    }
}
