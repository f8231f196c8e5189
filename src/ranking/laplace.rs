//! The likeliest floor change and hiss spectrum at a hiss level, and the evidence: several levels side by side.
//!
//! Levels are worked on in lanes: every number is one per lane, and whatever is done is done in all lanes at once, which
//! is what processors are fast at.

use crate::hiss::{BANDS, PerBand, level_bands};
use crate::simd::{dispatch, exp, ln, map_lanes};

use super::assumptions as assume;
use super::matrix::Matrix;

/// Gauss–Newton steps at each level. Every level starts from a floor that did not move and a hiss of equal power in all
/// bands: started from the level below, the floor would go on explaining what the hiss explains better.
/// As many as that are needed only where floor and hiss come near each other and both may move by many decibels.
const STEPS: usize = 24;
/// A step that changes no band by more than this is the last, dB.
const SETTLED_DB: f64 = 0.02;
/// A step that does not explain better is halved, down to this share: the sum of two powers in dB is far from linear.
const LEAST_SHARE: f64 = 1.0 / 64.0;
/// Decibels to the exponent of e.
const NEPER_PER_DB: f64 = std::f64::consts::LN_10 / 10.0;

/// Levels side by side.
pub const LANES: usize = 4;
type Lanes = [f64; LANES];
type LanesPerBand = [Lanes; BANDS];

/// Log evidence of a level, and the hiss level that goes with it with its variance.
pub type Fitted = (f64, (f64, f64));

/// What is to be explained, and by what.
pub struct Model<'a> {
    /// Air over the quiet floor, dB.
    pub difference: &'a PerBand,
    /// Hiss of level 0 with equal power in all level bands, over the quiet floor, dB.
    pub over: &'a PerBand,
    /// Covariance of how the floor moved, dB².
    pub moved: &'a Matrix,
    /// Covariance of how the hiss spectrum departs from equal power, dB².
    pub shape: &'a Matrix,
    /// Bands that count.
    pub bands: usize,
}

/// How the floor moved and how the hiss spectrum departs, dB per band, with the vectors that their covariances make them
/// of (what their own improbability is reckoned from).
#[derive(Clone, Copy)]
struct State {
    moved: LanesPerBand,
    shape: LanesPerBand,
    by_noise: LanesPerBand,
    by_hiss: LanesPerBand,
}

/// Where the steps have arrived.
struct Settled {
    state: State,
    loss: Lanes,
    of_hiss: LanesPerBand,
    factor: Factor,
}

impl State {
    /// A share of the way to another state, in each lane.
    #[inline(always)]
    fn towards(&self, to: &Self, share: &Lanes, n: usize) -> Self {
        let mut state = *self;
        let mix = |from: &mut LanesPerBand, to: &LanesPerBand| {
            for b in 0..n {
                from[b] = map_lanes(|lane| from[b][lane] + share[lane] * (to[b][lane] - from[b][lane]));
            }
        };
        mix(&mut state.moved, &to.moved);
        mix(&mut state.shape, &to.shape);
        mix(&mut state.by_noise, &to.by_noise);
        mix(&mut state.by_hiss, &to.by_hiss);
        state
    }
}

