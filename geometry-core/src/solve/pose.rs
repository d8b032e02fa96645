//! The knuckle's pose as six numbers, two to an instruction.

use wide::f64x2;

use super::Rate;
use crate::{Mat3, elimination::Solution, float::sqrt};

/// A unit quaternion (scalar first) of the rotation since the design position, and the
/// wheel centre's x and y displacement; or how these change.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pose(pub(super) [f64x2; 3]);

impl Pose {
    /// The design position.
    pub(super) const DESIGN: Self =
        Self([f64x2::new([1.0, 0.0]), f64x2::new([0.0, 0.0]), f64x2::new([0.0, 0.0])]);

    /// No change.
    pub(super) const NONE: Self = Self([f64x2::new([0.0, 0.0]); 3]);

    #[inline(always)]
    pub(super) fn quaternion(&self) -> [f64; 4] {
        let ([s, x], [y, z]) = (self.0[0].to_array(), self.0[1].to_array());
        [s, x, y, z]
    }

    /// The wheel centre's displacement in x and y, mm.
    #[inline(always)]
    pub(super) fn displacement(&self) -> [f64; 2] {
        self.0[2].to_array()
    }

    /// The same with a unit quaternion.
    #[inline(always)]
    pub(super) fn unit(&self) -> Self {
        let squares = self.0[0] * self.0[0] + self.0[1] * self.0[1];
        let [a, b] = squares.to_array();
        let square = a + b;
        // A step of Newton for one over the root: exact to 4e-17 so near to one, as it is
        // along a sweep; a root and a quotient take as long as forty products.
        let over = if (square - 1.0).abs() < 1e-8 { 1.5 - 0.5 * square } else { 1.0 / sqrt(square) };
        let over = f64x2::splat(over);
        Self([self.0[0] * over, self.0[1] * over, self.0[2]])
    }

    /// How the pose changes with a motion: dq = ½ (0, ω) q. Two motions at once.
    #[inline(always)]
    fn changes(&self, angular: &[f64x2; 3], velocity: &[f64x2; 2]) -> [Self; 2] {
        let half = f64x2::splat(0.5);
        let [wx, wy, wz] = angular.map(|w| half * w);
        let [s, x, y, z] = self.quaternion().map(f64x2::splat);
        let change = [
            f64x2::splat(0.0) - (wx * x + wy * y + wz * z),
            wx * s + wy * z - wz * y,
            wy * s + wz * x - wx * z,
            wz * s + wx * y - wy * x,
        ];
        let [ds, dx, dy, dz] = change.map(f64x2::to_array);
        let [vx, vy] = velocity.map(f64x2::to_array);
        let side = |i: usize| {
            Self([f64x2::new([ds[i], dx[i]]), f64x2::new([dy[i], dz[i]]), f64x2::new([vx[i], vy[i]])])
        };
        [side(0), side(1)]
    }

    /// How the pose changes with the correction and with travel.
    #[inline(always)]
    pub(super) fn changes_of(&self, solution: &Solution) -> [Self; 2] {
        let [x, y, z, vx, vy] = solution.pairs;
        self.changes(&[x, y, z], &[vx, vy])
    }

    /// How the pose changes with a motion.
    #[inline]
    pub(super) fn change(&self, rate: &Rate) -> Self {
        let (w, v) = (&rate.angular, &rate.velocity);
        let both = f64x2::splat;
        let [change, _] = self.changes(&[both(w.x), both(w.y), both(w.z)], &[both(v.x), both(v.y)]);
        change
    }

    /// Moved on by a small change, which made a unit again is a rotation whatever the
    /// change's size, and the exact one to third order.
    #[inline(always)]
    pub(super) fn with(&self, change: &Self) -> Self {
        let ([a, b, c], [da, db, dc]) = (self.0, change.0);
        Self([a + da, b + db, c + dc])
    }

    /// The rotation's matrix, row by row.
    #[inline(always)]
    pub(super) fn rotation(&self) -> [f64; 9] {
        let [s, x, y, z] = self.quaternion();
        let (x2, y2, z2) = (2.0 * x, 2.0 * y, 2.0 * z);
        let (xx, yy, zz) = (x * x2, y * y2, z * z2);
        let (xy, xz, yz) = (x * y2, x * z2, y * z2);
        let (sx, sy, sz) = (s * x2, s * y2, s * z2);
        [
            1.0 - (yy + zz),
            xy - sz,
            xz + sy,
            xy + sz,
            1.0 - (xx + zz),
            yz - sx,
            xz - sy,
            yz + sx,
            1.0 - (xx + yy),
        ]
    }
}

/// A matrix of its numbers row by row.
#[inline]
pub(super) fn matrix(rows: &[f64; 9]) -> Mat3 {
    Mat3::from_row_slice(rows)
}
