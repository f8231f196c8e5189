//! Bangs so loud that the input is overdriven: a hammer a few metres away.

use hissward::clip::Clip;
use hissward::simulate::{CaseClip, Dice};

/// Bangs per second, how long one rings to 1/e, and how far it goes over full scale (common practice, no source).
const PER_SECOND: f64 = 1.2;
const RINGS_S: (f64, f64) = (0.004, 0.03);
const OVER: (f64, f64) = (1.5, 6.0);
/// Where it rings, hertz.
const RING_HZ: (f64, f64) = (300.0, 3_500.0);
/// The highest of 16 bits.
const HIGHEST: f64 = 32_767.0 / 32_768.0;

/// Adds bangs to a clip and cuts what is over full scale.
pub fn overdrive(clip: &mut CaseClip, dice: &mut Dice) {
    let rate_hz = clip.clip.rate().0;
    let mut samples: Vec<f64> = clip.clip.samples().iter().map(|&x| f64::from(x)).collect();
    let mut at_s = dice.waiting(1.0 / PER_SECOND);
    while at_s < clip.clip.duration().0 {
        let rings_s = dice.between(RINGS_S.0, RINGS_S.1);
        let (height, hz) = (dice.between(OVER.0, OVER.1), dice.between(RING_HZ.0, RING_HZ.1));
        let from = (at_s * rate_hz) as usize;
        let count = (8.0 * rings_s * rate_hz) as usize;
        for (n, sample) in samples.iter_mut().skip(from).take(count).enumerate() {
            let t = n as f64 / rate_hz;
            let ring = (std::f64::consts::TAU * hz * t).sin() + 0.5 * dice.normal();
            *sample += height * (-t / rings_s).exp() * ring;
        }
        at_s += dice.waiting(1.0 / PER_SECOND);
    }
    let cut: Vec<f32> = samples.iter().map(|x| x.clamp(-1.0, HIGHEST) as f32).collect();
    if let Ok(banged) = Clip::new(cut, clip.clip.rate(), clip.clip.name().to_owned()) {
        clip.clip = banged;
    }
}
