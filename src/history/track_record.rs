//! How often the sound was right: what was said against what was found when the cylinder was opened.

use super::visit::Visit;
use crate::opening::EscapePath;
use crate::ranking::Call;

/// Fewer opened cylinders than these are few. Our own figure: of twenty that were all right the interval still begins
/// at 84 %.
pub const FEW: usize = 20;

/// Probabilities as they are told apart: from here on, up to the next.
const BINS: [f64; 4] = [0.0, 0.5, 0.8, 0.95];

/// The two-sided 95 % point of the normal distribution (ISO 3534-1 tables, from memory).
const Z_95: f64 = 1.959_963_984_540_054;

/// One cylinder that was opened after it had been ranked.
#[derive(Debug, Clone, PartialEq)]
pub struct OpenedCase {
    /// The job.
    pub job: String,
    /// The cylinder.
    pub cylinder: u32,
    /// The call.
    pub call: Call,
    /// The path that the likeliest opening points at, and its probability; `None` where no opening was named.
    pub said: Option<(EscapePath, f64)>,
    /// What was found.
    pub found: Vec<EscapePath>,
}

impl OpenedCase {
    /// Whether what was said is among what was found; `None` where nothing was said.
    #[must_use]
    pub fn is_right(&self) -> Option<bool> {
        self.said.map(|(path, _)| self.found.contains(&path))
    }
}

/// So many right of so many, with the interval of the true share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Share {
    /// How many were right.
    pub right: usize,
    /// Of how many.
    pub of: usize,
    /// The interval's lower end, 0 to 1.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

impl Share {
    /// Wilson's interval of 95 % (E. B. Wilson, J. Am. Stat. Assoc. 22 (1927), 209–212, from memory):
    /// `(p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n)`. Of none it is 0 to 1.
    ///
    /// ```
    /// let share = hissward::history::Share::of(9, 10);
    /// assert!((share.low - 0.596).abs() < 0.001 && (share.high - 0.982).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn of(right: usize, of: usize) -> Self {
        if of == 0 {
            return Self { right, of, low: 0.0, high: 1.0 };
        }
        let n = of as f64;
        let p = right as f64 / n;
        let z2 = Z_95 * Z_95;
        let middle = p + z2 / (2.0 * n);
        let half = Z_95 * (p * (1.0 - p) / n + z2 / (4.0 * n * n)).sqrt();
        let scale = 1.0 + z2 / n;
        Self { right, of, low: ((middle - half) / scale).max(0.0), high: ((middle + half) / scale).min(1.0) }
    }

    /// The share itself; `None` of none.
    #[must_use]
    pub fn value(self) -> Option<f64> {
        (self.of > 0).then(|| self.right as f64 / self.of as f64)
    }
}

/// Cases whose said probability lies between two bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ProbabilityBin {
    /// The lower bound.
    pub from: f64,
    /// The upper bound.
    pub to: f64,
    /// The mean of what was said; `None` where there is none.
    pub said: Option<f64>,
    /// How many of them were right.
    pub share: Share,
}

/// What was said against what was found, over all jobs.
#[derive(Debug, Clone, PartialEq)]
pub struct TrackRecord {
    /// Every opened cylinder that was ranked, as the jobs come.
    pub cases: Vec<OpenedCase>,
    /// By said probability, ascending.
    pub bins: Vec<ProbabilityBin>,
    /// Those called located.
    pub located: Share,
    /// Called "none heard", and a leak was found all the same.
    pub missed: usize,
    /// The program could not tell.
    pub not_told: usize,
}

