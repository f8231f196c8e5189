//! Laws that hold for every reading.

use hissward::gauge::{
    Assessment, Conditions, Reading, area_ratio, assess, assess_rig, held_before, loss_percent, mass_flow_kg_s,
};
use hissward::units::{
    AbsolutePressure, GaugePressure, Length, Percent, PressureDifference, REFERENCE_TEMPERATURE, STANDARD_ATMOSPHERE,
};
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
        let found = assess(&reading, Some(&blank), &Conditions::default()).expect("every such reading is kept");
        match found.net_loss_percent {
            Some(net) => {
                prop_assert!(net.value <= found.loss_percent.value + 1e-9);
                prop_assert!(net.low <= net.value && net.value <= net.high);
                prop_assert!(net.low >= 0.0 && net.high <= 100.0);
            }
            None => prop_assert!(found.caveats.iter().any(|caveat| caveat.code == "rig-worse"), "{:?}", found.caveats),
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
        error(pressures(80.0, 95.0), None),
        error(pressures(0.0, 0.0), None),
        error(pressures(-80.0, -85.0), None),
        error(pressures(80.0, -1.0), None),
        error(pressures(1000.0, 900.0), None),
        error(share(101.0), None),
        error(share(-1.0), None),
        error(pressures(f64::NAN, 60.0), None),
        error(pressures(80.0, f64::NAN), None),
        error(pressures(80.0, 60.0), Some(pressures(80.0, 95.0))),
        assess_rig(&pressures(80.0, 95.0), &Conditions::default()).expect_err("refused").to_string(),
    ];
    insta::assert_snapshot!(told.join("\n"));
}

fn codes(found: &Assessment) -> Vec<&'static str> {
    found.caveats.iter().map(|caveat| caveat.code).collect()
}

#[test]
fn what_does_not_go_together_is_kept_and_told() {
    let found = |held, rig| assess(&pressures(80.0, held), Some(&pressures(80.0, rig)), &Conditions::default());
    // The rig loses more alone than with the cylinder.
    let worse = found(75.0, 60.0).expect("kept");
    assert_eq!((worse.net_loss_percent, worse.tells, codes(&worse)), (None, false, vec!["rig-worse"]));
    // A rig that leaks little and was tighter this time still leaves a tight cylinder.
    let tight = found(79.9, 77.0).expect("kept");
    assert_eq!((tight.tells, codes(&tight)), (true, vec!["rig-worse"]));
    // The rig loses most of it: nothing is judged.
    let hidden = found(58.0, 60.0).expect("kept");
    assert!(!hidden.tells && codes(&hidden) == ["rig-dominates"], "{hidden:?}");
    // More held than supplied.
    let above = found(84.0, 79.0).expect("kept");
    assert!(!above.tells && codes(&above).contains(&"gauges-disagree"), "{above:?}");
    // Nothing held is kept, and is a leak of no size.
    let conditions = Conditions { restrictor: Some(Length::from_inches(0.040)), ..Conditions::default() };
    let open = assess(&pressures(80.0, 0.0), None, &conditions).expect("kept");
    assert!((open.loss_percent.value - 100.0).abs() < 1e-3 && open.leak.is_none(), "{open:?}");
}

#[test]
fn gauges_that_disagree_are_no_leak() {
    // Both gauges at 80 psi of supply, the second showing 2 psi less: no air flows, and none is lost.
    let psi_apart = PressureDifference::from_psi(-2.0);
    let corrected = Conditions { held_offset: Some(psi_apart), ..Conditions::default() };
    let tight = assess(&pressures(80.0, 78.0), None, &corrected).expect("a reading");
    assert_eq!(tight.loss_percent.value, 0.0);
    let bare = assess(&pressures(80.0, 78.0), None, &Conditions::default()).expect("a reading");
    assert!((bare.loss_percent.value - 2.5).abs() < 1e-12, "uncorrected it looks like a leak");
    // A reading of 58 is one of 60: 25 %.
    let quarter = assess(&pressures(80.0, 58.0), None, &corrected).expect("a reading");
    assert!((quarter.loss_percent.value - 25.0).abs() < 1e-12);
}

#[test]
fn the_gauges_class_widens_the_interval() {
    // Class 1.6 on a range of 10 bar: each gauge off by at most 0.16 bar (EN 837-1), 0.0924 bar standard (GUM F.2.2.1).
    let class = Conditions { gauge_class: Some(PressureDifference::from_bar(0.16)), ..Conditions::default() };
    let bar = GaugePressure::from_bar;
    let reading = Reading::Pressures { supply: bar(8.0), held: bar(6.0) };
    let half = |conditions: &Conditions| {
        let loss = assess(&reading, None, conditions).expect("a reading").loss_percent;
        (loss.high - loss.low) / 2.0
    };
    // calc: loss = 100·(1 − held/supply); both gauges by 2 standard uncertainties, the reading's 1 psi beside the class.
    let (of_class, of_reading) = (0.16 / 3f64.sqrt(), 0.0689476 / 2.0 / 3f64.sqrt());
    let gauge = 2.0 * of_class.hypot(of_reading);
    let expected = 100.0 * (gauge / 8.0).hypot(gauge * 6.0 / 64.0);
    assert!((half(&class) / expected - 1.0).abs() < 0.01, "{} is not {expected}", half(&class));
    assert!(half(&Conditions::default()) < half(&class) / 2.0);
    // Read with the valve shut, the pair's common error is off: what is left grows with the distance from there.
    let pair = Conditions { held_offset: Some(PressureDifference(0.0)), ..class };
    assert!(half(&pair) < half(&class) / 2.0);
}

#[test]
fn rig_as_bad_as_the_cylinder_within_the_gauges_doubt_is_a_tight_cylinder() {
    let found = assess(&pressures(80.0, 77.0), Some(&pressures(80.0, 76.8)), &Conditions::default()).expect("a loss");
    assert_eq!(found.net_loss_percent.expect("net").value, 0.0);
    assert!(found.tells);
    assert!(found.caveats.iter().any(|caveat| caveat.code == "rig-is-all"));
}
