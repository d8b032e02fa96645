//! Residual and row of each kind of constraint.
//!
//! Three kinds make every member. A constraint is written for the knuckle's pose
//! (rotation R, wheel centre p); its knuckle points are kept as arms from the wheel
//! centre in the design position, so that a point is p + R·arm. Rows are taken about the
//! wheel centre.

use core::{
    array::from_fn,
    ops::{Add, Mul, Sub},
};

use wide::f64x2;

use crate::{Mat3, Vec3, bounds::MOMENT_SCALE, elimination::EquationRow};

/// One constraint on the knuckle; removes one freedom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Constraint {
    /// A knuckle point keeps its distance from a body point: a link, or an arm's reach
    /// about the foot of its ball joint on its axis. The line is the link itself.
    Distance {
        /// Knuckle point as an arm from the wheel centre.
        arm: Vec3,
        /// Body point with the rack at zero.
        from: Vec3,
        /// How the body point moves per mm of rack; zero unless the link steers.
        per_rack: Vec3,
        /// Square of the distance, mm².
        square: f64,
        /// One over the distance, 1/mm: makes the row of order one.
        over_length: f64,
    },
    /// A knuckle point stays in a plane of the body: an arm's ball joint in the plane
    /// square to its axis, a hinge's points. The line is the plane's normal through the
    /// point.
    BodyPlane {
        /// Knuckle point as an arm from the wheel centre.
        arm: Vec3,
        /// Unit normal.
        normal: Vec3,
        /// Normal · point, mm.
        offset: f64,
    },
    /// A body point stays in a plane of the knuckle: a strut's top mount. The line is the
    /// plane's normal through the body point.
    KnucklePlane {
        /// Body point.
        at: Vec3,
        /// Unit normal, as it stands in the design position.
        normal: Vec3,
        /// Normal · (body point − wheel centre) in the design position, mm.
        offset: f64,
    },
}

/// Moments are divided by the scale; it is a power of two, so the product is as exact.
const SCALE: f64 = 1.0 / MOMENT_SCALE;

/// A constraint's line about the wheel centre, its closure error, and its drive.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Closure {
    /// Direction of the line, of order one.
    pub(crate) direction: Vec3,
    /// Moment of the direction about the wheel centre.
    pub(crate) moment: Vec3,
    /// Closure error, mm.
    pub(crate) residual: f64,
    /// Change of the closure error per mm of rack with the knuckle at rest.
    pub(crate) per_rack: f64,
}

impl Constraint {
    /// The closure at a pose and a rack position: error, and its derivative along every
    /// motion of the knuckle and of the rack.
    pub(crate) fn closure(&self, rotation: &Mat3, centre: &Vec3, rack: f64) -> Closure {
        match self {
            Self::Distance { arm, from, per_rack, square, over_length } => {
                let turned = rotation * arm;
                let along = (centre + turned) - (from + rack * per_rack);
                let direction = *over_length * along;
                Closure {
                    direction,
                    moment: turned.cross(&direction),
                    residual: 0.5 * *over_length * (along.norm_squared() - square),
                    per_rack: -direction.dot(per_rack),
                }
            }
            Self::BodyPlane { arm, normal, offset } => {
                let turned = rotation * arm;
                Closure {
                    direction: *normal,
                    moment: turned.cross(normal),
                    residual: normal.dot(&(centre + turned)) - offset,
                    per_rack: 0.0,
                }
            }
            Self::KnucklePlane { at, normal, offset } => {
                // d/dt [Rn · (T − p)] = −Rn · (v + ω × (T − p)): minus the row of the
                // line through T along Rn. The sign is turned so that the row pushes the
                // knuckle along its direction, as the other kinds do.
                let direction = rotation * normal;
                let away = at - centre;
                Closure {
                    direction,
                    moment: away.cross(&direction),
                    residual: offset - direction.dot(&away),
                    per_rack: 0.0,
                }
            }
        }
    }