impl TrackRecord {
    /// Gathers it from visits. Only cylinders with a call that is still one of their clips count.
    #[must_use]
    pub fn of<'a>(visits: impl IntoIterator<Item = &'a Visit>) -> Self {
        let mut cases = Vec::new();
        for visit in visits {
            for row in &visit.rows {
                let (Some(heard), Some(found)) = (&row.heard, &row.found) else { continue };
                let said = heard.openings.first().map(|opening| opening.path()).zip(heard.probability);
                let (job, found) = (visit.job.clone(), found.clone());
                cases.push(OpenedCase { job, cylinder: row.cylinder, call: heard.call, said, found });
            }
        }
        let of = |call: Call| cases.iter().filter(move |case| case.call == call);
        let right = |cases: &[&OpenedCase]| cases.iter().filter(|case| case.is_right() == Some(true)).count();
        let located: Vec<&OpenedCase> = of(Call::Located).collect();
        let bins = BINS.iter().enumerate().map(|(place, &from)| {
            let to = BINS.get(place + 1).copied().unwrap_or(1.0);
            let is_last = place + 1 == BINS.len();
            let within = |p: f64| p >= from && (p < to || is_last);
            let inside: Vec<&OpenedCase> =
                cases.iter().filter(|case| case.said.is_some_and(|(_, p)| within(p))).collect();
            let sum: f64 = inside.iter().filter_map(|case| case.said).map(|(_, p)| p).sum();
            let said = (!inside.is_empty()).then(|| sum / inside.len() as f64);
            ProbabilityBin { from, to, said, share: Share::of(right(&inside), inside.len()) }
        });
        Self {
            bins: bins.collect(),
            located: Share::of(right(&located), located.len()),
            missed: of(Call::NoneHeard).count(),
            not_told: of(Call::CannotTell).count(),
            cases,
        }
    }

    /// Whether there are too few cases to say much.
    #[must_use]
    pub fn is_few(&self) -> bool {
        self.cases.len() < FEW
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::history::{Calls, CylinderCall, CylinderVisit};

    fn visit(rows: &[(Call, &str, f64, Option<EscapePath>)]) -> Visit {
        let row = |(place, (call, opening, probability, found)): (usize, &(Call, &str, f64, Option<EscapePath>))| {
            let openings = vec![opening.parse().expect("an opening")];
            CylinderVisit {
                cylinder: place as u32 + 1,
                cold: false,
                gauge: None,
                heard: Some(CylinderCall { call: *call, openings, probability: Some(*probability) }),
                found: found.map(|path| vec![path]),
            }
        };
        Visit {
            job: "job".to_owned(),
            engine: "e".to_owned(),
            cylinders: 8,
            moment: None,
            restrictor: None,
            shop: None,
            revision: 1,
            calls: Calls::Known,
            rows: rows.iter().enumerate().map(row).collect(),
        }
    }

    #[test]
    fn said_and_found_are_counted_by_probability() {
        use EscapePath::{ExhaustValve, IntakeValve, RingsOrBore};
        let visit = visit(&[
            (Call::Located, "exhaust", 0.97, Some(ExhaustValve)),
            (Call::Located, "intake", 0.96, Some(ExhaustValve)),
            (Call::Shared, "intake", 0.6, Some(IntakeValve)),
            (Call::NoneHeard, "exhaust", 0.4, Some(ExhaustValve)),
            (Call::CannotTell, "oil-filler", 0.7, Some(RingsOrBore)),
            // Nobody opened this one.
            (Call::Located, "exhaust", 0.99, None),
        ]);
        let record = TrackRecord::of([&visit]);
        assert_eq!((record.cases.len(), record.missed, record.not_told), (5, 1, 1));
        assert_eq!((record.located.right, record.located.of), (1, 2));
        let counts: Vec<(usize, usize)> = record.bins.iter().map(|bin| (bin.share.right, bin.share.of)).collect();
        assert_eq!(counts, [(1, 1), (2, 2), (0, 0), (1, 2)]);
        assert!(record.bins[3].said.is_some_and(|said| (said - 0.965).abs() < 1e-12));
        assert!(record.is_few());
    }

    #[test]
    fn intervals_are_wilson_s() {
        // L. D. Brown, T. T. Cai, A. DasGupta, Statistical Science 16 (2001), give the formula; 20 of 20 by hand:
        // 20/(20 + 3.8415) = 0.8389.
        let all = Share::of(20, 20);
        assert!((all.low - 0.8389).abs() < 1e-4 && all.high > 0.999_999, "{all:?}");
        assert_eq!(Share::of(0, 0).value(), None);
        // Of one it says next to nothing: 1/(1 + 3.8415) = 0.2065.
        assert!((Share::of(1, 1).low - 0.2065).abs() < 1e-4);
    }
}
