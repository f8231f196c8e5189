//! Who records what in which order, with what hand.

use super::case::{CaseOptions, Practice};
use super::dice::Dice;
use super::valve::Valve;
use crate::opening::{Air, Opening};

/// A clip to be recorded, and by what hand.
pub(super) struct Plan {
    pub opening: Opening,
    pub air: Air,
    pub take: u32,
    pub visit: usize,
    pub placement_db: f64,
    pub drift_db: f64,
    pub valve: Option<Valve>,
}

impl Plan {
    /// All clips of a case in the order of recording.
    pub fn of(options: &CaseOptions, dice: &mut Dice) -> Vec<Self> {
        let mut plans = Vec::new();
        let rounds: &[Practice] = match options.practice {
            Practice::OffAndOnThenPulsed => &[Practice::OffAndOn, Practice::Pulsed],
            _ => std::slice::from_ref(&options.practice),
        };
        for (round, take) in rounds.iter().flat_map(|round| (1..=options.takes).map(move |take| (round, take))) {
            for opening in &options.openings {
                let airs: &[Air] = match round {
                    Practice::Pulsed => &[Air::Pulsed],
                    // quiet, air, air, quiet, … cancels a steady drift.
                    _ if plans.len() % 4 == 0 => &[Air::Off, Air::On],
                    _ => &[Air::On, Air::Off],
                };
                for &air in airs {
                    let drift = if air == Air::Off { 0.0 } else { options.floor_drift_sd.0 * dice.normal() };
                    plans.push(Self {
                        opening: opening.clone(),
                        air,
                        take,
                        placement_db: options.placement_sd.0 * dice.normal(),
                        drift_db: drift + options.floor_slope.0 * plans.len() as f64,
                        valve: (air == Air::Pulsed).then(|| Valve::draw(options.clip_length(air).0, dice)),
                        visit: plans.len(),
                    });
                }
            }
        }
        plans
    }
}
