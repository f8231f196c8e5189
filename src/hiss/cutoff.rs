//! Where a lossy coder or a resampler cut the sound off.

use crate::units::Hertz;

/// Width of the cells in which the spectrum is looked at: averages out the scatter of single bins,
/// and is still narrow against the edge of any coder.
const CELL_HZ: f64 = 100.0;
/// No lower edge is looked for: telephones, the narrowest of all, end at 3.4 kHz.
const LOWEST_HZ: f64 = 3000.0;
/// The least fall across an edge. With the widths below, a path of 36 dB an octave, steeper than any
/// pipe, stays under it.
const LEAST_FALL_DB: f64 = 12.0;
/// The band ends where the power is this far below that of the stretch before the edge.
const END_DB: f64 = 6.0;
/// Share of the cells above an edge that must lie below it; the rest may hold a switching tone.
const QUIET_SHARE: f64 = 0.9;

/// How much room an edge may take up: coders and resamplers fall within 0.1–0.6 kHz.
fn edge_hz(at_hz: f64) -> f64 {
    (0.06 * at_hz).max(300.0)
}

/// The stretch below an edge that says how loud the sound is there.
fn below_hz(at_hz: f64) -> f64 {
    (0.08 * at_hz).max(500.0)
}

/// The real bandwidth of a recording: where a lossy coder or a resampler cut it off.
///
/// `psd` is a long-term power spectrum from 0 Hz to half the sample rate, in any unit of power, with
/// bins `bin_hz` apart. `None` where nothing cuts the sound off below half the sample rate: it falls
/// off as paths and microphones do, or not at all.
///
/// An edge is where the median power of the stretch below it (8 % of the frequency, 0.5 kHz at least) is
/// 12 dB or more above nine tenths of everything from 6 % (0.3 kHz at least) further up, and above half of
/// the next 0.3 kHz there. The deepest such edge counts; a slow one, as of a cheap resampler, is deepest far down its
/// slope, so its beginning says how loud the sound is, if there is a floor beyond. The bandwidth is the end of the last
/// 100 Hz cell within 6 dB of the stretch below that beginning. Own method, tested on real encodings (AAC, Vorbis, Opus, mp3) and on a
/// resampled recording.
///
/// ```
/// use hissward::hiss::cut_off;
/// // Flat to 16 kHz, nothing above, half the rate is 24 kHz.
/// let psd: Vec<f64> = (0..=2400).map(|bin| if bin < 1600 { 1e-9 } else { 1e-16 }).collect();
/// let found = cut_off(&psd, 10.0).expect("an edge");
/// assert!((found.0 - 16_000.0).abs() <= 100.0);
/// // Flat all the way: no edge.
/// assert_eq!(cut_off(&[1e-9; 2401], 10.0), None);
/// ```
#[must_use]
pub fn cut_off(psd: &[f64], bin_hz: f64) -> Option<Hertz> {
    let cells = cells_db(psd, bin_hz)?;
    let count = |hz: f64| (hz / CELL_HZ).round() as usize;
    let mut best: Option<Edge> = None;
    let mut slope: Option<Slope> = None;
    let mut looked_at = 0;
    for at in count(LOWEST_HZ)..cells.len() {
        let at_hz = at as f64 * CELL_HZ;
        let (from, beyond) = (at - count(below_hz(at_hz)), at + count(edge_hz(at_hz)));
        // At least two cells of silence must be there to be believed.
        if beyond + 2 > cells.len() {
            break;
        }
        looked_at = at;
        let inside_db = quantile(&cells[from..at], 0.5);
        let near_db = quantile(&cells[beyond..(beyond + count(NEAR_HZ)).min(cells.len())], 0.5);
        // Most places fall at this: what lies further up need not be looked at.
        if inside_db - near_db < LEAST_FALL_DB {
            continue;
        }
        let fall_db = inside_db - near_db.max(quantile(&cells[beyond..], QUIET_SHARE));
        if fall_db < LEAST_FALL_DB {
            continue;
        }
        let place = Place { from, inside_db };
        let begun = slope.filter(|slope| at <= slope.last + count(edge_hz(at_hz))).map_or(place, |slope| slope.begun);
        slope = Some(Slope { begun, last: at });
        // Of equals the first, so that a long silence is not entered late.
        if best.as_ref().is_none_or(|best| fall_db > best.fall_db + END_DB) {
            best = Some(Edge { fall_db, place, begun, near: (beyond + count(NEAR_HZ)).min(cells.len()) });
        }
    }
    let edge = best?;
    // What still falls at half the rate has no floor that would show the slope to be a resampler's: only the place
    // itself counts.
    let no_floor = slope.is_some_and(|slope| slope.last == looked_at);
    let below = if no_floor { edge.place } else { edge.begun };
    let last = (below.from..edge.near).rev().find(|cell| cells[*cell] >= below.inside_db - END_DB)?;
    Some(Hertz((last + 1) as f64 * CELL_HZ))
}

