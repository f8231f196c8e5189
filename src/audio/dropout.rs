//! Dropout detection: sound held against time that goes on while the machine sleeps, and that no setting of the clock moves.

use std::time::Duration;

/// Time since the machine was started, its sleep included.
#[cfg(target_os = "linux")]
pub(super) fn since_start() -> Duration {
    let time = rustix::time::clock_gettime(rustix::time::ClockId::Boottime);
    // Neither is negative after a start.
    Duration::new(time.tv_sec.unsigned_abs(), u32::try_from(time.tv_nsec).unwrap_or(0))
}

/// Time since it was first asked for; whether sleep is in it is the system's choice.
#[cfg(not(target_os = "linux"))]
pub(super) fn since_start() -> Duration {
    static FIRST: std::sync::OnceLock<std::time::Instant> = std::sync::OnceLock::new();
    FIRST.get_or_init(std::time::Instant::now).elapsed()
}

/// Sound held against the clock: where much less of it comes than time passes, it has a gap.
#[derive(Debug, Default)]
pub(super) struct DropoutDetector {
    /// Time less sound: at the beginning, the least so far, and now, seconds.
    least_s: Option<f64>,
    now_s: f64,
}

/// Less is the unevenness of any device and of a busy machine.
const LEAST_GAP_S: f64 = 1.0;

impl DropoutDetector {
    /// So much sound had come when the clock stood there.
    pub(super) fn note(&mut self, sound_s: f64, clock: Duration) {
        self.now_s = clock.as_secs_f64() - sound_s;
        // A device that gives what it had stored at first is no gap.
        self.least_s = Some(self.least_s.map_or(self.now_s, |least| least.min(self.now_s)));
    }

    /// How much sound is missing; 0 where that is no more than unevenness.
    pub(super) fn gap_s(&self) -> f64 {
        let gap_s = self.least_s.map_or(0.0, |least| self.now_s - least);
        if gap_s >= LEAST_GAP_S { gap_s } else { 0.0 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gap_of(came: &[(f64, f64)]) -> f64 {
        let mut dropout = DropoutDetector::default();
        came.iter().for_each(|(sound_s, clock_s)| dropout.note(*sound_s, Duration::from_secs_f64(*clock_s)));
        dropout.gap_s()
    }

    #[test]
    fn what_did_not_come_while_time_passed_is_a_gap() {
        assert_eq!(gap_of(&[]), 0.0);
        assert_eq!(gap_of(&[(0.1, 100.1), (1.0, 101.2), (2.0, 102.0)]), 0.0, "uneven");
        assert_eq!(gap_of(&[(0.1, 100.1), (1.0, 103.0), (4.0, 104.0)]), 0.0, "late, and it came");
        assert_eq!(gap_of(&[(0.5, 100.0), (1.5, 100.1), (2.5, 101.1)]), 0.0, "stored sound first");
        let slept = gap_of(&[(0.5, 100.5), (1.0, 101.0), (1.5, 161.5)]);
        assert!((slept - 60.0).abs() < 1e-9, "a minute asleep: {slept}");
    }

    #[test]
    fn the_clock_goes_on() {
        let before = since_start();
        std::thread::sleep(Duration::from_millis(20));
        assert!((0.02..5.0).contains(&(since_start() - before).as_secs_f64()));
    }
}
