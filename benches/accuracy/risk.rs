//! Risk against coverage: answer only where the answer is sure enough, and see how often it is wrong then.

/// A point: answering this share of cases, this share of the answers is wrong.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// Share of cases answered.
    pub coverage: f64,
    /// Share of the answers that are wrong.
    pub risk: f64,
}

/// The curve, from the surest answer to all; `pairs`: probability of the answer and whether it is right. Answers equally
/// sure come together.
pub fn curve(pairs: &[(f64, bool)]) -> Vec<Point> {
    let mut sorted = pairs.to_vec();
    sorted.sort_by(|a, b| b.0.total_cmp(&a.0));
    let total = sorted.len() as f64;
    let mut points = Vec::new();
    let mut wrong = 0;
    for (k, pair) in sorted.iter().enumerate() {
        wrong += usize::from(!pair.1);
        if sorted.get(k + 1).is_none_or(|next| next.0 < pair.0) {
            let answered = (k + 1) as f64;
            points.push(Point { coverage: answered / total, risk: wrong as f64 / answered });
        }
    }
    points
}

/// The largest share of cases that can be answered with at most this risk.
pub fn coverage_at(points: &[Point], risk: f64) -> f64 {
    points.iter().filter(|point| point.risk <= risk).map(|point| point.coverage).fold(0.0, f64::max)
}
