//! Arithmetic in as many lanes as the processor has: plain loops, built a second time for AVX2 where that may be there.
//!
//! A lane adds and multiplies the same way however many there are side by side, so the numbers are the same to the last bit.

/// Does work that is made of plain loops in the widest lanes the processor has.
///
/// `work` and what it calls must be inlined (`#[inline(always)]` where the compiler would not by itself): a function of its own
/// is built once, for any processor.
#[inline(always)]
pub fn widest<T>(work: impl FnOnce() -> T) -> T {
    #[cfg(target_arch = "x86_64")]
    if let Some(avx2) = fearless_simd::Level::new().as_avx2() {
        return fearless_simd::Simd::vectorize(avx2, work);
    }
    work()
}

#[cfg(test)]
mod tests {
    use super::*;

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
        let wide = widest(
            #[inline(always)]
            || work(&values),
        );
        assert_eq!(wide, work(&values));
        assert!(wide.windows(2).any(|pair| pair[0] != pair[1]), "every lane has numbers of its own");
    }
}
