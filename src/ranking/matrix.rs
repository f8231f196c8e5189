//! Small symmetric matrices, one row and column a band: just what the ranking needs, without an allocation.

use crate::hiss::{BANDS, PerBand};

/// A symmetric matrix over bands, of which the first `n` rows and columns count.
#[derive(Debug, Clone, Copy)]
pub struct Matrix {
    cells: [PerBand; BANDS],
    n: usize,
}

impl Matrix {
    /// The matrix of a function of two band places, for the first `n` bands.
    pub fn of(n: usize, mut cell: impl FnMut(usize, usize) -> f64) -> Self {
        let mut cells = [[0.0; BANDS]; BANDS];
        for (i, row) in cells.iter_mut().enumerate().take(n) {
            for (j, value) in row.iter_mut().enumerate().take(i + 1) {
                *value = cell(i, j);
            }
        }
        for i in 0..n {
            let (above, from) = cells.split_at_mut(i);
            for (row, value) in above.iter_mut().zip(&from[0]) {
                row[i] = *value;
            }
        }
        Self { cells, n }
    }

    /// The cell at a row and a column.
    pub fn at(&self, i: usize, j: usize) -> f64 {
        self.cells[i][j]
    }

    /// Its rows, of which the first `n` count.
    pub fn rows(&self) -> &[PerBand; BANDS] {
        &self.cells
    }

    /// Its upper Cholesky factor. A pivot that rounding took below zero counts as a tiny one.
    pub fn factor(mut self) -> Factor {
        let n = self.n;
        let mut determinant = 1.0;
        let mut half_log_determinant = 0.0;
        let mut inverse_pivots = [1.0; BANDS];
        for k in 0..n {
            let pivot = self.cells[k][k].max(1e-9).sqrt();
            determinant *= pivot;
            // One logarithm for several pivots, before the product can overflow.
            if !(1e-100..1e100).contains(&determinant) || k + 1 == n {
                half_log_determinant += determinant.ln();
                determinant = 1.0;
            }
            let inverse = 1.0 / pivot;
            inverse_pivots[k] = inverse;
            let (done, below) = self.cells.split_at_mut(k + 1);
            let row = &mut done[k];
            row.iter_mut().for_each(|value| *value *= inverse);
            for (i, lower) in below.iter_mut().enumerate().take(n - k - 1) {
                let share = row[k + 1 + i];
                for j in 0..BANDS {
                    lower[j] -= share * row[j];
                }
            }
        }
        Factor { upper: self.cells, inverse_pivots, n, log_determinant: 2.0 * half_log_determinant }
    }
}

/// A Cholesky factor.
#[derive(Debug, Clone, Copy)]
pub struct Factor {
    /// The factor's rows; what stands left of the diagonal is left over and not read.
    upper: [PerBand; BANDS],
    inverse_pivots: PerBand,
    n: usize,
    /// Natural logarithm of the matrix' determinant.
    pub log_determinant: f64,
}

impl Factor {
    /// Solves `matrix · x = right`.
    pub fn solve(&self, right: &PerBand) -> PerBand {
        let mut x = *right;
        for k in 0..self.n {
            x[k] *= self.inverse_pivots[k];
            for i in k + 1..self.n {
                x[i] -= self.upper[k][i] * x[k];
            }
        }
        for i in (0..self.n).rev() {
            let sum: f64 = (i + 1..self.n).map(|k| self.upper[i][k] * x[k]).sum();
            x[i] = (x[i] - sum) * self.inverse_pivots[i];
        }
        x
    }
}

/// The dot product over the first `n` bands.
pub fn dot(a: &PerBand, b: &PerBand, n: usize) -> f64 {
    a.iter().zip(b).take(n).map(|(x, y)| x * y).sum()
}

/// Logarithm of a sum of exponentials; −∞ for none.
pub fn log_sum(terms: impl Iterator<Item = f64> + Clone) -> f64 {
    let most = terms.clone().fold(f64::NEG_INFINITY, f64::max);
    if most == f64::NEG_INFINITY {
        return most;
    }
    most + terms.map(|term| (term - most).exp()).sum::<f64>().ln()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_solution_put_back_gives_the_right_side() {
        let matrix = Matrix::of(5, |i, j| if i == j { 3.0 + i as f64 } else { 1.0 / (1.0 + (i + j) as f64) });
        let mut right = [0.0; BANDS];
        right[..5].copy_from_slice(&[1.0, -2.0, 0.5, 4.0, 0.0]);
        let solved = matrix.factor().solve(&right);
        for (row, wanted) in matrix.rows().iter().zip(&right) {
            let got = dot(row, &solved, 5);
            assert!((got - wanted).abs() < 1e-12, "{got} is not {wanted}");
        }
    }

    #[test]
    fn the_determinant_is_that_of_a_closed_form() {
        // [[4, 2], [2, 3]]: 4·3 − 2·2 = 8.
        let factor = Matrix::of(2, |i, j| [[4.0, 2.0], [2.0, 3.0]][i][j]).factor();
        assert!((factor.log_determinant - 8f64.ln()).abs() < 1e-12);
    }

    #[test]
    fn log_sum_keeps_what_would_overflow() {
        assert!((log_sum([1000.0, 1000.0].into_iter()) - (1000.0 + 2f64.ln())).abs() < 1e-12);
        assert_eq!(log_sum(std::iter::empty()), f64::NEG_INFINITY);
    }
}
