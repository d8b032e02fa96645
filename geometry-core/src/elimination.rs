//! Elimination of the five rows with two or three right-hand sides at once.
//!
//! The unknowns are three rotations and two translations; the right-hand sides are the
//! correction, travel and rack. The quick way takes the rows in the order in which they
//! come, two to an instruction, and substitutes backward for two sides at once. Where a
//! pivot has become small, the rows are exchanged. Since Rust neither fuses nor reorders,
//! the results are the same bits on every target.

use core::array::from_fn;

use wide::f64x2;

use crate::bounds::{DEAD_PIVOT, MOMENT_SCALE, SMALL_PIVOT};

/// One constraint's coefficients (rotations over [`MOMENT_SCALE`]) and right-hand sides.
pub(crate) type EquationRow = [f64; 8];

/// Unknowns of one position.
pub(crate) const UNKNOWNS: usize = 5;

/// What the elimination found out about the matrix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Reduced {
    /// The determinant's sign: it cannot change along one assembly's branch.
    pub(crate) positive: bool,
    /// The least pivot in size, scaled; near zero at a dead point.
    pub(crate) least_pivot: f64,
}

/// Where the right-hand sides stand in a row.
const CORRECTION: usize = UNKNOWNS;
const TRAVEL: usize = UNKNOWNS + 1;
const RACK: usize = UNKNOWNS + 2;

/// A number a row, and a sixth that is zero.
pub(crate) type Column = [f64x2; 3];

/// How the rack moves the body point of each constraint, as the three pairs have it.
pub(crate) type PerRack = [[f64x2; 3]; 3];

/// The five rows by columns: five coefficients (rotations not scaled here) and the right-hand
/// sides of the correction and of travel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Columns(pub(crate) [Column; 7]);

/// What the right-hand sides came to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Solution {
    /// Correction and travel, side by side.
    pub(crate) pairs: [f64x2; UNKNOWNS],
    /// Rack; zero unless it was asked for.
    pub(crate) rack: [f64; UNKNOWNS],
    pub(crate) found: Reduced,
}

/// The upper triangle that elimination leaves, each row where its pivot was.
struct Upper {
    rows: [[f64; 8]; UNKNOWNS],
}

/// Solves in the order the rows come in, which the linkage chose so that pivots are
/// large near its design position. With `SIDES` two the rack's column is left alone. No
/// branch in it: whether the pivots were large enough is told by the least of them, and
/// what is not a number shows in the first unknown.
#[inline(always)]
fn solve<const SIDES: usize>(mut columns: [Column; 8]) -> Solution {
    const SCALE: f64 = 1.0 / MOMENT_SCALE;
    let mut upper = Upper { rows: [[0.0; 8]; UNKNOWNS] };
    eliminate::<0, SIDES>(&mut columns, &mut upper);
    eliminate::<1, SIDES>(&mut columns, &mut upper);
    eliminate::<2, SIDES>(&mut columns, &mut upper);
    eliminate::<3, SIDES>(&mut columns, &mut upper);
    eliminate::<4, SIDES>(&mut columns, &mut upper);
    let inverses: [f64; UNKNOWNS] = [
        1.0 / upper.rows[0][0],
        1.0 / upper.rows[1][1],
        1.0 / upper.rows[2][2],
        1.0 / upper.rows[3][3],
        1.0 / upper.rows[4][4],
    ];
    let mut pairs = [f64x2::splat(0.0); UNKNOWNS];
    let mut rack = [0.0; UNKNOWNS];
    substitute::<4, SIDES>(&upper, inverses[4], &mut pairs, &mut rack);
    substitute::<3, SIDES>(&upper, inverses[3], &mut pairs, &mut rack);
    substitute::<2, SIDES>(&upper, inverses[2], &mut pairs, &mut rack);
    substitute::<1, SIDES>(&upper, inverses[1], &mut pairs, &mut rack);
    substitute::<0, SIDES>(&upper, inverses[0], &mut pairs, &mut rack);
    // Each row has been multiplied by the pivots before it as they then stood.
    let pivot = |k: usize| upper.rows[k][k] * inverses[k - 1];
    let a = upper.rows[0][0];
    let b = pivot(1);
    let c = pivot(2) * inverses[0];
    let d = pivot(3) * (inverses[1] * inverses[0]);
    let e = pivot(4) * (inverses[2] * (inverses[1] * inverses[0]));
    let least = |a: f64, b: f64| if a < b { a } else { b };
    let rotations = SCALE * least(least(a.abs(), b.abs()), c.abs());
    Solution {
        pairs,
        rack,
        found: Reduced {
            positive: (a * b) * (c * d) * e > 0.0,
            least_pivot: least(rotations, least(d.abs(), e.abs())),
        },
    }
}

