//! Arithmetic in as many lanes as the processor has: plain loops, built a second time for AVX2 where that may be there.
//!
//! A lane adds and multiplies the same way however many there are side by side, so the numbers are the same to the last bit.

/// Runtime dispatch: does work that is made of plain loops in the widest vector registers that the processor has.
///
/// `work` and what it calls must be inlined (`#[inline(always)]` where the compiler would not by itself): a function of its own
/// is built once, for any processor.
#[inline(always)]
pub fn dispatch<T>(work: impl FnOnce() -> T) -> T {
    #[cfg(target_arch = "x86_64")]
    if let Some(avx2) = fearless_simd::Level::new().as_avx2() {
        return fearless_simd::Simd::vectorize(avx2, work);
    }
    work()
}

/// A value for each lane. (`std::array::from_fn` and `map` are functions of their own, which are not built for wide lanes.)
#[inline(always)]
pub fn map_lanes<const LANES: usize>(mut of: impl FnMut(usize) -> f64) -> [f64; LANES] {
    let mut values = [0.0; LANES];
    for (lane, value) in values.iter_mut().enumerate() {
        *value = of(lane);
    }
    values
}

/// 1.5 · 2⁵²: added to a number and taken off again it rounds to a whole one, which then stands in the lowest bits.
const ROUNDS: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts, of which the first has so many zeros at its end that a whole number times it is exact (fdlibm, `e_exp.c`).
const LN_2: [f64; 2] = [6.931_471_803_691_238e-1, 1.908_214_929_270_587_7e-10];

/// The exponential function in each lane, to four steps of its last bit; from 10⁻³⁰⁴ to 10³⁰⁴, and not beyond.
///
/// `x = k ln 2 + r`, `|r| ≤ ln 2 / 2`: `2ᵏ` by its bits, `eʳ` by its series.
#[inline(always)]
#[must_use]
pub fn exp<const LANES: usize>(x: [f64; LANES]) -> [f64; LANES] {
    /// 1/n! for n from 13 down.
    const SERIES: [f64; 14] = [
        1.0 / 6_227_020_800.0,
        1.0 / 479_001_600.0,
        1.0 / 39_916_800.0,
        1.0 / 3_628_800.0,
        1.0 / 362_880.0,
        1.0 / 40_320.0,
        1.0 / 5040.0,
        1.0 / 720.0,
        1.0 / 120.0,
        1.0 / 24.0,
        1.0 / 6.0,
        0.5,
        1.0,
        1.0,
    ];
    map_lanes(|lane| {
        let x = x[lane].clamp(-700.0, 700.0);
        let rounded = x * std::f64::consts::LOG2_E + ROUNDS;
        let k = rounded - ROUNDS;
        let r = (x - k * LN_2[0]) - k * LN_2[1];
        let series = SERIES.iter().skip(1).fold(SERIES[0], |sum, term| sum * r + term);
        // The lowest bits of `rounded` are k.
        series * f64::from_bits((rounded.to_bits() << 52).wrapping_add(1.0f64.to_bits()))
    })
}

