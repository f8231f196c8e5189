//! The real recordings: readable, loud enough, and the two sets apart.

use hissward::simulate::{Dice, NoiseSource};
use hissward::units::Seconds;

use crate::harness::noises::{Group, RATE, Sounds, recording};
use crate::harness::plain::{BAND_HZ, power_between};
use crate::harness::seeds::{Where, case_seed};

#[test]
fn every_recording_is_read_and_sounds() {
    Sounds::read().expect("all recordings that sessions use");
    for name in ["steam-engine", "nitro-gas", "truck-start"] {
        let stretch = recording(name).expect("a recording").render(&mut Dice::seeded(1), Seconds(6.0), RATE);
        assert_eq!(stretch.len(), 288_000);
        let level_db = 10.0 * power_between(&stretch, RATE.0, BAND_HZ).log10();
        assert!((-60.0..-5.0).contains(&level_db), "{name}: {level_db} dB FS");
    }
}

#[test]
fn tuning_and_reporting_share_no_seed_and_no_recording() {
    let last_of_tuning = case_seed(Where::Tuning.session_seed(9_999), 99);
    assert!(last_of_tuning < case_seed(Where::Reporting.session_seed(0), 0));
    let sounds = Sounds::read().expect("recordings");
    let recorded = |place: Where| -> Vec<String> {
        let groups = Group::of(place).iter().flat_map(|&group| (0..60).map(move |seed| (group, seed)));
        groups
            .flat_map(|(group, seed)| sounds.shop(group, &mut Dice::seeded(seed)).names)
            .filter(|name| !name.starts_with("hiss: "))
            .filter(|name| name.parse::<hissward::simulate::NoiseKind>().is_err())
            .collect()
    };
    let (tuning, reporting) = (recorded(Where::Tuning), recorded(Where::Reporting));
    assert!(!tuning.is_empty());
    // What is only reported on is fetched at the bench's set-up; without it the bench says so and simulates.
    assert_eq!(reporting.is_empty(), sounds.lacking.contains(&"anvil"), "{reporting:?}");
    assert!(tuning.iter().all(|name| !reporting.contains(name)));
}
