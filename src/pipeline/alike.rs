//! Whether the clips of an opening were made alike: by one microphone, at one gain.

use std::f64::consts::SQRT_2;

use crate::caveat::Caveat;
use crate::hiss::ClipFeatures;
use crate::job::ClipRecord;
use crate::opening::Air;

/// Octaves that are held against each other, by their midbands, hertz.
const OCTAVES_HZ: [f64; 7] = [125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0];
/// All bands shifted by so much, dB: a knob, not a shop. Makers' gain steps are 6 or 10 dB, an automatic gain moves further.
const SHIFT_DB: f64 = 5.0;
/// And none further than this from the others. A source that comes or goes has a spectrum of its own, air that hisses
/// leaves the low bands alone.
const EVEN_DB: f64 = 1.5;

/// What speaks against clips that are ranked together: other microphones, another gain.
///
/// The clips are those of one opening, in the order in which they were made, each with its sound.
#[must_use]
pub fn alike(clips: &[(&ClipRecord, &ClipFeatures)]) -> Vec<Caveat> {
    let mut found = Vec::new();
    found.extend(other_device(clips));
    found.extend(other_gain(clips));
    found
}

/// The first clip that another microphone made than the first one. A clip from elsewhere names none.
fn other_device(clips: &[(&ClipRecord, &ClipFeatures)]) -> Option<Caveat> {
    let mut named = clips.iter().filter_map(|(clip, _)| clip.device.as_deref().map(|device| (*clip, device)));
    let (_, first) = named.next()?;
    let (clip, other) = named.find(|(_, device)| *device != first)?;
    Some(Caveat::new("different-devices").text("file", clip.file.as_str()).text("device", other).text("other", first))
}

/// The first clip whose every octave lies as far from those of the first quiet clip.
fn other_gain(clips: &[(&ClipRecord, &ClipFeatures)]) -> Option<Caveat> {
    let (_, basis) = clips.iter().find(|(clip, _)| clip.subject.air == Air::Off)?;
    clips.iter().find_map(|(clip, sound)| {
        let shift = even_shift_db(basis, sound).filter(|shift| shift.abs() >= SHIFT_DB)?;
        Some(Caveat::new("gain-differs").text("file", clip.file.as_str()).number("step", shift, 0))
    })
}

/// By how much one sound lies over another, dB, where all octaves agree on it.
fn even_shift_db(basis: &ClipFeatures, sound: &ClipFeatures) -> Option<f64> {
    let end_hz = basis.bandwidth().0.min(sound.bandwidth().0);
    let octaves = OCTAVES_HZ.into_iter().filter(|midband_hz| midband_hz * SQRT_2 <= end_hz);
    let mut shifts: Vec<f64> =
        octaves.map(|hz| Some(octave_db(sound, hz)? - octave_db(basis, hz)?)).collect::<Option<_>>()?;
    shifts.sort_by(f64::total_cmp);
    let (lowest, highest) = (shifts.first()?, shifts.last()?);
    (highest - lowest <= 2.0 * EVEN_DB).then(|| shifts[shifts.len() / 2])
}

/// Mean density in an octave, dB; `None` where there is none.
fn octave_db(sound: &ClipFeatures, midband_hz: f64) -> Option<f64> {
    let (density, bin_hz) = sound.density();
    let bin = |hz: f64| (hz / bin_hz).round() as usize;
    let inside = density.get(bin(midband_hz / SQRT_2)..bin(midband_hz * SQRT_2))?;
    let mean = inside.iter().sum::<f64>() / inside.len() as f64;
    (mean > 0.0).then(|| 10.0 * mean.log10())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hiss::ClipAnalyzer;
    use crate::job::{Sha256, Subject};
    use crate::units::Hertz;

    fn record(file: &str, air: Air, device: Option<&str>) -> ClipRecord {
        ClipRecord {
            file: file.parse().expect("a name"),
            subject: Subject { cylinder: Some(2), opening: "intake".parse().expect("an opening"), air },
            take: 1,
            visit: None,
            recorded: None,
            seconds: 6.0,
            sample_rate_hz: 48_000,
            channels: 1,
            channel: 1,
            far_channel: None,
            one_channel: false,
            application: None,
            coding: None,
            device: device.map(str::to_owned),
            processing: None,
            sha256: Sha256::of(b""),
            cut_short: false,
            overruns: 0,
            left_out: None,
            import: None,
        }
    }

    /// Shop noise, falling 6 dB an octave over some white noise, at this gain; `hiss` is white noise besides.
    fn sound(gain_db: f64, hiss: f32) -> ClipFeatures {
        let mut state = 7_u64;
        let mut white = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 40) as f32 / (1_u64 << 23) as f32 - 1.0
        };
        let gain = 10f64.powf(gain_db / 20.0) as f32;
        let mut low = 0.0;
        let samples: Vec<f32> = (0..48_000 * 6)
            .map(|_| {
                low = 0.98 * low + 0.02 * white();
                gain * (0.1 * low + 0.001 * white() + hiss * white())
            })
            .collect();
        let mut listener = ClipAnalyzer::new("clip", Hertz(48_000.0));
        listener.push(&samples);
        listener.sound()
    }

    fn codes(clips: &[(&ClipRecord, &ClipFeatures)]) -> Vec<&'static str> {
        alike(clips).iter().map(|caveat| caveat.code).collect()
    }

    #[test]
    fn another_microphone_is_told_by_name() {
        let (quiet, air) =
            (record("a.wav", Air::Off, Some("USB microphone")), record("b.wav", Air::On, Some("Headset")));
        let elsewhere = record("c.wav", Air::On, None);
        let same = sound(0.0, 0.0);
        let found = alike(&[(&quiet, &same), (&elsewhere, &same), (&air, &same)]);
        let expected = Caveat::new("different-devices").text("file", "b.wav").text("other", "USB microphone");
        let [caveat] = &found[..] else { panic!("{found:?}") };
        assert_eq!(caveat.code, expected.code);
        assert!(expected.facts.iter().all(|fact| caveat.facts.contains(fact)), "{found:?}");
        assert_eq!(codes(&[(&quiet, &same), (&elsewhere, &same)]), [""; 0]);
    }

    #[test]
    fn another_gain_is_told_from_hiss_and_from_a_louder_shop() {
        let (quiet, air) = (record("a.wav", Air::Off, None), record("b.wav", Air::On, None));
        let basis = sound(0.0, 0.0);
        for (gain_db, hiss, expected) in [
            (0.0, 0.0, &[][..]),
            (0.0, 0.01, &[]),
            (3.0, 0.0, &[]),
            (6.0, 0.0, &["gain-differs"]),
            (-10.0, 0.0, &["gain-differs"]),
        ] {
            let other = sound(gain_db, hiss);
            assert_eq!(codes(&[(&quiet, &basis), (&air, &other)]), expected, "{gain_db} dB, hiss {hiss}");
        }
    }
}
