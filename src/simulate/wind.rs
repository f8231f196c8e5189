//! Air that streams past a microphone: turbulence, not sound.
//!
//! Spectrum: the inertial subrange falls with f^(−5/3) (Kolmogorov; for a stream past a microphone Corcos' model, as in
//! Mirabilii and Habets, arXiv 1805.09679); above about 0.1 U/D, D the capsule's port, the pressure averages out over it
//! and the spectrum falls by 6 dB per octave more (factor from memory). Level: it rises with the speed by 8 dB for each
//! metre per second, and the speed of each stretch is drawn from a Weibull distribution of shape 2, joined smoothly, with
//! fluctuations within a tenth of a second (Mirabilii, Lodermeyer, Czwielong, Becker, Habets, IWAENC 2022, "Simulating
//! wind noise with airflow speed-dependent characteristics": their published generator has these figures).

use super::curve::chain_along;
use super::dice::Dice;
use super::exact;
use super::filter::Chain;

/// Wind on one capsule.
#[derive(Debug, Clone)]
pub(super) struct Wind {
    chain: Chain,
}

/// The spectrum begins to fall here, hertz: below all bands that count.
const FALLS_FROM_HZ: f64 = 60.0;
/// It steepens from between these, hertz: 0.1 U/D with 10–30 m/s out of a port and 1 mm of a phone's sound hole.
const STEEPENS_HZ: (f64, f64) = (1000.0, 3000.0);
/// Level against speed, dB per m/s; and the mean speed that gusts play about, m/s.
const DB_PER_M_S: f64 = 8.0;
const GUST_M_S: f64 = 0.5;
/// Gusts follow each other in about this time; flutter is as short as this, seconds.
const GUST_S: f64 = 0.8;
const FLUTTER_S: f64 = 0.1;
const FLUTTER_M_S: f64 = 0.12;

impl Wind {
    pub fn draw(rate_hz: f64, dice: &mut Dice) -> Self {
        let steepens_hz = dice.between(STEEPENS_HZ.0, STEEPENS_HZ.1);
        let chain = chain_along(rate_hz, |hz| spectrum_db(hz, steepens_hz));
        Self { chain }
    }

    /// The filter that gives white noise its spectrum.
    pub fn chain(&self) -> &Chain {
        &self.chain
    }

    /// Lets it gust; the mean power stays what it was.
    pub fn gusts(&self, sound: &mut [f64], rate_hz: f64, dice: &mut Dice) {
        let power = |sound: &[f64]| sound.iter().map(|x| x * x).sum::<f64>();
        let before = power(sound);
        let step = ((FLUTTER_S * rate_hz) as usize).max(1);
        let steps = sound.len() / step + 2;
        let per_gust = (GUST_S / FLUTTER_S) as usize;
        let gusts: Vec<f64> = (0..steps / per_gust + 2).map(|_| weibull(dice)).collect();
        let speeds: Vec<f64> = (0..steps)
            .map(|k| {
                let (at, part) = (k / per_gust, (k % per_gust) as f64 / per_gust as f64);
                let joined = gusts[at] + (gusts[at + 1] - gusts[at]) * part;
                GUST_M_S * joined + FLUTTER_M_S * dice.normal()
            })
            .collect();
        for (k, block) in sound.chunks_mut(step).enumerate() {
            for (n, sample) in block.iter_mut().enumerate() {
                let speed = speeds[k] + (speeds[k + 1] - speeds[k]) * n as f64 / step as f64;
                *sample *= exact::amplitude_of_db(DB_PER_M_S * speed);
            }
        }
        let after = power(sound);
        if after > 0.0 {
            let gain = (before / after).sqrt();
            sound.iter_mut().for_each(|sample| *sample *= gain);
        }
    }
}

/// Density in dB at a frequency, up to a constant.
fn spectrum_db(hz: f64, steepens_hz: f64) -> f64 {
    let falls = exact::power(1.0 + (hz / FALLS_FROM_HZ) * (hz / FALLS_FROM_HZ), -5.0 / 6.0);
    let averaged = 1.0 / (1.0 + (hz / steepens_hz) * (hz / steepens_hz));
    exact::db_of_power(falls * averaged)
}

/// A Weibull number of shape 2 and scale 1: √(−ln(1 − u)).
fn weibull(dice: &mut Dice) -> f64 {
    dice.waiting(1.0).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_falls_as_turbulence_does() {
        let wind = Wind { chain: chain_along(48_000.0, |hz| spectrum_db(hz, 2000.0)) };
        let db = |hz: f64| 10.0 * wind.chain.power_at(hz).log10();
        // −5/3 is 5.02 dB per octave; far above 0.1 U/D 6 dB more.
        assert!((db(250.0) - db(500.0) - 5.02).abs() < 0.5, "{}", db(250.0) - db(500.0));
        assert!((db(8000.0) - db(16_000.0) - 10.9).abs() < 1.0, "{}", db(8000.0) - db(16_000.0));
    }

    #[test]
    fn it_gusts_and_keeps_its_mean() {
        let mut dice = Dice::seeded(3);
        let wind = Wind::draw(48_000.0, &mut dice);
        let mut sound = dice.white(288_000);
        let before = sound.iter().map(|x| x * x).sum::<f64>();
        wind.gusts(&mut sound, 48_000.0, &mut dice);
        let after = sound.iter().map(|x| x * x).sum::<f64>();
        assert!((after / before - 1.0).abs() < 1e-9);
        let fifths: Vec<f64> =
            sound.chunks(9_600).map(|part| 10.0 * part.iter().map(|x| x * x).sum::<f64>().log10()).collect();
        let mean = fifths.iter().sum::<f64>() / fifths.len() as f64;
        let sd = (fifths.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / fifths.len() as f64).sqrt();
        assert!((1.0..5.0).contains(&sd), "{sd} dB from fifth to fifth of a second");
    }
}