/// The stretch just beyond an edge that must have fallen too: a path that goes on falling has not yet.
const NEAR_HZ: f64 = 300.0;

/// The stretch below a place at which the sound falls far enough: where it begins, and how loud it is.
#[derive(Clone, Copy)]
struct Place {
    from: usize,
    inside_db: f64,
}

/// Such places side by side: the first of them, and the last so far.
#[derive(Clone, Copy)]
struct Slope {
    begun: Place,
    last: usize,
}

/// Where the sound falls deepest.
struct Edge {
    fall_db: f64,
    place: Place,
    /// Where the slope that the place lies on begins.
    begun: Place,
    /// The end of the stretch that has fallen.
    near: usize,
}

/// Mean power of each whole cell in dB; `None` where the bins are too wide or there is no power at all.
fn cells_db(psd: &[f64], bin_hz: f64) -> Option<Vec<f64>> {
    let loudest = psd.iter().copied().filter(|power| power.is_finite()).fold(0.0, f64::max);
    if !(bin_hz > 0.0 && bin_hz <= CELL_HZ && loudest > 0.0) {
        return None;
    }
    // Digital silence has no level in dB; 200 dB below the loudest bin stands for it.
    let floor = loudest * 1e-20;
    let bin_of = |cell: usize| (cell as f64 * CELL_HZ / bin_hz).ceil() as usize;
    let whole = (psd.len() as f64 * bin_hz / CELL_HZ).floor() as usize;
    let cells = (0..whole).map(|cell| {
        let bins = &psd[bin_of(cell)..bin_of(cell + 1).min(psd.len())];
        let mean = bins.iter().sum::<f64>() / bins.len().max(1) as f64;
        10.0 * mean.max(floor).log10()
    });
    Some(cells.collect())
}

fn quantile(values: &[f64], share: f64) -> f64 {
    let mut mixed = values.to_vec();
    let place = ((mixed.len() - 1) as f64 * share).floor() as usize;
    *mixed.select_nth_unstable_by(place, f64::total_cmp).1
}

#[cfg(test)]
mod tests {
    use super::*;

    const BIN_HZ: f64 = 48_000.0 / 4096.0;
    /// The edge is known to a cell either way.
    const TOLERANCE_HZ: f64 = CELL_HZ;

    /// A spectrum to 24 kHz from level in dB by frequency, with a ripple of ±1 dB like a real average's.
    fn spectrum(level_db: impl Fn(f64) -> f64) -> Vec<f64> {
        (0..=2048u32)
            .map(|bin| {
                let ripple_db = f64::from(bin.wrapping_mul(2_654_435_761) >> 16) / 65_535.0 * 2.0 - 1.0;
                10f64.powf((level_db(f64::from(bin) * BIN_HZ) + ripple_db) / 10.0)
            })
            .collect()
    }

    fn found(level_db: impl Fn(f64) -> f64) -> Option<f64> {
        cut_off(&spectrum(level_db), BIN_HZ).map(|hertz| hertz.0)
    }

