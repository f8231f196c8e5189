//! Intervals by resampling whole sessions: cases of one shop are no independent witnesses.

use hissward::simulate::Dice;

/// A figure with its 95 % interval; `None` where there is nothing to count.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The figure.
    pub value: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// How many single values it rests on.
    pub count: usize,
}

/// Resamplings.
const ROUNDS: usize = 1000;
/// Percentiles of a 95 % interval.
const ENDS: (f64, f64) = (0.025, 0.975);

/// Mean of all values, each named with its session; interval by the percentile bootstrap over sessions (Efron 1979,
/// memory). Where every value is the same the bootstrap has no width: then the rule of three, 3/n, opens the interval.
pub fn mean_by_session(values: &[(usize, f64)], seed: u64) -> Option<Estimate> {
    if values.is_empty() {
        return None;
    }
    let mut sessions: Vec<(usize, f64, f64)> = Vec::new();
    let mut sorted = values.to_vec();
    sorted.sort_by_key(|(session, _)| *session);
    for (session, value) in sorted {
        match sessions.last_mut().filter(|last| last.0 == session) {
            Some(last) => (last.1, last.2) = (last.1 + value, last.2 + 1.0),
            None => sessions.push((session, value, 1.0)),
        }
    }
    let mut dice = Dice::seeded(seed);
    let mut means: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let (mut sum, mut count) = (0.0, 0.0);
            for _ in 0..sessions.len() {
                let (_, more, cases) = sessions[dice.below(sessions.len())];
                (sum, count) = (sum + more, count + cases);
            }
            sum / count
        })
        .collect();
    means.sort_by(f64::total_cmp);
    let at = |share: f64| means[((ROUNDS - 1) as f64 * share).round() as usize];
    let value = values.iter().map(|(_, value)| value).sum::<f64>() / values.len() as f64;
    let (mut low, mut high) = (at(ENDS.0), at(ENDS.1));
    let three = 3.0 / values.len() as f64;
    if values.iter().all(|(_, x)| *x == 0.0) {
        high = three.min(1.0);
    } else if values.iter().all(|(_, x)| *x == 1.0) {
        low = (1.0 - three).max(0.0);
    }
    Some(Estimate { value, low, high, count: values.len() })
}
