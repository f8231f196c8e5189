//! What a report plays keeps the hiss: band by band as loud as what was recorded.

use hissward::audio::{self, ChannelChoice};
use hissward::clip::Clip;
use hissward::opening::Air;
use hissward::pipeline::{SoundSource, report_sounds};
use hissward::spectrum::{Average, ThirdOctave, welch};
use hissward::units::Hertz;

use crate::cases;

/// How far a band may be off, dB: what the report promises.
const MOST_OFF_DB: f64 = 0.5;

/// Level of a third-octave band, dB FS.
fn level(samples: &[f32], rate: Hertz, band: ThirdOctave) -> f64 {
    let spectrum = welch(samples, rate.0, 4096, Average::Mean).expect("a spectrum");
    let inside = |place: usize| (band.lower().0..band.upper().0).contains(&(place as f64 * spectrum.bin_hz));
    let bins = spectrum.density.iter().enumerate().filter(|(place, _)| inside(*place));
    10.0 * (bins.map(|(_, density)| density).sum::<f64>() * spectrum.bin_hz).log10()
}

/// White noise of a shop with a hiss that climbs with frequency, as a leak's does.
fn noise() -> Clip {
    let mut state = 7_u32;
    let mut white = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (f64::from(state) / f64::from(u32::MAX) * 2.0 - 1.0) as f32
    };
    let mut last = 0.0;
    let samples = (0..48_000 * 6).map(|_| {
        let (room, air) = (white(), white());
        let climbing = air - last;
        last = air;
        0.01 * room + 0.02 * climbing
    });
    Clip::new(samples.collect(), Hertz(48_000.0), "noise").expect("a clip")
}

fn played(file: &[u8]) -> (Vec<f32>, Hertz) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("sound.flac");
    std::fs::write(&path, file).expect("a file");
    let mut recording = audio::open(&path, ChannelChoice::Number(1)).expect("FLAC that can be read");
    let rate = recording.rate();
    let mut samples = Vec::new();
    while let Some(block) = recording.next_block().expect("sound") {
        samples.extend_from_slice(block);
    }
    (samples, rate)
}

#[test]
fn every_band_is_as_loud_as_it_was_recorded() {
    let clip = noise();
    let source = SoundSource {
        cylinder: Some(1),
        opening: cases::opening("exhaust"),
        take: 1,
        clips: vec![(Air::On, clip.clone())],
    };
    let sounds = report_sounds(&[source]).expect("sounds");
    let (heard, rate) = played(&sounds.sounds[0].file);
    assert_eq!(rate, Hertz(32_000.0));
    let off =
        |band: ThirdOctave| level(&heard, rate, band) - sounds.gain.0 - level(clip.samples(), Hertz(48_000.0), band);
    // 400 Hz to 12.5 kHz; of the 16 kHz band (14.1 to 17.8 kHz) half lies above half the rate.
    let worst = (-4..=11).map(|x| off(ThirdOctave(x)).abs()).fold(0.0, f64::max);
    assert!(worst < MOST_OFF_DB, "{worst} dB");
    assert!(off(ThirdOctave(12)) < -MOST_OFF_DB, "the band that the rate cuts is cut");
}