/// Takes column `K` out of the rows after row `K` and keeps that row. The rows are multiplied
/// by the pivot instead of divided by it: a quotient a row, each waiting for the one before,
/// would take longer than all the rest. In double precision there is room for the products:
/// of five pivots, none under a thousandth or over a million.
#[inline(always)]
#[expect(clippy::needless_range_loop, reason = "by index, as the columns are")]
fn eliminate<const K: usize, const SIDES: usize>(columns: &mut [Column; 8], upper: &mut Upper) {
    // By constant indices: unrolled, and the columns stay in registers.
    let pivot = columns[K][K / 2].as_array()[K % 2];
    upper.rows[K][K] = pivot;
    let pivot = f64x2::splat(pivot);
    let factors = columns[K];
    for j in K + 1..UNKNOWNS + SIDES {
        let of_pivot = columns[j][K / 2].as_array()[K % 2];
        upper.rows[K][j] = of_pivot;
        if K + 1 < UNKNOWNS {
            let of_pivot = f64x2::splat(of_pivot);
            for i in K.div_ceil(2)..3 {
                columns[j][i] = pivot * columns[j][i] - factors[i] * of_pivot;
            }
        }
    }
}

/// The unknown `K`, the later ones known.
#[inline(always)]
fn substitute<const K: usize, const SIDES: usize>(
    upper: &Upper,
    inverse: f64,
    pairs: &mut [f64x2; UNKNOWNS],
    rack: &mut [f64; UNKNOWNS],
) {
    let row = &upper.rows[K];
    let mut pair = f64x2::new([row[5], row[6]]);
    let mut of_rack = row[7];
    for j in (K + 1..UNKNOWNS).rev() {
        pair -= f64x2::splat(row[j]) * pairs[j];
        of_rack -= row[j] * rack[j];
    }
    pairs[K] = pair * f64x2::splat(inverse);
    if SIDES > 2 {
        rack[K] = of_rack * inverse;
    }
}

impl Columns {
    /// The greatest closure error in size, mm.
    #[inline(always)]
    pub(crate) fn greatest_error(&self) -> f64 {
        let [a, b, c] = self.0[CORRECTION];
        let [a, b] = a.abs().fast_max(b.abs()).fast_max(c.abs()).to_array();
        if a > b { a } else { b }
    }

    /// Right-hand side of the rack: how fast it takes each body point along its line.
    #[inline(always)]
    pub(crate) fn drive(&self, per_rack: &PerRack) -> Column {
        let [_, _, _, x, y, _, minus_z] = &self.0;
        from_fn(|i| x[i] * per_rack[i][0] + y[i] * per_rack[i][1] - minus_z[i] * per_rack[i][2])
    }

    /// Solves in the order of the rows, for correction and travel or, with `SIDES` three, for
    /// the rack as well.
    #[inline(always)]
    pub(crate) fn solve<const SIDES: usize>(&self, drive: Column) -> Solution {
        let [a, b, c, d, e, f, g] = self.0;
        solve::<SIDES>([a, b, c, d, e, f, g, drive])
    }

    /// Solves for one right-hand side alone; `None` where the system is singular.
    pub(crate) fn solve_side(&self, side: Column) -> Option<[f64; UNKNOWNS]> {
        let mut columns = *self;
        columns.0[CORRECTION] = side;
        columns.0[TRAVEL] = [f64x2::splat(0.0); 3];
        let solution = columns.solve::<2>(side);
        // Written so that NaN is refused.
        let sound = solution.found.least_pivot >= SMALL_PIVOT && solution.size() < f64::INFINITY;
        let solution = if sound { solution } else { columns.solve_pivoting(side)? };
        Some(solution.pairs.map(|pair| pair.as_array()[0]))
    }

    /// Solves with an exchange of rows at every step. `None` when the matrix is singular.
    #[cold]
    pub(crate) fn solve_pivoting(&self, drive: Column) -> Option<Solution> {
        const SCALE: f64 = 1.0 / MOMENT_SCALE;
        let unscaled = |k: usize| if k < 3 { SCALE } else { 1.0 };
        let [a, b, c, d, e, f, g] = &self.0;
        let columns = [a, b, c, d, e, f, g, &drive];
        let mut rows: [EquationRow; UNKNOWNS] =
            from_fn(|i| from_fn(|j| columns[j][i / 2].as_array()[i % 2] * unscaled(j)));
        let found = reduce_pivoting(&mut rows, None)?;
        Some(Solution {
            pairs: from_fn(|k| {
                f64x2::new([rows[k][CORRECTION], rows[k][TRAVEL]]) * f64x2::splat(unscaled(k))
            }),
            rack: from_fn(|k| rows[k][RACK] * unscaled(k)),
            found,
        })
    }
}

impl Solution {
    /// No motion.
    pub(crate) const NONE: Self = Self {
        pairs: [f64x2::new([0.0, 0.0]); UNKNOWNS],
        rack: [0.0; UNKNOWNS],
        found: Reduced { positive: true, least_pivot: 0.0 },
    };

    /// The motion per mm of travel: rotations, and the wheel centre's x and y.
    #[inline(always)]
    pub(crate) fn travel(&self) -> [f64; UNKNOWNS] {
        self.pairs.map(|pair| pair.as_array()[1])
    }