impl Model<'_> {
    /// Fits as many levels as there are lanes, or fewer; lanes left over repeat the last level.
    pub fn laplace(&self, levels_db: &[f64]) -> [Fitted; LANES] {
        dispatch(
            #[inline(always)]
            || self.laplace_in_lanes(levels_db),
        )
    }

    #[inline(always)]
    fn laplace_in_lanes(&self, levels_db: &[f64]) -> [Fitted; LANES] {
        let levels = map_lanes(|lane| levels_db[lane.min(levels_db.len() - 1)]);
        let Settled { state, loss, of_hiss, factor } = self.settled(&levels);
        let levels_of = self.levels_of(&levels, &state, &of_hiss, &factor);
        std::array::from_fn(|lane| (-0.5 * (loss[lane] + factor.log_determinant[lane]), levels_of[lane]))
    }

    /// How the hiss spectrum departs at a level, given the clips: likeliest departure, dB per band, and its covariance.
    pub fn shape_at(&self, level_db: f64) -> (PerBand, Matrix) {
        dispatch(
            #[inline(always)]
            || self.shape_in_lanes(level_db),
        )
    }

    #[inline(always)]
    fn shape_in_lanes(&self, level_db: f64) -> (PerBand, Matrix) {
        let Settled { state, of_hiss, factor, .. } = self.settled(&[level_db; LANES]);
        let n = self.bands;
        // What the clips tell of each band's departure, a column in each lane.
        let mut known = [[0.0; BANDS]; BANDS];
        for first in (0..n).step_by(LANES) {
            let column = |lane: usize| (first + lane).min(n - 1);
            let mut seen = [[0.0; LANES]; BANDS];
            for (b, row) in seen.iter_mut().enumerate().take(n) {
                *row = map_lanes(|lane| of_hiss[b][lane] * self.shape.at(b, column(lane)));
            }
            let solved = factor.solve(&seen);
            for (b, row) in known.iter_mut().enumerate().take(n) {
                for lane in 0..LANES {
                    let of_band = (0..n).map(|k| self.shape.at(b, k) * of_hiss[k][lane] * solved[k][lane]);
                    row[column(lane)] = of_band.sum::<f64>();
                }
            }
        }
        let left = Matrix::of(n, |i, j| self.shape.at(i, j) - 0.5 * (known[i][j] + known[j][i]));
        (std::array::from_fn(|b| state.shape[b][0]), left)
    }

    /// The likeliest floor change and hiss departure at each level.
    #[inline(always)]
    fn settled(&self, levels: &Lanes) -> Settled {
        let n = self.bands;
        let zero = [[0.0; LANES]; BANDS];
        let mut state = State { moved: zero, shape: zero, by_noise: zero, by_hiss: zero };
        let mut loss = self.loss(levels, &state);
        let (mut of_noise, mut of_hiss, mut error) = (zero, zero, zero);
        let mut factor = Factor::empty(n);
        // A lane that is done keeps its state, so that whatever the others do, its step comes out the same again.
        let mut done = [false; LANES];
        for step in 1..=STEPS {
            for b in 0..n {
                let (noise, hiss) = self.powers(levels, &state, b);
                let whole = map_lanes(|lane| noise[lane] + hiss[lane]);
                let whole_db = in_db(whole);
                of_noise[b] = map_lanes(|lane| noise[lane] / whole[lane]);
                of_hiss[b] = map_lanes(|lane| hiss[lane] / whole[lane]);
                error[b] = map_lanes(|lane| {
                    self.difference[b] - whole_db[lane]
                        + of_noise[b][lane] * state.moved[b][lane]
                        + of_hiss[b][lane] * state.shape[b][lane]
                });
            }
            factor.take(self.moved, &of_noise, self.shape, &of_hiss);
            if step == STEPS {
                break;
            }
            let pull = factor.solve(&error);
            let (mut by_noise, mut by_hiss) = (zero, zero);
            for b in 0..n {
                by_noise[b] = map_lanes(|lane| of_noise[b][lane] * pull[b][lane]);
                by_hiss[b] = map_lanes(|lane| of_hiss[b][lane] * pull[b][lane]);
            }
            let (moved, shape) = (times(self.moved, &by_noise, n), times(self.shape, &by_hiss, n));
            let target = State { moved, shape, by_noise, by_hiss };
            let change = change(&state, &target, n);
            for lane in 0..LANES {
                done[lane] = done[lane] || change[lane] < SETTLED_DB;
            }
            if done == [true; LANES] {
                break;
            }
            (state, loss) = self.stepped(levels, &state, &target, &loss, &mut done);
        }
        Settled { state, loss, of_hiss, factor }
    }

    /// A step from one state towards another, halved until it explains better; a lane in which it never does is done.
    #[inline(always)]
    fn stepped(
        &self,
        levels: &Lanes,
        from: &State,
        to: &State,
        before: &Lanes,
        done: &mut [bool; LANES],
    ) -> (State, Lanes) {
        let mut share = done.map(|done| if done { 0.0 } else { 1.0 });
        loop {
            let state = from.towards(to, &share, self.bands);
            let loss = self.loss(levels, &state);
            let worse: [bool; LANES] =
                std::array::from_fn(|lane| share[lane] > 0.0 && is_worse(loss[lane], before[lane]));
            if worse == [false; LANES] {
                return (state, std::array::from_fn(|lane| if share[lane] > 0.0 { loss[lane] } else { before[lane] }));
            }
            for lane in 0..LANES {
                if worse[lane] && share[lane] > LEAST_SHARE {
                    share[lane] *= 0.5;
                } else if worse[lane] {
                    (share[lane], done[lane]) = (0.0, true);
                }
            }
        }
    }

    /// How improbable a state is, and what it leaves unexplained: twice the negative log density but for its constants.
    #[inline(always)]
    fn loss(&self, levels: &Lanes, state: &State) -> Lanes {
        let of_noise = dot(&state.by_noise, &state.moved, self.bands);
        let of_hiss = dot(&state.by_hiss, &state.shape, self.bands);
        let misfit = self.misfit(levels, state);
        map_lanes(|lane| of_noise[lane] + of_hiss[lane] + misfit[lane])
    }

    /// Noise and hiss in a band re the quiet floor, as powers.
    #[inline(always)]
    fn powers(&self, levels: &Lanes, state: &State, b: usize) -> (Lanes, Lanes) {
        let hiss_db = map_lanes(|lane| levels[lane] + self.over[b] + state.shape[b][lane]);
        (power(state.moved[b]), power(hiss_db))
    }

    /// What the state leaves unexplained, re the residue's variance.
    #[inline(always)]
    fn misfit(&self, levels: &Lanes, state: &State) -> Lanes {
        let mut sum = [0.0; LANES];
        for b in 0..self.bands {
            let (noise, hiss) = self.powers(levels, state, b);
            let whole_db = in_db(map_lanes(|lane| noise[lane] + hiss[lane]));
            sum = map_lanes(|lane| sum[lane] + ((self.difference[b] - whole_db[lane]) / assume::RESIDUE_DB).powi(2));
        }
        sum
    }

    /// Hiss level over the level bands, and its variance by the linear model.
    #[inline(always)]
    fn levels_of(&self, levels: &Lanes, state: &State, of_hiss: &LanesPerBand, factor: &Factor) -> [(f64, f64); LANES] {
        let n = self.bands;
        let level_bands = level_bands(n);
        let count = level_bands.len().max(1) as f64;
        let mut gradient = [[0.0; LANES]; BANDS];
        let mut sum = [0.0; LANES];
        for b in level_bands.clone() {
            gradient[b] = power(state.shape[b]);
            sum = map_lanes(|lane| sum[lane] + gradient[b][lane]);
        }
        sum = map_lanes(|lane| sum[lane].max(f64::MIN_POSITIVE));
        for b in level_bands {
            gradient[b] = map_lanes(|lane| gradient[b][lane] / sum[lane]);
        }
        let spread = times(self.shape, &gradient, n);
        let mut seen = *of_hiss;
        for b in 0..n {
            seen[b] = map_lanes(|lane| of_hiss[b][lane] * spread[b][lane]);
        }
        let known = dot(&factor.solve(&seen), &seen, n);
        let free = dot(&gradient, &spread, n);
        std::array::from_fn(|lane| {
            (levels[lane] + 10.0 * (sum[lane] / count).log10(), (free[lane] - known[lane]).max(0.0))
        })
    }
}

