//! How much more or less a cylinder loses than before, and whether the gauges can tell.

use crate::gauge::{Assessment, Estimate};

/// What was compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// The cylinder alone, the rig taken off both times.
    Own,
    /// The readings, rig and cylinder together, since the rig was not read both times.
    Reading,
}

impl Basis {
    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Own => "own",
            Self::Reading => "reading",
        }
    }
}

/// Which way a loss went, beyond the doubt of the gauges.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Direction {
    /// Less is lost.
    Less,
    /// The gauges cannot tell a difference.
    Same,
    /// More is lost.
    More,
}

impl Direction {
    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Less => "less",
            Self::Same => "same",
            Self::More => "more",
        }
    }
}

/// A cylinder's loss against an earlier one, in percent points of the supply.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Change {
    /// Later minus earlier, with its interval of about 95 %.
    pub points: Estimate,
    /// What was compared.
    pub basis: Basis,
}

impl Change {
    /// The change from one reading to another: like with like, net where the rig was taken off both times.
    ///
    /// The two readings are independent, so their doubts add in quadrature, to each side on its own
    /// (GUM: uc² = Σ(ci·ui)²).
    ///
    /// 60 of 80 psi, then 76 of 80 psi, is 25 % and 5 %:
    ///
    /// ```
    /// use hissward::gauge::{Conditions, Reading, assess};
    /// use hissward::history::{Basis, Change, Direction};
    /// use hissward::units::GaugePressure;
    /// let read = |held| {
    ///     let psi = GaugePressure::from_psi;
    ///     assess(&Reading::Pressures { supply: psi(80.0), held: psi(held) }, None, &Conditions::default())
    /// };
    /// let change = Change::between(&read(60.0)?, &read(76.0)?);
    /// assert!((change.points.value + 20.0).abs() < 1e-12);
    /// assert_eq!((change.basis, change.direction()), (Basis::Reading, Direction::Less));
    /// # Ok::<(), hissward::gauge::GaugeError>(())
    /// ```
    #[must_use]
    pub fn between(earlier: &Assessment, later: &Assessment) -> Self {
        let (from, to, basis) = match (earlier.net_loss_percent, later.net_loss_percent) {
            (Some(from), Some(to)) => (from, to, Basis::Own),
            _ => (earlier.loss_percent, later.loss_percent, Basis::Reading),
        };
        let value = to.value - from.value;
        let down = (to.value - to.low).hypot(from.high - from.value);
        let up = (to.high - to.value).hypot(from.value - from.low);
        Self { points: Estimate { value, low: value - down, high: value + up }, basis }
    }

    /// Which way it went; the same where the interval holds zero.
    #[must_use]
    pub fn direction(self) -> Direction {
        match self.points {
            Estimate { high, .. } if high < 0.0 => Direction::Less,
            Estimate { low, .. } if low > 0.0 => Direction::More,
            _ => Direction::Same,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gauge::{Conditions, Reading, assess};
    use crate::units::Percent;

    fn share(percent: f64) -> Assessment {
        let reading = Reading::Share { loss: Percent(percent), supply: None };
        assess(&reading, None, &Conditions::default()).expect("a reading")
    }

    #[test]
    fn the_doubts_of_both_readings_are_in_it() {
        // A share read to one point: half-width 0.5/√3 times 2 (GUM F.2.2.1), times √2 for two readings: 0.8165.
        let change = Change::between(&share(10.0), &share(12.0));
        assert!((change.points.high - 2.0 - 0.816_497).abs() < 1e-6, "{change:?}");
        assert!((change.points.low - 2.0 + 0.816_497).abs() < 1e-6, "{change:?}");
        assert_eq!(change.direction(), Direction::More);
        assert_eq!(Change::between(&share(10.0), &share(10.8)).direction(), Direction::Same);
        assert_eq!(Change::between(&share(12.0), &share(10.0)).direction(), Direction::Less);
    }

    #[test]
    fn net_and_gross_are_never_mixed() {
        let rig = Reading::Share { loss: Percent(5.0), supply: None };
        let reading = Reading::Share { loss: Percent(25.0), supply: None };
        let net = assess(&reading, Some(&rig), &Conditions::default()).expect("a reading");
        let change = Change::between(&net, &share(25.0));
        assert_eq!((change.basis, change.points.value), (Basis::Reading, 0.0));
        assert_eq!(Change::between(&net, &net).basis, Basis::Own);
    }
}
