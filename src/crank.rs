//! From one cylinder's compression stroke to the next: how far to turn the crank.

use std::str::FromStr;

/// How often a cylinder fires: the turn of the crank between two of its compression strokes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub enum Cycle {
    /// Two strokes: 360°.
    TwoStroke,
    /// Four strokes: 720°.
    #[default]
    FourStroke,
}

impl Cycle {
    /// The cycle in degrees of crank turn.
    ///
    /// ```
    /// assert_eq!(hissward::crank::Cycle::FourStroke.degrees(), 720.0);
    /// ```
    #[must_use]
    pub fn degrees(self) -> f64 {
        match self {
            Self::TwoStroke => 360.0,
            Self::FourStroke => 720.0,
        }
    }

    /// The name as written in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::TwoStroke => "two-stroke",
            Self::FourStroke => "four-stroke",
        }
    }
}

impl FromStr for Cycle {
    type Err = CrankError;

    fn from_str(text: &str) -> Result<Self, CrankError> {
        match text {
            "two-stroke" | "2" => Ok(Self::TwoStroke),
            "four-stroke" | "4" => Ok(Self::FourStroke),
            _ => Err(CrankError::NoCycle { got: text.chars().take(40).collect() }),
        }
    }
}

/// Which valves of a cylinder stand open; of a two-stroke, which ports the piston has uncovered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub struct OpenValves {
    /// The intake (of a two-stroke: the transfer ports, to the crankcase).
    pub intake: bool,
    /// The exhaust.
    pub exhaust: bool,
}

impl OpenValves {
    /// Whether any stands open.
    #[must_use]
    pub fn any(self) -> bool {
        self.intake || self.exhaust
    }
}

/// Degrees after the top of the compression stroke over which valves of a four-stroke stand open: the exhaust from 50°
/// before the bottom to 15° after the top, the intake from 15° before the top to 50° after the bottom. Usual timings,
/// from memory; engines differ by some 20°.
const EXHAUST_OPEN_DEG: std::ops::Range<f64> = 130.0..375.0;
const INTAKE_OPEN_DEG: std::ops::Range<f64> = 345.0..590.0;
/// The same of a two-stroke's ports, which lie evenly about the bottom. Usual timings, from memory.
const EXHAUST_PORT_OPEN_DEG: std::ops::Range<f64> = 90.0..270.0;
const TRANSFER_OPEN_DEG: std::ops::Range<f64> = 115.0..245.0;

/// Why an order of firing cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CrankError {
    /// A word that names no cycle.
    #[error("'{got}' is not a valid working cycle: use two-stroke or four-stroke")]
    NoCycle {
        /// What was given.
        got: String,
    },
    /// A cylinder missing, twice, or not of this engine.
    #[error("the firing order {} must name each of the cylinders 1 to {cylinders} once", joined(got))]
    NotEachOnce {
        /// What was given.
        got: Vec<u32>,
        /// Cylinders of the engine.
        cylinders: u32,
    },
    /// Angles that do not go with the order.
    #[error(
        "the firing angles {} do not fit: give one per cylinder in firing order, rising from 0 and below {cycle}°",
        joined(got)
    )]
    Angles {
        /// What was given, in degrees.
        got: Vec<f64>,
        /// Degrees in the cycle.
        cycle: f64,
    },
    /// A cylinder that the engine has not.
    #[error("there is no cylinder {cylinder}: this engine has {cylinders}, counted from 1")]
    NoCylinder {
        /// The cylinder asked for.
        cylinder: u32,
        /// Cylinders of the engine.
        cylinders: u32,
    },
}

/// The order in which cylinders come to the top of their compression stroke, with the crank angle of each.
///
/// ```
/// use hissward::crank::{Cycle, FiringOrder};
/// let order = FiringOrder::even(&[1, 3, 2], Cycle::FourStroke)?;
/// assert_eq!(order.turn(1, 3)?, 240.0);
/// assert_eq!(order.turn(1, 2)?, 480.0);
/// assert_eq!(order.next(3)?, 2);
/// # Ok::<(), hissward::crank::CrankError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct FiringOrder {
    cycle: Cycle,
    /// Cylinders in order, each with its crank angle in degrees after the first.
    fires: Vec<(u32, f64)>,
}

