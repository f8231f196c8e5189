//! Laws that hold for every reading.

use hissward::gauge::{
    Conditions, GaugeError, Reading, area_ratio, assess, assess_rig, held_before, loss_percent, mass_flow_kg_s,
};
use hissward::units::{AbsolutePressure, GaugePressure, Length, Percent, REFERENCE_TEMPERATURE, STANDARD_ATMOSPHERE};
use proptest::prelude::*;

const AMBIENT: AbsolutePressure = STANDARD_ATMOSPHERE;

fn psi(psi: f64) -> GaugePressure {
    GaugePressure::from_psi(psi)
}

fn pressures(supply: f64, held: f64) -> Reading {
    Reading::Pressures { supply: psi(supply), held: psi(held) }
}

fn share(percent: f64) -> Reading {
    Reading::Share { loss: Percent(percent), supply: None }
}

proptest! {
    #[test]
    fn loss_to_ratio_and_back(supply in 20.0..200.0f64, loss in 0.01..99.9f64) {
        let supply = psi(supply);
        let held = GaugePressure(supply.0 * (1.0 - loss / 100.0));
        let ratio = area_ratio(supply.absolute(AMBIENT), held.absolute(AMBIENT), AMBIENT);
        let back = held_before(supply.absolute(AMBIENT), ratio, AMBIENT).gauge(AMBIENT);
        prop_assert!((loss_percent(supply, back) - loss).abs() < 1e-9);
    }

    #[test]
    fn the_more_is_held_the_smaller_the_leak(supply in 20.0..200.0f64, a in 0.01..0.99f64, b in 0.01..0.99f64) {
        prop_assume!((a - b).abs() > 1e-9);
        let ratio = |share: f64| area_ratio(psi(supply).absolute(AMBIENT), psi(supply * share).absolute(AMBIENT), AMBIENT);
        prop_assert_eq!(a < b, ratio(a) > ratio(b));
    }

    #[test]
    fn net_is_never_more_than_gross(supply in 20.0..200.0f64, held in 0.02..0.99f64, rig_supply in 20.0..200.0f64, rig in 0.5..1.0f64) {
        let reading = pressures(supply, supply * held);
        let blank = pressures(rig_supply, rig_supply * rig);
        match assess(&reading, Some(&blank), &Conditions::default()) {
            Ok(found) => {
                let net = found.net_loss_percent.expect("the rig was read");
                prop_assert!(net.value <= found.loss_percent.value + 1e-9);
                prop_assert!(net.low <= net.value && net.value <= net.high);
                prop_assert!(net.low >= 0.0 && net.high <= 100.0);
            }
            Err(error) => { prop_assert!(matches!(error, GaugeError::RigWorse { .. }), "{}", error); }
        }
    }

    #[test]
    fn a_rig_and_a_cylinder_put_together_come_apart_again(supply in 40.0..150.0f64, own in 0.05..3.0f64, rig in 0.01..1.0f64) {
        // Truth first: two leaks of known area behind one restrictor, and what the gauges then show.
        let supply_abs = psi(supply).absolute(AMBIENT);
        let shows = |ratio: f64| held_before(supply_abs, ratio, AMBIENT).gauge(AMBIENT);
        let reading = Reading::Pressures { supply: psi(supply), held: shows(own + rig) };
        let blank = Reading::Pressures { supply: psi(supply), held: shows(rig) };
        let found = assess(&reading, Some(&blank), &Conditions::default()).expect("a loss");
        prop_assert!((found.area_ratio.value - own).abs() < 1e-9 * (1.0 + own));
        let alone = loss_percent(psi(supply), shows(own));
        prop_assert!((found.net_loss_percent.expect("net").value - alone).abs() < 1e-8);
    }

    #[test]
    fn what_flows_in_flows_out(supply in 20.0..200.0f64, ratio in 0.01..20.0f64) {
        let supply = psi(supply).absolute(AMBIENT);
        let area_m2 = Length::from_inches(0.040).hole_area_m2();
        let held = held_before(supply, ratio, AMBIENT);
        let inward = mass_flow_kg_s(area_m2, supply, held, REFERENCE_TEMPERATURE);
        let outward = mass_flow_kg_s(area_m2 * ratio, held, AMBIENT, REFERENCE_TEMPERATURE);
        prop_assert!((inward / outward - 1.0).abs() < 1e-9);
    }

    #[test]
    fn any_numbers_give_a_result_or_an_error_never_nan(supply in any::<f64>(), held in any::<f64>(), loss in any::<f64>()) {
        for reading in [Reading::Pressures { supply: GaugePressure(supply), held: GaugePressure(held) }, share(loss)] {
            if let Ok(found) = assess(&reading, Some(&pressures(80.0, 79.0)), &Conditions::default()) {
                for value in [found.loss_percent.value, found.area_ratio.value, found.own_loss_percent().value] {
                    prop_assert!(value.is_finite());
                }
            }
        }
    }
}

