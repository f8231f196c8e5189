//! Numbers with units, as people type them.

use hissward::units::{AbsolutePressure, GaugePressure, Length, Percent, Temperature, UnitSystem};
use proptest::prelude::*;

#[track_caller]
fn reads<T>(text: &str, value: T)
where
    T: std::str::FromStr + PartialEq + std::fmt::Debug,
    T::Err: std::fmt::Debug + PartialEq,
{
    assert_eq!(text.parse::<T>().expect("readable"), value, "{text}");
}

#[test]
fn pressures_as_people_type_them() {
    let psi = GaugePressure::from_psi;
    for text in ["100psi", "100 psi", " 100 PSI ", "100.0psig", "100,0 psi", "+100 psi", "100 lb/in2", "100psi(g)"] {
        reads(text, psi(100.0));
    }
    for text in ["6.9 bar", "6,9 bar", "6.9bar", "6.9 Bar", "6.9barg"] {
        reads(text, GaugePressure::from_bar(6.9));
    }
    for text in ["690 kPa", "690kpa", "690 KPA"] {
        reads(text, GaugePressure::from_kpa(690.0));
    }
    reads("0.69 MPa", GaugePressure(690_000.0));
    reads("7 kgf/cm²", GaugePressure(686_465.5));
    reads("0 psi", GaugePressure(0.0));
    reads(".5 bar", GaugePressure(50_000.0));
}

#[test]
fn other_quantities_as_people_type_them() {
    for text in ["0.040in", "0.040 in", "0,040in", ".040\"", "0.04 inch"] {
        reads(text, Length::from_inches(0.040));
    }
    reads("1 mm", Length::from_mm(1.0));
    reads("1,0 mm", Length::from_mm(1.0));
    for text in ["20 °C", "20C", "20 c", "20 degC"] {
        reads(text, Temperature::from_celsius(20.0));
    }
    reads("-5 °C", Temperature::from_celsius(-5.0));
    reads("68F", Temperature::from_fahrenheit(68.0));
    for text in ["12", "12%", "12 %", "12,0 %", "12 percent"] {
        reads(text, Percent(12.0));
    }
    reads("1013 hPa", AbsolutePressure(101_300.0));
    reads("1013mbar", AbsolutePressure(101_300.0));
    reads("14.7 psia", AbsolutePressure::from_psi(14.7));
    reads("29.92inHg", AbsolutePressure(29.92 * 3386.389));
}

#[test]
fn what_cannot_be_is_told_with_what_to_type() {
    let pressure = |text: &str| text.parse::<GaugePressure>().expect_err(text).to_string();
    let length = |text: &str| text.parse::<Length>().expect_err(text).to_string();
    let temperature = |text: &str| text.parse::<Temperature>().expect_err(text).to_string();
    let percent = |text: &str| text.parse::<Percent>().expect_err(text).to_string();
    let ambient = |text: &str| text.parse::<AbsolutePressure>().expect_err(text).to_string();
    let told = [
        pressure("100"),
        pressure("100 furlongs"),
        pressure("psi"),
        pressure(""),
        pressure("-80psi"),
        pressure("−5 bar"),
        pressure("20 inHg"),
        pressure("20 inHg vac"),
        pressure("95 psia"),
        pressure("6.5 bar(a)"),
        pressure("1000 psi"),
        pressure("1,000 kPa"),
        pressure("1.000,5 kPa"),
        pressure("80.psi"),
        pressure("NaN psi"),
        pressure("inf bar"),
        pressure("1e3psi"),
        pressure(&format!("{}psi", "9".repeat(400))),
        length("0.040"),
        length("0.040 psi"),
        length("-1mm"),
        length("0mm"),
        length("5 m"),
        temperature("20"),
        temperature("500 °C"),
        percent("101"),
        percent("-3%"),
        percent("12 psi"),
        ambient("1013"),
        ambient("80 psi"),
    ];
    insta::assert_snapshot!(told.join("\n"));
}

#[test]
fn shown_in_the_users_units() {
    let supply = GaugePressure::from_psi(80.0);
    assert_eq!(UnitSystem::Metric.pressure(supply).to_string(), "5.52 bar");
    assert_eq!(UnitSystem::Psi.pressure(supply).to_string(), "80.0 psi");
    let restrictor = Length::from_inches(0.040);
    assert_eq!(UnitSystem::Metric.length(restrictor).to_string(), "1.02 mm");
    assert_eq!(UnitSystem::Psi.length(restrictor).to_string(), "0.040 in");
    assert_eq!(UnitSystem::Psi.temperature(Temperature::from_celsius(20.0)).to_string(), "68 °F");
    assert_eq!("metric".parse(), Ok(UnitSystem::Metric));
    assert!("imperial".parse::<UnitSystem>().is_err());
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,60}") {
        for value in [text.parse::<GaugePressure>().map(|value| value.0), text.parse::<Length>().map(|value| value.0),
            text.parse::<Percent>().map(|value| value.0), text.parse::<AbsolutePressure>().map(|value| value.0)].into_iter().flatten() { prop_assert!(value.is_finite() && value >= 0.0); }
    }

    #[test]
    fn what_is_shown_reads_back(psi in 0.0..200.0f64) {
        let pressure = GaugePressure::from_psi(psi);
        for (system, step) in [(UnitSystem::Metric, 500.0), (UnitSystem::Psi, 345.0)] {
            let shown = system.pressure(pressure).to_string();
            prop_assume!(!shown.contains("200.0") && !shown.contains("13.79"));
            let back: GaugePressure = shown.parse().expect("what is shown can be typed");
            prop_assert!((back.0 - pressure.0).abs() <= step);
        }
    }
}