impl FiringOrder {
    /// Even firing: the cycle divided by the number of cylinders from each to the next.
    ///
    /// # Errors
    /// [`CrankError::NotEachOnce`] where the order does not name each cylinder once.
    pub fn even(order: &[u32], cycle: Cycle) -> Result<Self, CrankError> {
        check_order(order)?;
        let step = cycle.degrees() / order.len() as f64;
        let fires = order.iter().zip(0u32..).map(|(cylinder, place)| (*cylinder, step * f64::from(place)));
        Ok(Self { cycle, fires: fires.collect() })
    }

    /// Even firing in the order of the cylinders' numbers, for an engine whose order is not known.
    /// With more than two cylinders that is a guess: say so where it is used.
    ///
    /// # Errors
    /// [`CrankError::NotEachOnce`] where there is no cylinder.
    pub fn by_number(cylinders: u32, cycle: Cycle) -> Result<Self, CrankError> {
        Self::even(&Vec::from_iter(1..=cylinders), cycle)
    }

    /// Uneven firing: the crank angle of each cylinder's compression top dead centre, in degrees after the first's,
    /// in firing order, beginning with 0.
    ///
    /// # Errors
    /// [`CrankError`] where the order or the angles do not fit.
    pub fn with_angles(order: &[u32], angles_deg: &[f64], cycle: Cycle) -> Result<Self, CrankError> {
        check_order(order)?;
        let rising = angles_deg.windows(2).all(|pair| pair[0] <= pair[1]);
        let inside = angles_deg.iter().all(|angle| (0.0..cycle.degrees()).contains(angle));
        if angles_deg.len() != order.len() || angles_deg.first() != Some(&0.0) || !rising || !inside {
            return Err(CrankError::Angles { got: angles_deg.to_vec(), cycle: cycle.degrees() });
        }
        Ok(Self { cycle, fires: order.iter().copied().zip(angles_deg.iter().copied()).collect() })
    }

    /// The cylinders in firing order.
    pub fn cylinders(&self) -> impl Iterator<Item = u32> {
        self.fires.iter().map(|(cylinder, _)| *cylinder)
    }

    /// The cylinder that comes to compression next.
    ///
    /// # Errors
    /// [`CrankError::NoCylinder`].
    pub fn next(&self, cylinder: u32) -> Result<u32, CrankError> {
        let place = self.place(cylinder)?;
        Ok(self.fires[(place + 1) % self.fires.len()].0)
    }

    /// Degrees to turn the crank, in its direction of rotation, from one cylinder's compression top dead centre to
    /// another's. From a cylinder to itself it is the whole cycle.
    ///
    /// Two cylinders, four strokes, even firing: 360° (common practice).
    ///
    /// # Errors
    /// [`CrankError::NoCylinder`].
    pub fn turn(&self, from: u32, to: u32) -> Result<f64, CrankError> {
        let turn = self.fires[self.place(to)?].1 - self.fires[self.place(from)?].1;
        // Two cylinders may fire together; only a cylinder and itself are a cycle apart.
        Ok(if turn < 0.0 || from == to { turn + self.cycle.degrees() } else { turn })
    }

    /// Which valves of another cylinder stand open while one is at the top of its compression stroke.
    ///
    /// In an even-firing four every other cylinder has one open, so air that leaks past a valve into a shared manifold
    /// comes out of its plug hole too:
    ///
    /// ```
    /// use hissward::crank::{Cycle, FiringOrder};
    /// let four = FiringOrder::even(&[1, 3, 4, 2], Cycle::FourStroke)?;
    /// // 2 fired 180° before 1: it is at the bottom, its exhaust open. 3 comes 180° after 1: its intake is.
    /// assert!(four.open_valves(1, 2)?.exhaust && !four.open_valves(1, 2)?.intake);
    /// assert!(four.open_valves(1, 3)?.intake && !four.open_valves(1, 3)?.exhaust);
    /// # Ok::<(), hissward::crank::CrankError>(())
    /// ```
    ///
    /// # Errors
    /// [`CrankError::NoCylinder`].
    pub fn open_valves(&self, at_top: u32, other: u32) -> Result<OpenValves, CrankError> {
        let past_top = self.turn(other, at_top)?;
        Ok(match self.cycle {
            Cycle::FourStroke => OpenValves {
                intake: INTAKE_OPEN_DEG.contains(&past_top),
                exhaust: EXHAUST_OPEN_DEG.contains(&past_top),
            },
            Cycle::TwoStroke => OpenValves {
                intake: TRANSFER_OPEN_DEG.contains(&past_top),
                exhaust: EXHAUST_PORT_OPEN_DEG.contains(&past_top),
            },
        })
    }