#[test]
fn a_percentage_reads_as_the_pressures_behind_it() {
    let conditions = Conditions::default();
    let by_share = assess(&share(25.0), Some(&pressures(80.0, 75.0)), &conditions).expect("a loss");
    let by_pressure = assess(&pressures(80.0, 60.0), Some(&pressures(80.0, 75.0)), &conditions).expect("a loss");
    assert!((by_share.area_ratio.value - by_pressure.area_ratio.value).abs() < 1e-12);
    assert_eq!(by_share.supply, None, "a supply that was not read is not made up");
    assert!(by_share.caveats.iter().any(|caveat| caveat.code == "percent-gauge"));
}

#[test]
fn the_interval_holds_readings_that_are_off_by_the_doubt() {
    // Each gauge off by as much as it may be, one at a time.
    let found = assess(&pressures(80.0, 60.0), Some(&pressures(80.0, 75.0)), &Conditions::default()).expect("a loss");
    let net = found.net_loss_percent.expect("net");
    for (held, rig) in [(59.5, 75.0), (60.5, 75.0), (60.0, 74.5), (60.0, 75.5)] {
        let off = assess(&pressures(80.0, held), Some(&pressures(80.0, rig)), &Conditions::default()).expect("a loss");
        let value = off.net_loss_percent.expect("net").value;
        assert!(net.low < value && value < net.high, "{value} outside {} to {}", net.low, net.high);
    }
    // And it is not so wide that it says nothing.
    assert!(net.high - net.low < 4.0, "{} to {}", net.low, net.high);
}

#[test]
fn readings_that_cannot_be_are_told() {
    let error = |reading: Reading, rig: Option<Reading>| {
        assess(&reading, rig.as_ref(), &Conditions::default()).expect_err("refused").to_string()
    };
    let told = [
        error(pressures(80.0, 85.0), None),
        error(pressures(0.0, 0.0), None),
        error(pressures(-80.0, -85.0), None),
        error(pressures(80.0, 0.0), None),
        error(pressures(80.0, -1.0), None),
        error(pressures(1000.0, 900.0), None),
        error(share(101.0), None),
        error(share(-1.0), None),
        error(share(100.0), None),
        error(pressures(f64::NAN, 60.0), None),
        error(pressures(80.0, f64::NAN), None),
        error(pressures(80.0, 75.0), Some(pressures(80.0, 60.0))),
        error(pressures(80.0, 60.0), Some(pressures(80.0, 90.0))),
        assess_rig(&pressures(80.0, 81.0), &Conditions::default()).expect_err("refused").to_string(),
    ];
    insta::assert_snapshot!(told.join("\n"));
}

#[test]
fn rig_as_bad_as_the_cylinder_within_the_gauges_doubt_is_a_tight_cylinder() {
    let found = assess(&pressures(80.0, 76.0), Some(&pressures(80.0, 75.8)), &Conditions::default()).expect("a loss");
    assert_eq!(found.net_loss_percent.expect("net").value, 0.0);
    assert!(found.caveats.iter().any(|caveat| caveat.code == "rig-is-all"));
}
