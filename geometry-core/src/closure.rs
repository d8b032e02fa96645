//! Residual and row of each kind of constraint.
//!
//! Three kinds make every member. A constraint is written for the knuckle's pose
//! (rotation R, wheel centre p); its knuckle points are kept as arms from the wheel
//! centre in the design position, so that a point is p + R·arm. Rows are taken about the
//! wheel centre.

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
    #[expect(clippy::inline_always, reason = "a call a row costs a fifth of the solve, measured")]
    #[inline(always)]
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
    #[expect(clippy::inline_always, reason = "a call a row costs a fifth of the solve, measured")]
    #[inline(always)]
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
