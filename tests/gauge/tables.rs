//! Every row of the published and computed flow tables.
//!
//! "calc" marks values computed in double precision from the formula named; they hold to half their last digit.

use hissward::gauge::{
    Conditions, Conductance, GAMMA, Leak, Reading, area_ratio, assess, critical_ratio, flow_function, held_before,
    leak_chokes_above, loss_percent, mass_flow_kg_s, restrictor_chokes_below,
};
use hissward::units::{AbsolutePressure, GaugePressure, Length, PASCALS_PER_PSI, REFERENCE_TEMPERATURE, Temperature};

/// Ambient pressure of the tables, in psi.
const AMBIENT: AbsolutePressure = AbsolutePressure::from_psi(14.696);
const SUPPLY: GaugePressure = GaugePressure::from_psi(80.0);

/// Holds a value to half the last digit of the table's figure.
#[track_caller]
fn holds(value: f64, figure: f64, decimals: i32) {
    let half_digit = 0.500_001 * 10f64.powi(-decimals);
    assert!((value - figure).abs() <= half_digit, "{value} is not {figure} to {decimals} decimals");
}

#[test]
fn critical_ratio_and_choked_flow() {
    // calc, γ 1.4: 0.528282; ṁ·√T0/(A·p0) = 0.040415 with R 287.05.
    holds(critical_ratio(), 0.528282, 6);
    holds(mass_flow_kg_s(1.0, AbsolutePressure(1.0), AbsolutePressure(0.0), Temperature(1.0)), 0.040415, 6);
}

#[test]
fn flow_function_table() {
    // calc from the subsonic formula of St. Venant and Wantzel, γ 1.4.
    for (ratio, psi) in [(0.95, 0.30764), (0.9, 0.42258), (0.8, 0.56066), (0.7, 0.63832), (0.6, 0.67692)] {
        holds(flow_function(ratio), psi, 5);
    }
    for choked in [critical_ratio(), 0.5, 0.1, 0.0] {
        holds(flow_function(choked), 0.68473, 5);
    }
    assert_eq!(flow_function(1.0), 0.0);
    assert_eq!(flow_function(1.2), 0.0);
}

#[test]
fn isentropic_table() {
    // Aeronautical Engineer's Data Book, γ 1.4, seen: M, p/p0, A/A*.
    for (mach, pressure_ratio, area_ratio) in [(0.5f64, 0.8430, 1.3398), (0.9, 0.5913, 1.0089), (1.0, 0.5283, 1.0000)] {
        let ratio = (1.0 + (GAMMA - 1.0) / 2.0 * mach * mach).powf(-GAMMA / (GAMMA - 1.0));
        holds(ratio, pressure_ratio, 4);
        // The same mass flows through the throat and through the wider section: A/A* = Ψ*/Ψ.
        holds(flow_function(0.0) / flow_function(ratio), area_ratio, 4);
    }
}

#[test]
fn loss_and_area_ratio_table() {
    // calc, isentropic nozzles, 80 psig, 14.696 psi ambient: cylinder psig, loss %, ratio.
    let rows = [
        (75.0, 6.25, 0.4867),
        (70.0, 12.5, 0.7067),
        (60.0, 25.0, 1.0586),
        (50.0, 37.5, 1.3836),
        (40.0, 50.0, 1.7220),
        (30.0, 62.5, 2.1187),
        (20.0, 75.0, 2.7293),
    ];
    for (held_psi, loss, ratio) in rows {
        let held = GaugePressure::from_psi(held_psi);
        // Loss as in FAA AC 43.13-1B ch. 8 step (i), seen: 60 of 80 psi is 25 %.
        holds(loss_percent(SUPPLY, held), loss, 9);
        holds(area_ratio(SUPPLY.absolute(AMBIENT), held.absolute(AMBIENT), AMBIENT), ratio, 4);
        let solved = held_before(SUPPLY.absolute(AMBIENT), ratio, AMBIENT).gauge(AMBIENT);
        // Half a digit of the ratio is at most 0.004 psi of pressure here.
        assert!((solved.as_psi() - held_psi).abs() < 0.004, "{} psi for {ratio}", solved.as_psi());
        let reading = Reading::Pressures { supply: SUPPLY, held };
        let found = assess(&reading, None, &Conditions { ambient: AMBIENT, ..Conditions::default() }).expect("a loss");
        holds(found.area_ratio.value, ratio, 4);
    }
}

