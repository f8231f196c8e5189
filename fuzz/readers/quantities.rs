//! What people type: pressures, lengths, temperatures, percentages, openings, orders of cylinders.

use std::fmt::{Debug, Display};
use std::path::Path;
use std::str::FromStr;

use hissward::job::{FileName, Sha256, When, parse_banks, parse_firing_angles, parse_firing_order};
use hissward::opening::{Air, Opening};
use hissward::pack::EntryName;
use hissward::units::{AbsolutePressure, GaugePressure, HIGHEST_TEST_PRESSURE, Length, Percent, Temperature};

use super::telling::{tell, told};

/// Reads a text as everything that can be typed.
pub fn quantities(bytes: &[u8], _scratch: &Path) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let gauge = |pressure: &GaugePressure| (0.0..=HIGHEST_TEST_PRESSURE.0).contains(&pressure.0);
    within(text, gauge);
    within(text, |pressure: &AbsolutePressure| (50_000.0..=110_001.0).contains(&pressure.0));
    within(text, |length: &Length| (0.099..=100.1).contains(&length.as_mm()));
    within(text, |temperature: &Temperature| (-60.1..=150.1).contains(&temperature.as_celsius()));
    within(text, |percent: &Percent| (0.0..=100.0).contains(&percent.0));
    again::<Opening>(text);
    again::<FileName>(text);
    again::<EntryName>(text);
    again::<Sha256>(text);
    if let Ok(when) = text.parse::<When>() {
        drop((when.local_minute(), when.local_date()));
    }
    tell(text.parse::<Air>());
    let cylinders = text.len() as u32 % 48;
    for error in
        [parse_firing_order(text, cylinders).err(), parse_firing_angles(text).err(), parse_banks(text, cylinders).err()]
    {
        assert!(error.is_none_or(|error| !error.is_empty()));
    }
}

/// Holds that a number read lies where it says.
fn within<T: FromStr<Err: std::error::Error>>(text: &str, fits: impl Fn(&T) -> bool) {
    match text.parse::<T>() {
        Ok(read) => assert!(fits(&read), "'{text}'"),
        Err(error) => told(&error),
    }
}

/// Holds that what was read is read again from its own text.
fn again<T: FromStr<Err: std::error::Error + Debug> + Display + PartialEq + Debug>(text: &str) {
    match text.parse::<T>() {
        Ok(read) => assert_eq!(read.to_string().parse::<T>().expect("it was read before"), read),
        Err(error) => told(&error),
    }
}