    /// The row of the linear system for rotation (scaled) and the wheel centre's x and y
    /// velocity, its z velocity given:
    /// right-hand sides for the correction, for travel and for rack.
    pub(crate) fn equation(&self, rotation: &Mat3, centre: &Vec3, rack: f64) -> EquationRow {
        let Closure { direction, moment, residual, per_rack } = self.closure(rotation, centre, rack);
        [
            moment.x * SCALE,
            moment.y * SCALE,
            moment.z * SCALE,
            direction.x,
            direction.y,
            -residual,
            -direction.z,
            -per_rack,
        ]
    }
}

/// Numbers side by side on which one computation is done at once.
pub(crate) trait Lanes: Copy + Add<Output = Self> + Sub<Output = Self> + Mul<Output = Self> {}

impl Lanes for f64 {}

impl Lanes for f64x2 {}

/// A constraint of any kind in one formula, so that several can be computed at once and
/// none by a branch of its own. With u = R·arm the knuckle's arm and p the wheel centre's
/// displacement since the design position,
///
/// d = follows·p − body,  direction = along·d + follows·u,  moment = u × d,
/// error = d · (u + drift·p − lean) + offset.
///
/// For a distance of length L, with the arm divided by L, d goes from the body point to
/// the wheel centre and the error is ½(|d + L u|² − L²)/L, multiplied out. For a plane of
/// the body d is its normal; for one of the knuckle u is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Form<L> {
    pub(crate) arm: [L; 3],
    pub(crate) body: [L; 3],
    pub(crate) per_rack: [L; 3],
    pub(crate) lean: [L; 3],
    pub(crate) follows: L,
    pub(crate) along: L,
    pub(crate) drift: L,
    pub(crate) offset: L,
}

/// What a [`Form`] comes to in a pose.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Row<L> {
    pub(crate) moment: [L; 3],
    pub(crate) direction: [L; 3],
    pub(crate) error: L,
}

impl<L: Lanes> Form<L> {
    /// The constraint with its body point where the rack has it.
    #[inline(always)]
    pub(crate) fn with_rack(&self, rack: L) -> Self {
        let mut form = *self;
        for i in 0..3 {
            let moved = rack * self.per_rack[i];
            form.body[i] = self.body[i] + moved;
            form.lean[i] = self.lean[i] + self.drift * moved;
        }
        form
    }

    /// Line about the wheel centre and closure error, for a rotation (row by row) and the
    /// wheel centre's displacement.
    #[inline(always)]
    pub(crate) fn row(&self, rotation: &[L; 9], centre: &[L; 3]) -> Row<L> {
        let [rxx, rxy, rxz, ryx, ryy, ryz, rzx, rzy, rzz] = *rotation;
        let [ax, ay, az] = self.arm;
        let u =
            [rxx * ax + rxy * ay + rxz * az, ryx * ax + ryy * ay + ryz * az, rzx * ax + rzy * ay + rzz * az];
        let d: [L; 3] = from_fn(|i| self.follows * centre[i] - self.body[i]);
        let h: [L; 3] = from_fn(|i| u[i] + self.drift * centre[i] - self.lean[i]);
        Row {
            moment: [u[1] * d[2] - u[2] * d[1], u[2] * d[0] - u[0] * d[2], u[0] * d[1] - u[1] * d[0]],
            direction: from_fn(|i| self.along * d[i] + self.follows * u[i]),
            error: d[0] * h[0] + d[1] * h[1] + d[2] * h[2] + self.offset,
        }
    }
}

impl Form<f64> {
    /// No constraint: its row is zero.
    pub(crate) const NONE: Self = Self {
        arm: [0.0; 3],
        body: [0.0; 3],
        per_rack: [0.0; 3],
        lean: [0.0; 3],
        follows: 0.0,
        along: 0.0,
        drift: 0.0,
        offset: 0.0,
    };
}

