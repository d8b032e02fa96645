//! The arithmetic of all lanes: one evaluation and correction of every corner of a group.

#![expect(clippy::inline_always, reason = "so that a caller's wider instructions reach the lanes")]
#![expect(clippy::needless_range_loop, reason = "a loop over lanes is what becomes one instruction")]

use super::super::LANES;
use crate::{bounds::MOMENT_SCALE, closure::Form, elimination::UNKNOWNS, float::sqrt};

/// A number of every lane.
pub(super) type Lane = [f64; LANES];

/// Six numbers of a pose or its change, as the solver has them: quaternion, and the wheel
/// centre's displacement in x and y.
pub(super) type Poses = [Lane; 6];

/// Nothing in any lane.
pub(super) const NONE: Lane = [0.0; LANES];

/// Where all lanes stand at one state.
#[derive(Debug, Clone, Copy)]
pub(super) struct Knot {
    pub(super) pose: Poses,
    pub(super) change: Poses,
    pub(super) change_with_rack: Poses,
    /// Motion per mm of travel: rotations, and the wheel centre's x and y.
    pub(super) travel: [Lane; UNKNOWNS],
}

/// What tells whether a lane is sound.
#[derive(Debug, Clone, Copy)]
pub(super) struct Signs {
    pub(super) size: Lane,
    pub(super) least_pivot: Lane,
    pub(super) determinant: Lane,
}

impl Signs {
    pub(super) const NONE: Self = Self { size: NONE, least_pivot: NONE, determinant: NONE };
}

impl Form<Lane> {
    pub(super) fn put(&mut self, lane: usize, form: &Form<f64>) {
        for i in 0..3 {
            self.arm[i][lane] = form.arm[i];
            self.body[i][lane] = form.body[i];
            self.per_rack[i][lane] = form.per_rack[i];
            self.lean[i][lane] = form.lean[i];
        }
        self.follows[lane] = form.follows;
        self.along[lane] = form.along;
        self.drift[lane] = form.drift;
        self.offset[lane] = form.offset;
    }

    #[inline(always)]
    fn lane(&self, lane: usize) -> Form<f64> {
        let vector = |v: &[Lane; 3]| [v[0][lane], v[1][lane], v[2][lane]];
        Form {
            arm: vector(&self.arm),
            body: vector(&self.body),
            per_rack: vector(&self.per_rack),
            lean: vector(&self.lean),
            follows: self.follows[lane],
            along: self.along[lane],
            drift: self.drift[lane],
            offset: self.offset[lane],
        }
    }

    /// [`Form::with_rack`] for all lanes.
    #[inline(always)]
    pub(super) fn set_rack(&mut self, base: &Self, rack: f64) {
        for i in 0..3 {
            for lane in 0..LANES {
                let moved = rack * base.per_rack[i][lane];
                self.body[i][lane] = base.body[i][lane] + moved;
                self.lean[i][lane] = base.lean[i][lane] + base.drift[lane] * moved;
            }
        }
    }
}

/// One evaluation and correction of every lane, a lane at a time as it is written and side by
/// side as it is compiled: no branch, no call.
#[cfg_attr(not(target_family = "wasm"), inline(always))]
#[cfg_attr(target_family = "wasm", inline(never))]
pub(super) fn evaluate<const SIDES: usize>(
    forms: &[Form<Lane>; UNKNOWNS],
    branch: &Lane,
    at: &Poses,
    travel: f64,
    knot: &mut Knot,
    signs: &mut Signs,
) {
    let [fa, fb, fc, fd, fe] = forms;
    for lane in 0..LANES {
        let [s, x, y, z] = [at[0][lane], at[1][lane], at[2][lane], at[3][lane]];
        let over = 1.0 / sqrt(s * s + x * x + y * y + z * z);
        let q = [s * over, x * over, y * over, z * over];
        let rotation = rotation(&q);
        let centre = [at[4][lane], at[5][lane], travel];
        let mut rows = [
            row::<SIDES>(&fa.lane(lane), &rotation, &centre),
            row::<SIDES>(&fb.lane(lane), &rotation, &centre),
            row::<SIDES>(&fc.lane(lane), &rotation, &centre),
            row::<SIDES>(&fd.lane(lane), &rotation, &centre),
            row::<SIDES>(&fe.lane(lane), &rotation, &centre),
        ];
        let p0 = eliminate::<0, SIDES>(&mut rows);
        let p1 = eliminate::<1, SIDES>(&mut rows);
        let p2 = eliminate::<2, SIDES>(&mut rows);
        let p3 = eliminate::<3, SIDES>(&mut rows);
        let p4 = eliminate::<4, SIDES>(&mut rows);
        let correction = substitute::<5>(&rows);
        let motion = substitute::<6>(&rows);
        let least = |a: f64, b: f64| if a < b { a } else { b };
        let greatest = |most: f64, other: f64| if most > other { most } else { other };
        let [a, b, c, d, e] = correction.map(f64::abs);
        let rotations = least(least(p0.abs(), p1.abs()), p2.abs()) / MOMENT_SCALE;
        signs.least_pivot[lane] = least(rotations, least(p3.abs(), p4.abs()));
        signs.determinant[lane] = (p0 * p1) * (p2 * p3) * p4 * branch[lane];
        // The first unknown is substituted last: it is no number if any other is none.
        signs.size[lane] = greatest(greatest(d, e), MOMENT_SCALE * greatest(greatest(b, c), a));
        let step = change(&q, &correction);
        let moved = [q[0], q[1], q[2], q[3], centre[0], centre[1]];
        let per_travel = change(&q, &motion);
        for i in 0..6 {
            knot.pose[i][lane] = moved[i] + step[i];
            knot.change[i][lane] = per_travel[i];
        }
        for i in 0..UNKNOWNS {
            knot.travel[i][lane] = motion[i];
        }
        if SIDES > 2 {
            let per_rack = change(&q, &substitute::<7>(&rows));
            for i in 0..6 {
                knot.change_with_rack[i][lane] = per_rack[i];
            }
        }
    }
}

