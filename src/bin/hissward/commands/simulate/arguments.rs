//! What `hissward simulate` is told.

use std::path::PathBuf;
use std::str::FromStr;

use hissward::job::GaugeValue;
use hissward::opening::Opening;
use hissward::simulate::NoiseKind;
use hissward::units::{GaugePressure, Percent};

use crate::console::Failure;

/// Most cylinders made at once.
const MOST_CYLINDERS: u32 = 64;
/// Most takes of a clip.
const MOST_TAKES: u32 = 20;

/// Arguments of `hissward simulate`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  \
    hissward simulate --out boat --leak 2:oil-filler:-5dB --noise fan --noise radio\n  \
    hissward simulate --out far --far --leak 1:intake:-10dB --rig 100psi:97psi --gauge 1:100psi:70psi\n  \
    hissward simulate --out pulsed --pulsed --leak 1:exhaust:-10dB --leak 1:intake:-12dB --json")]
pub struct Arguments {
    /// The job folder to make; it must not exist or be empty
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,

    /// The seed: the same one makes the same sounds
    #[arg(long, default_value_t = 1, value_name = "N")]
    pub seed: u64,

    /// How many cylinders
    #[arg(long, default_value_t = 3, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_CYLINDERS)))]
    pub cylinders: u32,

    /// A leak: cylinder, opening, and hiss over noise from 1 to 16 kHz, such as 2:oil-filler:-5dB; repeat for more
    #[arg(long = "leak", value_name = "CYLINDER:OPENING:DB", allow_hyphen_values = true)]
    pub leaks: Vec<LeakArgument>,

    /// Where the microphone is held
    #[arg(long = "at", value_name = "OPENING", default_values = ["intake", "exhaust", "oil-filler"])]
    pub openings: Vec<Opening>,

    /// What makes noise: blow-gun, compressor, fan, forklift, grinder, hammering, impact-wrench, radio, rain, talk, traffic; repeat for more [default: fan, radio, impact-wrench, unless --noise-file is given]
    #[arg(long, value_name = "KIND")]
    pub noise: Vec<NoiseKind>,

    /// A recording as noise, each clip another part of it; repeat for more (all at one sample rate, which the clips take)
    #[arg(long, value_name = "FILE")]
    pub noise_file: Vec<PathBuf>,

    /// Level of the noise from 1 to 16 kHz, dB FS
    #[arg(long, default_value_t = -42.0, value_name = "DB", allow_hyphen_values = true, value_parser = within(-90.0, 0.0))]
    pub noise_db: f64,

    /// Seconds a clip [default: 6, or 12 with --pulsed]
    #[arg(long, value_name = "S", value_parser = within(0.2, 600.0))]
    pub seconds: Option<f64>,

    /// Takes of every clip
    #[arg(long, default_value_t = 1, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_TAKES)))]
    pub takes: u32,

    /// How far the noise's level drifts between quiet and air clip, dB (standard deviation)
    #[arg(long, default_value_t = 1.0, value_name = "DB", value_parser = within(0.0, 20.0))]
    pub drift_db: f64,

    /// How far each of several noises changes for itself on top of that, dB (standard deviation)
    #[arg(long, default_value_t = 1.0, value_name = "DB", value_parser = within(0.0, 20.0))]
    pub change_db: f64,

    /// How far placing the microphone scatters the hiss, dB (standard deviation)
    #[arg(long, default_value_t = 2.0, value_name = "DB", value_parser = within(0.0, 20.0))]
    pub placement_db: f64,

    /// Pulsed clips instead of quiet and air clips
    #[arg(long, alias = "keyed")]
    pub pulsed: bool,

    /// The recorder changes its gain by itself
    #[arg(long)]
    pub agc: bool,

    /// A second microphone a step away, as second channel
    #[arg(long)]
    pub far: bool,

    /// What the rig alone shows, as in 100psi:97psi
    #[arg(long, value_name = "SUPPLY:HELD")]
    pub rig: Option<RigArgument>,

    /// A gauge reading: cylinder and pressures or loss, as in 2:100psi:70psi or 2:30%; repeat for more
    #[arg(long = "gauge", value_name = "CYLINDER:SUPPLY:HELD")]
    pub gauges: Vec<GaugeArgument>,

    /// Write the demo engine's clips instead, without a job (the other choices do not count)
    #[arg(long)]
    pub demo: bool,

    /// Print the truth as JSON
    #[arg(long)]
    pub json: bool,
}

impl Arguments {
    /// What clap cannot see alone.
    pub fn check(&self) -> Result<(), Failure> {
        let leaks = self.leaks.iter().map(|leak| ("leak", leak.cylinder));
        let mut named = leaks.chain(self.gauges.iter().map(|reading| ("reading", reading.cylinder)));
        match named.find(|(_, cylinder)| !(1..=self.cylinders).contains(cylinder)) {
            Some((what, cylinder)) => Err(format!(
                "a {what} in cylinder {cylinder} of {}: number the cylinders from 1, or raise --cylinders",
                self.cylinders
            )
            .into()),
            None => Ok(()),
        }
    }