/// Whether a loss is no better than the one before; what is not a number is none.
#[inline(always)]
fn is_worse(loss: f64, before: f64) -> bool {
    loss.is_nan() || loss >= before
}

/// Powers of levels in dB.
#[inline(always)]
fn power(db: Lanes) -> Lanes {
    exp(map_lanes(|lane| db[lane] * NEPER_PER_DB))
}

/// Levels of powers in dB.
#[inline(always)]
fn in_db(power: Lanes) -> Lanes {
    let neper = ln(power);
    map_lanes(|lane| neper[lane] / NEPER_PER_DB)
}

/// The largest change of a band, dB.
#[inline(always)]
fn change(from: &State, to: &State, n: usize) -> Lanes {
    let mut most = [0.0; LANES];
    for b in 0..n {
        for (lane, most) in most.iter_mut().enumerate() {
            let moved = (to.moved[b][lane] - from.moved[b][lane]).abs();
            let shape = (to.shape[b][lane] - from.shape[b][lane]).abs();
            *most = f64::max(*most, f64::max(moved, shape));
        }
    }
    most
}

/// Rows or columns worked on at once: as many sums as the processor has registers for.
const BLOCK: usize = 4;

/// A symmetric matrix times a vector of each lane.
#[inline(always)]
fn times(matrix: &Matrix, vector: &LanesPerBand, n: usize) -> LanesPerBand {
    let mut product = [[0.0; LANES]; BANDS];
    let rows = matrix.rows();
    let (blocks, rest) = product[..n].as_chunks_mut::<BLOCK>();
    for (at, sums) in blocks.iter_mut().enumerate() {
        *sums = sums_of(rows, at * BLOCK, vector, n);
    }
    let first = n - rest.len();
    for (at, slot) in rest.iter_mut().enumerate() {
        [*slot] = sums_of(rows, first + at, vector, n);
    }
    product
}