/// The rotation's matrix, row by row.
#[inline(always)]
fn rotation(q: &[f64; 4]) -> [f64; 9] {
    let [s, x, y, z] = *q;
    let (x2, y2, z2) = (2.0 * x, 2.0 * y, 2.0 * z);
    let (xx, yy, zz) = (x * x2, y * y2, z * z2);
    let (xy, xz, yz) = (x * y2, x * z2, y * z2);
    let (sx, sy, sz) = (s * x2, s * y2, s * z2);
    [1.0 - (yy + zz), xy - sz, xz + sy, xy + sz, 1.0 - (xx + zz), yz - sx, xz - sy, yz + sx, 1.0 - (xx + yy)]
}

/// A row with its right-hand sides, rotations not scaled.
#[inline(always)]
fn row<const SIDES: usize>(form: &Form<f64>, rotation: &[f64; 9], centre: &[f64; 3]) -> [f64; 8] {
    let row = form.row(rotation, centre);
    let ([mx, my, mz], [x, y, z], [rx, ry, rz]) = (row.moment, row.direction, form.per_rack);
    let drive = if SIDES > 2 { x * rx + y * ry + z * rz } else { 0.0 };
    [mx, my, mz, x, y, -row.error, -z, drive]
}

/// Takes column `K` out of the later rows, makes the row's own coefficient one, and gives the
/// pivot.
#[inline(always)]
fn eliminate<const K: usize, const SIDES: usize>(rows: &mut [[f64; 8]; UNKNOWNS]) -> f64 {
    let pivot = rows[K][K];
    let inverse = 1.0 / pivot;
    for j in K + 1..UNKNOWNS + SIDES {
        rows[K][j] *= inverse;
    }
    for i in K + 1..UNKNOWNS {
        let factor = rows[i][K];
        for j in K + 1..UNKNOWNS + SIDES {
            rows[i][j] -= factor * rows[K][j];
        }
    }
    pivot
}

/// What a right-hand side comes to.
#[inline(always)]
fn substitute<const SIDE: usize>(rows: &[[f64; 8]; UNKNOWNS]) -> [f64; UNKNOWNS] {
    let [a, b, c, d, e] = rows;
    let e = e[SIDE];
    let d = d[SIDE] - d[4] * e;
    let c = c[SIDE] - c[4] * e - c[3] * d;
    let b = b[SIDE] - b[4] * e - b[3] * d - b[2] * c;
    let a = a[SIDE] - a[4] * e - a[3] * d - a[2] * c - a[1] * b;
    [a, b, c, d, e]
}

/// How the pose changes with a motion: dq = ½ (0, ω) q.
#[inline(always)]
fn change(q: &[f64; 4], motion: &[f64; UNKNOWNS]) -> [f64; 6] {
    let [s, x, y, z] = *q;
    let [wx, wy, wz] = [0.5 * motion[0], 0.5 * motion[1], 0.5 * motion[2]];
    [
        -(wx * x + wy * y + wz * z),
        wx * s + wy * z - wz * y,
        wy * s + wz * x - wx * z,
        wz * s + wx * y - wy * x,
        motion[3],
        motion[4],
    ]
}
