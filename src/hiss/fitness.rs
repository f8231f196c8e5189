//! Fitness of clips: what lowers trust in a recording, or in a pair of them.

use crate::caveat::Caveat;

use super::grid::{FIRST_LEVEL_BAND, Grid};
use super::sound::ClipFeatures;
use crate::units::Hertz;

/// Shorter than this a clip says little, seconds.
const SHORT_SECONDS: f64 = 3.0;
/// Share of its time at full scale from which a clip counts as clipped. Bangs that overdrive the input are louder than the rest
/// of the clip: as long as they are this rare, the floor, a low quantile, lies in moments they never touch.
const CLIPPED_SHARE: f64 = 0.15;
/// A clip whose level lies under this is silent, dB FS: under the quantisation noise of 16 bits.
const SILENT_DB: f64 = -96.0;
/// Share of a clip that may be digital silence, samples that are all nought: a gate or a broken connection makes it, a shop
/// never does.
const ZEROS_SHARE: f64 = 0.1;
/// Power of all cells under which a row of them holds digital silence: the quantisation noise of 24 bits lies over it.
const ZEROS_POWER: f32 = 1e-15;
/// The level of a clip falls by this from its first third to its last, dB: the tank runs down, or the regulator freezes.
const FALLING_DB: f64 = 4.0;
/// A mean this large is DC, full scale 1.
const DC: f64 = 0.02;
/// A clip that ends below this cannot hold the whole hiss level, hertz.
const NARROW_HZ: f64 = 15_000.0;
/// Power below 100 Hz over the power from 1 kHz on, dB: wind or handling.
const RUMBLE_DB: f64 = 40.0;
/// Steps of loudness within a clip, dB, that a gain change makes and a shop hardly does.
const STEP_DB: f64 = 6.0;
/// A tone stands this far over its surroundings, dB, and holds this share of the power from 1 kHz on.
const TONE_DB: f64 = 20.0;
const TONE_SHARE: f64 = 0.5;
/// Tones that differ by less than this share are the same.
const SAME_TONE: f64 = 0.03;
/// Air on and yet quieter than quiet by this, dB.
const QUIETER_DB: f64 = 3.0;

/// What lowers trust in a clip by itself.
#[must_use]
pub fn clip_caveats(sound: &ClipFeatures) -> Vec<Caveat> {
    let mut found = Vec::new();
    let file = |code: &'static str| Caveat::new(code).text("file", sound.name());
    let level_db = 10.0 * sound.mean_square().max(f64::MIN_POSITIVE).log10();
    if level_db < SILENT_DB {
        found.push(file("silent"));
        return found;
    }
    let zeros = digital_silence_share(sound);
    if zeros > ZEROS_SHARE {
        found.push(file("digital-silence").number("percent", 100.0 * zeros, 0));
        return found;
    }
    if sound.clipped_share() > CLIPPED_SHARE {
        found.push(file("clipped").number("percent", 100.0 * sound.clipped_share(), 0));
    }
    if sound.duration().0 < SHORT_SECONDS {
        found.push(file("too-short").number("seconds", sound.duration().0, 1));
    }
    if sound.mean().abs() > DC {
        found.push(file("dc").number("percent", 100.0 * sound.mean().abs(), 0));
    }
    if sound.bandwidth().0 < NARROW_HZ {
        found.push(file("narrow-band").number("khz", sound.bandwidth().0 / 1000.0, 1));
    }
    if low_over_high_db(sound) > RUMBLE_DB {
        found.push(file("rumble"));
    }
    if let Some(step) = gain_step_db(&sound.trace_db()) {
        found.push(file("gain-step").number("step", step, 0));
    }
    found
}

/// The share of a clip's rows in which nothing but noughts came.
fn digital_silence_share(sound: &ClipFeatures) -> f64 {
    let (rows, _) = sound.rows();
    let count = rows.len().max(1) as f64;
    rows.filter(|row| row.iter().sum::<f32>() < ZEROS_POWER).count() as f64 / count
}

/// The hiss of a clip with the air on runs down while it is recorded. Pulsed air rises and falls by itself.
#[must_use]
pub fn falling_caveat(sound: &ClipFeatures) -> Option<Caveat> {
    let fall = fall_db(&sound.trace_db())?;
    Some(Caveat::new("level-falling").text("file", sound.name()).number("db", fall, 0))
}

/// How far the thirds of a trace fall, one under the other, where each wanders less by itself.
fn fall_db(trace: &[f64]) -> Option<f64> {
    let third = trace.len() / 3;
    if third < 4 {
        return None;
    }
    let mut quartiles = |part: &[f64]| {
        let mut sorted = part.to_vec();
        sorted.sort_by(f64::total_cmp);
        (sorted[sorted.len() / 4], sorted[sorted.len() / 2], sorted[3 * sorted.len() / 4])
    };
    let parts = [&trace[..third], &trace[third..trace.len() - third], &trace[trace.len() - third..]];
    let [first, middle, last] = parts.map(&mut quartiles);
    let falls = first.0 > middle.2 && middle.0 > last.2;
    let fall = first.1 - last.1;
    (falls && fall > FALLING_DB).then_some(fall)
}

