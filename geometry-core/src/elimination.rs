//! Gauss–Jordan elimination of the five rows with three right-hand sides at once.
//!
//! A row is eight numbers: five coefficients (three rotations over
//! [`crate::bounds::MOMENT_SCALE`], two translations) and the right-hand sides
//! (correction, travel, rack). Eight wide and without branches in the inner loop, it
//! becomes vector instructions on every target; since Rust neither fuses nor reorders,
//! the results are the same bits on all.

use crate::bounds::{DEAD_PIVOT, SMALL_PIVOT};

/// One constraint's coefficients and right-hand sides.
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

/// Reduces in the order the rows come in, which the linkage chose so that pivots are
/// large near its design position. `None` when a pivot has become small; the rows are
/// then spoilt and [`reduce_pivoting`] must start from fresh ones.
#[inline]
pub(crate) fn reduce(rows: &mut [EquationRow; UNKNOWNS]) -> Option<Reduced> {
    let mut found = Reduced { positive: true, least_pivot: f64::INFINITY };
    // Each column by its own constant: unrolled, in vector code, without bounds checks.
    let sound = step::<0>(rows, &mut found)
        && step::<1>(rows, &mut found)
        && step::<2>(rows, &mut found)
        && step::<3>(rows, &mut found)
        && step::<4>(rows, &mut found);
    sound.then_some(found)
}

/// Column `K` with the pivot that stands there; `false` when that is too small.
#[inline]
fn step<const K: usize>(rows: &mut [EquationRow; UNKNOWNS], found: &mut Reduced) -> bool {
    // Written so that NaN fails.
    let large_enough = rows[K][K].abs() >= SMALL_PIVOT;
    if large_enough {
        eliminate::<K>(rows, found);
    }
    large_enough
}

/// Reduces with an exchange of rows at every step: for positions near a dead point, and
/// for the design position before an order is known. `order`, when given, is permuted as
/// the rows are. `None` when the matrix is singular.
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
        match k {
            0 => eliminate::<0>(rows, &mut found),
            1 => eliminate::<1>(rows, &mut found),
            2 => eliminate::<2>(rows, &mut found),
            3 => eliminate::<3>(rows, &mut found),
            _ => eliminate::<4>(rows, &mut found),
        }
    }
    Some(found)
}

/// Takes column `K` out of every other row. Columns up to `K` are not written: nothing
/// reads them again.
#[inline]
fn eliminate<const K: usize>(rows: &mut [EquationRow; UNKNOWNS], found: &mut Reduced) {
    let pivot = rows[K][K];
    found.positive ^= pivot < 0.0;
    found.least_pivot = found.least_pivot.min(pivot.abs());
    let inverse = 1.0 / pivot;
    for value in &mut rows[K][K + 1..] {
        *value *= inverse;
    }
    let scaled = rows[K];
    for (i, row) in rows.iter_mut().enumerate() {
        if i != K {
            let factor = row[K];
            for (value, of_pivot) in row[K + 1..].iter_mut().zip(&scaled[K + 1..]) {
                *value -= factor * of_pivot;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A well-known inverse: the Hilbert matrix of order five times its printed integer
    /// inverse is the identity (Choi, Amer. Math. Monthly 90, 1983: entries of the inverse
    /// are integers; first column 25, −300, 1050, −1400, 630).
    #[test]
    fn hilberts_matrix_is_solved() {
        #[expect(clippy::cast_precision_loss, reason = "single digits")]
        let mut rows: [EquationRow; 5] = core::array::from_fn(|i| {
            let mut row = [0.0; 8];
            for (j, value) in row.iter_mut().take(5).enumerate() {
                *value = 1.0 / ((i + j + 1) as f64);
            }
            row[5] = f64::from(i == 0);
            row
        });
        reduce_pivoting(&mut rows, None).expect("regular");
        for (row, expected) in rows.iter().zip([25.0, -300.0, 1050.0, -1400.0, 630.0]) {
            assert!((row[5] - expected).abs() < 1e-7, "{} is not {expected}", row[5]);
        }
    }

    #[test]
    fn a_singular_matrix_is_refused() {
        let mut rows = [[1.0; 8]; 5];
        assert!(reduce(&mut rows.clone()).is_none());
        assert!(reduce_pivoting(&mut rows, None).is_none());
        let mut rows = [[f64::NAN; 8]; 5];
        assert!(reduce(&mut rows.clone()).is_none());
        assert!(reduce_pivoting(&mut rows, None).is_none());
    }
}
