//! Whether probabilities are honest.

/// A bin of the reliability curve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bin {
    /// Mean probability given.
    pub given: f64,
    /// Share that came true.
    pub came_true: f64,
    /// How many.
    pub count: usize,
}

/// Probabilities in bins of equal count, from low to high. `pairs`: probability and whether it came true.
pub fn bins(pairs: &[(f64, bool)], count: usize) -> Vec<Bin> {
    let mut sorted = pairs.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let total = sorted.len();
    (0..count)
        .map(|k| &sorted[k * total / count..(k + 1) * total / count])
        .filter(|bin| !bin.is_empty())
        .map(|bin| Bin {
            given: bin.iter().map(|pair| pair.0).sum::<f64>() / bin.len() as f64,
            came_true: bin.iter().filter(|pair| pair.1).count() as f64 / bin.len() as f64,
            count: bin.len(),
        })
        .collect()
}

/// Calibration error, root mean square over bins, with the part taken off that chance alone makes:
/// `√max(0, Σ (n/N)·[(given − came_true)² − came_true·(1 − came_true)/(n − 1)])`.
///
/// Source: Kumar, Liang, Ma 2019, "Verified uncertainty calibration", the debiased estimator (memory).
pub fn debiased_error(bins: &[Bin]) -> Option<f64> {
    let total: usize = bins.iter().map(|bin| bin.count).sum();
    if bins.iter().any(|bin| bin.count < 2) || total == 0 {
        return None;
    }
    let square: f64 = bins
        .iter()
        .map(|bin| {
            let chance = bin.came_true * (1.0 - bin.came_true) / (bin.count - 1) as f64;
            bin.count as f64 / total as f64 * ((bin.given - bin.came_true).powi(2) - chance)
        })
        .sum();
    Some(square.max(0.0).sqrt())
}
