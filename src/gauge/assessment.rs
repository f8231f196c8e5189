//! From readings to the cylinder's own loss: the rig taken off, with the doubt of the readings carried along.

use super::doubt::{Estimate, carried};
use super::error::GaugeError;
use super::leak::Leak;
use super::nozzle::flow_function;
use super::reading::{ASSUMED_SUPPLY, Conditions, Reading};
use super::tester::{area_ratio, held_before, loss_percent};
use crate::caveat::Caveat;
use crate::units::{AbsolutePressure, GaugePressure, Percent};

/// The standard uncertainty of a value read to a resolution: it may lie anywhere within half of it to either side
/// (GUM F.2.2.1; half-width over √3).
fn standard_uncertainty(resolution: f64) -> f64 {
    resolution / 2.0 / 3f64.sqrt()
}

/// The least share of the supply that doubt leaves held; the leak's ratio stays finite.
const LEAST_HELD: f64 = 1e-6;

/// What the gauge says of one cylinder.
#[derive(Debug, Clone, PartialEq)]
pub struct Assessment {
    /// The supply, where it was read.
    pub supply: Option<GaugePressure>,
    /// The pressure held, where it was read.
    pub held: Option<GaugePressure>,
    /// Loss of the reading in percent: rig and cylinder together.
    pub loss_percent: Estimate,
    /// Loss of the rig alone in percent, where it was read.
    pub rig_loss_percent: Option<f64>,
    /// Loss of the cylinder alone in percent; `None` where the rig was not read.
    pub net_loss_percent: Option<Estimate>,
    /// Effective area of the cylinder's leak over the restrictor's. Where the rig was not read it is that of both
    /// together: the cylinder's is at most this, and the caveat `rig-not-measured` says so.
    pub area_ratio: Estimate,
    /// Air through the cylinder's leak while it was read, over what the restrictor lets through when choked.
    pub flow: f64,
    /// The leak as a hole, where the restrictor's diameter is known.
    pub leak: Option<Leak>,
    /// What lowers trust.
    pub caveats: Vec<Caveat>,
}

impl Assessment {
    /// The best that is known of the cylinder's own loss: net where the rig was read, else the reading.
    #[must_use]
    pub fn own_loss_percent(&self) -> Estimate {
        self.net_loss_percent.unwrap_or(self.loss_percent)
    }
}

/// What the rig loses by itself, hose blanked off.
#[derive(Debug, Clone, PartialEq)]
pub struct RigAssessment {
    /// The supply, where it was read.
    pub supply: Option<GaugePressure>,
    /// The pressure held, where it was read.
    pub held: Option<GaugePressure>,
    /// The loss in percent.
    pub loss_percent: Estimate,
    /// Effective area of the rig's leak over the restrictor's.
    pub area_ratio: Estimate,
    /// What lowers trust.
    pub caveats: Vec<Caveat>,
}

/// The two pressures behind a reading, absolute.
#[derive(Clone, Copy)]
struct Pressures {
    supply: AbsolutePressure,
    held: AbsolutePressure,
    ambient: AbsolutePressure,
}

impl Pressures {
    /// Those behind a reading whose supply and other figure are off by so many standard uncertainties.
    fn of(reading: &Reading, off: [f64; 2], common_supply: GaugePressure, conditions: &Conditions) -> Self {
        let pressure_step = standard_uncertainty(conditions.pressure_resolution.0);
        let (supply, held) = match *reading {
            Reading::Pressures { supply, held } => (supply.0 + off[0] * pressure_step, held.0 + off[1] * pressure_step),
            Reading::Share { loss, supply } => {
                let supply = supply.unwrap_or(common_supply).0;
                let loss = loss.0 + off[1] * standard_uncertainty(conditions.percent_resolution.0);
                (supply, supply * (1.0 - loss / 100.0))
            }
        };
        let supply = supply.max(conditions.ambient.0 * LEAST_HELD);
        // Doubt must not hold more than is supplied, nor less than nothing.
        let held = held.clamp(supply * LEAST_HELD, supply);
        let ambient = conditions.ambient;
        let absolute = |pascals| GaugePressure(pascals).absolute(ambient);
        Self { supply: absolute(supply), held: absolute(held), ambient }
    }

    fn ratio(self) -> f64 {
        area_ratio(self.supply, self.held, self.ambient)
    }

    /// Flow through a leak of this ratio at the pressure held, over the restrictor's choked flow.
    fn flow(self, ratio: f64) -> f64 {
        let leak = ratio * self.held.0 * flow_function(self.ambient.0 / self.held.0);
        leak / (self.supply.0 * flow_function(0.0))
    }

    fn loss(self) -> f64 {
        loss_percent(self.supply.gauge(self.ambient), self.held.gauge(self.ambient))
    }

    /// The same supply before a leak of another size.
    fn before(self, ratio: f64) -> Self {
        Self { held: held_before(self.supply, ratio, self.ambient), ..self }
    }
}

