//! Times that can be compared: two things in turn, in one run, so that both see the machine as it is.

use std::time::Instant;

/// Median, least and most of several values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    pub median: f64,
    pub least: f64,
    pub most: f64,
}

impl Spread {
    /// Of values; of none, not a number.
    pub fn of(mut values: Vec<f64>) -> Self {
        values.sort_by(f64::total_cmp);
        let at = |place: usize| values.get(place).copied().unwrap_or(f64::NAN);
        Self { median: at(values.len() / 2), least: at(0), most: at(values.len().saturating_sub(1)) }
    }

    /// The same in another unit.
    pub fn times(self, factor: f64) -> Self {
        Self { median: self.median * factor, least: self.least * factor, most: self.most * factor }
    }
}

/// Two things timed in turn.
#[derive(Debug, Clone, Copy)]
pub struct Pair {
    pub a: Spread,
    pub b: Spread,
    /// `a` over `b`, pair by pair.
    pub ratio: Spread,
}

/// Runs `a` and `b` in turn, which of them first changing from round to round; each gives its seconds. One round before
/// these is not counted.
pub fn paired<E>(
    rounds: usize,
    mut a: impl FnMut() -> Result<f64, E>,
    mut b: impl FnMut() -> Result<f64, E>,
) -> Result<Pair, E> {
    let (mut of_a, mut of_b) = (Vec::new(), Vec::new());
    for round in 0..=rounds {
        let (x, y) = if round % 2 == 0 {
            let x = a()?;
            (x, b()?)
        } else {
            let y = b()?;
            (a()?, y)
        };
        if round > 0 {
            of_a.push(x);
            of_b.push(y);
        }
    }
    let ratio = of_a.iter().zip(&of_b).map(|(x, y)| x / y).collect();
    Ok(Pair { a: Spread::of(of_a), b: Spread::of(of_b), ratio: Spread::of(ratio) })
}

/// Processor seconds that something takes on this thread: what others do on the machine meanwhile does not count.
#[cfg(target_os = "linux")]
pub fn processor_seconds<T>(work: impl FnOnce() -> T) -> f64 {
    let now = || {
        let time = rustix::time::clock_gettime(rustix::time::ClockId::ThreadCPUTime);
        time.tv_sec as f64 + time.tv_nsec as f64 * 1e-9
    };
    let begin = now();
    std::hint::black_box(work());
    now() - begin
}

/// Seconds that something takes by the clock, where there is no other.
#[cfg(not(target_os = "linux"))]
pub fn processor_seconds<T>(work: impl FnOnce() -> T) -> f64 {
    seconds(work)
}

/// Seconds that something takes.
pub fn seconds<T>(work: impl FnOnce() -> T) -> f64 {
    let begin = Instant::now();
    std::hint::black_box(work());
    begin.elapsed().as_secs_f64()
}