/// The natural logarithm in each lane, to four steps of its last bit, or of 1's where it is nearly 0; of positive normal numbers.
///
/// `x = 2ᵏ m`, `√½ ≤ m < √2`: `ln m = 2 artanh s`, `s = (m − 1)/(m + 1)`, by its series.
#[inline(always)]
#[must_use]
pub fn ln<const LANES: usize>(x: [f64; LANES]) -> [f64; LANES] {
    const TERMS: usize = 11;
    /// Bits of √½.
    const FROM: u64 = 0x3FE6_A09E_667F_3BCD;
    /// Bits of 2⁵²: a whole number below 2⁵² over these bits is 2⁵² and the number.
    const TWO_52: u64 = 0x4330_0000_0000_0000;
    map_lanes(|lane| {
        let x = x[lane];
        // Biased by 1023 so that it is not negative.
        let k = x.to_bits().wrapping_sub(FROM).wrapping_add(1023 << 52) >> 52;
        let m = f64::from_bits(x.to_bits().wrapping_sub(k.wrapping_sub(1023) << 52));
        let k = f64::from_bits(TWO_52 | k) - (f64::from_bits(TWO_52) + 1023.0);
        let s = (m - 1.0) / (m + 1.0);
        let s2 = s * s;
        let series = (1..TERMS).rev().fold(0.0, |sum, term| (sum + 1.0 / (2 * term + 1) as f64) * s2);
        k * LN_2[0] + (2.0 * s + (2.0 * s * series + k * LN_2[1]))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Four steps of the last bit.
    const TOLERANCE: f64 = 4.0 * f64::EPSILON;

    /// Numbers of all sizes, and those where the halves of a step meet.
    fn numbers(most: f64) -> impl Iterator<Item = f64> {
        let edges = [0.0, std::f64::consts::LN_2 / 2.0, std::f64::consts::SQRT_2.ln(), 1e-300, 1e-17];
        let many = (1..20_000).map(move |n| most * (f64::from(n) / 20_000.0).powi(3));
        edges.into_iter().chain(many).flat_map(|x| [x, -x])
    }

    #[test]
    fn the_exponential_is_that_of_the_system() {
        for x in numbers(700.0) {
            let [ours, twice] = exp([x, x]);
            assert!((ours / x.exp() - 1.0).abs() <= TOLERANCE, "{x}: {ours}, {}", x.exp());
            assert_eq!(ours.to_bits(), twice.to_bits());
        }
        assert_eq!(exp([0.0, -0.0]), [1.0, 1.0]);
        assert!(exp([f64::INFINITY])[0] > 1e304 && exp([f64::NEG_INFINITY])[0] < 1e-303);
        assert!(exp([f64::NAN])[0].is_nan());
    }

    #[test]
    fn the_logarithm_is_that_of_the_system() {
        for x in numbers(700.0).map(f64::exp) {
            let [ours] = ln([x]);
            assert!((ours - x.ln()).abs() <= TOLERANCE * x.ln().abs().max(1.0), "{x}: {ours}, {}", x.ln());
        }
        assert_eq!(ln([1.0]), [0.0]);
    }

    /// Sums, products, quotients and roots in lanes.
    #[inline(always)]
    fn work(values: &[f32]) -> Vec<u32> {
        let mut lanes = [0.0f32; 8];
        for eight in values.as_chunks::<8>().0 {
            for lane in 0..8 {
                lanes[lane] = (lanes[lane] * 0.7 + eight[lane] * eight[lane]).sqrt() / (1.0 + eight[lane].abs());
            }
        }
        lanes.iter().map(|lane| lane.to_bits()).collect()
    }

    #[test]
    fn wide_lanes_give_the_same_bits() {
        let values: Vec<f32> =
            (0..4000_u32).map(|n| (n.wrapping_mul(2_654_435_761) >> 8) as f32 * 1e-7 - 0.8).collect();
        let wide = dispatch(
            #[inline(always)]
            || work(&values),
        );
        assert_eq!(wide, work(&values));
        assert!(wide.windows(2).any(|pair| pair[0] != pair[1]), "every lane has numbers of its own");
    }

    #[test]
    fn wide_exponentials_and_logarithms_give_the_same_bits() {
        let values: Vec<f64> = numbers(30.0).collect();
        let plain: Vec<u64> = values.iter().map(|x| ln(exp([*x, *x]))[0].to_bits()).collect();
        let mut wide = vec![0; values.len()];
        dispatch(
            #[inline(always)]
            || {
                for (bits, x) in wide.iter_mut().zip(&values) {
                    *bits = ln(exp([*x, *x]))[0].to_bits();
                }
            },
        );
        assert_eq!(plain, wide);
    }
}