/// Assesses a cylinder's reading, the rig taken off where its blank-off reading is given.
///
/// The rig's leak sits behind the restrictor beside the cylinder's, so effective areas add: the rig's ratio (from
/// its own readings, at whatever supply) is subtracted from the whole, and the pressure that the rest would hold at
/// the cylinder's supply is solved back. Percentages themselves do not subtract: 25 % with a rig of 6.25 % is a
/// cylinder of 8.5 %, not of 18.75 %.
///
/// # Errors
/// [`GaugeError`] where a reading cannot be, or the rig alone is worse than rig and cylinder beyond the gauges' doubt.
///
/// ```
/// use hissward::gauge::{Conditions, Reading, assess};
/// use hissward::units::GaugePressure;
/// let psi = GaugePressure::from_psi;
/// let rig = Reading::Pressures { supply: psi(80.0), held: psi(75.0) };
/// let cylinder = Reading::Pressures { supply: psi(80.0), held: psi(60.0) };
/// let found = assess(&cylinder, Some(&rig), &Conditions::default())?;
/// assert!((found.loss_percent.value - 25.0).abs() < 1e-12);
/// assert!((found.area_ratio.value - (1.0586 - 0.4867)).abs() < 1e-4);
/// # Ok::<(), hissward::gauge::GaugeError>(())
/// ```
pub fn assess(reading: &Reading, rig: Option<&Reading>, conditions: &Conditions) -> Result<Assessment, GaugeError> {
    reading.check()?;
    rig.map_or(Ok(()), Reading::check)?;
    let supply = reading.supply().or(rig.and_then(Reading::supply)).unwrap_or(ASSUMED_SUPPLY);
    let whole = |off: [f64; 4]| Pressures::of(reading, [off[0], off[1]], supply, conditions);
    let rig_ratio =
        |off: [f64; 4]| rig.map_or(0.0, |rig| Pressures::of(rig, [off[2], off[3]], supply, conditions).ratio());
    let rest_ratio = |off| whole(off).ratio() - rig_ratio(off);

    let loss_percent = carried(|off| whole(off).loss()).within(0.0, 100.0);
    let rest = carried(rest_ratio);
    if rest.high < 0.0 {
        let rig = Percent(whole([0.0; 4]).before(rig_ratio([0.0; 4])).loss());
        return Err(GaugeError::RigWorse { rig, total: Percent(loss_percent.value) });
    }
    // The cylinder alone never loses more than the rig and the cylinder together.
    let most_ratio = carried(|off| whole(off).ratio()).high;
    let area_ratio = rest.within(0.0, most_ratio);
    let net = carried(|off| whole(off).before(rest_ratio(off)).loss()).within(0.0, loss_percent.high);
    let leak = conditions.restrictor.map(|restrictor| {
        let supply = whole([0.0; 4]).supply;
        Leak::behind(restrictor, area_ratio.value, supply, conditions.ambient, conditions.air)
    });
    let mut caveats = Vec::from_iter(supply_caveats(reading, supply));
    caveats.extend(rig_caveats(rig, rest.value, rig_ratio([0.0; 4]), loss_percent.value));
    Ok(Assessment {
        supply: reading.supply(),
        held: reading.held(),
        loss_percent,
        rig_loss_percent: rig.map(|rig| rig.loss().0),
        net_loss_percent: rig.map(|_| net),
        area_ratio,
        flow: whole([0.0; 4]).flow(area_ratio.value),
        leak,
        caveats,
    })
}

/// Assesses the rig alone, hose blanked off.
///
/// # Errors
/// [`GaugeError`] where the reading cannot be.
pub fn assess_rig(reading: &Reading, conditions: &Conditions) -> Result<RigAssessment, GaugeError> {
    let found = assess(reading, None, conditions)?;
    let mut caveats = found.caveats;
    caveats.retain(|caveat| caveat.code != NOT_MEASURED);
    if found.loss_percent.value >= LEAKY_RIG_PERCENT {
        caveats.push(Caveat::new("rig-leaks").number("rig", found.loss_percent.value, found.loss_percent.decimals()));
    }
    Ok(RigAssessment {
        supply: found.supply,
        held: found.held,
        loss_percent: found.loss_percent,
        area_ratio: found.area_ratio,
        caveats,
    })
}

/// A rig that loses this much by itself hides a good cylinder (5 % is excellent): fix it first.
/// Common practice, no source.
const LEAKY_RIG_PERCENT: f64 = 5.0;

const NOT_MEASURED: &str = "rig-not-measured";

fn supply_caveats(reading: &Reading, supply: GaugePressure) -> Option<Caveat> {
    matches!(reading, Reading::Share { supply: None, .. }).then(|| {
        Caveat::new("percent-gauge").number("supply_psi", supply.as_psi(), 0).number("supply_bar", supply.as_bar(), 1)
    })
}

fn rig_caveats(rig: Option<&Reading>, rest: f64, rig_ratio: f64, total_percent: f64) -> Option<Caveat> {
    let Some(rig) = rig else {
        return Some(Caveat::new(NOT_MEASURED));
    };
    let caveat = |code| Caveat::new(code).number("rig", rig.loss().0, 1).number("total", total_percent, 1);
    if rest < 0.0 {
        Some(caveat("rig-is-all"))
    } else if rig_ratio > rest && rig.loss().0 >= LEAKY_RIG_PERCENT {
        Some(caveat("rig-dominates"))
    } else {
        None
    }
}
