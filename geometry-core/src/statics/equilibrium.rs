//! Six unknown forces against six components of a load.

use crate::{
    bounds::{HARDLY_HELD, MOMENT_SCALE},
    linkage::Linkage,
    screw::Wrench,
    solve::Position,
};

/// Force and moment about the wheel centre, moments over [`MOMENT_SCALE`].
fn six(wrench: &Wrench, position: &Position) -> [f64; 6] {
    let moment = (wrench.moment - position.wheel_centre().cross(&wrench.force)) / MOMENT_SCALE;
    let force = wrench.force;
    [force.x, force.y, force.z, moment.x, moment.y, moment.z]
}

/// Sizes of the forces along the five constraints, in the linkage's order, and of `carrying`,
/// which together with `known` leave the knuckle at rest. `None` where they hardly hold it.
pub(super) fn balance(
    linkage: &Linkage,
    position: &Position,
    carrying: &Wrench,
    known: &Wrench,
) -> Option<[f64; 6]> {
    let mut columns = [[0.0; 6]; 6];
    let (rotation, centre, rack) = (position.rotation(), position.wheel_centre(), position.state().rack);
    for (column, constraint) in columns.iter_mut().zip(&linkage.constraints) {
        let closure = constraint.closure(&rotation, &centre, rack);
        let (force, moment) = (closure.direction, closure.moment / MOMENT_SCALE);
        *column = [force.x, force.y, force.z, moment.x, moment.y, moment.z];
    }
    columns[5] = six(carrying, position);
    solve(&columns, &six(known, position).map(|component| -component))
}

/// Gauss with exchange of rows and columns, so that the least pivot tells how far from
/// singular the matrix is. Columns are scaled to a largest component of 1 first: a spring's
/// is in N, a torsion bar's in N·mm.
fn solve(columns: &[[f64; 6]; 6], right: &[f64; 6]) -> Option<[f64; 6]> {
    let sizes = columns.map(|column| column.iter().fold(0.0_f64, |size, x| size.max(x.abs())));
    // Seven wide: the right-hand side last.
    let mut rows = [[0.0; 7]; 6];
    for (i, row) in rows.iter_mut().enumerate() {
        for (j, value) in row.iter_mut().take(6).enumerate() {
            *value = columns[j][i] / sizes[j];
        }
        row[6] = right[i];
    }
    let mut order = [0, 1, 2, 3, 4, 5];
    for k in 0..6 {
        let (mut i, mut j) = (k, k);
        for (row, values) in rows.iter().enumerate().skip(k) {
            for (column, value) in values.iter().enumerate().take(6).skip(k) {
                if value.abs() > rows[i][j].abs() {
                    (i, j) = (row, column);
                }
            }
        }
        // Written so that NaN is refused.
        let held = rows[i][j].abs() >= HARDLY_HELD;
        if !held {
            return None;
        }
        rows.swap(i, k);
        order.swap(j, k);
        for row in &mut rows {
            row.swap(j, k);
        }
        let pivot = rows[k];
        for row in rows.iter_mut().skip(k + 1) {
            let factor = row[k] / pivot[k];
            for (value, of_pivot) in row.iter_mut().zip(&pivot).skip(k) {
                *value -= factor * of_pivot;
            }
        }
    }
    let mut found = [0.0; 6];
    for k in (0..6).rev() {
        let mut value = rows[k][6];
        for j in k + 1..6 {
            value -= rows[k][j] * found[order[j]];
        }
        found[order[k]] = value / rows[k][k];
    }
    for (value, size) in found.iter_mut().zip(sizes) {
        *value /= size;
    }
    found.iter().all(|value| value.is_finite()).then_some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Columns of a matrix with small whole numbers, times a vector of small whole numbers.
    #[test]
    fn a_regular_system_is_solved() {
        let columns: [[f64; 6]; 6] = [
            [0.0, 0.0, 3.0, 1.0, 0.0, 2.0],
            [1.0, 0.0, 0.0, 0.0, 2.0, 0.0],
            [0.0, 4.0, 0.0, 1.0, 0.0, 0.0],
            [2.0, 0.0, 1.0, 0.0, 0.0, 5.0],
            [0.0, 1.0, 0.0, 0.0, 1.0, 0.0],
            [1000.0, 0.0, 0.0, 3000.0, 0.0, 1000.0],
        ];
        let wanted: [f64; 6] = [1.0, -2.0, 3.0, 0.0, 5.0, -0.25];
        let mut right = [0.0; 6];
        for (column, size) in columns.iter().zip(wanted) {
            for (sum, value) in right.iter_mut().zip(column) {
                *sum += size * value;
            }
        }
        let found = solve(&columns, &right).expect("regular");
        for (found, wanted) in found.iter().zip(wanted) {
            assert!((found - wanted).abs() < 1e-12, "{found} is not {wanted}");
        }
    }

    #[test]
    fn a_singular_system_is_refused() {
        assert!(solve(&[[1.0; 6]; 6], &[1.0; 6]).is_none());
        assert!(solve(&[[0.0; 6]; 6], &[0.0; 6]).is_none());
        assert!(solve(&[[f64::NAN; 6]; 6], &[1.0; 6]).is_none());
    }
}
