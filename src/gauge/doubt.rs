//! How far the doubt of the readings carries into what is computed from them.

/// Standard uncertainties that an interval spans to each side: about 95 % (GUM, k = 2).
const COVERAGE: f64 = 2.0;

/// A value with its interval of about 95 %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Estimate {
    /// The same, kept within what can be.
    #[must_use]
    pub fn within(self, low: f64, high: f64) -> Self {
        Self { value: self.value.clamp(low, high), low: self.low.clamp(low, high), high: self.high.clamp(low, high) }
    }

    /// Decimals worth printing: whole numbers where the interval is wider than 1 to a side, else one.
    #[must_use]
    pub fn decimals(self) -> usize {
        usize::from(self.high - self.low < 2.0)
    }
}

/// A value computed from inputs that are each off by an unknown amount.
///
/// `value` gets, for each of `N` inputs, how many standard uncertainties it is off. Each input is moved up and down
/// alone by two of them (GUM 5.1.3, note 2: sensitivities by evaluation), and the moves add in quadrature, to each
/// side on its own, since near a loss of zero the two sides differ.
///
/// ```
/// use hissward::gauge::carried;
/// let sum = carried(|[a, b]: [f64; 2]| 10.0 + 1.5 * a + 2.0 * b);
/// assert_eq!((sum.low, sum.high), (5.0, 15.0));
/// ```
pub fn carried<const N: usize>(value: impl Fn([f64; N]) -> f64) -> Estimate {
    let middle = value([0.0; N]);
    let (mut down, mut up) = (0.0f64, 0.0f64);
    for input in 0..N {
        let moved = [-COVERAGE, COVERAGE].map(|step| {
            let mut steps = [0.0; N];
            steps[input] = step;
            value(steps) - middle
        });
        down += moved[0].min(moved[1]).min(0.0).powi(2);
        up += moved[0].max(moved[1]).max(0.0).powi(2);
    }
    Estimate { value: middle, low: middle - down.sqrt(), high: middle + up.sqrt() }
}
