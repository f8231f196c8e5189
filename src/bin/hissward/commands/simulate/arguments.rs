//! What `hissward simulate` is told.

use std::path::PathBuf;
use std::str::FromStr;

use hissward::opening::Opening;
use hissward::simulate::NoiseKind;

use crate::face::Failure;

/// Most cylinders made at once.
const MOST_CYLINDERS: u32 = 64;
/// Most takes of a clip.
const MOST_TAKES: u32 = 20;

/// Arguments of `hissward simulate`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  \
    hissward simulate --out boat --leak 2:oil-filler:-5dB --noise fan --noise radio\n  \
    hissward simulate --out keyed --keyed --leak 1:exhaust:-10dB --leak 1:intake:-12dB --json")]
pub struct Arguments {
    /// The folder to make; it must not exist or be empty
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,

    /// The seed: the same one makes the same bytes
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

    /// What makes noise: blow-gun, compressor, fan, forklift, grinder, hammering, impact-wrench, radio, rain, talk, traffic; repeat for more
    #[arg(long, value_name = "KIND", default_values = ["fan", "radio", "impact-wrench"])]
    pub noise: Vec<NoiseKind>,

    /// Level of the noise from 1 to 16 kHz, dB FS
    #[arg(long, default_value_t = -42.0, value_name = "DB", allow_hyphen_values = true, value_parser = within(-90.0, 0.0))]
    pub noise_db: f64,

    /// Seconds a clip [default: 6, or 12 with --keyed]
    #[arg(long, value_name = "S", value_parser = within(0.2, 600.0))]
    pub seconds: Option<f64>,

    /// Takes of every clip
    #[arg(long, default_value_t = 1, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_TAKES)))]
    pub takes: u32,

    /// How far the noise's level drifts between quiet and air clip, dB (standard deviation)
    #[arg(long, default_value_t = 1.0, value_name = "DB", value_parser = within(0.0, 20.0))]
    pub drift_db: f64,

    /// How far placing the microphone scatters the hiss, dB (standard deviation)
    #[arg(long, default_value_t = 2.0, value_name = "DB", value_parser = within(0.0, 20.0))]
    pub placement_db: f64,

    /// Keyed clips instead of quiet and air clips
    #[arg(long)]
    pub keyed: bool,

    /// The recorder changes its gain by itself
    #[arg(long)]
    pub agc: bool,

    /// Write the demo engine's clips instead (the other choices do not count)
    #[arg(long)]
    pub demo: bool,

    /// Print the truth as JSON
    #[arg(long)]
    pub json: bool,
}

impl Arguments {
    /// What clap cannot see alone.
    pub fn check(&self) -> Result<(), Failure> {
        if let Some(leak) = self.leaks.iter().find(|leak| !(1..=self.cylinders).contains(&leak.cylinder)) {
            return Err(format!(
                "a leak in cylinder {} of {}: number the cylinders from 1, or raise --cylinders",
                leak.cylinder, self.cylinders
            )
            .into());
        }
        Ok(())
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
            return Err(format!("'{text}' is no leak: {advice}"));
        };
        let cylinder = cylinder.parse().map_err(|_| format!("'{cylinder}' is no cylinder's number: {advice}"))?;
        let opening = opening.parse().map_err(|error| format!("{error}"))?;
        let number = level.trim().trim_end_matches("dB").trim_end();
        let hiss_to_noise_db: f64 =
            number.parse().map_err(|_| format!("'{level}' is no level difference in dB: {advice}"))?;
        if !(-MOST_HISS_TO_NOISE_DB..=MOST_HISS_TO_NOISE_DB).contains(&hiss_to_noise_db) {
            return Err(format!("'{level}' lies beyond ±{MOST_HISS_TO_NOISE_DB} dB: {advice}"));
        }
        Ok(Self { cylinder, opening, hiss_to_noise_db })
    }
}

/// A number from `low` to `high`.
fn within(low: f64, high: f64) -> impl Fn(&str) -> Result<f64, String> + Clone {
    move |text| match text.parse::<f64>() {
        Ok(number) if (low..=high).contains(&number) => Ok(number),
        _ => Err(format!("'{text}' is no number from {low} to {high}")),
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
    fn what_is_no_leak_is_refused_with_advice() {
        for text in
            ["", "2", "2:oil-filler", "x:intake:1", "2:../etc:1", "2:intake:loud", "2:intake:nan", "2:intake:99"]
        {
            assert!(text.parse::<LeakArgument>().is_err(), "{text}");
        }
    }
}