impl Form<f64x2> {
    /// Two constraints as one.
    pub(crate) fn side_by_side(first: &Form<f64>, second: &Form<f64>) -> Self {
        let both = |a: f64, b: f64| f64x2::new([a, b]);
        let vectors = |a: &[f64; 3], b: &[f64; 3]| from_fn(|i| both(a[i], b[i]));
        Self {
            arm: vectors(&first.arm, &second.arm),
            body: vectors(&first.body, &second.body),
            per_rack: vectors(&first.per_rack, &second.per_rack),
            lean: vectors(&first.lean, &second.lean),
            follows: both(first.follows, second.follows),
            along: both(first.along, second.along),
            drift: both(first.drift, second.drift),
            offset: both(first.offset, second.offset),
        }
    }
}

impl Constraint {
    /// The constraint as a [`Form`], the wheel centre standing at `centre` in the design
    /// position and the rack at zero.
    pub(crate) fn form(&self, centre: &Vec3) -> Form<f64> {
        let zero = [0.0; 3];
        match self {
            Self::Distance { arm, from, per_rack, square, over_length } => {
                let (body, drift) = (from - centre, 0.5 * over_length);
                Form {
                    arm: (*over_length * arm).into(),
                    body: body.into(),
                    per_rack: (*per_rack).into(),
                    lean: (drift * body).into(),
                    follows: 1.0,
                    along: *over_length,
                    drift,
                    offset: drift * (arm.norm_squared() - square),
                }
            }
            Self::BodyPlane { arm, normal, offset } => Form {
                arm: (*arm).into(),
                body: (-normal).into(),
                per_rack: zero,
                lean: zero,
                follows: 0.0,
                along: 1.0,
                drift: 1.0,
                offset: normal.dot(centre) - offset,
            },
            Self::KnucklePlane { at, normal, offset } => Form {
                arm: (*normal).into(),
                body: (at - centre).into(),
                per_rack: zero,
                lean: zero,
                follows: 1.0,
                along: 0.0,
                drift: 0.0,
                offset: *offset,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The one formula against the three definitions, in a pose of no particular kind.
    #[test]
    fn the_form_is_the_constraint() {
        let centre = Vec3::new(-3.0, 790.0, 310.0);
        let arm = Vec3::new(12.0, -60.0, 145.0);
        let (point, normal) = (Vec3::new(150.0, 420.0, 260.0), Vec3::new(0.48, 0.6, 0.64));
        let rack = Vec3::new(0.1, 0.99, -0.02);
        let constraints = [
            Constraint::Distance {
                arm,
                from: point,
                per_rack: rack,
                square: 350.0 * 350.0,
                over_length: 1.0 / 350.0,
            },
            Constraint::BodyPlane { arm, normal, offset: 700.0 },
            Constraint::KnucklePlane { at: point, normal, offset: -7.0 },
        ];
        // Rodrigues' matrix of a unit quaternion (0.8, 0.36, 0.48, 0).
        let rotation = Mat3::new(0.5392, 0.3456, 0.768, 0.3456, 0.7408, -0.576, -0.768, 0.576, 0.28);
        let displaced = Vec3::new(4.0, -9.0, 55.0);
        for constraint in constraints {
            let expected = constraint.equation(&rotation, &(centre + displaced), 13.0);
            let form = constraint.form(&centre).with_rack(13.0);
            let turn: [f64; 9] = from_fn(|i| rotation[(i / 3, i % 3)]);
            let row = form.row(&turn, &displaced.into());
            let ([mx, my, mz], [x, y, z]) = (row.moment.map(|moment| moment * SCALE), row.direction);
            let [rx, ry, rz] = form.per_rack;
            let found = [mx, my, mz, x, y, -row.error, -z, x * rx + y * ry + z * rz];
            for (found, expected) in found.iter().zip(expected) {
                assert!((found - expected).abs() < 1e-11, "{found} is not {expected} of {constraint:?}");
            }
        }
    }
}