    #[test]
    fn a_brick_wall_is_found_at_any_height_and_depth() {
        for edge_hz in [3_400.0, 7_000.0, 11_025.0, 15_000.0, 16_000.0, 20_000.0, 22_000.0] {
            for depth_db in [14.0, 30.0, 90.0] {
                let got = found(|hz| if hz < edge_hz { -90.0 } else { -90.0 - depth_db }).expect("found");
                assert!((got - edge_hz).abs() <= TOLERANCE_HZ, "{edge_hz} Hz, {depth_db} dB: {got} Hz");
            }
        }
    }

    #[test]
    fn a_wall_in_a_falling_spectrum_is_found() {
        let falling = |hz: f64| -60.0 - 12.0 * (hz.max(100.0) / 1000.0).log2();
        let got = found(|hz| if hz < 16_000.0 { falling(hz) } else { -150.0 }).expect("found");
        assert!((got - 16_000.0).abs() <= 2.0 * TOLERANCE_HZ, "{got} Hz");
    }

    #[test]
    fn a_slow_edge_ends_where_it_begins() {
        // A resampler from 16 to 48 kHz as a sound server has it: level in dB by 100 Hz from 6.5 kHz, as measured.
        let slope_db = [
            -2.5, -3.7, -3.7, -4.7, -4.6, -5.6, -6.5, -6.8, -8.2, -10.3, -10.7, -12.5, -14.9, -16.4, -18.6, -20.9,
            -22.7, -25.1, -27.4, -30.1, -34.7, -38.0, -42.8, -49.8, -59.4,
        ];
        let level = |hz: f64| {
            let place = (hz - 6_500.0) / 100.0;
            if place < 0.0 { -1.0 } else { slope_db.get(place as usize).copied().unwrap_or(-66.0) }
        };
        // 6 dB below what it begins with, and no lower than 6 dB below what is flat.
        let got = found(level).expect("found");
        assert!((7_100.0..=7_700.0).contains(&got), "{got} Hz");
    }

    #[test]
    fn paths_and_microphones_are_no_wall() {
        for db_per_octave in [0.0, 6.0, 12.0, 24.0, 36.0] {
            let muffled = |hz: f64| -60.0 - db_per_octave * (hz.max(2000.0) / 2000.0).log2();
            assert_eq!(found(muffled), None, "{db_per_octave} dB an octave from 2 kHz");
        }
        // Down to the noise of the microphone, and flat from there.
        assert_eq!(found(|hz| (-60.0 - 24.0 * (hz.max(2000.0) / 2000.0).log2()).max(-100.0)), None);
        // A resonance of 10 dB at 14 kHz.
        assert_eq!(found(|hz| -80.0 + 10.0 / (1.0 + ((hz - 14_000.0) / 600.0).powi(2))), None);
    }

    #[test]
    fn a_tone_above_the_wall_does_not_hide_it_and_a_whistle_is_no_wall() {
        let with_tone = |hz: f64| {
            if hz < 15_000.0 {
                -90.0
            } else if (hz - 19_000.0).abs() < 50.0 {
                -85.0
            } else {
                -140.0
            }
        };
        let got = found(with_tone).expect("found");
        assert!((got - 15_000.0).abs() <= TOLERANCE_HZ, "{got} Hz");
        assert_eq!(found(|hz| if (hz - 6_000.0).abs() < 60.0 { -40.0 } else { -90.0 }), None);
    }

    #[test]
    fn silence_and_nonsense_have_no_edge() {
        assert_eq!(cut_off(&[], BIN_HZ), None);
        assert_eq!(cut_off(&[0.0; 2049], BIN_HZ), None);
        assert_eq!(cut_off(&[1.0; 2049], 0.0), None);
        assert_eq!(cut_off(&[1.0; 20], 1200.0), None, "bins wider than a cell cannot tell");
        assert_eq!(cut_off(&[1.0; 40], BIN_HZ), None);
    }
}