    /// The kinds of noise: those asked for, or the usual ones where nothing is.
    pub fn kinds(&self) -> Vec<NoiseKind> {
        if self.noise.is_empty() && self.noise_file.is_empty() {
            vec![NoiseKind::Fan, NoiseKind::Radio, NoiseKind::ImpactWrench]
        } else {
            self.noise.clone()
        }
    }
}

/// `2:oil-filler:-5dB`.
#[derive(Debug, Clone, PartialEq)]
pub struct LeakArgument {
    pub cylinder: u32,
    pub opening: Opening,
    pub hiss_to_noise_db: f64,
}

/// Hiss over noise is taken within this, dB.
const MOST_HISS_TO_NOISE_DB: f64 = 60.0;

impl FromStr for LeakArgument {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let advice = "write cylinder, opening and hiss over noise, such as 2:oil-filler:-5dB";
        let parts: Vec<&str> = text.split(':').collect();
        let [cylinder, opening, level] = parts[..] else {
            return Err(format!("'{text}' is not a valid leak: {advice}"));
        };
        let cylinder = cylinder.parse().map_err(|_| format!("'{cylinder}' is not a cylinder number: {advice}"))?;
        let opening = opening.parse().map_err(|error| format!("{error}"))?;
        let number = level.trim().trim_end_matches("dB").trim_end();
        let hiss_to_noise_db: f64 =
            number.parse().map_err(|_| format!("'{level}' is not a level difference in dB: {advice}"))?;
        if !(-MOST_HISS_TO_NOISE_DB..=MOST_HISS_TO_NOISE_DB).contains(&hiss_to_noise_db) {
            return Err(format!("'{level}' lies beyond ±{MOST_HISS_TO_NOISE_DB} dB: {advice}"));
        }
        Ok(Self { cylinder, opening, hiss_to_noise_db })
    }
}

/// `100psi:97psi`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RigArgument {
    pub supply: GaugePressure,
    pub held: GaugePressure,
}

impl FromStr for RigArgument {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let Some((supply, held)) = text.split_once(':') else {
            return Err(format!("'{text}' is not a pair of pressures: write supply and held, such as 100psi:97psi"));
        };
        let pressure = |text: &str| text.parse::<GaugePressure>().map_err(|error| error.to_string());
        Ok(Self { supply: pressure(supply)?, held: pressure(held)? })
    }
}

/// `2:100psi:70psi` or `2:30%`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeArgument {
    pub cylinder: u32,
    pub value: GaugeValue,
}

impl FromStr for GaugeArgument {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let advice = "write cylinder, supply and held, such as 2:100psi:70psi, or cylinder and loss, such as 2:30%";
        let Some((cylinder, reading)) = text.split_once(':') else {
            return Err(format!("'{text}' is not a valid gauge reading: {advice}"));
        };
        let cylinder = cylinder.parse().map_err(|_| format!("'{cylinder}' is not a cylinder number: {advice}"))?;
        let value = if reading.contains(':') {
            let RigArgument { supply, held } = reading.parse()?;
            GaugeValue::Pressures { supply_kpa: supply.as_kpa(), held_kpa: held.as_kpa() }
        } else {
            let loss: Percent = reading.parse().map_err(|error| format!("{error}"))?;
            GaugeValue::Loss { percent: loss.0, supply_kpa: None }
        };
        Ok(Self { cylinder, value })
    }
}

/// A number from `low` to `high`.
fn within(low: f64, high: f64) -> impl Fn(&str) -> Result<f64, String> + Clone {
    move |text| match text.parse::<f64>() {
        Ok(number) if (low..=high).contains(&number) => Ok(number),
        _ => Err(format!("'{text}' is not a number from {low} to {high}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leak_is_read_with_and_without_its_unit() {
        for text in ["2:oil-filler:-5dB", "2:oil-filler:-5 dB", "2:oil-filler:-5"] {
            let leak: LeakArgument = text.parse().expect("a leak");
            assert_eq!((leak.cylinder, leak.opening.name(), leak.hiss_to_noise_db), (2, "oil-filler", -5.0));
        }
    }

    #[test]
    fn gauge_readings_are_read_as_pressures_and_as_loss() {
        let pressures: GaugeArgument = "2:100psi:70psi".parse().expect("a reading");
        assert_eq!(pressures.cylinder, 2);
        let GaugeValue::Pressures { supply_kpa, held_kpa } = pressures.value else {
            panic!("pressures, not {:?}", pressures.value);
        };
        assert!((held_kpa / supply_kpa - 0.7).abs() < 1e-9);
        let loss: GaugeArgument = "1:12.5%".parse().expect("a reading");
        assert_eq!(loss.value, GaugeValue::Loss { percent: 12.5, supply_kpa: None });
        for text in ["", "2", "2:100psi:", "x:30%", "2:100psi:70", "2:130%"] {
            assert!(text.parse::<GaugeArgument>().is_err(), "{text}");
        }
    }

    #[test]
    fn what_is_no_leak_is_refused_with_advice() {
        for text in
            ["", "2", "2:oil-filler", "x:intake:1", "2:../etc:1", "2:intake:loud", "2:intake:nan", "2:intake:99"]
        {
            assert!(text.parse::<LeakArgument>().is_err(), "{text}");
        }
    }
}