/// The products of `W` rows from `first` on. A column is read in place of a row: the matrix is symmetric.
#[inline(always)]
fn sums_of<const W: usize>(rows: &[PerBand; BANDS], first: usize, vector: &LanesPerBand, n: usize) -> [Lanes; W] {
    let mut sums = [[0.0; LANES]; W];
    for (row, value) in rows[..n].iter().zip(vector) {
        for (sum, cell) in sums.iter_mut().zip(&row[first..first + W]) {
            for lane in 0..LANES {
                sum[lane] += cell * value[lane];
            }
        }
    }
    sums
}

#[inline(always)]
fn dot(a: &LanesPerBand, b: &LanesPerBand, n: usize) -> Lanes {
    let mut sum = [0.0; LANES];
    for (x, y) in a.iter().zip(b).take(n) {
        for lane in 0..LANES {
            sum[lane] += x[lane] * y[lane];
        }
    }
    sum
}

/// Upper Cholesky factors, one in each lane.
struct Factor {
    upper: [LanesPerBand; BANDS],
    inverse_pivots: LanesPerBand,
    log_determinant: Lanes,
    n: usize,
}

impl Factor {
    #[inline(always)]
    fn empty(n: usize) -> Self {
        let zero = [[0.0; LANES]; BANDS];
        Self { upper: [zero; BANDS], inverse_pivots: zero, log_determinant: [0.0; LANES], n }
    }

