//! From readings to the cylinder's own loss: the rig taken off, with the doubt of the readings carried along.

use super::doubt::{Estimate, carried};
use super::error::GaugeError;
use super::leak::Leak;
use super::nozzle::flow_function;
use super::reading::{ASSUMED_SUPPLY, Conditions, Reading};
use super::tester::{area_ratio, held_before, loss_percent};
use crate::caveat::Caveat;
use crate::units::{AbsolutePressure, GaugePressure, Length};

/// The standard uncertainty of a value read to a resolution: it may lie anywhere within half of it to either side
/// (GUM F.2.2.1; half-width over √3).
fn standard_uncertainty(resolution: f64) -> f64 {
    resolution / 2.0 / 3f64.sqrt()
}

/// Standard uncertainties of supply and held pressure, in pascals: how finely they are read, and the gauges' class.
///
/// A pair read with the valve shut has its difference taken off, at the supply's pressure; what its class leaves then
/// grows with the distance from there. The reading of the pair is as fine as any other. Errors of the two gauges are
/// taken as independent, those of rig and cylinder too.
fn gauge_uncertainties(supply: f64, held: f64, conditions: &Conditions) -> [f64; 2] {
    let read = standard_uncertainty(conditions.pressure_resolution.0);
    let class = conditions.gauge_class.map_or(0.0, |class| class.0 / 3f64.sqrt());
    match conditions.held_offset {
        None => [read.hypot(class), read.hypot(class)],
        Some(_) => [read, (read * 3f64.sqrt()).hypot(class * ((supply - held) / supply).clamp(0.0, 1.0))],
    }
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
    /// Loss of the reading in percent: rig and cylinder together. Published limits are meant for this one.
    pub loss_percent: Estimate,
    /// Loss of the rig alone in percent, where it was read.
    pub rig_loss_percent: Option<f64>,
    /// Loss of the cylinder alone in percent; `None` where the rig was not read, or leaks more than it did then.
    pub net_loss_percent: Option<Estimate>,
    /// Effective area of the cylinder's leak over the restrictor's. Where the rig was not read it is that of both
    /// together: the cylinder's is at most this, and the caveat `rig-not-measured` says so.
    pub area_ratio: Estimate,
    /// Air through the cylinder's leak while it was read, over what the restrictor lets through when choked.
    pub flow: Estimate,
    /// The leak as a hole, where the restrictor's diameter is known and anything is held.
    pub leak: Option<Leak>,
    /// The reading says something of the cylinder. Not so where the rig loses more than the cylinder does, or gauges
    /// that disagree are the whole loss.
    pub tells: bool,
    /// What it was read with and in.
    pub conditions: Conditions,
    /// What lowers trust.
    pub caveats: Vec<Caveat>,
}

impl Assessment {
    /// The best that is known of the cylinder's own loss: net where the rig was read, else the reading.
    #[must_use]
    pub fn own_loss_percent(&self) -> Estimate {
        self.net_loss_percent.unwrap_or(self.loss_percent)
    }