    /// Whether the motion per mm of travel is another than before by more than half of the
    /// greater: along a branch it changes bit by bit, even where it grows without end.
    pub(crate) fn jumps(&self, before: &Self) -> bool {
        let scaled =
            |[a, b, c, d, e]: [f64; UNKNOWNS]| [MOMENT_SCALE * a, MOMENT_SCALE * b, MOMENT_SCALE * c, d, e];
        let (now, before) = (scaled(self.travel()), scaled(before.travel()));
        // The wheel centre's height always changes by one.
        let greatest = now.iter().chain(&before).fold(1.0_f64, |most, value| most.max(value.abs()));
        now.iter().zip(&before).any(|(now, before)| (now - before).abs() > 0.5 * greatest)
    }

    /// The correction's greatest number in size, rotations times [`MOMENT_SCALE`]; not a
    /// number where any is none.
    #[inline(always)]
    pub(crate) fn size(&self) -> f64 {
        let [a, b, c, d, e] = self.pairs.map(|pair| pair.as_array()[0].abs());
        let greatest = |most: f64, other: f64| if most > other { most } else { other };
        // The first unknown is substituted last: it is no number if any other is none.
        greatest(greatest(d, e), MOMENT_SCALE * greatest(greatest(b, c), a))
    }
}

/// Reduces with an exchange of rows at every step (Gauss–Jordan): for positions near a dead
/// point, and for the design position before an order is known. `order`, when given, is
/// permuted as the rows are. `None` when the matrix is singular.
pub(crate) fn reduce_pivoting(
    rows: &mut [EquationRow; UNKNOWNS],
    mut order: Option<&mut [usize; UNKNOWNS]>,
) -> Option<Reduced> {
    let mut found = Reduced { positive: true, least_pivot: f64::INFINITY };
    for k in 0..UNKNOWNS {
        let mut best = k;
        for i in k + 1..UNKNOWNS {
            if rows[i][k].abs() > rows[best][k].abs() {
                best = i;
            }
        }
        // Written so that NaN fails.
        let usable = rows[best][k].abs() >= DEAD_PIVOT;
        if !usable {
            return None;
        }
        if best != k {
            rows.swap(best, k);
            if let Some(order) = order.as_deref_mut() {
                order.swap(best, k);
            }
            found.positive = !found.positive;
        }
        let pivot = rows[k][k];
        found.positive ^= pivot < 0.0;
        found.least_pivot = found.least_pivot.min(pivot.abs());
        let scaled = rows[k].map(|value| value / pivot);
        rows[k] = scaled;
        for (i, row) in rows.iter_mut().enumerate() {
            if i != k {
                let factor = row[k];
                for (value, of_pivot) in row.iter_mut().zip(&scaled) {
                    *value -= factor * of_pivot;
                }
            }
        }
    }
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A well-known inverse: the Hilbert matrix of order five times its printed integer
    /// inverse is the identity (Choi, Amer. Math. Monthly 90, 1983: entries of the inverse
    /// are integers; first column 25, −300, 1050, −1400, 630).
    #[expect(clippy::cast_precision_loss, reason = "single digits")]
    fn hilbert() -> [EquationRow; 5] {
        core::array::from_fn(|i| {
            let mut row = [0.0; 8];
            for (j, value) in row.iter_mut().take(5).enumerate() {
                *value = 1.0 / ((i + j + 1) as f64);
            }
            row[5] = f64::from(i == 0);
            row[7] = f64::from(i == 0);
            row
        })
    }

    #[test]
    fn hilberts_matrix_is_solved() {
        let expected = [25.0, -300.0, 1050.0, -1400.0, 630.0];
        let mut rows = hilbert();
        reduce_pivoting(&mut rows, None).expect("regular");
        for (row, expected) in rows.iter().zip(expected) {
            assert!((row[5] - expected).abs() < 1e-7, "{} is not {expected}", row[5]);
        }
        let entry = |i: usize, j: usize| hilbert().get(i).map_or(0.0, |row| row[j]);
        let columns = core::array::from_fn(|j| {
            core::array::from_fn(|p| f64x2::new([entry(2 * p, j), entry(2 * p + 1, j)]))
        });
        let solution = solve::<3>(columns);
        for (k, expected) in expected.into_iter().enumerate() {
            let [correction, travel] = solution.pairs[k].to_array();
            assert!((correction - expected).abs() < 1e-7, "{correction} is not {expected}");
            assert!((solution.rack[k] - expected).abs() < 1e-7, "{} is not {expected}", solution.rack[k]);
            assert_eq!(travel, 0.0);
        }
    }

    #[test]
    fn a_singular_matrix_is_refused() {
        let mut rows = [[1.0; 8]; 5];
        assert!(reduce_pivoting(&mut rows, None).is_none());
        let mut rows = [[f64::NAN; 8]; 5];
        assert!(reduce_pivoting(&mut rows, None).is_none());
        let solution = solve::<2>([[f64x2::splat(f64::NAN); 3]; 8]);
        assert!(solution.size().is_nan());
    }
}