    /// Factors `left · a · left + right · b · right + residue · 1`, where `left` and `right` are diagonal matrices. A pivot
    /// that rounding took below zero counts as a tiny one.
    #[inline(always)]
    fn take(&mut self, a: &Matrix, left: &LanesPerBand, b: &Matrix, right: &LanesPerBand) {
        let n = self.n;
        let mut product = [1.0; LANES];
        let mut half_log = [0.0; LANES];
        let sum = Sum { a, left, b, right };
        for i in 0..n {
            let (above, row) = self.upper.split_at_mut(i);
            let row = &mut row[0][i..n];
            let (blocks, rest) = row.as_chunks_mut::<BLOCK>();
            for (at, cells) in blocks.iter_mut().enumerate() {
                *cells = reduced(&sum, above, i, i + at * BLOCK);
            }
            let first = n - rest.len();
            for (at, cell) in rest.iter_mut().enumerate() {
                [*cell] = reduced(&sum, above, i, first + at);
            }
            let pivot: Lanes = map_lanes(|lane| row[0][lane].max(1e-9).sqrt());
            let inverse = map_lanes(|lane| 1.0 / pivot[lane]);
            self.inverse_pivots[i] = inverse;
            for value in &mut row[1..] {
                *value = map_lanes(|lane| value[lane] * inverse[lane]);
            }
            product = map_lanes(|lane| product[lane] * pivot[lane]);
            // One logarithm for several pivots, before the product can overflow.
            if product.iter().any(|product| !(1e-100..1e100).contains(product)) || i + 1 == n {
                let log = ln(product);
                half_log = map_lanes(|lane| half_log[lane] + log[lane]);
                product = [1.0; LANES];
            }
        }
        self.log_determinant = map_lanes(|lane| 2.0 * half_log[lane]);
    }

    /// Solves `matrix · x = right` in each lane.
    #[inline(always)]
    fn solve(&self, right: &LanesPerBand) -> LanesPerBand {
        let n = self.n;
        let mut x = *right;
        for k in 0..n {
            let value = map_lanes(|lane| x[k][lane] * self.inverse_pivots[k][lane]);
            x[k] = value;
            for (slot, upper) in x[k + 1..n].iter_mut().zip(&self.upper[k][k + 1..n]) {
                for lane in 0..LANES {
                    slot[lane] -= upper[lane] * value[lane];
                }
            }
        }
        for k in (0..n).rev() {
            let value = map_lanes(|lane| x[k][lane] * self.inverse_pivots[k][lane]);
            x[k] = value;
            for (slot, row) in x[..k].iter_mut().zip(&self.upper) {
                for lane in 0..LANES {
                    slot[lane] -= row[k][lane] * value[lane];
                }
            }
        }
        x
    }
}

/// `left · a · left + right · b · right + residue · 1`, where `left` and `right` are diagonal matrices.
struct Sum<'a> {
    a: &'a Matrix,
    left: &'a LanesPerBand,
    b: &'a Matrix,
    right: &'a LanesPerBand,
}

