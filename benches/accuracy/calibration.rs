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

#[cfg(test)]
mod tests {
    use super::*;
    use hissward::simulate::Dice;

    fn pairs(truth_of: impl Fn(f64) -> f64) -> Vec<(f64, bool)> {
        let mut dice = Dice::seeded(6);
        (0..20_000)
            .map(|_| {
                let given = dice.between(0.3, 1.0);
                (given, dice.chance(truth_of(given)))
            })
            .collect()
    }

    #[test]
    fn honest_probabilities_have_no_error() {
        let error = debiased_error(&bins(&pairs(|p| p), 10)).expect("full bins");
        assert!(error < 0.01, "{error}");
    }

    #[test]
    fn boasting_by_a_tenth_is_an_error_of_a_tenth() {
        let error = debiased_error(&bins(&pairs(|p| p - 0.1), 10)).expect("full bins");
        // Each of 10 bins: standard error √(0.25/2000) = 0.011.
        assert!((error - 0.1).abs() < 0.015, "{error}");
    }
}
