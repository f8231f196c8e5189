//! How bands move together: squares and products of what lies off a mean, over bands.

use std::ops::Index;

use super::grid::{BANDS, PerBand};

/// A symmetric table of `BANDS × BANDS`, dB²: sums of squares and products, or what they come to per look (a covariance).
#[derive(Debug, Clone, PartialEq)]
pub struct ScatterMatrix(Vec<PerBand>);

impl Default for ScatterMatrix {
    fn default() -> Self {
        Self(vec![[0.0; BANDS]; BANDS])
    }
}

impl ScatterMatrix {
    /// Sums over looks that are differences already.
    #[must_use]
    pub fn of(looks: &[PerBand]) -> Self {
        let mut sums = Self::default();
        looks.iter().for_each(|off| sums.add(off));
        sums
    }

    /// Sums over `values`, each held against the mean of all.
    #[must_use]
    pub fn about_mean(values: &[PerBand]) -> Self {
        let count = values.len() as f64;
        let mean: PerBand = std::array::from_fn(|b| values.iter().map(|value| value[b]).sum::<f64>() / count);
        let mut sums = Self::default();
        for value in values {
            sums.add(&std::array::from_fn(|b| value[b] - mean[b]));
        }
        sums
    }

    /// Adds the squares and products of one look.
    fn add(&mut self, off: &PerBand) {
        for (row, of_row) in self.0.iter_mut().zip(off) {
            row.iter_mut().zip(off).for_each(|(sum, of_column)| *sum += of_row * of_column);
        }
    }

    /// Adds a share of another table.
    pub fn add_share(&mut self, other: &Self, share: f64) {
        self.0.iter_mut().flatten().zip(other.0.iter().flatten()).for_each(|(sum, of_other)| *sum += share * of_other);
    }

    /// The table times a number.
    #[must_use]
    pub fn times(mut self, share: f64) -> Self {
        self.0.iter_mut().flatten().for_each(|value| *value *= share);
        self
    }

    /// Only so much of what stands off the diagonal: from few looks, part of it is chance.
    #[must_use]
    pub fn less_correlated(mut self, kept: f64) -> Self {
        for (i, row) in self.0.iter_mut().enumerate() {
            row.iter_mut().enumerate().filter(|(j, _)| *j != i).for_each(|(_, value)| *value *= kept);
        }
        self
    }

    /// The table with no band scattering more than so many times as in another table; correlations stay.
    #[must_use]
    pub fn at_most(mut self, other: &Self, times: f64) -> Self {
        let shares: PerBand = std::array::from_fn(|b| {
            let (own, most) = (self.0[b][b], times * other.0[b][b]);
            if own > most { (most / own).sqrt() } else { 1.0 }
        });
        for (row, of_row) in self.0.iter_mut().zip(shares) {
            row.iter_mut().zip(shares).for_each(|(value, of_column)| *value *= of_row * of_column);
        }
        self
    }

    /// The mean of the diagonal.
    #[must_use]
    pub fn mean_square(&self) -> f64 {
        self.0.iter().enumerate().map(|(b, row)| row[b]).sum::<f64>() / BANDS as f64
    }
}

impl Index<(usize, usize)> for ScatterMatrix {
    type Output = f64;

    fn index(&self, (row, column): (usize, usize)) -> &f64 {
        &self.0[row][column]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1 dB up and down in the first band, 3 dB the other way in the second.
    fn see_saw() -> ScatterMatrix {
        let mut up = [-60.0; BANDS];
        (up[0], up[1]) = (-59.0, -63.0);
        let mut down = [-60.0; BANDS];
        (down[0], down[1]) = (-61.0, -57.0);
        ScatterMatrix::about_mean(&[up, down])
    }

    #[test]
    fn two_bands_that_move_against_each_other_have_a_negative_product() {
        let found = see_saw();
        assert_eq!(
            [found[(0, 0)], found[(1, 1)], found[(0, 1)], found[(1, 0)], found[(2, 2)]],
            [2.0, 18.0, -6.0, -6.0, 0.0]
        );
        assert_eq!(found.mean_square(), 20.0 / BANDS as f64);
    }

    #[test]
    fn a_band_that_scatters_more_than_it_may_is_scaled_with_its_products() {
        let calm = see_saw().times(0.25);
        let found = see_saw().at_most(&calm, 1.0);
        assert_eq!(found, calm, "every band may scatter a quarter as much, and the correlation is the same");
        assert_eq!(calm.clone().at_most(&see_saw(), 1.0), calm, "what scatters less stays as it is");
    }

    #[test]
    fn tables_are_mixed_scaled_and_lose_correlation_off_the_diagonal_alone() {
        let mut mixed = see_saw().times(0.5);
        mixed.add_share(&see_saw(), 0.25);
        let found = mixed.less_correlated(0.5);
        assert_eq!([found[(0, 0)], found[(1, 1)], found[(0, 1)], found[(1, 0)]], [1.5, 13.5, -2.25, -2.25]);
    }
}