/// Cells of a sum in row `i` from column `first` on, less what the factor's rows above account for.
#[inline(always)]
fn reduced<const W: usize>(sum: &Sum<'_>, above: &[LanesPerBand], i: usize, first: usize) -> [Lanes; W] {
    let columns = first..first + W;
    let (a, b) = (&sum.a.rows()[i][columns.clone()], &sum.b.rows()[i][columns.clone()]);
    let (left, right) = (&sum.left[columns.clone()], &sum.right[columns.clone()]);
    let mut cells = [[0.0; LANES]; W];
    for (j, cell) in cells.iter_mut().enumerate() {
        *cell = map_lanes(|lane| sum.left[i][lane] * a[j] * left[j][lane] + sum.right[i][lane] * b[j] * right[j][lane]);
    }
    if first == i {
        for value in &mut cells[0] {
            *value += assume::RESIDUE_DB * assume::RESIDUE_DB;
        }
    }
    for row in above {
        let share = row[i];
        for (cell, value) in cells.iter_mut().zip(&row[columns.clone()]) {
            for lane in 0..LANES {
                cell[lane] -= share[lane] * value[lane];
            }
        }
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lanes_do_not_mix_and_a_lane_gives_what_it_gives_alone() {
        let bands = 6;
        let moved = Matrix::of(bands, |i, j| if i == j { 1.5 } else { 1.0 });
        let shape = Matrix::of(bands, |i, j| 9.0 * (-0.1 * (i as f64 - j as f64).powi(2)).exp());
        let (mut difference, mut over) = ([0.0; BANDS], [0.0; BANDS]);
        for b in 0..bands {
            difference[b] = [0.5, 2.0, 4.0, 6.0, 7.0, 9.0][b];
            over[b] = 40.0 + b as f64;
        }
        let model = Model { difference: &difference, over: &over, moved: &moved, shape: &shape, bands };
        let levels = [-60.0, -40.0, -34.0, -10.0];
        let together = model.laplace(&levels);
        for (level, fitted) in levels.iter().zip(together) {
            assert_eq!(model.laplace(&[*level])[0], fitted, "{level} dB");
        }
        let evidence = together.map(|fitted| fitted.0);
        assert!(evidence[2] > evidence[0] && evidence[2] > evidence[3], "{evidence:?}");
    }

    /// The same evidence by adding up over a fine grid of floor changes and hiss departures, one band alone.
    fn by_quadrature(difference: f64, over: f64, moved: f64, shape: f64) -> f64 {
        let steps = |sd: f64| (-400..=400).map(move |k| (f64::from(k) / 50.0 * sd, sd / 50.0));
        let normal = |x: f64, sd: f64| (-0.5 * (x / sd).powi(2)).exp() / (sd * (2.0 * std::f64::consts::PI).sqrt());
        let sum: f64 = steps(moved)
            .map(|(m, dm)| {
                let of_shape = steps(shape).map(|(g, dg)| {
                    let whole = 10.0 * (10f64.powf(m / 10.0) + 10f64.powf((over + g) / 10.0)).log10();
                    normal(g, shape) * normal(difference - whole, assume::RESIDUE_DB) * dg
                });
                normal(m, moved) * of_shape.sum::<f64>() * dm
            })
            .sum();
        sum.ln() + 0.5 * (2.0 * std::f64::consts::PI).ln()
    }

    #[test]
    fn the_evidence_is_that_of_adding_up_however_restless_the_shop() {
        for moved in [1.5, 3.0, 5.0] {
            for (difference, over) in [(0.5, -6.0), (9.0, 9.0), (9.0, 3.0), (9.0, -30.0), (-5.0, -20.0), (3.0, 8.0)] {
                let matrix = |variance: f64| Matrix::of(1, |_, _| variance);
                let (of_floor, of_shape) = (matrix(moved * moved), matrix(9.0));
                let (mut by_band, mut level) = ([0.0; BANDS], [0.0; BANDS]);
                (by_band[0], level[0]) = (difference, over);
                let model = Model { difference: &by_band, over: &level, moved: &of_floor, shape: &of_shape, bands: 1 };
                let (found, _) = model.laplace(&[0.0])[0];
                let exact = by_quadrature(difference, over, moved, 3.0);
                let off = (found - exact).abs();
                assert!(off < 1.0, "floor ±{moved} dB, {difference} dB, hiss {over} dB: {found} for {exact}");
            }
        }
    }

    /// Five bare steps once took a hiss that nobody could hear for e⁻¹⁵ times less likely than none.
    #[test]
    fn a_hiss_far_under_a_restless_floor_is_as_likely_as_none() {
        let bands = 6;
        let sd = [0.4, 0.6, 1.2, 3.0, 4.2, 5.8];
        let moved = Matrix::of(bands, |i, j| sd[i] * sd[j] * if i == j { 1.0 } else { 0.7 });
        let shape = Matrix::of(bands, |i, j| 9.0 * (-0.1 * (i as f64 - j as f64).powi(2)).exp());
        let (mut difference, over) = ([0.0; BANDS], [0.0; BANDS]);
        difference[..bands].copy_from_slice(&[3.0, 6.0, 9.0, 9.0, 4.0, -6.0]);
        let model = Model { difference: &difference, over: &over, moved: &moved, shape: &shape, bands };
        let inaudible = model.laplace(&[-80.0])[0].0;
        let bare = Matrix::of(bands, |i, j| moved.at(i, j) + if i == j { assume::RESIDUE_DB.powi(2) } else { 0.0 });
        let factor = bare.factor();
        let none =
            -0.5 * (super::super::matrix::dot(&factor.solve(&difference), &difference, bands) + factor.log_determinant);
        assert!((inaudible - none).abs() < 0.01, "{inaudible} for {none}");
        // And nowhere on the way up does it fall off a cliff: a louder hiss explains no less than all of it being the floor's.
        let levels: Vec<f64> = (-40..=6).step_by(2).map(f64::from).collect();
        for level in levels {
            let found = model.laplace(&[level])[0].0;
            assert!(found > none - 6.0, "{level} dB: {found} for {none}");
        }
    }

    /// A hiss that drowns the floor shows its spectrum; one that the floor drowns leaves what was assumed.
    #[test]
    fn a_spectrum_is_told_by_clips_in_which_the_hiss_is_heard_and_by_no_others() {
        let bands = 6;
        let moved = Matrix::of(bands, |i, j| if i == j { 0.5 } else { 0.0 });
        let shape = Matrix::of(bands, |i, j| 9.0 * (-0.1 * (i as f64 - j as f64).powi(2)).exp());
        let departs = [-3.0, -1.0, 0.0, 1.0, 2.0, 1.0];
        let (mut difference, over) = ([0.0; BANDS], [0.0; BANDS]);
        difference[..bands].copy_from_slice(&departs.map(|db| 30.0 + db));
        let model = Model { difference: &difference, over: &over, moved: &moved, shape: &shape, bands };
        let (told, left) = model.shape_at(30.0);
        for (b, (told, departs)) in told.iter().zip(departs).enumerate() {
            assert!((told - departs).abs() < 0.5, "band {b}: {told} for {departs}");
            assert!(left.at(b, b) < 0.1 && left.at(b, b) > 0.0, "band {b}: {}", left.at(b, b));
        }
        let (told, left) = model.shape_at(-60.0);
        for (b, told) in told.iter().enumerate().take(bands) {
            assert!(told.abs() < 0.01 && (left.at(b, b) - 9.0).abs() < 0.01, "{told} {}", left.at(b, b));
        }
    }

    /// Where the hiss drowns the floor the model is linear: shape given the clips by the closed form, one band.
    #[test]
    fn what_is_left_open_is_that_of_the_closed_form() {
        let matrix = |variance: f64| Matrix::of(1, |_, _| variance);
        let (of_floor, of_shape) = (matrix(1.0), matrix(4.0));
        let (mut difference, over) = ([0.0; BANDS], [0.0; BANDS]);
        difference[0] = 52.0;
        let model = Model { difference: &difference, over: &over, moved: &of_floor, shape: &of_shape, bands: 1 };
        let (told, left) = model.shape_at(50.0);
        let residue = assume::RESIDUE_DB.powi(2);
        // Kalman's update: prior variance 4, measured 2 dB over the level with the residue's variance.
        let gain = 4.0 / (4.0 + residue);
        assert!((told[0] - gain * 2.0).abs() < 1e-3, "{}", told[0]);
        assert!((left.at(0, 0) - 4.0 * (1.0 - gain)).abs() < 1e-3, "{}", left.at(0, 0));
    }

    #[test]
    fn a_solution_put_back_gives_the_right_side() {
        let n = 5;
        let a = Matrix::of(n, |i, j| if i == j { 3.0 + i as f64 } else { 1.0 / (1.0 + (i + j) as f64) });
        let none = Matrix::of(n, |_, _| 0.0);
        let mut factor = Factor::empty(n);
        let left = [[1.0, 2.0, 0.5, 0.1]; BANDS];
        factor.take(&a, &left, &none, &left);
        let right = [[1.0, -2.0, 0.5, 4.0]; BANDS];
        let solved = factor.solve(&right);
        for lane in 0..LANES {
            for i in 0..n {
                let residue = assume::RESIDUE_DB.powi(2) * solved[i][lane];
                let back: f64 = (0..n).map(|j| left[i][lane] * a.at(i, j) * left[j][lane] * solved[j][lane]).sum();
                assert!((back + residue - right[i][lane]).abs() < 1e-11, "{back}");
            }
        }
    }
}
