//! Samples as they may come: what is listened to and ranked, however absurd.

use std::path::Path;

use hissward::clip::LARGEST_SAMPLE;
use hissward::hiss::{ClipAnalyzer, ClipFeatures};
use hissward::ranking::{HissReading, OpeningClips, Ranking, rank};
use hissward::units::Hertz;

use super::telling::worded;

/// Rates that recorders write; any other from 8 to 192 kHz may come as well.
const RATES_HZ: [f64; 9] = [8_000.0, 11_025.0, 16_000.0, 22_050.0, 32_000.0, 44_100.0, 48_000.0, 96_000.0, 192_000.0];
const LOWEST_HZ: f64 = 8_000.0;
const HIGHEST_HZ: f64 = 192_000.0;
const OPENINGS: [&str; 4] = ["intake", "exhaust", "oil-filler", "plug-hole-2"];
const MOST_CLIPS: usize = 6;
/// Bytes that say what a clip is: rate (two), length, whose it is, how large its samples are.
const SAID: usize = 5;

/// The first byte says how many clips there are and whether one recorder made them all; then come five bytes for each;
/// the rest is their 16-bit samples, a share for each, played over and over until the clip has its length.
pub fn sound(bytes: &[u8], _scratch: &Path) {
    let [first, rest @ ..] = bytes else { return };
    let count = 1 + usize::from(first % 8).min(MOST_CLIPS - 1);
    let Some((said, samples)) = rest.split_at_checked(SAID * count) else { return };
    let alike = first & 8 == 8;
    let share = (samples.len() / (2 * count)).max(1) * 2;
    let mut shares = samples.chunks(share);
    let clips: Vec<(ClipFeatures, u8)> = said
        .chunks(SAID)
        .map(|own| {
            let rate = rate(if alike { said } else { own });
            (clip(shares.next().unwrap_or_default(), own, rate), own[3])
        })
        .collect();
    let heard: Vec<OpeningClips<'_>> = OPENINGS
        .iter()
        .zip(0..)
        .filter_map(|(name, place): (_, u8)| {
            let of = |air: u8| -> Vec<&ClipFeatures> {
                let own = clips.iter().filter(|(_, whose)| {
                    whose >> 2 & 3 == air && (whose & 3 == place || (air == 0 && whose & 16 == 16))
                });
                own.map(|(sound, _)| sound).collect()
            };
            let heard = OpeningClips {
                quiet: of(0),
                // The fourth way is air on, too.
                air: of(1).into_iter().chain(of(3)).collect(),
                pulsed: of(2),
                ..OpeningClips::at(name.parse().expect("an opening"))
            };
            (!heard.air.is_empty() || !heard.pulsed.is_empty()).then_some(heard)
        })
        .collect();
    sane(&rank(Some(1), &heard));
}

fn rate(said: &[u8]) -> Hertz {
    let [choice, fine, ..] = said else { return Hertz(LOWEST_HZ) };
    Hertz(match RATES_HZ.get(usize::from(choice % 16)) {
        Some(known) => *known,
        None => {
            let share = f64::from(u16::from_be_bytes([*choice, *fine])) / f64::from(u16::MAX);
            (LOWEST_HZ + (HIGHEST_HZ - LOWEST_HZ) * share).round()
        }
    })
}

fn clip(part: &[u8], said: &[u8], rate: Hertz) -> ClipFeatures {
    let (pairs, _) = part.as_chunks::<2>();
    // As whole numbers stored as floats may come out, up to what is refused as no sound; and next to nothing.
    let full = [32_768.0, 32_768.0 / LARGEST_SAMPLE, 1.0, 1e35][usize::from(said[4] % 4)];
    let samples: Vec<f32> = pairs.iter().map(|pair| f32::from(i16::from_le_bytes(*pair)) / full).collect();
    // From the shortest that is ranked to two and a half seconds.
    let wanted = (rate.0 * (0.5 + f64::from(said[2]) / 128.0)) as usize;
    let mut listener = ClipAnalyzer::new("clip", rate);
    let mut given = 0;
    while given < wanted {
        if samples.is_empty() {
            listener.push(&vec![0.0; wanted]);
            break;
        }
        let piece = &samples[..samples.len().min(wanted - given)];
        listener.push(piece);
        given += piece.len();
    }
    listener.sound()
}

/// Probabilities sum to one and are in order, every number is one, every doubt has words.
pub fn sane(ranking: &Ranking) {
    let sum: f64 = ranking.openings.iter().map(|opening| opening.probability).sum();
    let nowhere_heard = ranking.tight_probability + ranking.elsewhere_probability;
    assert!((sum + nowhere_heard - 1.0).abs() < 1e-9, "{sum} and {nowhere_heard}");
    worded(&ranking.caveats);
    for opening in &ranking.openings {
        assert!((0.0..=1.0).contains(&opening.probability), "{}", opening.probability);
        assert!(opening.at_most.0.is_finite());
        if let HissReading::Heard { level, low, high } = opening.hiss {
            assert!(low.0 <= level.0 && level.0 <= high.0 && (high.0 - low.0).is_finite(), "{low} {level} {high}");
        }
        worded(&opening.caveats);
    }
}
