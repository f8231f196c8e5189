//! How the quiet clips of an engine scatter: the way this shop changes from clip to clip, seen where nothing hisses.

use super::floor::Floor;
use super::grid::PerBand;
use super::scatter_matrix::ScatterMatrix;

/// How floors lie about their mean.
#[derive(Debug, Clone, PartialEq)]
pub struct Scatter {
    /// Sums over the floors.
    pub sums: ScatterMatrix,
    /// Floors less one: how many independent looks that is.
    pub freedom: f64,
}

impl Scatter {
    /// Of these floors; `None` of fewer than two.
    #[must_use]
    pub fn of(floors: &[&Floor]) -> Option<Self> {
        let levels: Vec<PerBand> = floors.iter().map(|floor| floor.level_db).collect();
        (levels.len() >= 2)
            .then(|| Self { sums: ScatterMatrix::about_mean(&levels), freedom: levels.len() as f64 - 1.0 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hiss::grid::BANDS;

    fn floor(level_db: PerBand) -> Floor {
        Floor { level_db, parts_db: Vec::new() }
    }

    #[test]
    fn a_machine_that_is_on_in_one_clip_shows_its_own_colour_and_nothing_else() {
        let colour: PerBand = std::array::from_fn(|b| b as f64 - 4.0);
        let (off, on) = (floor([-60.0; BANDS]), floor(colour.map(|db| db - 60.0)));
        let found = Scatter::of(&[&off, &off, &on]).expect("three floors");
        assert_eq!(found.freedom, 2.0);
        // One of three differs by c: (1 − 1/3)² + 2 · (1/3)² = 2/3 of its square (calc).
        for i in 0..BANDS {
            for j in 0..BANDS {
                let expected = 2.0 / 3.0 * colour[i] * colour[j];
                assert!((found.sums[(i, j)] - expected).abs() < 1e-9, "{i} {j}: {}", found.sums[(i, j)]);
            }
        }
    }

    #[test]
    fn one_floor_tells_nothing_of_scatter() {
        assert_eq!(Scatter::of(&[&floor([-60.0; BANDS])]), None);
        assert_eq!(Scatter::of(&[]), None);
    }
}