    /// What the same leak reads through a restrictor of another diameter, in percent; `None` where that of this tester
    /// is not known. The ratio of leak to restrictor goes with the square of the diameters.
    ///
    /// 25 % through 0.040 in is 5.9 % through 0.060 in:
    ///
    /// ```
    /// use hissward::gauge::{Conditions, Reading, assess};
    /// use hissward::units::{GaugePressure, Length};
    /// let psi = GaugePressure::from_psi;
    /// let conditions = Conditions { restrictor: Some(Length::from_inches(0.040)), ..Conditions::default() };
    /// let found = assess(&Reading::Pressures { supply: psi(80.0), held: psi(60.0) }, None, &conditions)?;
    /// let wide = found.through(Length::from_inches(0.060), found.loss_percent).map(|loss| loss.value);
    /// assert!((wide.unwrap_or(0.0) - 5.9).abs() < 0.05);
    /// # Ok::<(), hissward::gauge::GaugeError>(())
    /// ```
    #[must_use]
    pub fn through(&self, restrictor: Length, loss: Estimate) -> Option<Estimate> {
        let own = self.conditions.restrictor?;
        let scale = (own.0 / restrictor.0).powi(2);
        let (ambient, supply) = (self.conditions.ambient, self.supply.unwrap_or(ASSUMED_SUPPLY));
        let converted = |percent: f64| {
            let supply = supply.absolute(ambient);
            let share_held = (1.0 - percent / 100.0).max(LEAST_HELD);
            let held = GaugePressure(supply.gauge(ambient).0 * share_held).absolute(ambient);
            let held = held_before(supply, scale * area_ratio(supply, held, ambient), ambient);
            loss_percent(supply.gauge(ambient), held.gauge(ambient))
        };
        Some(Estimate { value: converted(loss.value), low: converted(loss.low), high: converted(loss.high) })
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
        let (supply, held) = match *reading {
            Reading::Pressures { supply, held } => {
                let held = held.0 - conditions.held_offset.map_or(0.0, |offset| offset.0);
                let [of_supply, of_held] = gauge_uncertainties(supply.0, held, conditions);
                (supply.0 + off[0] * of_supply, held + off[1] * of_held)
            }
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
/// [`GaugeError`] where a reading cannot be.
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
    // The cylinder alone never loses more than the rig and the cylinder together.
    let most_ratio = carried(|off| whole(off).ratio()).high;
    let area_ratio = rest.within(0.0, most_ratio);
    let net = carried(|off| whole(off).before(rest_ratio(off)).loss()).within(0.0, loss_percent.high);
    let held_share = 1.0 - loss_percent.value / 100.0;
    let leak = conditions.restrictor.filter(|_| held_share > LEAST_HELD_BY_A_LEAK).map(|restrictor| {
        let supply = whole([0.0; 4]).supply;
        Leak::behind(restrictor, area_ratio.value, supply, conditions.ambient, conditions.air)
    });
    let rig_loss = rig.map(|rig| Pressures::of(rig, [0.0; 2], supply, conditions).loss());
    let in_the_way = rig_loss.and_then(|loss| rig_in_the_way(rest, rig_ratio([0.0; 4]), loss, loss_percent.value));
    let disagree = gauges_disagree(reading, conditions);
    let tells = disagree.is_none() && in_the_way.as_ref().is_none_or(|(_, tells)| *tells);
    let unread = rig.is_none().then(|| Caveat::new(NOT_MEASURED));
    let mut caveats = Vec::from_iter(supply_caveats(reading, supply));
    caveats.extend(unread.into_iter().chain(in_the_way.map(|(caveat, _)| caveat)).chain(disagree));
    Ok(Assessment {
        supply: reading.supply(),
        held: reading.held(),
        loss_percent,
        rig_loss_percent: rig_loss,
        net_loss_percent: (rig.is_some() && rest.high >= 0.0).then_some(net),
        area_ratio,
        flow: Estimate {
            value: whole([0.0; 4]).flow(area_ratio.value),
            low: whole([0.0; 4]).flow(area_ratio.low),
            high: whole([0.0; 4]).flow(area_ratio.high),
        },
        leak,
        tells,
        conditions: *conditions,
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

/// Below this share of the supply nothing is held that a leak of any size could be computed from.
const LEAST_HELD_BY_A_LEAK: f64 = 0.01;

/// A rig that loses this much by itself hides a good cylinder (5 % is excellent): fix it first.
/// Common practice, no source.
const LEAKY_RIG_PERCENT: f64 = 5.0;

const NOT_MEASURED: &str = "rig-not-measured";

fn supply_caveats(reading: &Reading, supply: GaugePressure) -> Option<Caveat> {
    matches!(reading, Reading::Share { supply: None, .. }).then(|| {
        Caveat::new("percent-gauge").number("supply_psi", supply.as_psi(), 0).number("supply_bar", supply.as_bar(), 1)
    })
}

/// What stands between the reading and the cylinder, and whether the reading still tells of it.
fn rig_in_the_way(rest: Estimate, rig_ratio: f64, rig: f64, total: f64) -> Option<(Caveat, bool)> {
    let caveat = |code| Caveat::new(code).number("rig", rig, 1).number("total", total, 1);
    let leaky = rig >= LEAKY_RIG_PERCENT;
    if rest.high < 0.0 {
        Some((caveat("rig-worse"), !leaky))
    } else if rest.value < 0.0 {
        Some((caveat("rig-is-all"), !leaky))
    } else if rig_ratio > rest.value && leaky {
        Some((caveat("rig-dominates"), false))
    } else {
        None
    }
}

/// More held than supplied, beyond how finely the gauges are read: they do not show the same.
fn gauges_disagree(reading: &Reading, conditions: &Conditions) -> Option<Caveat> {
    let Reading::Pressures { supply, held } = *reading else { return None };
    let over = held.0 - conditions.held_offset.map_or(0.0, |offset| offset.0) - supply.0;
    // Each gauge may be off by half its resolution.
    (over > conditions.pressure_resolution.0 + conditions.gauge_class.map_or(0.0, |class| 2.0 * class.0))
        .then(|| Caveat::new("gauges-disagree"))
}
