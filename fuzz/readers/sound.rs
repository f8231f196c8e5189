//! Samples as they may come: what is listened to and ranked, however absurd.

use std::path::Path;

use hissward::clip::LARGEST_SAMPLE;
use hissward::hiss::{ClipSound, Listener};
use hissward::ranking::{Heard, HissReading, Ranking, rank};
use hissward::units::Hertz;

use super::telling::worded;

/// The first byte chooses the rate, the second the pattern; the rest is three clips of 16-bit samples, each played
/// over and over until it is long enough to be judged.
pub fn sound(bytes: &[u8], _scratch: &Path) {
    let [choice, shape, samples @ ..] = bytes else { return };
    let rate = Hertz([44_100.0, 48_000.0, 96_000.0, 192_000.0][usize::from(choice % 4)]);
    let third = (samples.len() / 6).max(1) * 2;
    let clips: Vec<ClipSound> = samples.chunks(third).take(3).map(|part| clip(part, *shape, rate)).collect();
    let [quiet, air, other @ ..] = &clips[..] else { return };
    let opening = |name: &str| name.parse().expect("an opening");
    let heard = |name, air| Heard {
        quiet: vec![quiet],
        air: vec![air],
        pulsed: other.iter().filter(|_| shape & 4 == 4).collect(),
        ..Heard::at(opening(name))
    };
    let mut openings = vec![heard("intake", air)];
    openings.extend(other.iter().map(|other| heard("exhaust", other)));
    sane(&rank(Some(1), &openings));
}

fn clip(part: &[u8], shape: u8, rate: Hertz) -> ClipSound {
    let (pairs, _) = part.as_chunks::<2>();
    // As whole numbers stored as floats may come out, up to what is refused as no sound; and next to nothing.
    let full = [32_768.0, 32_768.0 / LARGEST_SAMPLE, 1.0, 1e35][usize::from(shape % 4)];
    let samples: Vec<f32> = pairs.iter().map(|pair| f32::from(i16::from_le_bytes(*pair)) / full).collect();
    let wanted = (rate.0 * 0.6) as usize;
    let mut listener = Listener::new("clip", rate);
    let mut given = 0;
    while given < wanted {
        if samples.is_empty() {
            listener.push(&vec![0.0; wanted]);
            break;
        }
        listener.push(&samples);
        given += samples.len();
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