    fn place(&self, cylinder: u32) -> Result<usize, CrankError> {
        let place = self.fires.iter().position(|(named, _)| *named == cylinder);
        place.ok_or(CrankError::NoCylinder { cylinder, cylinders: self.fires.len() as u32 })
    }
}

/// As people write them: `1-3-2`.
fn joined<T: ToString>(list: &[T]) -> String {
    list.iter().map(T::to_string).collect::<Vec<_>>().join("-")
}

fn check_order(order: &[u32]) -> Result<(), CrankError> {
    let cylinders = order.len() as u32;
    let mut sorted = order.to_vec();
    sorted.sort_unstable();
    if order.is_empty() || !sorted.into_iter().eq(1..=cylinders) {
        return Err(CrankError::NotEachOnce { got: order.to_vec(), cylinders });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn even_firing_divides_the_cycle() {
        // Common practice, no source: two cylinders, four strokes, even firing, 360°.
        let twin = FiringOrder::by_number(2, Cycle::FourStroke).expect("an order");
        assert_eq!((twin.turn(1, 2), twin.turn(2, 1)), (Ok(360.0), Ok(360.0)));
        let four = FiringOrder::even(&[1, 3, 4, 2], Cycle::FourStroke).expect("an order");
        assert_eq!((four.turn(1, 3), four.turn(2, 1), four.turn(1, 2)), (Ok(180.0), Ok(180.0), Ok(540.0)));
        let three = FiringOrder::by_number(3, Cycle::TwoStroke).expect("an order");
        assert_eq!(three.turn(1, 2), Ok(120.0));
        let single = FiringOrder::by_number(1, Cycle::FourStroke).expect("an order");
        assert_eq!((single.turn(1, 1), single.next(1)), (Ok(720.0), Ok(1)));
    }

    #[test]
    fn a_round_of_turns_is_the_cycle() {
        let five = FiringOrder::even(&[1, 2, 4, 5, 3], Cycle::FourStroke).expect("an order");
        let mut at = 1;
        let mut sum = 0.0;
        for _ in 0..5 {
            let next = five.next(at).expect("a cylinder");
            sum += five.turn(at, next).expect("a turn");
            at = next;
        }
        assert_eq!((at, sum), (1, 720.0));
    }

    #[test]
    fn in_an_even_three_or_four_every_other_cylinder_has_a_valve_open() {
        // 720/3 = 240° and 720/4 = 180° apart (calc); so in either order.
        for order in [&[1, 3, 2][..], &[1, 2, 3], &[1, 3, 4, 2], &[1, 2, 4, 3]] {
            let firing = FiringOrder::even(order, Cycle::FourStroke).expect("an order");
            for (one, other) in order.iter().flat_map(|one| order.iter().map(move |other| (*one, *other))) {
                let open = firing.open_valves(one, other).expect("cylinders");
                assert_eq!(open.any(), one != other, "{order:?}: {one} at the top, {other}");
            }
        }
        // A six has two that are shut: 120° past the top, and 120° before it.
        let six = FiringOrder::even(&[1, 5, 3, 6, 2, 4], Cycle::FourStroke).expect("an order");
        let shut: Vec<u32> = (2..=6).filter(|other| !six.open_valves(1, *other).expect("cylinders").any()).collect();
        assert_eq!(shut, [4, 5]);
    }

    #[test]
    fn angles_given_are_used() {
        // A twin on one crankpin with 45° between its banks: 315° and 405°.
        let twin = FiringOrder::with_angles(&[1, 2], &[0.0, 315.0], Cycle::FourStroke).expect("an order");
        assert_eq!((twin.turn(1, 2), twin.turn(2, 1)), (Ok(315.0), Ok(405.0)));
        for wrong in [vec![0.0], vec![0.0, 720.0], vec![10.0, 20.0], vec![0.0, f64::NAN], vec![0.0, -90.0]] {
            assert!(FiringOrder::with_angles(&[1, 2], &wrong, Cycle::FourStroke).is_err(), "{wrong:?}");
        }
    }

    #[test]
    fn orders_that_cannot_be_are_told() {
        for wrong in [&[2, 3][..], &[1, 2, 2], &[1, 2, 4], &[0, 1, 2], &[]] {
            assert!(FiringOrder::even(wrong, Cycle::FourStroke).is_err(), "{wrong:?}");
        }
        let three = FiringOrder::even(&[1, 3, 2], Cycle::FourStroke).expect("an order");
        let error = three.turn(1, 4).expect_err("no cylinder 4").to_string();
        assert_eq!(error, "there is no cylinder 4: this engine has 3, counted from 1");
    }
}
