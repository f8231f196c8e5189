//! The demo engine: the three-cylinder petrol engine of a workboat. Everything about it is invented.

use super::case::{Case, CaseOptions, Leak, SimulateError, cylinder_seed};
use super::dice::Dice;
use super::noise::{NoiseKind, NoiseMix, NoiseSource};
use crate::opening::Opening;
use crate::units::{LevelDiff, Seconds};

/// What the engine is called.
pub const DEMO_ENGINE: &str = "three-cylinder petrol engine of a workboat (invented)";
/// Its firing order.
pub const DEMO_FIRING_ORDER: [u32; 3] = [1, 3, 2];
/// The rig alone, hose blanked off: supply and held pressure, psi (invented).
pub const DEMO_RIG_PSI: DemoReading = DemoReading { supply_psi: 100.0, held_psi: 97.0 };

/// The seed of the demo's sounds; another seed is another `demo-audio`.
pub const DEMO_SEED: u64 = 1_911;
/// What runs in the shop while the demo engine is tested, and how loud each is relative to the others.
const SHOP: [(NoiseKind, f64); 4] =
    [(NoiseKind::Fan, 0.0), (NoiseKind::Radio, -5.0), (NoiseKind::ImpactWrench, -5.0), (NoiseKind::Hammering, -8.0)];

/// A two-gauge reading, psi (invented, like everything here).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DemoReading {
    /// Regulator gauge.
    pub supply_psi: f64,
    /// Cylinder gauge.
    pub held_psi: f64,
}

/// One of its cylinders.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DemoCylinder {
    /// 1, 2, 3.
    pub number: u32,
    /// What the tester showed, consistent with the leak.
    pub reading: DemoReading,
    /// The opening where it leaks and the hiss over the noise there, dB; `None` is tight.
    leak: Option<(&'static str, f64)>,
}

/// The cylinders: one healthy, with the little past its rings that every engine shows; one past its rings; one past its
/// exhaust valve. The rig loses little and was read.
pub const DEMO_CYLINDERS: [DemoCylinder; 3] = [
    DemoCylinder {
        number: 1,
        reading: DemoReading { supply_psi: 100.0, held_psi: 93.0 },
        leak: Some(("oil-filler", -3.0)),
    },
    DemoCylinder {
        number: 2,
        reading: DemoReading { supply_psi: 100.0, held_psi: 67.0 },
        leak: Some(("oil-filler", 9.0)),
    },
    DemoCylinder {
        number: 3,
        reading: DemoReading { supply_psi: 100.0, held_psi: 76.0 },
        leak: Some(("exhaust", 5.0)),
    },
];

/// What runs in the shop while the demo engine is tested.
#[must_use]
pub fn demo_noise() -> [NoiseKind; SHOP.len()] {
    SHOP.map(|(kind, _)| kind)
}

impl DemoCylinder {
    /// Its clips: quiet and air at intake, exhaust and oil filler, six seconds each at 48 kHz. The same bytes always.
    ///
    /// # Errors
    /// [`SimulateError`], which the constants above do not give reason for.
    pub fn render(&self) -> Result<Case, SimulateError> {
        let mut dice = Dice::seeded(DEMO_SEED);
        let shop = SHOP.iter().map(|&(kind, level_db)| (kind.draw(&mut dice), LevelDiff(level_db))).collect();
        let shop: Box<dyn NoiseSource> = Box::new(NoiseMix::new(shop));
        let leaks = self
            .leak
            .iter()
            .filter_map(|&(name, hiss_to_noise_db)| {
                let opening: Opening = name.parse().ok()?;
                Some(Leak { opening, hiss_to_noise: LevelDiff(hiss_to_noise_db) })
            })
            .collect();
        let seed = cylinder_seed(DEMO_SEED, self.number);
        let length = Some(Seconds(6.0));
        let part_change_sd = LevelDiff(0.0);
        CaseOptions { seed, leaks, length, part_change_sd, ..CaseOptions::default() }.render(shop.as_ref())
    }
}
