//! The bench's own arithmetic against closed forms and published values.

use hissward::simulate::Dice;

use crate::harness::bootstrap::mean_by_session;
use crate::harness::calibration::{bins, debiased_error};
use crate::harness::limit::{detected, right_on_top};
use crate::harness::risk::{coverage_at, curve};

#[test]
fn independent_values_give_the_textbook_interval() {
    let values: Vec<(usize, f64)> = (0..400).map(|k| (k, f64::from(u8::from(k % 4 == 0)))).collect();
    let found = mean_by_session(&values, 1).expect("values");
    // Binomial, n 400, p 0.25: ±1.96·√(0.25·0.75/400) = ±0.0424; the bootstrap's own scatter is some tenths of it.
    assert_eq!(found.value, 0.25);
    assert!((found.high - found.low - 0.0849).abs() < 0.015, "{found:?}");
}

#[test]
fn values_that_hang_together_give_a_wider_one() {
    let values: Vec<(usize, f64)> = (0..400).map(|k| (k / 20, f64::from(u8::from((k / 20) % 4 == 0)))).collect();
    let found = mean_by_session(&values, 1).expect("values");
    // Twenty sessions in place of 400 cases: wider by √20.
    assert!(found.high - found.low > 0.25, "{found:?}");
}

#[test]
fn no_failure_seen_is_not_no_failure() {
    let values: Vec<(usize, f64)> = (0..100).map(|k| (k, 0.0)).collect();
    assert_eq!(mean_by_session(&values, 1).map(|e| e.high), Some(0.03));
    assert_eq!(mean_by_session(&[], 1), None);
}

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

#[test]
fn the_curve_rises_where_answers_are_wrong() {
    let points = curve(&[(0.9, true), (0.8, false), (0.99, true), (0.8, true)]);
    let [sure, next, all] = points[..] else { panic!("three steps: {points:?}") };
    assert_eq!((sure.coverage, sure.risk), (0.25, 0.0));
    assert_eq!((next.coverage, next.risk), (0.5, 0.0));
    assert_eq!((all.coverage, all.risk), (1.0, 0.25));
    assert_eq!(coverage_at(&points, 0.1), 0.5);
}

#[test]
fn the_best_of_three_follows_bechhofers_table() {
    // Bechhofer 1954, three of equal variance: right in 90 / 95 / 99 % at a lead of 2.23 / 2.71 / 3.62 standard deviations of one.
    // The lead of a hiss is h/√(2/BT), each with √(2/BT) of its own: h for BT = 16 891.5 Hz · 6 s.
    let one = (2.0 / (16_891.543 * 6.0f64)).sqrt();
    for (lead, right) in [(2.23, 0.90), (2.71, 0.95), (3.62, 0.99)] {
        let got = right_on_top(10.0 * (lead * one).log10(), 6.0, 3);
        assert!((got - right).abs() < 0.002, "{lead}: {got}");
    }
}

#[test]
fn a_steady_floor_needs_seven_hundredths_of_a_decibel() {
    // Radiometer equation, σ = 1/√(BT): 10 kHz × 10 s, 1 % false alarms, 90 % detection: 0.07 dB, that is −17.9 dB, at equal bandwidth times time.
    let equal_bt_s = 100_000.0 / 16_891.543;
    assert!((detected(-17.9, equal_bt_s) - 0.90).abs() < 0.02, "{}", detected(-17.9, equal_bt_s));
}