/// Most of the clip is one tone. Whether that speaks against it depends on whether the tone is there without air, too.
#[must_use]
pub fn tone_caveat(sound: &ClipFeatures) -> Option<Caveat> {
    let hz = tone_hz(sound)?;
    Some(Caveat::new("whistle").text("file", sound.name()).number("khz", hz / 1000.0, 1))
}

/// What lowers trust in an opening's quiet and air clips together.
#[must_use]
pub fn pair_caveats(quiet: &[&ClipFeatures], air: &[&ClipFeatures]) -> Vec<Caveat> {
    let mut found = Vec::new();
    for a in air {
        let twin = quiet.iter().find(|other| other.digest() == a.digest());
        if let Some(twin) = twin {
            found.push(Caveat::new("same-recording").text("file", a.name()).text("other", twin.name()));
        }
        // A tone that is there without air is the shop's, and no band's floor rises by it.
        let of_the_shop =
            |hz: f64| quiet.iter().filter_map(|clip| tone_hz(clip)).any(|q| (q / hz - 1.0).abs() < SAME_TONE);
        if !tone_hz(a).is_some_and(of_the_shop) {
            found.extend(tone_caveat(a));
        }
    }
    let rates = |clips: &[&ClipFeatures]| clips.iter().map(|clip| clip.rate().0).fold(0.0, f64::max);
    if !quiet.is_empty() && !air.is_empty() && (rates(quiet) - rates(air)).abs() > 0.5 {
        let caveat = Caveat::new("different-rates");
        found.push(caveat.number("quiet_hz", rates(quiet), 0).number("air_hz", rates(air), 0));
    }
    if !quiet.is_empty() && !air.is_empty() {
        let (q, a) = (super::contrast::mean_power_db(quiet), super::contrast::mean_power_db(air));
        // Only bands that both have: where one ends there is nothing to be held against the other.
        let reach = quiet.iter().chain(air).map(|clip| clip.bandwidth().0).fold(f64::INFINITY, f64::min);
        let level_bands = FIRST_LEVEL_BAND..Grid::bands_below(Hertz(reach)).max(FIRST_LEVEL_BAND);
        let count = level_bands.len().max(1) as f64;
        let over: f64 = level_bands.map(|b| a[b] - q[b]).sum::<f64>() / count;
        if over < -QUIETER_DB {
            found.push(Caveat::new("quiet-louder").number("db", -over, 0));
        }
    }
    found
}

/// Power below 100 Hz over that from 1 kHz on, dB.
fn low_over_high_db(sound: &ClipFeatures) -> f64 {
    let (density, bin_hz) = sound.density();
    let (mut low, mut high) = (0.0, f64::MIN_POSITIVE);
    for (bin, power) in density.iter().enumerate().skip(1) {
        let hz = bin as f64 * bin_hz;
        if hz < 100.0 {
            low += power;
        } else if hz >= 1000.0 {
            high += power;
        }
    }
    10.0 * (low / high).log10()
}

/// A step of loudness that stays: medians of half a clip's quarter seconds before and after differ, and neither half
/// wanders as much by itself.
fn gain_step_db(trace: &[f64]) -> Option<f64> {
    let median = |part: &[f64]| {
        let mut sorted = part.to_vec();
        sorted.sort_by(f64::total_cmp);
        sorted.get(sorted.len() / 2).copied()
    };
    let spread = |part: &[f64], middle: f64| part.iter().map(|x| (x - middle).abs()).sum::<f64>() / part.len() as f64;
    let least = trace.len() / 4;
    let steps = (least.max(2)..trace.len().saturating_sub(least.max(2))).filter_map(|at| {
        let (before, after) = (median(&trace[..at])?, median(&trace[at..])?);
        let loose = spread(&trace[..at], before) + spread(&trace[at..], after);
        let step = (after - before).abs();
        (step > STEP_DB && loose < step / 8.0).then_some(step)
    });
    steps.max_by(f64::total_cmp)
}

/// A tone that holds most of the power where hiss is looked for.
fn tone_hz(sound: &ClipFeatures) -> Option<f64> {
    let (density, bin_hz) = sound.density();
    let first = (1000.0 / bin_hz) as usize;
    let whole: f64 = density.get(first..)?.iter().sum();
    let (at, _) = density.iter().enumerate().skip(first).max_by(|a, b| a.1.total_cmp(b.1))?;
    let near = density.get(at.saturating_sub(3)..(at + 4).min(density.len()))?;
    let mut around: Vec<f64> = density.get(at.saturating_sub(30)..(at + 31).min(density.len()))?.to_vec();
    around.sort_by(f64::total_cmp);
    let floor = around.get(around.len() / 2)?;
    let peak: f64 = near.iter().sum();
    let stands_out = 10.0 * (density[at] / floor.max(f64::MIN_POSITIVE)).log10() > TONE_DB;
    (stands_out && peak > TONE_SHARE * whole).then_some(at as f64 * bin_hz)
}