#[test]
fn choking_limits() {
    // calc: the leak is choked above 13.12 psig, the restrictor below 35.33 psig.
    holds(leak_chokes_above(AMBIENT).as_psi(), 13.12, 2);
    holds(restrictor_chokes_below(SUPPLY, AMBIENT).as_psi(), 35.33, 2);
}

#[test]
fn restrictor_flows() {
    // calc, Cd 1, 20 °C, R 287.05; restrictors of FAA AC 43.13-1B 8-14 (seen): g/s at 60 psig held, and choked.
    for (inches, at_60, choked) in [(0.040, 1.0433, 1.2495), (0.060, 2.3474, 2.8113)] {
        let area_m2 = Length::from_inches(inches).hole_area_m2();
        let flow = |held_psi: f64| {
            let held = GaugePressure::from_psi(held_psi).absolute(AMBIENT);
            1e3 * mass_flow_kg_s(area_m2, SUPPLY.absolute(AMBIENT), held, REFERENCE_TEMPERATURE)
        };
        holds(flow(60.0), at_60, 4);
        holds(flow(35.0), choked, 4);
        // What the restrictor lets in, the leak lets out.
        let supply = SUPPLY.absolute(AMBIENT);
        let held = GaugePressure::from_psi(60.0).absolute(AMBIENT);
        let ratio = area_ratio(supply, held, AMBIENT);
        let leak = Leak::behind(Length::from_inches(inches), ratio, supply, AMBIENT, REFERENCE_TEMPERATURE);
        holds(leak.ideal_flow_kg_s * 1e3, at_60, 4);
        // 1.185 kg/m³ at the reference state (ISO 6358, memory): litres a minute.
        holds(leak.litres_per_minute_reference(), leak.ideal_flow_kg_s * 60e3 / 1.185, 9);
    }
}

#[test]
fn flow_at_another_temperature_follows_its_root() {
    let supply = SUPPLY.absolute(AMBIENT);
    let leak = |celsius| {
        Leak::behind(Length::from_mm(1.0), 1.0, supply, AMBIENT, Temperature::from_celsius(celsius)).ideal_flow_kg_s
    };
    holds(leak(0.0) / leak(20.0), (293.15f64 / 273.15).sqrt(), 12);
}

#[test]
fn sonic_conductance() {
    // calc: an ideal 1 mm hole has C = 0.1564 dm³/(s·bar); ISO 6358, ρ0 1.185 (memory).
    holds(Conductance::of_ideal_hole(Length::from_mm(1.0)).as_dm3_per_s_bar(), 0.1564, 4);
    // calc: share of choked flow at a pressure ratio of 0.8.
    for (critical_ratio, share) in [(0.2, 0.6614), (0.3, 0.6999), (0.5, 0.8000)] {
        let path = Conductance { c_m3_per_s_pa: 1e-9, critical_ratio };
        holds(path.share_of_choked(0.8), share, 4);
        assert_eq!(path.share_of_choked(critical_ratio / 2.0), 1.0);
        assert_eq!(path.share_of_choked(1.0), 0.0);
    }
}

#[test]
fn choked_flow_by_conductance_is_that_by_isentropic_flow() {
    let hole = Length::from_mm(1.0);
    let supply = SUPPLY.absolute(AMBIENT);
    for celsius in [-10.0, 20.0, 60.0] {
        let at = Temperature::from_celsius(celsius);
        let by_iso = Conductance::of_ideal_hole(hole).mass_flow_kg_s(supply, AMBIENT, at);
        let by_nozzle = mass_flow_kg_s(hole.hole_area_m2(), supply, AMBIENT, at);
        assert!((by_iso / by_nozzle - 1.0).abs() < 1e-12);
    }
}

#[test]
fn the_pound_force_is_exact() {
    // 1 psi = 0.45359237 kg × 9.80665 m/s² / (0.0254 m)², all three exact by definition.
    assert_eq!(PASCALS_PER_PSI, 0.45359237 * 9.80665 / (0.0254 * 0.0254));
    holds(PASCALS_PER_PSI, 6894.757293168, 9);
}
